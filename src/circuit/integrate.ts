/**
 * Any set of rates, followed through time with the error of every step held.
 *
 * Idea: seven slopes a step give an answer of fifth order and, for nothing, one of fourth; their difference is the error, and
 * the next step is as long as that allows. Between the ends of a step a polynomial of fourth order gives any instant, so that
 * an event (a current that dies, volts that are reached) is located without shortening the step.
 * Cost: six evaluations of the rates a step. Not for stiff rates: a loop of microseconds inside one of seconds takes a million steps.
 * Reference: Dormand and Prince 1980; Hairer, Norsett and Wanner, Solving Ordinary Differential Equations I, II.4 to II.6.
 */
import type { Second } from '../units/index.ts';
import { bracketedRoot } from './bracketed-root.ts';
import { LEAST_STEP_SHARE, MOST_STEPS, STEP_LEAST, STEP_MOST, STEP_SAFETY, WORKING } from './time-tolerances.ts';

/** Writes the rate of each of the states at time t into `into`. */
export type Rates = (t: Second, state: Float64Array, into: Float64Array) => void;

/** Something that happens where `value` crosses nought. */
export interface TimedEvent {
  readonly value: (t: Second, state: Float64Array) => number;
  readonly crossing: 'rising' | 'falling' | 'either';
  /** The run ends there; otherwise it is noted and the run goes on. */
  readonly ends: boolean;
}

export interface RunOptions {
  /** Error of a step that is let pass: `relative` of the state, or `absolute`, whichever is more. */
  readonly relative?: number;
  readonly absolute?: number;
  /** No step is longer. */
  readonly longest?: Second;
  /** Steps tried before it gives up; absent: a million. */
  readonly most?: number;
  readonly events?: readonly TimedEvent[];
  /** Called after each step, with the state at any instant of it. */
  readonly onStep?: (from: Second, to: Second, at: (t: Second, into: Float64Array) => void) => void;
}

export interface Happening {
  /** Place of the event in the list that was given. */
  readonly event: number;
  readonly seconds: Second;
  readonly state: Float64Array;
}

export interface Run {
  readonly seconds: Second;
  readonly state: Float64Array;
  /** In the order of time; of one instant in the order of the list. */
  readonly happened: readonly Happening[];
  readonly steps: number;
  readonly refused: number;
  /** False: the steps ran out or grew too small, and the state is that of `seconds`. */
  readonly done: boolean;
}

// The tableau of Dormand and Prince, and the weights of its polynomial (Hairer, Norsett and Wanner, II.6).
const C = [0, 1 / 5, 3 / 10, 4 / 5, 8 / 9, 1, 1];
const A: readonly (readonly number[])[] = [
  [],
  [1 / 5],
  [3 / 40, 9 / 40],
  [44 / 45, -56 / 15, 32 / 9],
  [19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729],
  [9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656],
  [35 / 384, 0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84],
];
const E = [71 / 57600, 0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40];
const DENSE = [
  -12715105075 / 11282082432,
  0,
  87487479700 / 32700410799,
  -10690763975 / 1880347072,
  701980252875 / 199316789632,
  -1453857185 / 822651844,
  69997945 / 29380423,
];
const STAGES = 7;

/**
 * Follows `rates` from `state` at `from` to `until`, or to the first event that ends the run. The state given is not altered.
 * Throws RangeError for a span that does not go forward; what does not settle is told in `done`.
 */
export function integrate(
  rates: Rates,
  from: Second,
  state: readonly number[] | Float64Array,
  until: Second,
  options: RunOptions = {},
): Run {
  const {
    relative = WORKING.relative,
    absolute = WORKING.absolute,
    longest = until - from,
    events = [],
    most = MOST_STEPS,
  } = options;
  if (!(until > from) || !Number.isFinite(until)) throw new RangeError(`no run from ${from} s to ${until} s`);
  const size = state.length;
  const slopes = Array.from({ length: STAGES }, () => new Float64Array(size));
  const slope = (k: number): Float64Array => slopes[k] ?? new Float64Array(size);
  let y = Float64Array.from(state);
  let next = new Float64Array(size);
  const trial = new Float64Array(size);
  const least = (until - from) * LEAST_STEP_SHARE;
  const happened: Happening[] = [];
  const values = events.map((event) => event.value(from, y));

  let t = from;
  let steps = 0;
  let refused = 0;
  rates(t, y, slope(0));
  let h = Math.min(longest, firstStep());

  while (t < until) {
    if (steps + refused >= most || !(h >= least)) {
      return { seconds: t, state: y, happened, steps, refused, done: false };
    }
    // The last step ends on the very instant asked for.
    if (t + h * (1 + LEAST_STEP_SHARE) >= until) h = until - t;
    const error = step(h);
    if (!(error <= 1)) {
      refused++;
      h *= Number.isFinite(error) ? Math.max(STEP_LEAST, STEP_SAFETY * error ** -0.2) : STEP_LEAST;
      continue;
    }
    steps++;
    const to = h === until - t ? until : t + h;
    const span = h;
    const start = t;
    const before = y;
    const at = (when: Second, into: Float64Array): void => between((when - start) / span, before, into);
    const ended = look(start, to, at);
    if (ended !== null) {
      options.onStep?.(start, ended.seconds, at);
      return { seconds: ended.seconds, state: ended.state, happened, steps, refused, done: true };
    }
    options.onStep?.(start, to, at);
    t = to;
    y = next;
    next = before;
    slope(0).set(slope(STAGES - 1));
    h = Math.min(longest, h * Math.min(STEP_MOST, Math.max(STEP_LEAST, STEP_SAFETY * Math.max(error, 1e-10) ** -0.2)));
  }
  return { seconds: t, state: y, happened, steps, refused, done: true };

  /** A step of `h` from (t, y) into `next`; answers its error, of which 1 may pass. */
  function step(h: Second): number {
    for (let s = 1; s < STAGES; s++) {
      const into = s === STAGES - 1 ? next : trial;
      const row = A[s] ?? [];
      for (let i = 0; i < size; i++) {
        let sum = 0;
        for (let k = 0; k < s; k++) sum += (row[k] ?? 0) * (slopes[k]?.[i] ?? 0);
        into[i] = (y[i] ?? 0) + h * sum;
      }
      rates(t + (C[s] ?? 0) * h, into, slope(s));
    }
    let worst = 0;
    for (let i = 0; i < size; i++) {
      let sum = 0;
      for (let k = 0; k < STAGES; k++) sum += (E[k] ?? 0) * (slopes[k]?.[i] ?? 0);
      const allowed = absolute + relative * Math.max(Math.abs(y[i] ?? 0), Math.abs(next[i] ?? 0));
      const share = Math.abs(h * sum) / allowed;
      // Not Math.max: it must let NaN through.
      if (!(share <= worst)) worst = share;
    }
    return worst;
  }

  /** The state at a share of the last step, from its two ends and all its slopes. */
  function between(share: number, before: Float64Array, into: Float64Array): void {
    const rest = 1 - share;
    for (let i = 0; i < size; i++) {
      const y0 = before[i] ?? 0;
      const rise = (next[i] ?? 0) - y0;
      const bend = h * (slopes[0]?.[i] ?? 0) - rise;
      const back = rise - h * (slopes[STAGES - 1]?.[i] ?? 0) - bend;
      let last = 0;
      for (let k = 0; k < STAGES; k++) last += (DENSE[k] ?? 0) * (slopes[k]?.[i] ?? 0);
      into[i] = y0 + share * (rise + rest * (bend + share * (back + rest * h * last)));
    }
  }

  /** Notes every event of a step; answers the first that ends the run. */
  function look(start: Second, to: Second, at: (t: Second, into: Float64Array) => void): Happening | null {
    const seen: Happening[] = [];
    events.forEach((event, k) => {
      const before = values[k] ?? 0;
      const after = event.value(to, next);
      values[k] = after;
      const rising = before < 0 && after >= 0;
      const falling = before > 0 && after <= 0;
      if (!(rising && event.crossing !== 'falling') && !(falling && event.crossing !== 'rising')) return;
      const state = new Float64Array(size);
      const value = (when: Second): number => {
        if (when >= to) return after;
        if (when <= start) return before;
        at(when, state);
        return event.value(when, state);
      };
      const seconds = bracketedRoot(value, start, to);
      at(seconds, state);
      seen.push({ event: k, seconds, state });
    });
    seen.sort((a, b) => a.seconds - b.seconds || a.event - b.event);
    for (const each of seen) {
      happened.push(each);
      if (events[each.event]?.ends === true) return each;
    }
    return null;
  }

  /** A hundredth of the time in which the state would change by its own size: Hairer, Norsett and Wanner, II.4. */
  function firstStep(): Second {
    let size0 = 0;
    let rate0 = 0;
    for (let i = 0; i < size; i++) {
      const scale = absolute + relative * Math.abs(y[i] ?? 0);
      size0 = Math.max(size0, Math.abs(y[i] ?? 0) / scale);
      rate0 = Math.max(rate0, Math.abs(slopes[0]?.[i] ?? 0) / scale);
    }
    const guess = size0 > 0 && rate0 > 0 ? (0.01 * size0) / rate0 : (until - from) / 1000;
    return Math.min(Math.max(guess, 2 * least), until - from);
  }
}
