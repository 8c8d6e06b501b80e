/**
 * Single faults of half-wave feeds through ngspice: means of the last cycle beside the product's readings. Two rails by diodes, smoothed
 * much, little and not at all, with and without ohms in the supply. Outside source: ngspice.
 */
import { expect, test } from 'vitest';
import { combine, DRIVES, SCHEMES } from '../../src/cli/combine.ts';
import { derive } from '../../src/index.ts';
import { faultsOf, lookOf } from '../../src/wiring/index.ts';
import { runSpiceStubborn } from './ngspice-stubborn.ts';
import { seeded } from './rebuild/seeded.ts';
import {
  type Asked,
  cycleOf,
  disagreements,
  type Pair,
  pairsOf,
  settingsOf,
  textOf,
  worstOf,
} from './setting-texts.ts';

/** Means over a cycle: the file format asks for a hundredth. */
const SHARE = 0.01;
/**
 * Below this nothing is told apart: what an open drive or a dark lamp leaks, and what a capacitor still loses a second after it was cut off.
 * A fortieth of what a lamp is seen at.
 */
const LEAST_AMPS = 5e-6;

/** Faulted states that are drawn. */
const STATES = 200;

/** Faults of which there are few on a panel, and that change the feed itself: each is met at least this often. */
const FEED_FAULTS = /:(SD|CAP|FU|S1)\b|:S1$|^bridge:L1\.[12]$/;
const FEED_STATES = 60;

/** What smooths the rails, F, and the ohms of the supply. */
const SUPPLIES = [
  { farads: 0.0047, ohms: 2 },
  { farads: 0.0001, ohms: 0 },
  { farads: undefined, ohms: 0 },
  { farads: undefined, ohms: 2 },
] as const;

function panelsOf(): readonly { readonly name: string; readonly derived: ReturnType<typeof derive> }[] {
  return DRIVES.flatMap((drive) =>
    SCHEMES.flatMap((scheme) =>
      SUPPLIES.flatMap(({ farads, ohms }) => {
        const panel = combine({ feed: 'half-wave', drive, scheme });
        const supplies = (panel.supplies ?? []).map(({ farads: _, ...supply }) =>
          supply.kind !== 'ac' ? supply : { ...supply, ohms, ...(farads === undefined ? {} : { farads }) },
        );
        const derived = derive({ ...panel, supplies });
        // What cannot be wired has nothing that could fail; what no alternating supply feeds stands at rest and is tried elsewhere.
        const wired = derived.wiring.circuits.length > 0 && derived.wiring.lamps.length > 0;
        return wired && cycleOf(derived) !== null
          ? [{ name: `${drive} ${scheme} ${farads ?? 0} F ${ohms} ohm`, derived }]
          : [];
      }),
    ),
  );
}

test('two hundred faulted states agree (seed 43)', () => {
  const random = seeded(43);
  const panels = panelsOf();
  const all = panels.flatMap(({ name, derived }) => {
    const settings = settingsOf(name, derived);
    return random
      .some(faultsOf(derived.wiring), 12)
      .map((fault): Asked => ({ ...random.one(settings), faults: [fault] }));
  });
  const ofFeed = panels.flatMap(({ name, derived }) => {
    const settings = settingsOf(name, derived);
    const faults = faultsOf(derived.wiring).filter(({ code }) => FEED_FAULTS.test(code));
    return random.some(faults, 4).map((fault): Asked => ({ ...random.one(settings), faults: [fault] }));
  });
  const asked = [...random.some(all, STATES - FEED_STATES), ...random.some(ofFeed, FEED_STATES)];
  const runs = runSpiceStubborn(asked.map(textOf));
  const failed = asked.filter((_, k) => runs[k]?.rows === null).map(nameOf);
  const again = asked.flatMap((each, k) => (runs[k]?.by == null ? [] : [`${nameOf(each)}: ${runs[k]?.by}`]));
  const pairs: Pair[] = [];
  const looks: string[] = [];
  asked.forEach((each, k) => {
    const rows = runs[k]?.rows ?? null;
    if (rows === null) return;
    const own = pairsOf(each, rows);
    pairs.push(...own);
    const { lamps } = each.derived.operate(each.levers, each.faults, each.history);
    for (const { id, look } of lamps) {
      const part = each.derived.wiring.lamps.find((lamp) => lamp.id === id)?.part;
      const read = own.find(({ what }) => what.endsWith(`: ${id}`))?.read;
      if (part === undefined || read === undefined || each.faults.some(({ code }) => code === `short:${id}`)) continue;
      // At an edge between two looks a hundredth may fall on either side.
      if (![read, read * (1 - SHARE), read * (1 + SHARE)].some((amps) => lookOf(part, amps) === look))
        looks.push(`${nameOf(each)}: ${id} looks ${look}, ${lookOf(part, read)} read`);
    }
  });
  console.log(`${panels.length} panels, ${asked.length} faulted states: ${worstOf(pairs)}`);
  console.log(`${again.length} runs of ngspice tried again, ${failed.length} never ended\n${again.join('\n')}`);
  expect(failed).toEqual([]);
  expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
  expect(looks).toEqual([]);
  expect(asked.length).toBe(STATES);
  expect(new Set(asked.map(({ name }) => name)).size).toBeGreaterThan(70);
  expect(new Set(asked.flatMap(({ faults }) => faults.map(({ kind }) => kind))).size).toBeGreaterThanOrEqual(25);
  // A check that reads nothing but noughts would say nothing.
  expect(pairs.filter(({ read }) => Math.abs(read) > 1e-3).length).toBeGreaterThan(120);
});

function nameOf({ name, levers, history, faults }: Asked): string {
  return `${name} ${JSON.stringify({ ...levers, ...history })} ${faults.map(({ code }) => code).join(' ')}`;
}
