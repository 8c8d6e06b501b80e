import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anySelection, anyStroke, everything } from '../../tests/generate/hand.ts';
import { generatePanel } from '../../tests/generate/panels.ts';
import { randomOf } from '../../tests/generate/random.ts';
import { applyTransaction, invertTransaction, type PanelFile, readPanel, writePanel } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import { mirrorThings, turnedAbout, turnThings } from './index.ts';

const SEED = 20261126;

function strokes(seed: number, count: number, each?: (before: PanelFile, after: PanelFile) => void): PanelFile {
  const random = randomOf(seed);
  let panel: PanelFile = random.chance(50)
    ? { format: 'mimic-panel', version: 1, strips: [] }
    : generatePanel(seed, random.whole(1, 6));
  for (let i = 0; i < count; i++) {
    const tx = anyStroke(panel, random);
    if (tx === null) continue;
    const after = applyTransaction(panel, tx, { freeze: true });
    expect(writePanel(applyTransaction(after, invertTransaction(tx))), tx.name).toBe(writePanel(panel));
    each?.(panel, after);
    panel = after;
  }
  return panel;
}

const numbersIn = (value: unknown): readonly number[] =>
  typeof value === 'number'
    ? [value]
    : typeof value === 'object' && value !== null
      ? Object.values(value).flatMap(numbersIn)
      : [];

describe('whatever a hand does', () => {
  it(`is taken back exactly, and 50 strokes leave a file that is read (seed ${SEED})`, () => {
    fc.assert(
      fc.property(fc.nat(1_000_000), (seed) => {
        const panel = strokes(seed, 50);
        const read = readPanel(writePanel(panel));
        expect(read.ok, JSON.stringify(read)).toBe(true);
        expect(() => readPlan(panel)).not.toThrow();
      }),
      { seed: SEED, numRuns: 30 },
    );
  });

  it(`is written to 0.001 mm wherever it lays strips and things (seed ${SEED + 1})`, () => {
    fc.assert(
      fc.property(fc.nat(1_000_000), (seed) => {
        const { strips, lamps = [], levers = [], plates = [], platforms = [], buttons = [] } = strokes(seed, 30);
        const spots = [...lamps, ...levers, ...plates, ...platforms, ...buttons].map(({ at }) => at ?? []);
        for (const x of numbersIn([strips.map(({ path }) => path), spots])) expect(Math.round(x * 1000) / 1000).toBe(x);
      }),
      { seed: SEED + 1, numRuns: 30 },
    );
  });
});

describe('there and back', () => {
  // Places stand where the reading says, with their strips.
  const spotsOf = ({ strips, lamps, levers, plates, platforms, face }: PanelFile) =>
    numbersIn([
      strips.map(({ path }) => path),
      [lamps, levers, plates, platforms, face?.fixings, face?.keepOut].map((list) => list?.map(({ at }) => at)),
    ]);
  const far = (a: PanelFile, b: PanelFile) => {
    const [one, two] = [spotsOf(a), spotsOf(b)];
    expect(two.length).toBe(one.length);
    return Math.max(0, ...one.map((x, i) => Math.abs(x - (two[i] ?? Infinity))));
  };
  const settled = (seed: number) => {
    const panel = strokes(seed, 15);
    // One stroke first: it writes down the records that the strips want.
    const tx = mirrorThings(panel, everything(panel), 'up-down');
    return tx === null ? panel : applyTransaction(panel, tx);
  };

  it(`mirrored twice everything is where it was (seed ${SEED + 2})`, () => {
    fc.assert(
      fc.property(fc.nat(1_000_000), fc.constantFrom('left-right' as const, 'up-down' as const), (seed, way) => {
        const panel = settled(seed);
        const once = mirrorThings(panel, everything(panel), way);
        if (once === null) return;
        const mirrored = applyTransaction(panel, once);
        const twice = mirrorThings(mirrored, everything(mirrored), way);
        const back = twice === null ? mirrored : applyTransaction(mirrored, twice);
        expect(far(panel, back)).toBeLessThan(1e-6);
        expect(back.levers?.map(({ angle }) => angle ?? 0)).toEqual(panel.levers?.map(({ angle }) => angle ?? 0));
      }),
      { seed: SEED + 2, numRuns: 40 },
    );
  });

  it(`turned and turned back everything is where it was, to what is written (seed ${SEED + 3})`, () => {
    fc.assert(
      fc.property(fc.nat(1_000_000), fc.integer({ min: -720, max: 720 }), (seed, half) => {
        const panel = settled(seed);
        const picked = everything(panel);
        const there = turnThings(panel, picked, half / 2);
        if (there === null) return;
        const turned = applyTransaction(panel, there);
        const again = turnThings(turned, picked, -half / 2);
        const back = again === null ? turned : applyTransaction(turned, again);
        // Rounding to 0.001 mm moves a spot by 0.71 of half a step each way; where the mean rounds the other way it draws all along
        // by up to two steps; an oblong's corner is half its size from its middle, another half step each way.
        expect(far(panel, back)).toBeLessThan(0.0045);
      }),
      { seed: SEED + 3, numRuns: 40 },
    );
  });

  it(`the map itself comes back to 1e-6 mm, by quarters exactly (seed ${SEED + 5})`, () => {
    const coordinate = fc.double({ min: -1000, max: 1000, noNaN: true });
    const spot = fc.tuple(coordinate, coordinate);
    fc.assert(
      fc.property(spot, spot, fc.double({ min: -720, max: 720, noNaN: true }), (at, about, by) => {
        const [x, y] = turnedAbout(turnedAbout(at, about, by), about, -by);
        expect(Math.hypot(x - at[0], y - at[1])).toBeLessThan(1e-6);
      }),
      { seed: SEED + 5 },
    );
    expect(turnedAbout([30, 10], [10, 10], 90)).toEqual([10, 30]);
    expect(turnedAbout([30, 10], [10, 10], -450)).toEqual([10, -10]);
  });

  it(`a selection that is empty or not there is no edit (seed ${SEED + 4})`, () => {
    fc.assert(
      fc.property(fc.nat(1_000_000), (seed) => {
        const panel = strokes(seed, 5);
        const none = anySelection({ format: 'mimic-panel', version: 1, strips: [] }, randomOf(seed));
        expect(mirrorThings(panel, none, 'left-right')).toBe(null);
        expect(turnThings(panel, [{ list: 'lamps', id: 'nobody' }], 30)).toBe(null);
      }),
      { seed: SEED + 4, numRuns: 10 },
    );
  });
});
