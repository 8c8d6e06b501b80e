import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { forwardVolts, lawFrom } from '../parts/index.ts';
import { flyback, tellFlyback } from './flyback.ts';
import { integrate } from './integrate.ts';
import { TIGHTEST } from './time-tolerances.ts';

const coils = fc.record({
  henries: fc.double({ min: 1e-3, max: 0.5, noNaN: true }),
  ohms: fc.double({ min: 1, max: 400, noNaN: true }),
  amps: fc.double({ min: 0.01, max: 10, noNaN: true }),
  volts: fc.constant(24),
  drop: fc.double({ min: 0.5, max: 1.5, noNaN: true }),
});

describe('flyback', () => {
  it('[TM13] agrees with the integrator: time, coulombs, joules (seed 76)', () => {
    fc.assert(
      fc.property(coils, (coil) => {
        const kick = flyback(coil);
        const run = integrate(
          (_, [i = 0], into) => {
            into[0] = (-coil.ohms * i - coil.drop) / coil.henries;
            into[1] = i;
            into[2] = coil.drop * i;
            into[3] = coil.ohms * i * i;
          },
          0,
          [coil.amps, 0, 0, 0],
          2 * kick.seconds,
          { ...TIGHTEST, events: [{ value: (_, [i = 0]) => i, crossing: 'falling', ends: true }] },
        );
        const [, q = 0, diode = 0, winding = 0] = run.state;
        expect(kick.seconds / run.seconds).toBeCloseTo(1, 9);
        expect(kick.charge / q).toBeCloseTo(1, 7);
        expect(kick.diodeJoules / diode).toBeCloseTo(1, 7);
        expect(kick.windingJoules / winding).toBeCloseTo(1, 7);
        expect(kick.ampsAt(kick.seconds / 2)).toBeGreaterThan(0);
        expect(kick.ampsAt(kick.seconds)).toBe(0);
      }),
      { seed: 76 },
    );
  });

  it('[TM13] a constant drop tells the joules of a diode that obeys its law within an eighth', () => {
    // A rectifier diode of 0.8 V at 1 A, and the typical coil opened at 4 A.
    const law = lawFrom(0.8, 1, 1.8, 0.05);
    const kick = flyback({ henries: 0.005, ohms: 5, amps: 4, volts: 24, drop: 0.8 });
    const run = integrate(
      (_, [i = 0], into) => {
        const v = forwardVolts(law, Math.max(i, 0));
        into[0] = (-5 * i - v) / 0.005;
        into[1] = v * i;
      },
      0,
      [4, 0],
      0.02,
    );
    expect(Math.abs((run.state[1] ?? 0) / kick.diodeJoules - 1)).toBeLessThan(0.125);
  });

  it('[TM14] a relay lets go later behind a diode: 12 V, 400 ohm, 0.5 H, hold at a third', () => {
    const relay = { henries: 0.5, ohms: 400, amps: 0.03, volts: 12, drop: 0.7, hold: 0.01 };
    expect(flyback(relay).ampsAt(flyback(relay).released)).toBeCloseTo(0.01, 12);
    expect(flyback({ ...relay, hold: 0.05 }).released).toBe(0);
  });

  it('[TM14] without a diode a coil arcs; one that carries nothing does not', () => {
    const coil = { henries: 0.005, ohms: 5, amps: 4, volts: 24, drop: 0.8 };
    expect(flyback(coil).arcs).toBe(true);
    expect(flyback(coil).bareVolts).toBeCloseTo(24 + 4 * Math.sqrt(0.005 / 100e-12), 6);
    expect(flyback({ ...coil, amps: 0 })).toMatchObject({ arcs: false, seconds: 0, joules: 0, contactVolts: 24 });
    expect(tellFlyback(coil, flyback(coil)).at(-1)).toContain('arcs');
    expect(() => flyback({ ...coil, henries: 0 })).toThrow(RangeError);
  });
});
