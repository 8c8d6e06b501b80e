/** The SPICE text that the product writes, run as it stands through ngspice, beside the product's own readings. */
import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { spiceText } from '../../src/circuit/index.ts';
import { buildBook, type Derived, derive, type LeverPositions, readPanel } from '../../src/index.ts';
import { type Fault, faultsOf, positionsOfLever, statesOf } from '../../src/wiring/index.ts';
import { runSpice } from './ngspice.ts';
import { Comparison } from './rebuild/compare.ts';
import { NO_FONTS } from './rebuild/no-fonts.ts';
import { readFacts } from './rebuild/panel-facts.ts';
import { seeded } from './rebuild/seeded.ts';
import { variant } from './rebuild/variants.ts';

const example = (name: string): string =>
  readFileSync(new URL(`../../examples/${name}.mimic.json`, import.meta.url), 'utf8');

function deriveText(text: string): Derived {
  const read = readPanel(text);
  if (!('panel' in read)) throw new RangeError(JSON.stringify(read));
  return derive(read.panel);
}

/**
 * Every lamp and drive in one setting: `V_H1` and `V_P4` of the text beside the readings. `lever`: its circuit alone. Two points on one
 * drive share the source of the first in the file; what has no source reads nothing. `written`: a text in place of that of the netlist.
 */
function compareText(
  into: Comparison,
  derived: Derived,
  firstOf: ReadonlyMap<string, { readonly point: string; readonly turned: boolean }>,
  levers: LeverPositions,
  lever?: string,
  written?: string,
  faults: readonly Fault[] = [],
): void {
  const circuit = derived.wiring.circuits.find((each) => each.id === lever);
  const netlist = derived.netlist(levers, { circuits: lever === undefined ? null : new Set([lever]), faults });
  const text = written ?? spiceText(netlist, { title: 'example' });
  const amps = runSpice(text);
  const said = derived.operate(levers, faults);
  const where = `${JSON.stringify(levers)}${faults.map(({ code }) => ` ${code}`).join('')}`;
  for (const lamp of said.lamps) {
    if (circuit !== undefined && !circuit.lamps.includes(lamp.id)) continue;
    into.amps(`${where}: ${lamp.id}`, lamp.amps, amps.get(`v_${lamp.id.toLowerCase()}`) ?? 0);
  }
  for (const drive of said.drives) {
    if (circuit !== undefined && !circuit.points.includes(drive.point)) continue;
    const { point, turned } = firstOf.get(drive.point) ?? { point: drive.point, turned: false };
    into.amps(`${where}: ${drive.point}`, drive.amps, (turned ? -1 : 1) * (amps.get(`v_${point.toLowerCase()}`) ?? 0));
  }
}

/** The first point of each point's drive, and whether the two lie differently. */
function firstPoints(text: string): ReadonlyMap<string, { readonly point: string; readonly turned: boolean }> {
  return new Map(
    [...readFacts(text).drives.values()].flatMap(({ points }) =>
      points.map((point) => [point.id, { point: points[0]?.id ?? point.id, turned: points[0]?.same !== point.same }]),
    ),
  );
}

const worst = new Comparison();
function keepWorst(compared: Comparison): void {
  worst.readings += compared.readings;
  worst.worstAmps = Math.max(worst.worstAmps, compared.worstAmps);
  worst.worstShare = Math.max(worst.worstShare, compared.worstShare);
}

describe.each([
  ['bramble-siding', 4],
  // Twelve levers; contacts of three, of four and of four levers.
  ['quillhaven-harbour', 24 + 8 + 16 + 16],
])('%s in ngspice', (name, states) => {
  const text = example(name);
  const derived = deriveText(text);
  const first = firstPoints(text);

  test('each circuit in each position of its lever agrees with its readings', () => {
    const compared = new Comparison();
    let count = 0;
    for (const circuit of derived.wiring.circuits) {
      for (const { levers } of statesOf(derived.wiring, circuit)) {
        compareText(compared, derived, first, levers, circuit.id);
        count += 1;
      }
    }
    console.log(`${name}, circuit by circuit: ${compared.words()}`);
    keepWorst(compared);
    expect(compared.disagreements).toEqual([]);
    expect(count).toBe(states);
  });

  test('the whole panel agrees with its readings in mixed settings (seed 21)', () => {
    const compared = new Comparison();
    const random = seeded(21);
    for (let k = 0; k < 12; k += 1) {
      const levers = Object.fromEntries(
        derived.plan.levers.map(({ id }) => [id, random.one(positionsOfLever(derived.wiring, id))] as const),
      );
      compareText(compared, derived, first, levers);
    }
    console.log(`${name}, whole: ${compared.words()}`);
    keepWorst(compared);
    expect(compared.disagreements).toEqual([]);
    expect(compared.readings).toBe(12 * (derived.counts.lamps + derived.counts.points));
  });
});

describe.each(['bramble-siding', 'quillhaven-harbour'])('panel.cir of %s', (name) => {
  test('runs as it stands and agrees with the readings of all levers normal', async () => {
    const text = example(name);
    const derived = deriveText(text);
    const [file] = await buildBook(derived, { paper: 'A4', only: ['panel.cir'], fonts: NO_FONTS });
    const compared = new Comparison();
    compareText(compared, derived, firstPoints(text), {}, undefined, new TextDecoder().decode(file?.bytes));
    expect(compared.disagreements).toEqual([]);
    expect(compared.readings).toBe(derived.counts.lamps + derived.counts.points);
  });
});

/** Settings in which a fault is tried: every setting of a small panel, two of a large one. */
function settingsFor(derived: Derived, all: boolean, random: ReturnType<typeof seeded>): readonly LeverPositions[] {
  if (!all)
    return [
      Object.fromEntries(
        derived.plan.levers.map(({ id }) => [id, random.one(positionsOfLever(derived.wiring, id))] as const),
      ),
    ];
  return derived.plan.levers.reduce<readonly LeverPositions[]>(
    (made, { id }) =>
      made.flatMap((one) => positionsOfLever(derived.wiring, id).map((position) => ({ ...one, [id]: position }))),
    [{}],
  );
}

describe.each([
  ['bramble-siding', true, 1, 17],
  ['quillhaven-harbour', false, 9, 9],
])('single faults of %s in ngspice', (name, all, every, kinds) => {
  test('every kind of fault agrees with its readings (seed 33)', () => {
    const text = example(name);
    const derived = deriveText(text);
    const first = firstPoints(text);
    const compared = new Comparison();
    const random = seeded(33);
    const faults = faultsOf(derived.wiring).filter((_fault, i) => i % every === 0);
    for (const fault of faults)
      for (const levers of settingsFor(derived, all, random))
        compareText(compared, derived, first, levers, undefined, undefined, [fault]);
    console.log(`${name}, ${faults.length} faults: ${compared.words()}`);
    keepWorst(compared);
    expect(compared.disagreements).toEqual([]);
    expect(new Set(faults.map(({ code }) => code.split(':')[0])).size).toBeGreaterThanOrEqual(kinds);
  });
});

describe('panels made otherwise in ngspice', () => {
  const bramble = example('bramble-siding');
  test.each(Array.from({ length: 24 }, (_, k) => k + 101))('Bramble Siding, seed %d', (seed) => {
    const text = variant(bramble, seed);
    const derived = deriveText(text);
    const compared = new Comparison();
    const [L1, L2] = derived.wiring.circuits;
    for (const l1 of L1?.positions ?? [])
      for (const l2 of L2?.positions ?? []) compareText(compared, derived, firstPoints(text), { L1: l1, L2: l2 });
    keepWorst(compared);
    expect(compared.disagreements).toEqual([]);
    expect(compared.readings).toBeGreaterThanOrEqual(4 * 15);
  });
});

afterAll(() => {
  console.log(`all settings of all panels: ${worst.words()}`);
});
