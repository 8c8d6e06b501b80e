import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resolveCatalogue } from '../parts/index.ts';
import { wireOhms } from '../units/index.ts';
import {
  type Coil,
  coilOf,
  type DischargeUnit,
  leastVolts,
  pulseOf,
  secondThrow,
  tellThrow,
  throwByIntegrator,
  throwCoils,
  throwsAtOnce,
} from './discharge.ts';
import { TIGHTEST } from './time-tolerances.ts';

/** The catalogue's typical coil, behind the wire of the notes. */
const COIL: Coil = { ohms: 5, henries: 0.005, wireOhms: 0, throwAmps: 2, throwSeconds: 0.008 };
const UNIT: DischargeUnit = {
  farads: 4700e-6,
  charger: { volts: 24, ohms: 100, most: null, drop: 0 },
  ohms: 0.0688,
  steering: null,
};
const many = (n: number, coil = COIL): readonly Coil[] => Array.from({ length: n }, () => coil);

describe('throwCoils', () => {
  // A throw-away prototype of this project, met by ngspice to 1e-5: 24 V, 4700 uF, 0.0688 ohm in common, coils of 5 ohm and 2 mH.
  it.each([
    [1, 4.487, 1.661],
    [2, 8.57, null],
    [3, 12.369, null],
    [4, 15.941, null],
    [5, 19.321, null],
    [6, 22.538, 1.025],
  ] as const)('[TM8] %i coils of 5 ohm and 2 mH peak at %f A', (n, amps, milliseconds) => {
    const thrown = throwCoils(UNIT, many(n, { ...COIL, henries: 0.002 }));
    expect(Math.abs(thrown.amps - amps)).toBeLessThan(6e-4);
    if (milliseconds !== null) expect((thrown.coils[0]?.peakSeconds ?? 0) * 1000).toBeCloseTo(milliseconds, 3);
    expect(thrown.joules).toBeCloseTo(0.5 * 4700e-6 * 24 ** 2, 12);
  });

  it('[TM8] agrees with the integrator at its tightest within 1e-7, whatever unit and coils (seed 2400)', () => {
    fc.assert(
      fc.property(
        fc.record({
          volts: fc.double({ min: 14, max: 28, noNaN: true }),
          farads: fc.constantFrom(1000e-6, 2200e-6, 4700e-6, 10000e-6),
          ohms: fc.double({ min: 0.01, max: 1, noNaN: true }),
          steering: fc.constantFrom(null, 0.8),
          charger: fc.constantFrom(
            { ohms: 100, most: null },
            { ohms: 10, most: null },
            { ohms: 0, most: 1 },
            { ohms: 0, most: 0.2 },
          ),
          coil: fc.record({
            ohms: fc.double({ min: 1, max: 8, noNaN: true }),
            henries: fc.double({ min: 0.001, max: 0.02, noNaN: true }),
          }),
          n: fc.integer({ min: 1, max: 6 }),
          press: fc.double({ min: 0.002, max: 0.1, noNaN: true }),
        }),
        ({ volts, farads, ohms, steering, charger, coil, n, press }) => {
          const unit = { farads, ohms, steering, charger: { volts, drop: 0.7, ...charger } };
          const coils = many(n, { ...COIL, ...coil, wireOhms: 0.24 });
          const closed = throwCoils(unit, coils, { press });
          const stepped = throwByIntegrator(unit, coils, { press }, TIGHTEST);
          const near = (a: number, b: number, most: number) =>
            expect(Math.abs(a - b), `${a} against ${b}`).toBeLessThan(1e-7 * most);
          near(closed.amps, stepped.amps, closed.amps);
          near(closed.left, stepped.left, volts);
          near(closed.reversed, stepped.reversed, volts);
          near(closed.lasted, stepped.lasted, press);
          const [a, b] = [closed.coils[0], stepped.coils[0]];
          if (a === undefined || b === undefined) throw new Error('no coil');
          near(a.seconds, b.seconds, press);
          near(a.joules, b.joules, closed.joules);
          near(a.broken, b.broken, closed.amps);
        },
      ),
      { seed: 2400, numRuns: 120 },
    );
  });

  it('[TM9] two coils that differ are followed step by step, and two that hardly differ come out as two alike', () => {
    const alike = throwCoils(UNIT, many(2));
    const apart = throwCoils(UNIT, [COIL, { ...COIL, ohms: 5 * (1 + 1e-9) }]);
    expect(apart.amps).toBeCloseTo(alike.amps, 6);
    expect(apart.coils[1]?.seconds).toBeCloseTo(alike.coils[1]?.seconds ?? Number.NaN, 6);
    const [low, high] = throwCoils(UNIT, [COIL, { ...COIL, ohms: 8 }]).coils;
    expect(low?.amps).toBeGreaterThan(high?.amps ?? Number.NaN);
  });

  it('[TM9] no joule is lost: heat of windings and of what is common is what the capacitor gave', () => {
    const unit = { ...UNIT, charger: { ...UNIT.charger, ohms: 1e9 } };
    const thrown = throwCoils(unit, many(3), { press: 0.5 });
    const windings = thrown.coils.reduce((sum, each) => sum + each.joules, 0);
    const gone = thrown.joules - 0.5 * unit.farads * thrown.left ** 2;
    expect(windings / gone).toBeCloseTo(5 / 3 / (5 / 3 + 0.0688), 6);
  });

  it('[TM10] a diode on the way ends the throw where the current would turn', () => {
    const swinging = { ...UNIT, farads: 470e-6, charger: { ...UNIT.charger, ohms: 10_000 } };
    const coil = { ...COIL, ohms: 1 };
    const free = throwCoils(swinging, [coil]);
    const stopped = throwCoils({ ...swinging, steering: 0.8 }, [coil]);
    // Overshoot of a loop that rings: e^(-pi a / w), a = 1.0688 / 2 L, w^2 = 1 / L C - a^2.
    const a = 1.0688 / 0.01;
    const w = Math.sqrt(1 / (0.005 * 470e-6) - a * a);
    expect(free.reversed / (24 * Math.exp((-Math.PI * a) / w))).toBeCloseTo(1, 2);
    expect(free.lasted).toBe(0.1);
    expect(stopped.lasted).toBeLessThan(0.01);
    expect(stopped.coils[0]?.broken).toBe(0);
  });

  it('[TM10] what is left does not depend on how long the contact stays closed once the current has died, but for the charger', () => {
    const swinging = { ...UNIT, farads: 470e-6, steering: 0.8, charger: { ...UNIT.charger, ohms: 1e9 } };
    const coil = { ...COIL, ohms: 1 };
    const short = throwCoils(swinging, [coil], { press: 0.02 });
    expect(throwCoils(swinging, [coil], { press: 0.09 }).left).toBeCloseTo(short.left, 4);
  });

  it('throws nothing without coils, or below the diode, and refuses a press of nothing', () => {
    expect(throwCoils(UNIT, []).amps).toBe(0);
    expect(throwCoils({ ...UNIT, steering: 0.8 }, [COIL], { volts: 0.5 }).coils[0]).toMatchObject({
      amps: 0,
      moves: false,
    });
    expect(() => throwCoils(UNIT, [COIL], { press: 0 })).toThrow(RangeError);
  });

  it('[TM8] a supply without resistor or limit drives a coil as if the capacitor had no end: V / R (1 - e^(-t R / L))', () => {
    const raw = { ...UNIT, charger: { volts: 24, ohms: 0, most: null, drop: 0 } };
    const thrown = throwCoils(raw, [COIL], { press: 0.05 });
    expect(thrown.amps).toBeCloseTo((24 / 5.0688) * -Math.expm1((-0.05 * 5.0688) / 0.005), 9);
    expect(thrown.left).toBe(24);
    expect(throwByIntegrator(raw, [COIL], { press: 0.05 }, TIGHTEST).amps).toBeCloseTo(thrown.amps, 9);
  });
});

describe('coilOf and pulseOf', () => {
  it("[TM11] the catalogue's twin coil moves behind 3 m of 0.22 mm2, and its pulse is told", () => {
    const parts = resolveCatalogue(undefined);
    const part = parts.find('drive', 'twin-coil');
    const stall = parts.find('drive', 'stall-2-wire');
    if (part === undefined || stall === undefined) throw new Error('no such drive');
    const coil = coilOf(part, 2 * wireOhms(3000, 0.22));
    if (coil === null) throw new Error('no coil');
    const thrown = throwCoils({ ...UNIT, ohms: 0, steering: 0.8 }, [coil]);
    expect(thrown.coils[0]?.moves).toBe(true);
    // Never more than Ohm's law would give the coil if it had no inductance.
    expect(pulseOf(thrown, 0).amps).toBeLessThan((24 - 0.8) / (5 + 0.47));
    expect(pulseOf(thrown, 0).joules).toBeCloseTo(1.3536, 6);
    expect(pulseOf(thrown, 0).seconds).toBeGreaterThan(0.008);
    expect(pulseOf(thrown, 1)).toMatchObject({ amps: 0, seconds: 0 });
    expect(coilOf(stall, 0)).toBeNull();
  });
});

describe('throwsAtOnce', () => {
  it('[TM11] more coils get less each, and the count that move ends at the first that do not', () => {
    const { throws, allMove } = throwsAtOnce(UNIT, COIL, 6);
    for (let k = 1; k < throws.length; k++) {
      expect(throws[k]?.coils[0]?.amps).toBeLessThan(throws[k - 1]?.coils[0]?.amps ?? 0);
      expect(throws[k]?.coils[0]?.seconds).toBeLessThan(throws[k - 1]?.coils[0]?.seconds ?? 0);
    }
    expect(throws.map((each) => each.coils[0]?.moves)).toEqual([0, 1, 2, 3, 4, 5].map((k) => k < allMove));
    // 4700 uF at 24 V is 113 mC: 2 A for 8 ms is 16 mC a coil at the least, and two coils must find it easy.
    expect(allMove).toBeGreaterThanOrEqual(2);
  });
});

describe('secondThrow', () => {
  it('[TM12] too soon it gets what the charger has put back: v = V - (V - v_left) e^(-t / R C)', () => {
    const told = secondThrow(UNIT, [COIL], 0.3);
    const charged = 24 - (24 - told.first.left) * Math.exp(-0.2 / (100 * 4700e-6));
    expect(told.volts).toBeCloseTo(charged, 12);
    expect(told.second.amps).toBeLessThan(0.5 * told.first.amps);
    expect(told.second.coils[0]?.moves).toBe(false);
  });

  it('[TM12] once ready it gets the share that it was asked for', () => {
    const told = secondThrow(UNIT, [COIL], 0.1);
    const again = secondThrow(UNIT, [COIL], 0.1 + told.ready);
    expect(again.volts).toBeCloseTo(0.95 * 24, 9);
    expect(again.second.coils[0]?.moves).toBe(true);
  });
});

describe('leastVolts', () => {
  it('[TM12] is where the coil has its current just long enough', () => {
    const volts = leastVolts(UNIT, [COIL]) ?? Number.NaN;
    expect(throwCoils(UNIT, [COIL], { volts }).coils[0]?.seconds).toBeCloseTo(COIL.throwSeconds, 9);
    expect(leastVolts(UNIT, many(6))).toBeNull();
  });
});

describe('tellThrow', () => {
  it('shows the arithmetic', () => {
    const coils = many(2);
    expect(tellThrow(UNIT, coils, throwCoils(UNIT, coils)).join('\n')).toMatch(
      /^½ × 4700 µF × \(24\.00 V\)² = 1\.35 J stored\n2 coils side by side: 2R5 \+ R0688 in common = 2R569\n.* above 2\.00 A for [\d.]+ ms of the 8 ms wanted: moves$/s,
    );
  });
});
