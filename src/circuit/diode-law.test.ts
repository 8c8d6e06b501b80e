import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { THERMAL_VOLTAGE } from '../parts/index.ts';
import { diodeCurrent, diodeSlope } from './diode-law.ts';

/** Oracle: v(i) is explicit, so i is found by halving an interval, without any derivative. */
function byHalving(law: { is: number; n: number; rs: number }, volts: number): number {
  const nvt = law.n * THERMAL_VOLTAGE;
  const voltsAt = (amps: number): number => nvt * Math.log1p(amps / law.is) + amps * law.rs;
  let low = -law.is;
  let high = law.rs > 0 ? Math.max(volts / law.rs, 0) + law.is : law.is * Math.exp(volts / nvt) + law.is;
  for (let turn = 0; turn < 2000; turn++) {
    const middle = (low + high) / 2;
    if (voltsAt(middle) < volts) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

describe('diodeCurrent', () => {
  test('[CI8] without series resistance it is Shockley', () => {
    // Shockley 1949: i = is (exp(v / nVt) - 1).
    const law = { is: 1e-14, n: 1, rs: 0 };
    expect(diodeCurrent(law, 0.6)).toBeCloseTo(1e-14 * (Math.exp(0.6 / THERMAL_VOLTAGE) - 1), 15);
    expect(diodeCurrent(law, 0)).toBe(0);
    expect(diodeCurrent(law, -5)).toBeCloseTo(-1e-14, 20);
  });

  test('[CI8] with series resistance it agrees with halving (seed 11)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -26, max: -6, noNaN: true }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        fc.double({ min: -3, max: 2, noNaN: true }),
        fc.double({ min: -30, max: 30, noNaN: true }),
        (logIs, n, logRs, volts) => {
          const law = { is: 10 ** logIs, n, rs: 10 ** logRs };
          const amps = diodeCurrent(law, volts);
          const want = byHalving(law, volts);
          expect(Math.abs(amps - want)).toBeLessThanOrEqual(1e-12 * Math.abs(want) + 1e-12 * law.is);
        },
      ),
      { seed: 11, numRuns: 1000 },
    );
  });

  test('[CI8] the slope is the difference quotient (seed 12)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1, max: 4, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        (volts, rs) => {
          const law = { is: 1.9e-18, n: 2, rs };
          const h = 1e-5;
          const quotient = (diodeCurrent(law, volts + h) - diodeCurrent(law, volts - h)) / (2 * h);
          const slope = diodeSlope(law, diodeCurrent(law, volts));
          expect(Math.abs(slope - quotient)).toBeLessThanOrEqual(1e-6 * slope + 1e-15);
        },
      ),
      { seed: 12, numRuns: 500 },
    );
  });

  test('[CI14] it is finite and never falls, whatever the volts', () => {
    const volts = [-1e12, -30, -1, 0, 1, 30, 1e3, 1e6, 1e12];
    for (const law of [
      { is: 1e-200, n: 0.01, rs: 0 },
      { is: 1e-200, n: 0.01, rs: 1e-9 },
      { is: 1, n: 1000, rs: 0 },
      { is: 1, n: 0.01, rs: 1e9 },
      { is: 1e-18, n: 2, rs: 5 },
    ]) {
      const amps = volts.map((v) => diodeCurrent(law, v));
      expect(amps.every(Number.isFinite)).toBe(true);
      expect([...amps].sort((p, q) => p - q)).toEqual(amps);
    }
  });
});
