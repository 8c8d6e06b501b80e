import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lawFrom } from '../parts/index.ts';
import { chargeFeedThrows, chargeRush } from './charge-feed.ts';
import { secondThrow, tellThrow, throwCoils } from './discharge.ts';
import { flyback, tellFlyback } from './flyback.ts';
import { holdUp, rectify, tellRectified } from './reservoir.ts';

/** Any figure between two powers of ten: what a file may hold, sensible or not. */
const figure = (least: number, most: number) =>
  fc.double({ min: Math.log10(least), max: Math.log10(most), noNaN: true }).map((power) => 10 ** power);
const ohms = fc.oneof(fc.constant(0), figure(1e-12, 1e9));

const coil = fc.record({
  ohms: figure(1e-12, 1e4),
  henries: figure(1e-12, 10),
  wireOhms: ohms,
  throwAmps: figure(1e-9, 20),
  throwSeconds: figure(1e-9, 60),
});

/** Every number below an answer, however deep. */
function numbers(value: unknown): readonly number[] {
  if (typeof value === 'number') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(numbers);
}

const sound = (value: unknown, infinite = false): void => {
  for (const each of numbers(value))
    expect(infinite ? !Number.isNaN(each) : Number.isFinite(each), JSON.stringify(value)).toBe(true);
};

describe('whatever a file may hold', () => {
  it('[TM8] [TM12] throws give numbers and words (seed 77)', () => {
    fc.assert(
      fc.property(
        coil,
        fc.integer({ min: 1, max: 6 }),
        fc.record({
          farads: figure(1e-12, 1e9),
          ohms,
          steering: fc.constantFrom(null, 0.8),
          charger: fc.record({
            volts: figure(1e-12, 1e9),
            ohms,
            most: fc.oneof(fc.constant(null), figure(1e-12, 1e9)),
            drop: fc.constantFrom(0, 0.7),
          }),
        }),
        (one, n, unit) => {
          const coils = Array.from({ length: n }, () => one);
          const told = secondThrow(unit, coils, 0.3);
          sound({ ...told, ready: 0 });
          expect(Number.isNaN(told.ready)).toBe(false);
          expect(tellThrow(unit, coils, throwCoils(unit, coils)).length).toBeGreaterThan(1);
        },
      ),
      { seed: 77, numRuns: 1500 },
    );
  });

  it('[TM15] [TM16] charge feeds give numbers (seed 78)', () => {
    fc.assert(
      fc.property(
        coil,
        fc.record({
          volts: figure(1e-12, 1e9),
          supplyOhms: ohms,
          farads: figure(1e-12, 1e9),
          ohms,
          drop: fc.constantFrom(0.7, 0.8),
        }),
        (one, feed) => {
          sound(chargeFeedThrows(feed, one, one));
          sound({ ...chargeRush(feed, one, 6, 1) });
        },
      ),
      { seed: 78, numRuns: 1000 },
    );
  });

  it('[TM13] flybacks give numbers and words (seed 79)', () => {
    fc.assert(
      fc.property(
        fc.record({
          henries: figure(1e-12, 10),
          ohms: figure(1e-12, 1e9),
          amps: figure(1e-9, 1e9),
          volts: figure(1e-12, 1e9),
          drop: figure(0.1, 2),
        }),
        (opened) => {
          const { ampsAt: _, ...kick } = flyback(opened);
          sound(kick);
          expect(kick.diodeJoules).toBeGreaterThanOrEqual(0);
          expect(kick.windingJoules).toBeGreaterThanOrEqual(0);
          expect(tellFlyback(opened, flyback(opened)).length).toBeGreaterThan(1);
        },
      ),
      { seed: 79, numRuns: 1000 },
    );
  });

  it('[TM17] [TM18] [TM19] rectifiers give numbers and words (seed 80)', () => {
    fc.assert(
      fc.property(
        fc.record({
          kind: fc.constantFrom('half-wave' as const, 'bridge' as const),
          volts: figure(1e-12, 1e9),
          ohms,
          hertz: figure(1, 1000),
          law: fc.constant(lawFrom(0.7, 0.01, 1.8, 0.05)),
          farads: fc.oneof(fc.constant(0), figure(1e-12, 1e9)),
        }),
        fc.oneof(
          fc.record({ ohms: figure(1e-12, 1e9) }),
          fc.record({ ohms: figure(1e-12, 1e9), volts: fc.double({ min: 0, max: 20, noNaN: true }) }),
          fc.record({ amps: figure(1e-12, 1e9) }),
        ),
        (source, load) => {
          const found = rectify(source, load);
          sound(found);
          // Sums of weights miss 1 by some 1e-16; means of a nearly empty capacitor are leakage.
          const slack = 1e-6 * source.volts;
          expect(found.low).toBeLessThanOrEqual(found.mean + slack);
          expect(found.mean).toBeLessThanOrEqual(found.high + slack);
          expect(tellRectified(source, found).length).toBeGreaterThan(1);
          sound(holdUp(source.farads, load, found.high, found.high / 2), true);
        },
      ),
      { seed: 80, numRuns: 200 },
    );
  });
});
