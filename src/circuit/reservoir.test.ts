import { describe, expect, it } from 'vitest';
import { lawFrom } from '../parts/index.ts';
import { diodeCurrent } from './diode-law.ts';
import { integrate } from './integrate.ts';
import { holdUp, type Rectifier, rectify, reservoirFor, tellRectified } from './reservoir.ts';

/** The steering diode of the file format: 0.7 V at 10 mA, n 1.8, rs 0.05. */
const law = lawFrom(0.7, 0.01, 1.8, 0.05);
const HALF: Rectifier = { kind: 'half-wave', volts: 12, ohms: 0, law, farads: 0 };
const CREST = 12 * Math.SQRT2;

describe('rectify without a reservoir', () => {
  it('[TM17] 12 V AC, one diode, 600 ohm: 5.0 V on average and 50 flashes a second (notes of the trade, run in ngspice)', () => {
    const found = rectify(HALF, { ohms: 600 });
    expect(found.mean).toBeCloseTo(5.0, 1);
    expect(found.pulses).toBe(50);
    expect(found.low).toBe(0);
    expect(found.reverse).toBeCloseTo(CREST, 12);
  });

  it('[TM17] with a diode of next to no volts the means are those of the textbook: crest / pi, and twice that for a bridge', () => {
    // 1 mV at 10 mA: what a diode of nothing would do, to a thousandth.
    const none = lawFrom(0.001, 0.01, 0.02, 0);
    expect(rectify({ ...HALF, law: none }, { ohms: 600 }).mean / (CREST / Math.PI)).toBeCloseTo(1, 3);
    expect(rectify({ ...HALF, kind: 'bridge', law: none }, { ohms: 600 }).mean / ((2 * CREST) / Math.PI)).toBeCloseTo(
      1,
      3,
    );
    // Effective amps of a half sine are half its crest.
    expect(rectify({ ...HALF, law: none }, { ohms: 600 }).effectiveAmps / (CREST / 600 / 2)).toBeCloseTo(1, 3);
  });

  it('[TM17] a bridge gives twice the flashes and each diode half the amps', () => {
    const bridge = rectify({ ...HALF, kind: 'bridge' }, { ohms: 600 });
    expect(bridge.pulses).toBe(100);
    expect(bridge.diodeMean).toBeCloseTo(bridge.amps / 2, 12);
  });
});

describe('rectify with a reservoir', () => {
  it('[TM18] 12 V AC smoothed, 600 ohm: 15.8 V (notes of the trade, run in ngspice)', () => {
    // The notes do not give the capacitor: with the usual ones it is within a tenth of a volt.
    for (const farads of [1000e-6, 2200e-6]) {
      expect(Math.abs(rectify({ ...HALF, ohms: 0.5, farads }, { ohms: 600 }).mean - 15.8)).toBeLessThan(0.1);
    }
  });

  it.each(['half-wave', 'bridge'] as const)(
    '[TM18] %s: what the diode gives over a cycle is what the load takes',
    (kind) => {
      for (const load of [{ ohms: 600 }, { ohms: 47 }, { amps: 0.3 }, { ohms: 330, volts: 5.4 }]) {
        const found = rectify({ ...HALF, kind, ohms: 0.5, farads: 1000e-6 }, load);
        expect(found.settled).toBe(true);
        const ways = kind === 'bridge' ? 2 : 1;
        expect((found.diodeMean * ways) / found.amps).toBeCloseTo(1, 5);
        expect(found.diodeAmps).toBeGreaterThan(found.amps);
        expect(found.low).toBeLessThan(found.mean);
        expect(found.mean).toBeLessThan(found.high);
        expect(found.high).toBeLessThan(CREST);
      }
    },
  );

  it('[TM18] the ripple is below the common rule I / (f C), and comes near it as the capacitor grows', () => {
    let before = 0;
    for (const farads of [470e-6, 1000e-6, 4700e-6, 10000e-6]) {
      const found = rectify({ ...HALF, farads }, { amps: 0.1 });
      const share = found.ripple / (0.1 / (50 * farads));
      expect(share).toBeLessThan(1);
      expect(share).toBeGreaterThan(before);
      before = share;
    }
    expect(before).toBeGreaterThan(0.9);
  });

  it('[TM18] means of ohms obey Ohm, and effective amps are no less than mean ones', () => {
    const found = rectify({ ...HALF, ohms: 1, farads: 470e-6 }, { ohms: 100 });
    expect(found.amps).toBeCloseTo(found.mean / 100, 9);
    expect(found.effectiveAmps).toBeGreaterThanOrEqual(found.amps);
  });

  it('[TM18] a half-wave diode must stand the crest and the reservoir, nearly 34 V for 12 V AC; a bridge shares it', () => {
    expect(rectify({ ...HALF, farads: 1000e-6 }, { ohms: 600 }).reverse).toBeCloseTo(33, 0);
    expect(rectify({ ...HALF, kind: 'bridge', farads: 1000e-6 }, { ohms: 600 }).reverse).toBeCloseTo(CREST, 9);
  });

  it('[TM18] conducts for a small part of the cycle, the shorter the larger the capacitor', () => {
    const of = (farads: number) => rectify({ ...HALF, ohms: 0.5, farads }, { ohms: 600 }).conducts;
    expect(of(1000e-6)).toBeLessThan(of(100e-6));
    expect(of(100e-6)).toBeLessThan(0.005);
    expect(of(1000e-6)).toBeGreaterThan(0.0005);
  });

  it('[TM18] implicit steps for a small capacitor agree with explicit ones that are told the same law', () => {
    const source: Rectifier = { ...HALF, farads: 10e-6 };
    const found = rectify(source, { ohms: 600 });
    // A capacitor of 10 uF behind 600 ohm forgets its start within a cycle: two suffice from anywhere.
    let [low, high] = [Number.POSITIVE_INFINITY, 0];
    integrate(
      (t, [v = 0], into) => {
        into[0] = (diodeCurrent(law, CREST * Math.sin(2 * Math.PI * 50 * t) - v) - v / 600) / 10e-6;
      },
      0,
      [5],
      0.06,
      {
        longest: 1e-4,
        onStep: (from, to, at) => {
          const state = new Float64Array(1);
          for (const t of [from, (from + to) / 2, to]) {
            at(t, state);
            if (t < 0.04) continue;
            low = Math.min(low, state[0] ?? 0);
            high = Math.max(high, state[0] ?? 0);
          }
        },
      },
    );
    expect(found.high).toBeCloseTo(high, 3);
    expect(found.low).toBeCloseTo(low, 3);
  });

  it('[TM18] says so where the steps of a cycle run out: figures beyond all sense', () => {
    expect(rectify({ ...HALF, volts: 18.4e6, hertz: 15.5, farads: 260e-12 }, { ohms: 46.8e6 }).settled).toBe(false);
  });

  it('refuses what is no rectifier', () => {
    expect(() => rectify({ ...HALF, volts: 0 }, { ohms: 600 })).toThrow(RangeError);
    expect(() => rectify({ ...HALF, farads: Number.NaN }, { ohms: 600 })).toThrow(RangeError);
  });
});

describe('holdUp', () => {
  it("[TM19] is R C ln(v / v') for ohms and C (v - v') / I for amps", () => {
    expect(holdUp(1000e-6, { ohms: 600 }, 16, 8)).toBeCloseTo(0.6 * Math.LN2, 12);
    expect(holdUp(1000e-6, { amps: 0.1 }, 16, 9)).toBeCloseTo(0.07, 12);
    expect(holdUp(1000e-6, { ohms: 600, volts: 2 }, 16, 9)).toBeCloseTo(0.6 * Math.LN2, 12);
    expect(holdUp(1000e-6, { ohms: 600 }, 8, 9)).toBe(0);
    expect(holdUp(1000e-6, { ohms: 600, volts: 2 }, 16, 2)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('reservoirFor', () => {
  it('[TM19] the rule leaves no more ripple than was asked for', () => {
    const farads = reservoirFor(0.2, 1, 100);
    expect(farads).toBeCloseTo(2000e-6, 12);
    expect(rectify({ ...HALF, kind: 'bridge', farads }, { amps: 0.2 }).ripple).toBeLessThan(1);
  });
});

describe('tellRectified', () => {
  it('shows the arithmetic', () => {
    const smoothed = { ...HALF, farads: 1000e-6 };
    expect(tellRectified(HALF, rectify(HALF, { ohms: 600 }))).toHaveLength(2);
    expect(tellRectified(smoothed, rectify(smoothed, { ohms: 600 }))[0]).toBe(
      '12.00 V AC × 1.414 = 16.97 V at the crest',
    );
  });
});
