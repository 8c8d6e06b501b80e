/**
 * What a rectifier makes of an AC supply: one diode or a bridge, with a capacitor behind it or without.
 *
 * Without a capacitor each instant stands for itself: the volts at the load follow from the diode's law, and means are sums over a
 * cycle. With one the capacitor's volts are the only state, C dv/dt = diode - load; the settled cycle is the one that ends where
 * it began, found between an empty capacitor and one at the crest, each cycle followed in steps of held error. The diode's law is the
 * exact one, of a bridge two in series. Reference: diode-law.ts, integrate.ts; follow-stiff.ts; shooting after Aprille and Trick 1972.
 */
import { type DiodeLaw, forwardVolts, THERMAL_VOLTAGE } from '../parts/index.ts';
import {
  type Ampere,
  type Farad,
  formatAmps,
  formatNumber,
  formatVolts,
  type Hertz,
  type Ohm,
  type Second,
  type Volt,
} from '../units/index.ts';
import { bracketedRoot } from './bracketed-root.ts';
import { diodeCurrent } from './diode-law.ts';
import { followStiff } from './follow-stiff.ts';
import { integrate } from './integrate.ts';
import {
  CONDUCTING_SHARE,
  CYCLE_SHARE,
  CYCLE_STEPS,
  LOAD_KNEE,
  MAINS,
  PLACES,
  SAMPLES,
  SETTLED,
  STIFF,
  STIFF_SHARE,
  WORKING,
} from './time-tolerances.ts';

export interface Rectifier {
  readonly kind: 'half-wave' | 'bridge';
  /** Effective volts of the supply, its resistance with the wire's, cycles a second (absent: 50). */
  readonly volts: Volt;
  readonly ohms: Ohm;
  readonly hertz?: Hertz;
  /** Of one diode; a bridge has two in the way. */
  readonly law: DiodeLaw;
  /** Of the reservoir; 0 without one. */
  readonly farads: Farad;
}

/** What hangs behind it: ohms, with volts before they carry anything (lamps) where given; or amps whatever the volts, down to half a volt. */
export type Load = { readonly ohms: Ohm; readonly volts?: Volt } | { readonly amps: Ampere };

export interface Rectified {
  /** Of the load over a whole cycle, and its least and greatest. */
  readonly mean: Volt;
  readonly low: Volt;
  readonly high: Volt;
  /** From crest to trough: high less low. */
  readonly ripple: Volt;
  /** Of the load, mean and effective. */
  readonly amps: Ampere;
  readonly effectiveAmps: Ampere;
  /** Of each diode: greatest, mean over the cycle, and how long it conducts in it. */
  readonly diodeAmps: Ampere;
  readonly diodeMean: Ampere;
  readonly conducts: Second;
  /** That each diode must stand in reverse. */
  readonly reverse: Volt;
  /** Flashes a second of a lamp without a reservoir, and of the ripple with one. */
  readonly pulses: Hertz;
  /** False where the steps of a cycle ran out: what is told is not to be trusted. */
  readonly settled: boolean;
}

/** The settled cycle of a rectifier behind which `load` hangs. Volts, hertz above 0, ohms and farads from 0: RangeError otherwise. */
export function rectify(source: Rectifier, load: Load): Rectified {
  const { kind, volts, ohms, hertz = MAINS, law, farads } = source;
  if (!(volts > 0 && hertz > 0 && ohms >= 0 && farads >= 0)) {
    throw new RangeError(`no rectifier of ${volts} V, ${hertz} Hz, ${ohms} ohm, ${farads} F`);
  }
  const crest = volts * Math.SQRT2;
  const period = 1 / hertz;
  const omega = 2 * Math.PI * hertz;
  const inWay = kind === 'bridge' ? 2 : 1;
  // Diodes in series carry the same amps: their volts add, so n and rs do. The supply's ohms stand in the same row.
  const row: DiodeLaw = { is: law.is, n: law.n * inWay, rs: law.rs * inWay + ohms };
  const emf = (t: Second): Volt => {
    const now = crest * Math.sin(omega * t);
    return kind === 'bridge' ? Math.abs(now) : now;
  };
  const emfSlope = (t: Second): number => {
    const slope = crest * omega * Math.cos(omega * t);
    return kind === 'bridge' && Math.sin(omega * t) < 0 ? -slope : slope;
  };
  const draw = (v: Volt): Ampere => {
    if ('amps' in load) return load.amps * Math.min(1, Math.max(0, v / LOAD_KNEE));
    return Math.max(0, v - (load.volts ?? 0)) / load.ohms;
  };
  const loadSiemens = (v: Volt): number => {
    if ('amps' in load) return v > 0 && v < LOAD_KNEE ? load.amps / LOAD_KNEE : 0;
    return v > (load.volts ?? 0) ? 1 / load.ohms : 0;
  };
  const run = farads > 0 ? smoothed() : bare();
  const cycles = kind === 'bridge' ? 2 : 1;
  return {
    ...run,
    ripple: run.high - run.low,
    // Each pair of a bridge takes every other half of the cycle.
    diodeMean: run.diodeMean / cycles,
    conducts: run.conducts / cycles,
    // A half-wave diode sees the crest on top of what the reservoir holds; in a bridge two share it.
    reverse: kind === 'bridge' ? crest : crest + (farads > 0 ? run.high : 0),
    pulses: hertz * cycles,
  };

  type Cycle = Omit<Rectified, 'ripple' | 'reverse' | 'pulses'>;
  type OnStep = (from: Second, to: Second, at: (t: Second) => Volt) => void;

  /** One cycle from `start`: explicit steps, or implicit ones where the capacitor fills in next to no time. */
  function cycleFrom(start: Volt, onStep?: OnStep): { readonly end: Volt; readonly done: boolean } {
    const longest = period * CYCLE_SHARE;
    const rate = (t: Second, v: Volt): number => (diodeCurrent(row, emf(t) - v) - draw(v)) / farads;
    const hardest = 1 / row.rs + ('amps' in load ? load.amps / LOAD_KNEE : 1 / load.ohms);
    if (farads / hardest < period * STIFF_SHARE) {
      const siemens = (t: Second, v: Volt): number => {
        const amps = diodeCurrent(row, emf(t) - v) + row.is;
        return amps > 0 ? 1 / ((row.n * THERMAL_VOLTAGE) / amps + row.rs) : 0;
      };
      const stiff = {
        rate,
        perState: (t: Second, v: Volt) => -(siemens(t, v) + loadSiemens(v)) / farads,
        perSecond: (t: Second, v: Volt) => (siemens(t, v) * emfSlope(t)) / farads,
      };
      const run = followStiff(stiff, 0, start, period, {
        ...STIFF,
        longest,
        most: CYCLE_STEPS,
        ...(onStep && { onStep }),
      });
      return { end: run.y, done: run.done };
    }
    const state = new Float64Array(1);
    const run = integrate(
      (t, [v = 0], into) => {
        into[0] = rate(t, v);
      },
      0,
      [start],
      period,
      {
        ...WORKING,
        longest,
        most: CYCLE_STEPS,
        ...(onStep && {
          onStep: (from, to, at) =>
            onStep(from, to, (t) => {
              at(t, state);
              return state[0] ?? 0;
            }),
        }),
      },
    );
    return { end: run.state[0] ?? 0, done: run.done };
  }

  function smoothed(): Cycle {
    // An empty reservoir ends a cycle fuller, one at the crest emptier: between them lies the one that comes back to itself. A load
    // too heavy for the supply to lift leaves it empty; volts below the error of a step say nothing either way.
    const drift = (v: Volt): Volt => cycleFrom(v).end - v;
    const start = !(drift(0) > 0) ? 0 : !(drift(crest) < 0) ? crest : bracketedRoot(drift, 0, crest, SETTLED);
    let [low, high, volts, amps, squares, diode, diodeAmps] = [start, start, 0, 0, 0, 0, 0];
    const seen: { readonly t: Second; readonly amps: Ampere }[] = [];
    const { done } = cycleFrom(start, (from, to, at) => {
      // Simpson's rule over the places of a step: 1 4 2 4 ... 1.
      for (let k = 0; k <= PLACES; k++) {
        const t = from + ((to - from) * k) / PLACES;
        const v = at(t);
        const through = diodeCurrent(row, emf(t) - v);
        const taken = draw(v);
        const weight = (((k === 0 || k === PLACES ? 1 : k % 2 === 1 ? 4 : 2) / 3) * (to - from)) / PLACES / period;
        volts += weight * v;
        amps += weight * taken;
        squares += weight * taken * taken;
        diode += weight * through;
        low = Math.min(low, v);
        high = Math.max(high, v);
        diodeAmps = Math.max(diodeAmps, through);
        if (k > 0) seen.push({ t, amps: through });
      }
    });
    return {
      mean: volts,
      low,
      high,
      amps,
      effectiveAmps: Math.sqrt(squares),
      diodeAmps,
      diodeMean: diode,
      conducts: above(seen, diodeAmps * CONDUCTING_SHARE),
      settled: done,
    };
  }

  /** Seconds that amps stand above a level, straight between the places at which they were seen. */
  function above(seen: readonly { readonly t: Second; readonly amps: Ampere }[], level: Ampere): Second {
    let total = 0;
    for (let k = 1; k < seen.length; k++) {
      const [a, b] = [seen[k - 1], seen[k]];
      if (a === undefined || b === undefined) continue;
      const [before, after] = [a.amps - level, b.amps - level];
      if (before > 0 && after > 0) total += b.t - a.t;
      else if (before > 0 !== after > 0) total += ((b.t - a.t) * Math.max(before, after)) / Math.abs(after - before);
    }
    return total;
  }

  /**
   * Without a reservoir: volts of the load at an instant. Ohms behind a diode are the diode's law with as much more in series, so
   * that nothing need be searched for; a fixed current leaves what the diode does not take.
   */
  function bareVolts(t: Second): Volt {
    const top = emf(t);
    if (top <= 0) return 0;
    if ('amps' in load) return Math.max(0, top - forwardVolts(row, load.amps));
    const before = load.volts ?? 0;
    const amps = diodeCurrent({ ...row, rs: row.rs + load.ohms }, top - before);
    // Nothing flows: the load sees the supply through a dark diode.
    return amps > 0 ? before + amps * load.ohms : top;
  }

  function bare(): Cycle {
    let [sum, amps, squares, high, crestAmps, lit] = [0, 0, 0, 0, 0, 0];
    const level = CONDUCTING_SHARE * draw(bareVolts(period / 4));
    // A periodic function summed at even places is exact but for its kinks, which 2,000 places bring below 1e-6.
    for (let k = 0; k < SAMPLES; k++) {
      const v = bareVolts(((k + 0.5) / SAMPLES) * period);
      const taken = draw(v);
      sum += v;
      amps += taken;
      squares += taken * taken;
      high = Math.max(high, v);
      crestAmps = Math.max(crestAmps, taken);
      if (taken > level) lit++;
    }
    return {
      mean: sum / SAMPLES,
      low: 0,
      high,
      amps: amps / SAMPLES,
      effectiveAmps: Math.sqrt(squares / SAMPLES),
      diodeAmps: crestAmps,
      diodeMean: amps / SAMPLES,
      conducts: (lit / SAMPLES) * period,
      settled: true,
    };
  }
}

/**
 * Seconds that a reservoir at `from` keeps `load` above `to` after the supply has gone: R C ln(v / v'), or C (v - v') / I.
 * 0 where it is below already, infinite where the load stops drawing first.
 */
export function holdUp(farads: Farad, load: Load, from: Volt, to: Volt): Second {
  if (from <= to) return 0;
  if ('amps' in load) return load.amps > 0 ? (farads * (from - to)) / load.amps : Number.POSITIVE_INFINITY;
  const rest = load.volts ?? 0;
  return to <= rest ? Number.POSITIVE_INFINITY : load.ohms * farads * Math.log((from - rest) / (to - rest));
}

/**
 * The farads that keep the ripple of `amps` within `ripple` volts: I / (f V), the common rule, which takes the capacitor to feed
 * the load for the whole of the time between two crests and so errs on the safe side.
 */
export function reservoirFor(amps: Ampere, ripple: Volt, pulses: Hertz): Farad {
  return amps / (pulses * ripple);
}

/** The arithmetic, line by line. */
export function tellRectified(source: Rectifier, rectified: Rectified): readonly string[] {
  const { volts, farads, kind } = source;
  const lines = [`${formatVolts(volts)} AC × 1.414 = ${formatVolts(volts * Math.SQRT2)} at the crest`];
  if (farads === 0) {
    lines.push(
      `${kind === 'bridge' ? 'a bridge' : 'one diode'}, no reservoir: ${formatVolts(rectified.mean)} on average, ${formatNumber(rectified.pulses, 0)} flashes a second`,
    );
  } else {
    lines.push(
      `less ${kind === 'bridge' ? 'two diodes' : 'one diode'}: ${formatVolts(rectified.high)} at most, ${formatVolts(rectified.low)} at least, ${formatVolts(rectified.mean)} on average at ${formatAmps(rectified.amps)}`,
      `the diode carries ${formatAmps(rectified.diodeAmps)} at its crest and must stand ${formatVolts(rectified.reverse)} in reverse`,
    );
  }
  return lines;
}
