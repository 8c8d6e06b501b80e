import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseSwitches } from '../contacts/index.ts';
import { groupLamps, readLamps } from '../lamps/index.ts';
import { checkPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { islandsOf, type Position, solveIsland, type Wiring, wirePanel } from '../wiring/index.ts';
import { type Range, rangesOf } from './ranges.ts';

const SEED = 20260301;

/** What hangs on one lever: lamps of each lie, how they are joined and behind what, and whether it has a middle. */
interface Load {
  readonly normal: number;
  readonly reverse: number;
  readonly arrange: 'own' | 'series' | 'parallel';
  readonly guard: 'none' | 'antiparallel';
  /** Of the lamps of each lie. */
  readonly ohms: readonly [normal: number, reverse: number];
  readonly centreOff: boolean;
}

interface Supply {
  readonly volts: number;
  readonly ohms: number;
  readonly limit?: 'constant' | 'hiccup';
  readonly amps?: number;
}

/** A line with a siding for each load, one lever each, all behind one supply. */
function wire(loads: readonly Load[], supply: Supply): Wiring {
  const lamps = loads.flatMap((load, i) =>
    (['normal', 'reverse'] as const).flatMap((lie) =>
      Array.from({ length: load[lie] }, (_, k) => ({
        id: `H${i + 1}${lie === 'normal' ? 'N' : 'R'}${k + 1}`,
        at: [100 * i + 80 + 4 * k, lie === 'normal' ? 60 : 85],
        part: 'led-3-red',
        shows: { [`P${i + 1}`]: lie },
      })),
    ),
  );
  const read = checkPanel({
    format: 'mimic-panel',
    version: 1,
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [100 * loads.length + 60, 60],
        ],
      },
      ...loads.map((_, i) => ({
        id: `siding-${i + 1}`,
        path: [
          [100 * i + 30, 60],
          [100 * i + 70, 85],
          [100 * i + 110, 85],
        ],
      })),
    ],
    points: loads.map((_, i) => ({ id: `P${i + 1}`, at: [100 * i + 30, 60] })),
    levers: loads.map((load, i) => ({
      id: `L${i + 1}`,
      switch: load.centreOff ? 'toggle-2p-centre-off' : 'toggle-2p',
      works: [{ point: `P${i + 1}` }],
    })),
    lamps,
    lampGroups: loads.flatMap(({ arrange, guard, ohms }, i) =>
      (['N', 'R'] as const).flatMap((lie, k) => {
        const ids = lamps.map((lamp) => lamp.id).filter((id) => id.startsWith(`H${i + 1}${lie}`));
        return ids.length === 0 ? [] : [{ id: `G${i + 1}${lie}`, lamps: ids, arrange, guard, ohms: ohms[k] ?? 1000 }];
      }),
    ),
    supplies: [{ id: 'S1', ...supply }],
  });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const panel = read.panel;
  const catalogue = resolveCatalogue(panel.parts);
  const plan = readPlan(panel);
  const { switches } = chooseSwitches(panel, catalogue, plan);
  const { lamps: uses, trees } = readLamps(panel, catalogue, plan);
  const { groups } = groupLamps(panel, catalogue, plan, uses);
  return wirePanel({ panel, catalogue, plan, switches, lamps: uses, trees, groups });
}

/** Every setting of the whole island, one by one: the slow way that the quick one must agree with. */
function everySetting(wiring: Wiring): ReadonlyMap<string, Range> {
  const found = new Map<string, Range>();
  for (const island of islandsOf(wiring)) {
    let settings: Record<string, Position>[] = [{}];
    for (const lever of island) {
      const positions = wiring.circuits.find(({ id }) => id === lever)?.positions ?? [];
      settings = settings.flatMap((setting) => positions.map((position) => ({ ...setting, [lever]: position })));
    }
    for (const setting of settings) {
      for (const { id, amps, low, high } of solveIsland(wiring, island, setting).lamps) {
        const lever = wiring.lamps.find((lamp) => lamp.id === id)?.circuit ?? '';
        const key = `${id} ${setting[lever]}`;
        const known = found.get(key) ?? { low, high, least: amps, most: amps };
        found.set(key, {
          low: Math.min(known.low, low),
          high: Math.max(known.high, high),
          least: Math.min(known.least, amps),
          most: Math.max(known.most, amps),
        });
      }
    }
  }
  return found;
}

/** The quick ranges are those of all settings, within a share of a lamp's just visible current. */
function expectSame(wiring: Wiring): void {
  const quick = rangesOf(wiring);
  for (const [key, slow] of everySetting(wiring)) {
    const [lamp = '', position = ''] = key.split(' ');
    const range = [...(quick.get(lamp) ?? [])].find(([each]) => each === position)?.[1];
    for (const edge of ['low', 'high', 'least', 'most'] as const)
      expect(range?.[edge], `${key} ${edge}`).toBeCloseTo(slow[edge], 8);
  }
}

const load: fc.Arbitrary<Load> = fc.record({
  normal: fc.integer({ min: 0, max: 5 }),
  reverse: fc.integer({ min: 0, max: 5 }),
  arrange: fc.constantFrom('own', 'series', 'parallel'),
  guard: fc.constantFrom('none', 'antiparallel'),
  ohms: fc.tuple(fc.constantFrom(47, 100, 470, 2200), fc.constantFrom(100, 470, 1000, 3300)),
  centreOff: fc.boolean(),
});

describe('rangesOf', () => {
  it(`[TR10] finds behind a supply with ohms what every setting of all levers shows, seed ${SEED}`, () => {
    const supply = fc.record({ volts: fc.constantFrom(6, 9, 12), ohms: fc.constantFrom(1, 10, 47, 150, 400) });
    fc.assert(
      fc.property(fc.array(load, { minLength: 2, maxLength: 3 }), supply, (loads, weak) =>
        expectSame(wire(loads, weak)),
      ),
      { seed: SEED, numRuns: 12 },
    );
  }, 60_000);

  it(`[TR10] and behind a supply that its limit holds down, seed ${SEED}`, () => {
    const supply = fc.record({
      volts: fc.constantFrom(9, 12),
      ohms: fc.constantFrom(0, 20),
      limit: fc.constantFrom('constant' as const, 'hiccup' as const),
      amps: fc.constantFrom(0.02, 0.05, 0.09),
    });
    fc.assert(
      fc.property(fc.array(load, { minLength: 2, maxLength: 3 }), supply, (loads, weak) =>
        expectSame(wire(loads, weak)),
      ),
      { seed: SEED, numRuns: 4 },
    );
  }, 60_000);

  it('[TR10] a lever may draw most in one position at full volts and in the other at what is left of them', () => {
    // Normal: five red lamps in a row behind 47 ohm, about (12 - 9.6) / 67 = 36 mA at 12 V and nothing below 8 V. Reverse: one behind
    // 1000 ohm, 10 mA at 12 V and still 3 mA at 5 V. The lever beside it draws most when normal, always: (V - 1.8) / 100. With three
    // motors of 800 ohm behind 150 ohm that leaves 12 - V = 150 (3 V / 800 + (V - 1.8) / 100), so V = 4.8: there the row is dark,
    // and the worst is the one lever reverse and the other normal, which is neither the heaviest nor the lightest at 12 V.
    const row: Load = { normal: 5, reverse: 1, arrange: 'series', guard: 'none', ohms: [47, 1000], centreOff: false };
    const plain: Load = { ...row, normal: 1, ohms: [100, 3300] };
    const judged: Load = { ...row, normal: 1, ohms: [1000, 1000] };
    expectSame(wire([row, plain, judged], { volts: 12, ohms: 150 }));
  });
});
