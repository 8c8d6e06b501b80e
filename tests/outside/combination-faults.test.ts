/** Single faults of every combination that is wired, drawn by lot, through ngspice beside the product's readings. Outside source: ngspice. */
import { expect, test } from 'vitest';
import { combine, DRIVES, FEEDS, SCHEMES } from '../../src/cli/combine.ts';
import { derive } from '../../src/index.ts';
import { faultsOf } from '../../src/wiring/index.ts';
import { branchLine } from './panels-by-hand.ts';
import { seeded } from './rebuild/seeded.ts';
import { type Asked, compareAll, disagreements, settingsOf, worstOf } from './setting-texts.ts';

/** A thousandth, or 1 uA. */
const SHARE = 1e-3;
const LEAST_AMPS = 1e-6;

test('more than a thousand faults of all kinds, each in one setting, agree (seed 41)', () => {
  const random = seeded(41);
  const asked: Asked[] = [];
  const kinds = new Set<string>();
  const lot = (name: string, derived: ReturnType<typeof derive>, count: number): void => {
    const settings = settingsOf(name, derived);
    for (const fault of random.some(faultsOf(derived.wiring), count)) {
      asked.push({ ...random.one(settings), faults: [fault] });
      kinds.add(fault.kind);
    }
  };
  for (const feed of FEEDS)
    for (const drive of DRIVES)
      for (const scheme of SCHEMES) {
        if (feed === 'half-wave') continue;
        const derived = derive(combine({ drive, feed, scheme }));
        // What cannot be wired has nothing that could fail.
        if (derived.wiring.circuits.length > 0 && derived.wiring.lamps.length > 0)
          lot(`${feed} ${drive} ${scheme}`, derived, 8);
      }
  const split = branchLine(
    Array.from({ length: 5 }, () => ({})),
    {
      feed: { kind: 'split', supplies: ['S1', 'S2'] },
      supplies: [
        { id: 'S1', volts: 12, amps: 2 },
        { id: 'S2', volts: 12, amps: 2, ohms: 2 },
      ],
    },
  );
  lot('five split levers', derive(split), 120);
  const pairs = compareAll(asked);
  console.log(`${asked.length} faults of ${kinds.size} kinds: ${worstOf(pairs)}`);
  expect(disagreements(pairs, SHARE, LEAST_AMPS)).toEqual([]);
  expect(asked.length).toBeGreaterThan(1000);
  expect(kinds.size).toBeGreaterThanOrEqual(34);
});
