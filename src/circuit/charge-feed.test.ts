import { describe, expect, it } from 'vitest';
import { chargeFeedThrows, chargeRush, chargeRushMixed, chargeThrow } from './charge-feed.ts';
import type { Coil } from './discharge.ts';
import { integrate } from './integrate.ts';
import { TIGHTEST } from './time-tolerances.ts';

const COIL: Coil = { ohms: 5, henries: 0.005, wireOhms: 0, throwAmps: 2, throwSeconds: 0.008 };
/** 3 m of 0.22 mm2 there and back. */
const FEED = { volts: 24, supplyOhms: 0, farads: 2200e-6, ohms: 0.47, drop: 0.8 };

describe('chargeFeedThrows', () => {
  it('[TM15] 24 V, 5 ohm, 5 mH, 2200 uF: 3.5 to 4 A each way and 10 ms above 2 A (notes of the trade, run in ngspice)', () => {
    const { first, discharging, charging } = chargeFeedThrows(FEED, COIL, COIL);
    for (const each of [first, discharging, charging]) {
      expect(each.amps).toBeGreaterThanOrEqual(3.45);
      expect(each.amps).toBeLessThanOrEqual(4);
      expect(each.seconds).toBeCloseTo(0.01, 2);
      expect(each.moves).toBe(true);
    }
  });

  it('[TM15] back and forth each way gets the same, less than the first: two diodes down in place of one', () => {
    const { first, discharging, charging } = chargeFeedThrows(FEED, COIL, COIL, 1);
    expect(charging.amps).toBeCloseTo(discharging.amps, 9);
    expect(first.amps / charging.amps).toBeCloseTo((24 - 0.8) / (24 - 1.6), 9);
    expect(discharging.restVolts).toBe(0.8);
  });

  it('[TM15] a capacitor that rings into its coil stops where the current dies, above the supply', () => {
    const swinging = { ...FEED, farads: 220e-6 };
    const thrown = chargeThrow(swinging, { ...COIL, ohms: 1 }, 'charging', 0);
    expect(thrown.restVolts).toBeGreaterThan(24);
    const run = integrate(
      (_, [i = 0, v = 0], into) => {
        into[0] = (24 - v - 0.8 - 1.47 * i) / 0.005;
        into[1] = i / 220e-6;
      },
      0,
      [0, 0],
      0.1,
      { ...TIGHTEST, events: [{ value: (_, [i = 0]) => i, crossing: 'falling', ends: true }] },
    );
    expect(thrown.restVolts).toBeCloseTo(run.state[1] ?? Number.NaN, 8);
  });

  it('thrown back too soon it has only what it got; with nothing above the diode it does not move', () => {
    const soon = chargeFeedThrows(FEED, COIL, COIL, 0.005);
    expect(soon.discharging.amps).toBeLessThan(0.6 * soon.first.amps);
    expect(chargeThrow(FEED, COIL, 'discharging', 0.5)).toMatchObject({ amps: 0, moves: false, restVolts: 0.5 });
  });
});

describe('chargeRush', () => {
  it('[TM16] at power-up every capacitor charges at once: as many times the amps, beyond a supply of 3 A from the first', () => {
    for (const count of [1, 2, 6]) {
      const rush = chargeRush(FEED, COIL, count, 3);
      expect(rush.amps).toBeCloseTo(count * chargeThrow(FEED, COIL, 'charging', 0).amps, 9);
      expect(rush.beyond).toBe(true);
    }
    // Behind half an ohm six get less each than one alone.
    const weak = { ...FEED, supplyOhms: 0.5 };
    expect(chargeRush(weak, COIL, 6, 3).each.amps).toBeLessThan(chargeRush(weak, COIL, 1, 3).each.amps);
    expect(() => chargeRush(FEED, COIL, 0, 3)).toThrow(RangeError);
  });
});

describe('chargeRushMixed', () => {
  const { volts, supplyOhms: _, ...feed } = FEED;

  it('[TM16] of equal feeds is the closed form, whatever the supply', () => {
    for (const supplyOhms of [0, 0.5]) {
      const alike = chargeRush({ ...FEED, supplyOhms }, COIL, 4, 3);
      const mixed = chargeRushMixed(
        Array.from({ length: 4 }, () => ({ feed, coil: COIL })),
        volts,
        supplyOhms,
        3,
      );
      expect(mixed.amps / alike.amps).toBeCloseTo(1, 7);
      expect(mixed.peakSeconds).toBeCloseTo(alike.peakSeconds, 7);
      expect(mixed.each[0]?.amps).toBeCloseTo(alike.each.amps, 6);
      expect(mixed.each[3]?.seconds).toBeCloseTo(alike.each.seconds, 7);
      expect(mixed.beyond).toBe(true);
    }
  });

  it('[TM16] of feeds that differ the sum stays below the sum of their own peaks, and each has its own', () => {
    const feeds = [
      { feed, coil: COIL },
      { feed: { ...feed, farads: 1000e-6 }, coil: { ...COIL, henries: 0.002 } },
      { feed: { ...feed, farads: 220e-6 }, coil: { ...COIL, ohms: 1 } },
    ];
    const rush = chargeRushMixed(feeds, volts, 0, 100);
    // Behind a supply of no resistance none feels another: each is its own closed form.
    const own = feeds.map((one) => chargeThrow({ ...one.feed, volts, supplyOhms: 0 }, one.coil, 'charging', 0));
    own.forEach((each, k) => {
      expect(rush.each[k]?.amps).toBeCloseTo(each.amps, 6);
      expect(rush.each[k]?.seconds).toBeCloseTo(each.seconds, 6);
    });
    expect(rush.amps).toBeLessThan(own.reduce((sum, each) => sum + each.amps, 0));
    expect(rush.amps).toBeGreaterThan(Math.max(...own.map((each) => each.amps)));
    expect(rush.beyond).toBe(false);
  });
});
