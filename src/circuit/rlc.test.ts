import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { integrate } from './integrate.ts';
import {
  criticalOhms,
  feedFrom,
  heldCoil,
  type Loop,
  type LoopState,
  NO_FEED,
  rlcResponse,
  storedJoules,
} from './rlc.ts';
import { TIGHTEST } from './time-tolerances.ts';

/** Kirchhoff and Faraday for the same loop, written out anew: amps, volts, coulombs through the coil, joules in the ohms. */
function follow(loop: Loop, start: LoopState, seconds: number): Float64Array {
  const { farads, henries, ohms, drop, feed } = loop;
  const run = integrate(
    (_, [i = 0, v = 0], into) => {
      into[0] = (v - drop - ohms * i) / henries;
      into[1] = (feed.amps - feed.siemens * v - i) / farads;
      into[2] = i;
      into[3] = ohms * i * i;
    },
    0,
    [start.amps, start.volts, 0, 0],
    seconds,
    TIGHTEST,
  );
  expect(run.done).toBe(true);
  return run.state;
}

/** Any loop of the trade and well beyond: how far it is from critical is drawn, not only its parts. */
const loops = fc
  .record({
    farads: fc.double({ min: 1e-5, max: 1e-2, noNaN: true }),
    henries: fc.double({ min: 5e-4, max: 2e-2, noNaN: true }),
    timesCritical: fc.oneof(
      fc.double({ min: 0.02, max: 8, noNaN: true }),
      fc.double({ min: -1e-6, max: 1e-6, noNaN: true }).map((off) => 1 + off),
      fc.constant(1),
    ),
    drop: fc.constantFrom(0, 0.8),
    behind: fc.constantFrom(null, 10, 100),
    amps: fc.constantFrom(0, 1.5),
    volts: fc.double({ min: 2, max: 30, noNaN: true }),
  })
  .map(({ farads, henries, timesCritical, drop, behind, amps, volts }) => ({
    loop: {
      farads,
      henries,
      ohms: criticalOhms(farads, henries) * timesCritical,
      drop,
      feed: behind === null ? NO_FEED : feedFrom(24, behind),
    },
    start: { amps, volts },
  }));

describe('rlcResponse', () => {
  it('[TM1] agrees with the integrator, over-, under- and critically damped, with and without a feed (seed 815)', () => {
    fc.assert(
      fc.property(loops, fc.double({ min: 0.05, max: 3, noNaN: true }), ({ loop, start }, swings) => {
        const seconds = swings * 2 * Math.PI * Math.sqrt(loop.henries * loop.farads);
        const [i = 0, v = 0, q = 0, joules = 0] = follow(loop, start, seconds);
        const response = rlcResponse(loop, start);
        // Both are good to some 1e-12 of the greatest current and volts in the loop.
        const most = start.volts * Math.sqrt(loop.farads / loop.henries) + start.amps;
        expect(Math.abs(response.amps(seconds) - i)).toBeLessThan(1e-9 * most);
        expect(Math.abs(response.volts(seconds) - v)).toBeLessThan(1e-9 * start.volts);
        expect(Math.abs(response.charge(seconds) - q)).toBeLessThan(1e-9 * most * seconds);
        expect(Math.abs(response.heat(seconds) - joules)).toBeLessThan(1e-8 * loop.ohms * most * most * seconds);
      }),
      { seed: 815, numRuns: 150 },
    );
  });

  it('[TM1] goes smoothly through critical damping: V / L t e^(-a t), which is the textbook form there', () => {
    const [farads, henries, volts] = [4700e-6, 2e-3, 24];
    const critical = criticalOhms(farads, henries);
    const decay = critical / (2 * henries);
    const at = 2.1e-3;
    const exact = (volts / henries) * at * Math.exp(-decay * at);
    for (const off of [0, 1e-15, -1e-15, 1e-12, -1e-12, 1e-9, -1e-9]) {
      const loop = { farads, henries, ohms: critical * (1 + off), drop: 0, feed: NO_FEED };
      expect(Math.abs(rlcResponse(loop, { amps: 0, volts }).amps(at) / exact - 1)).toBeLessThan(5e-9);
    }
    const loop = { farads, henries, ohms: critical, drop: 0, feed: NO_FEED };
    expect(rlcResponse(loop, { amps: 0, volts }).extremes(1)[0]).toBeCloseTo(1 / decay, 9);
  });

  it('[TM2] stands still exactly where it says: the slope changes sign there (seed 816)', () => {
    fc.assert(
      fc.property(loops, ({ loop, start }) => {
        const response = rlcResponse(loop, start);
        const slope = (t: number) => response.volts(t) - loop.drop - loop.ohms * response.amps(t);
        for (const t of response.extremes(0.05).slice(0, 3)) {
          expect(Math.abs(slope(t))).toBeLessThan(1e-8 * (start.volts + loop.ohms * start.amps + 24));
        }
      }),
      { seed: 816, numRuns: 200 },
    );
  });

  it('[TM3] says when the current dies: pi / w for a loop that rings from rest, never for one that does not', () => {
    const ringing = { farads: 5e-6, henries: 2, ohms: 200, drop: 0, feed: NO_FEED };
    const w = Math.sqrt(1 / (2 * 5e-6) - 50 ** 2);
    expect(rlcResponse(ringing, { amps: 0, volts: 10 }).zero()).toBeCloseTo(Math.PI / w, 12);
    expect(rlcResponse({ ...ringing, ohms: 2000 }, { amps: 0, volts: 10 }).zero()).toBeNull();
    // From 1 A against 10 V with next to nothing behind it: it must fall through nought, and soon.
    const against = { farads: 4700e-6, henries: 2e-3, ohms: 5, drop: 10, feed: NO_FEED };
    const dies = rlcResponse(against, { amps: 1, volts: 0 }).zero() ?? Number.NaN;
    expect(rlcResponse(against, { amps: 1, volts: 0 }).amps(dies)).toBeCloseTo(0, 12);
    // A coil alone: t = L / R ln(1 + i R / V); the capacitor moves by less than a hundredth of a volt meanwhile.
    expect(dies).toBeCloseTo((2e-3 / 5) * Math.log(1 + 5 / 10), 6);
  });

  it('[TM3] a fed loop never dies: it rests at the feed less what its ohms drop', () => {
    const loop = { farads: 4700e-6, henries: 2e-3, ohms: 5, drop: 0, feed: feedFrom(24, 100) };
    const response = rlcResponse(loop, { amps: 0, volts: 24 });
    expect(response.zero()).toBeNull();
    expect(response.amps(10)).toBeCloseTo(24 / 105, 12);
    expect(response.volts(10)).toBeCloseTo((24 * 5) / 105, 12);
  });

  it('[TM4] no joule is lost: what the capacitor had is heat in the ohms and what is left (seed 817)', () => {
    fc.assert(
      fc.property(loops, fc.double({ min: 1e-4, max: 0.05, noNaN: true }), ({ loop, start }, t) => {
        const alone = { ...loop, feed: NO_FEED };
        const response = rlcResponse(alone, start);
        const energy = ({ amps, volts }: LoopState) =>
          storedJoules(loop.farads, volts) + (loop.henries * amps * amps) / 2;
        const lost = energy(start) - energy(response.at(t)) - loop.drop * response.charge(t);
        expect(Math.abs(response.heat(t) - lost)).toBeLessThan(1e-9 * energy(start));
      }),
      { seed: 817, numRuns: 200 },
    );
  });

  it('refuses a loop that is none', () => {
    const good = { farads: 1e-3, henries: 1e-3, ohms: 1, drop: 0, feed: NO_FEED };
    for (const bad of [{ farads: 0 }, { henries: 0 }, { henries: Number.NaN }, { ohms: -1 }]) {
      expect(() => rlcResponse({ ...good, ...bad }, { amps: 0, volts: 1 })).toThrow(RangeError);
    }
  });
});

describe('heldCoil', () => {
  it('burns: 24 V through 0.5 ohm into 5 ohm is 4.4 A and 95 W in the coil (arithmetic of the trade)', () => {
    const held = heldCoil(24, 5, 0.5);
    expect(held.amps).toBeCloseTo(4.4, 1);
    expect(held.watts).toBeCloseTo(95, 0);
  });
});
