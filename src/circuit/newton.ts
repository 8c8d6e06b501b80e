/**
 * Newton's method on one piece, with a limiter at every junction.
 *
 * Idea: each diode becomes its tangent at its junction volts; the piece is then linear and solved by elimination, as a
 * correction to the volts so far, so that rounding heals from step to step. Where the tangent leads too far the
 * junction is stopped: at its knee on the way up from dark, by a logarithmic step beyond it, and on the way down at
 * the volts that its tangent's current really needs. Done when no junction was stopped and every diode's law
 * agrees with its tangent. What does not settle goes to the damped method.
 * Cost: one elimination a step, 5 to 10 steps for a lamp circuit from 0 V.
 * Source: Nagel 1975 (junction limiting in SPICE2); the quick limiter is our own.
 */
import { dampedNewton } from './damped-newton.ts';
import { boundedExp, boundedExpm1 } from './diode-law.ts';
import { eliminate } from './elimination.ts';
import { across, type Piece, type PieceOptions, type PiecePoint, Workspace } from './piece.ts';
import { DARK_SIEMENS, KNEE_AMPS, NEWTON_STEPS, QUICK_STEPS } from './tolerances.ts';

/** Volts of a piece's nodes to the known node. Never NaN, never endless. */
export function solvePiece(piece: Piece, options: PieceOptions): PiecePoint {
  const quick = limitedNewton(piece, options);
  if (quick.converged) return quick;
  const slow = dampedNewton(piece, options);
  return { ...slow, steps: slow.steps + quick.steps, damped: true };
}

export function limitedNewton(piece: Piece, options: PieceOptions): PiecePoint {
  const x = new Float64Array(piece.size);
  const work = new Workspace(piece);
  const { from, to, shift, is, nvt, rs } = piece.diodes;
  const count = from.length;
  const lines = piece.linear.from.length;
  const junction = new Float64Array(count);
  const knee = Float64Array.from(is, (amps, d) => (nvt[d] as number) * Math.log1p(KNEE_AMPS / amps));
  const slope = new Float64Array(count);
  const carried = new Float64Array(count);
  // A linear piece is done by one step; a second one sweeps up the rounding of the first, here and where all diodes are dark.
  const last = count === 0 ? 2 : NEWTON_STEPS;
  for (let step = 1; step <= last; step++) {
    work.clear();
    work.addLinear(x);
    for (let d = 0; d < count; d++) {
      const a = from[d] as number;
      const b = to[d] as number;
      const n = nvt[d] as number;
      const vj = junction[d] as number;
      const law = (is[d] as number) * boundedExpm1(vj / n);
      const g = ((is[d] as number) / n) * boundedExp(vj / n);
      const whole = 1 + g * (rs[d] as number);
      slope[d] = g / whole;
      // The tangent, read at the volts as they stand (they differ from the junction's where it was stopped).
      carried[d] = (law + g * (across(x, a, b) + (shift[d] as number) - vj)) / whole;
      const held = Math.max(slope[d] as number, DARK_SIEMENS);
      work.add(a, b, piece.plan.slotOf[lines + d] as number, held, carried[d] as number);
    }
    eliminate(piece.plan, work.known, work.g, work.amps, work.step);
    for (let k = 0; k < piece.size; k++) x[k] = (x[k] as number) + (work.step[k] as number);

    let settled = true;
    for (let d = 0; d < count; d++) {
      const a = from[d] as number;
      const b = to[d] as number;
      const n = nvt[d] as number;
      const amps = (carried[d] as number) + (slope[d] as number) * across(work.step, a, b);
      const volts = across(x, a, b) + (shift[d] as number) - (rs[d] as number) * amps;
      const old = junction[d] as number;
      const stopped =
        step <= QUICK_STEPS
          ? quickLimit(old, volts, amps, is[d] as number, n, knee[d] as number)
          : patientLimit(old, volts, n, knee[d] as number);
      junction[d] = stopped;
      if (stopped !== volts) {
        settled = false;
        continue;
      }
      const law = (is[d] as number) * boundedExpm1(volts / n);
      const allowed = options.currentFloor + options.currentShare * Math.max(Math.abs(law), Math.abs(amps));
      if (!(Math.abs(law - amps) <= allowed)) settled = false;
    }
    if (settled && step > 1) return { x, steps: step, converged: true, damped: false };
  }
  return { x, steps: last, converged: false, damped: false };
}

/** The next junction volts, given where the tangent leads and the amps it would carry there. */
export function quickLimit(old: number, next: number, amps: number, is: number, nvt: number, knee: number): number {
  if (old < knee && next > knee) return knee;
  if (old >= knee && next > old + 2 * nvt) return old + nvt * Math.log1p((next - old) / nvt);
  if (old > 0 && next < old - 0.7 * nvt) return amps > 0 ? nvt * Math.log1p(amps / is) : 0;
  return next;
}

/** The limiter of SPICE: never more than a logarithmic step at or above the knee, and up from dark no further than it. */
export function patientLimit(old: number, next: number, nvt: number, knee: number): number {
  if (next <= knee || Math.abs(next - old) <= 2 * nvt) return next;
  if (old <= 0) return nvt * Math.log(Math.max(next / nvt, Math.E));
  const arg = 1 + (next - old) / nvt;
  return arg > 0 ? old + nvt * Math.log(arg) : knee;
}
