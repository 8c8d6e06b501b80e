/**
 * Where a function crosses nought between two places of opposite sign.
 *
 * Idea: inverse quadratic interpolation through the last three places where that is safe, halving where it is not.
 * Cost: 6 to 10 evaluations for a smooth function, never more than some 100. Reference: T. R. Chandrupatla, "A new hybrid
 * quadratic/bisection algorithm for finding the zero of a nonlinear function without using derivatives", Advances in
 * Engineering Software 28 (1997).
 */
import { ROOT_SHARE, ROOT_STEPS } from './time-tolerances.ts';

/**
 * The place between `from` and `to` at which `f` crosses nought, to `within` or two units in its last place. Throws RangeError
 * where the signs at both ends agree: the caller knows where it crosses, or it has a fault.
 */
export function bracketedRoot(f: (x: number) => number, from: number, to: number, within = 0): number {
  let a = from;
  let b = to;
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa < 0 !== fb < 0) || !Number.isFinite(fa) || !Number.isFinite(fb)) {
    throw new RangeError(`no crossing between ${from} (${fa}) and ${to} (${fb})`);
  }
  let c = a;
  let fc = fa;
  let part = 0.5;
  for (let step = 0; step < ROOT_STEPS; step++) {
    const x = a + part * (b - a);
    const fx = f(x);
    // Keeps b on the far side of the crossing from a, and c the place that was left.
    if (fx < 0 === fa < 0) {
      c = a;
      fc = fa;
    } else {
      c = b;
      fc = fb;
      b = a;
      fb = fa;
    }
    a = x;
    fa = fx;
    const [best, fbest] = Math.abs(fa) < Math.abs(fb) ? [a, fa] : [b, fb];
    const least = Math.max(within, ROOT_SHARE * Math.max(Math.abs(a), Math.abs(b))) / Math.abs(b - a);
    if (fbest === 0 || least > 0.5) return best;
    const xi = (a - b) / (c - b);
    const phi = (fa - fb) / (fc - fb);
    part = 0.5;
    if (phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi) {
      part = ((fa / (fb - fa)) * fc) / (fb - fc) + (((c - a) / (b - a)) * (fa / (fc - fa)) * fb) / (fc - fb);
    }
    part = Math.min(1 - least, Math.max(least, part));
  }
  return Math.abs(fa) < Math.abs(fb) ? a : b;
}

/**
 * How long `f` stands above `level`, seconds, over the intervals between successive `knots`, in each of which it only
 * rises or only falls. 0 for fewer than two knots.
 */
export function timeAbove(f: (t: number) => number, knots: readonly number[], level: number): number {
  let total = 0;
  for (let k = 1; k < knots.length; k++) {
    const from = knots[k - 1] ?? 0;
    const to = knots[k] ?? 0;
    const before = f(from) - level;
    const after = f(to) - level;
    if (before > 0 && after > 0) total += to - from;
    else if (before > 0 !== after > 0) {
      const at = bracketedRoot((t) => f(t) - level, from, to);
      total += before > 0 ? at - from : to - at;
    }
  }
  return total;
}
