import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CHARGED_CAPACITOR_CAUTION } from './cautions.ts';
import { type Charger, chargingAmps, chargingSeconds, fullVolts, voltsAfter } from './charging.ts';
import { integrate } from './integrate.ts';
import { TIGHTEST } from './time-tolerances.ts';

const chargers: fc.Arbitrary<Charger> = fc.record({
  volts: fc.double({ min: 9, max: 30, noNaN: true }),
  ohms: fc.double({ min: 5, max: 500, noNaN: true }),
  most: fc.oneof(fc.constant(null), fc.double({ min: 0.02, max: 3, noNaN: true })),
  drop: fc.constantFrom(0, 0.7),
});

describe('charging', () => {
  it('[TM7] agrees with the integrator through resistor and limit alike (seed 900)', () => {
    fc.assert(
      fc.property(chargers, fc.double({ min: 1e-3, max: 5, noNaN: true }), (charger, seconds) => {
        const farads = 4700e-6;
        const run = integrate(
          (_, [v = 0], into) => {
            into[0] = chargingAmps(charger, v) / farads;
          },
          0,
          [0.5],
          seconds,
          TIGHTEST,
        );
        expect(Math.abs(voltsAfter(charger, farads, 0.5, seconds) - (run.state[0] ?? 0))).toBeLessThan(1e-7);
      }),
      { seed: 900, numRuns: 100 },
    );
  });

  it('[TM7] seconds and volts are each the inverse of the other (seed 901)', () => {
    fc.assert(
      fc.property(chargers, fc.double({ min: 0, max: 0.999, noNaN: true }), (charger, share) => {
        const to = share * fullVolts(charger);
        const seconds = chargingSeconds(charger, 2200e-6, 0, to);
        expect(voltsAfter(charger, 2200e-6, 0, seconds)).toBeCloseTo(to, 9);
      }),
      { seed: 901 },
    );
  });

  it('[TM7] through a limit alone it rises straight and ends: 24 V x 4700 uF / 1 A = 112.8 ms', () => {
    const charger = { volts: 24, ohms: 0, most: 1, drop: 0 };
    expect(chargingSeconds(charger, 4700e-6, 0, 24)).toBeCloseTo(0.1128, 12);
    expect(voltsAfter(charger, 4700e-6, 0, 0.0564)).toBeCloseTo(12, 12);
    expect(voltsAfter(charger, 4700e-6, 0, 1)).toBe(24);
  });

  it('[TM7] never reaches full through a resistor, is there at once where it stands higher, and does not discharge', () => {
    const charger = { volts: 24, ohms: 100, most: null, drop: 0.7 };
    expect(chargingSeconds(charger, 4700e-6, 0, 24)).toBe(Number.POSITIVE_INFINITY);
    expect(chargingSeconds(charger, 4700e-6, 20, 18)).toBe(0);
    expect(voltsAfter(charger, 4700e-6, 25, 10)).toBe(25);
    expect(chargingAmps(charger, 25)).toBe(0);
  });

  it('empties through 100 ohm in three seconds, as the caution says: 24 V leaves 0.04 V of 4700 uF', () => {
    expect(CHARGED_CAPACITOR_CAUTION).toContain('100 ohm, 2 W, for three seconds');
    // The same law with a source of 0 V: 24 e^(-3 / 0.47).
    expect(24 - voltsAfter({ volts: 24, ohms: 100, most: null, drop: 0 }, 4700e-6, 0, 3)).toBeCloseTo(0.04, 2);
  });
});
