import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { numberLine } from './number-line.ts';

const SEED = 20261129;

describe('the number line', () => {
  it('has its three zones, and every number up to one lever each', () => {
    const line = numberLine({ now: 12, most: 17, least: 12, leastForRoutes: 7 });
    expect(line.zones).toEqual([
      { what: 'routes', from: 3, to: 6 },
      { what: 'pairs', from: 7, to: 11 },
      { what: 'nothing', from: 12, to: 17 },
    ]);
    expect(line.ticks).toEqual([3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17]);
  });
  it('leaves out what has no number', () => {
    expect(numberLine({ now: 2, most: 2, least: 1, leastForRoutes: 1 }).zones).toEqual([
      { what: 'nothing', from: 1, to: 2 },
    ]);
  });
  it(`covers every number once, and always writes the present one (seed ${SEED})`, () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 1, max: 200 }),
        (now, most, a, b) => {
          const line = numberLine({ now, most, least: Math.max(a, b), leastForRoutes: Math.min(a, b) });
          let next = line.first;
          for (const { from, to } of line.zones) {
            expect(from).toBe(next);
            next = to + 1;
          }
          expect(next).toBe(line.last + 1);
          expect(line.ticks).toContain(now);
          expect(line.ticks.length).toBeLessThanOrEqual(18);
        },
      ),
      { seed: SEED },
    );
  });
});
