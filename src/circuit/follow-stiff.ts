/**
 * One state whose rates may be far faster than what drives them: a small capacitor behind a hard diode.
 *
 * Idea: each step solves the linearised equation for its own end, so that a fast decay dies in one step however long that is;
 * two stages give the answer, a third its error. Cost: three evaluations of the rate and one of its slope a step.
 * Reference: the modified Rosenbrock pair of orders 2 and 3 of Shampine and Reichelt, The MATLAB ODE Suite, SIAM J. Sci. Comput. 18 (1997).
 */
import type { Second } from '../units/index.ts';
import { LEAST_STEP_SHARE, MOST_STEPS, STEP_LEAST, STEP_MOST, STEP_SAFETY } from './time-tolerances.ts';

/** A rate, how it changes with the state (never above 0 by much: it decays), and how it changes with time alone. */
export interface StiffRate {
  readonly rate: (t: Second, y: number) => number;
  readonly perState: (t: Second, y: number) => number;
  readonly perSecond: (t: Second, y: number) => number;
}

export interface StiffOptions {
  readonly relative: number;
  readonly absolute: number;
  readonly longest: Second;
  /** Steps tried before it gives up; absent: a million. */
  readonly most?: number;
  /** Called after each step, with the state at any instant of it. */
  readonly onStep?: (from: Second, to: Second, at: (t: Second) => number) => void;
}

const D = 1 / (2 + Math.SQRT2);
const E32 = 6 + Math.SQRT2;

/** Follows `stiff` from `y` at `from` to `until`. `done` is false where the steps ran out or grew too small. */
export function followStiff(
  stiff: StiffRate,
  from: Second,
  y: number,
  until: Second,
  options: StiffOptions,
): { readonly y: number; readonly steps: number; readonly done: boolean } {
  const { relative, absolute, longest, most = MOST_STEPS, onStep } = options;
  const least = (until - from) * LEAST_STEP_SHARE;
  let t = from;
  let steps = 0;
  let f0 = stiff.rate(t, y);
  let h = longest / 1000;
  while (t < until) {
    if (steps >= most || !(h >= least)) return { y, steps, done: false };
    steps++;
    if (t + h * (1 + LEAST_STEP_SHARE) >= until) h = until - t;
    const to = h === until - t ? until : t + h;
    const w = 1 - h * D * stiff.perState(t, y);
    const drift = h * D * stiff.perSecond(t, y);
    const k1 = (f0 + drift) / w;
    const f1 = stiff.rate(t + h / 2, y + (h / 2) * k1);
    const k2 = (f1 - k1) / w + k1;
    const next = y + h * k2;
    const f2 = stiff.rate(to, next);
    const k3 = (f2 - E32 * (k2 - f1) - 2 * (k1 - f0) + drift) / w;
    const allowed = absolute + relative * Math.max(Math.abs(y), Math.abs(next));
    const error = Math.abs((h / 6) * (k1 - 2 * k2 + k3)) / allowed;
    const change = STEP_SAFETY * Math.max(error, 1e-10) ** (-1 / 3);
    if (!(error <= 1)) {
      h *= Number.isFinite(error) ? Math.max(STEP_LEAST, change) : STEP_LEAST;
      continue;
    }
    if (onStep !== undefined) {
      const [start, span, y0, s0] = [t, h, y, f0];
      // Cubic through both ends with the slopes there.
      onStep(start, to, (when) => {
        const x = (when - start) / span;
        const rise = next - y0;
        return y0 + x * (rise + (1 - x) * ((1 - x) * (span * s0 - rise) - x * (span * f2 - rise)));
      });
    }
    t = to;
    y = next;
    f0 = f2;
    h = Math.min(longest, h * Math.min(STEP_MOST, Math.max(STEP_LEAST, change)));
  }
  return { y, steps, done: true };
}
