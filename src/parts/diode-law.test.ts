import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { forwardVolts, lawExists, lawFrom, THERMAL_VOLTAGE } from './diode-law.ts';

describe('lawFrom', () => {
  it('passes through the point it was made from (seed 27)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 4, noNaN: true }),
        fc.double({ min: 1e-5, max: 0.02, noNaN: true }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (vf, at, n, rs) => {
          expect(forwardVolts(lawFrom(vf, at, n, rs), at)).toBeCloseTo(vf, 11);
        },
      ),
      { seed: 27 },
    );
  });
  it('rises by n Vt ln 10 a decade where rs is nought', () => {
    // Closed form; 2 x 25.865 mV x 2.302585 = 119.11 mV.
    const law = lawFrom(1.8, 0.002, 2, 0);
    expect(forwardVolts(law, 0.02) - forwardVolts(law, 0.002)).toBeCloseTo(2 * THERMAL_VOLTAGE * Math.LN10, 9);
  });
  it('is nought at nought and saturates in reverse', () => {
    const law = lawFrom(0.7, 0.01, 1.8, 0.05);
    expect(forwardVolts(law, 0)).toBe(0);
    expect(forwardVolts(law, -law.is / 2)).toBeLessThan(0);
    expect(() => forwardVolts(law, -law.is)).toThrow(RangeError);
    expect(() => forwardVolts(law, Number.NaN)).toThrow(RangeError);
  });
  it('refuses what has no law', () => {
    for (const [vf, at, n, rs] of [
      [0, 0.01, 2, 5],
      [0.05, 0.01, 2, 5],
      [1.8, 0, 2, 5],
      [1.8, 0.01, 0, 5],
      [1.8, 0.01, 2, -1],
      [100, 0.01, 1, 0],
      [Number.NaN, 0.01, 2, 5],
    ] as const) {
      expect(lawExists(vf, at, n, rs)).toBe(false);
      expect(() => lawFrom(vf, at, n, rs)).toThrow(RangeError);
    }
  });
});
