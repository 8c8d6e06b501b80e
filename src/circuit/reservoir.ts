/**
 * What a rectifier makes of an AC supply: one diode or a bridge, with a capacitor behind it or without.
 *
 * Without a capacitor each instant stands for itself: the volts at the load follow from the diode's law, and means are sums over a
 * cycle. With one the capacitor's volts are the only state, C dv/dt = diode - load; the settled cycle is the one that ends where
 * it began, found by secants on (volts at the end) - (volts at the start), each cycle by the integrator. The diode's law is the
 * exact one, of a bridge two in series. Reference: diode-law.ts, integrate.ts; shooting after Aprille and Trick 1972.
 */
import { type DiodeLaw, forwardVolts } from '../parts/index.ts';
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
import { diodeCurrent } from './diode-law.ts';
import { integrate, type TimedEvent } from './integrate.ts';
import { CONDUCTING_SHARE, CYCLE_SHARE, MAINS, SETTLED, SETTLING_TRIES, WORKING } from './time-tolerances.ts';

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

/** What hangs behind it: ohms, with volts before they carry anything (lamps) where given; or amps whatever the volts. */
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
  /** False where the search for a settled cycle ended first; what is told is its last. */
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
  const draw = (v: Volt): Ampere => {
    if ('amps' in load) return v > 0 ? load.amps : 0;
    return Math.max(0, v - (load.volts ?? 0)) / load.ohms;
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

  /** Means over one cycle as states beside the volts: volts, load amps, their squares, diode amps. */
  function cycleFrom(start: Volt, withMeans: boolean): { readonly end: Volt; readonly cycle: Cycle } {
    let low = start;
    let high = start;
    let diodeAmps = 0;
    const state = new Float64Array(withMeans ? 5 : 1);
    const look = (t: Second, v: Volt): void => {
      low = Math.min(low, v);
      high = Math.max(high, v);
      diodeAmps = Math.max(diodeAmps, diodeCurrent(row, emf(t) - v));
    };
    // The extremes of the volts are where diode and load balance; the diode's crest lies within a step and is read at 16 places of it.
    const balance: TimedEvent = {
      value: (t, [v = 0]) => diodeCurrent(row, emf(t) - v) - draw(v),
      crossing: 'either',
      ends: false,
    };
    const done = integrate(
      (t, [v = 0], into) => {
        const diode = diodeCurrent(row, emf(t) - v);
        const taken = draw(v);
        into[0] = (diode - taken) / farads;
        if (!withMeans) return;
        into[1] = v;
        into[2] = taken;
        into[3] = taken * taken;
        into[4] = diode;
      },
      0,
      withMeans ? [start, 0, 0, 0, 0] : [start],
      period,
      {
        ...WORKING,
        longest: period * CYCLE_SHARE,
        events: withMeans ? [balance] : [],
        onStep: (from, to, at) => {
          if (!withMeans) return;
          for (let k = 1; k <= PLACES; k++) {
            const t = from + ((to - from) * k) / PLACES;
            at(t, state);
            look(t, state[0] ?? 0);
          }
        },
      },
    );
    for (const each of done.happened) look(each.seconds, each.state[0] ?? 0);
    const [end = 0, v = 0, taken = 0, squares = 0, diode = 0] = done.state;
    return {
      end,
      cycle: {
        mean: v / period,
        low,
        high,
        amps: taken / period,
        effectiveAmps: Math.sqrt(squares / period),
        diodeAmps,
        diodeMean: diode / period,
        conducts: 0,
        settled: done.done,
      },
    };
  }

  function smoothed(): Cycle {
    // Volts at the end of a cycle less those at its start fall as the start rises: one settled state.
    const drift = (start: Volt): Volt => cycleFrom(start, false).end - start;
    let [a, b] = [0.9 * crest, 0.8 * crest];
    let [fa, fb] = [drift(a), drift(b)];
    let tries = 0;
    while (Math.abs(fb) > SETTLED && tries < SETTLING_TRIES && fa !== fb) {
      const next = Math.min(crest, Math.max(0, b - (fb * (b - a)) / (fb - fa)));
      [a, fa] = [b, fb];
      b = next;
      fb = drift(b);
      tries++;
    }
    const { cycle } = cycleFrom(b, true);
    const conducts = conducting(b, cycle.diodeAmps * CONDUCTING_SHARE);
    return { ...cycle, conducts, settled: cycle.settled && Math.abs(fb) <= SETTLED };
  }

  /** Seconds of a cycle in which the diode's amps stand above `level`. */
  function conducting(start: Volt, level: Ampere): Second {
    let total = 0;
    let since: Second | null = null;
    const above = (t: Second, v: Volt): number => diodeCurrent(row, emf(t) - v) - level;
    if (above(0, start) > 0) since = 0;
    const done = integrate(
      (t, [v = 0], into) => {
        into[0] = (diodeCurrent(row, emf(t) - v) - draw(v)) / farads;
      },
      0,
      [start],
      period,
      {
        ...WORKING,
        longest: period * CYCLE_SHARE,
        events: [{ value: (t, [v = 0]) => above(t, v), crossing: 'either', ends: false }],
      },
    );
    for (const { seconds } of done.happened) {
      if (since === null) since = seconds;
      else {
        total += seconds - since;
        since = null;
      }
    }
    return since === null ? total : total + period - since;
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

/** Places at which a step is read for its crest. */
const PLACES = 16;
/** Places of a cycle that are summed without a reservoir. */
const SAMPLES = 2000;

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
