/**
 * Damped Newton on one piece: slow and sure, for what the limited method does not settle.
 *
 * Idea: resistors, diodes and sources make the currents the gradient of a convex function, the co-content (the sum
 * over the branches of the integral of i dv). Its lowest point is the operating point and there is only one. A Newton
 * step leads downhill; along it the slope is the currents times the step and can only rise, so the step is halved until
 * the slope at its end is small beside the slope at its start. No value of the co-content is formed, so nothing cancels.
 * Cost: one elimination and a few readings of every law a step.
 * Source: Millar 1951 (co-content); Bertsekas, Nonlinear Programming, section 1.2 (step rules).
 */
import type { DiodeLaw } from '../parts/index.ts';
import { THERMAL_VOLTAGE } from '../parts/index.ts';
import { diodeCurrent, diodeSlope } from './diode-law.ts';
import { eliminate } from './elimination.ts';
import { across, type Piece, type PieceOptions, type PiecePoint, Workspace } from './piece.ts';
import { DAMPED_STEPS, DARK_SIEMENS, HALVINGS, LAST_DIGITS, SLOPE_LEFT } from './tolerances.ts';

/** Volts of a piece's nodes from 0 V, without any limiter; the last iterate where the steps run out. */
export function dampedNewton(piece: Piece, options: PieceOptions): PiecePoint {
  const x = new Float64Array(piece.size);
  const work = new Workspace(piece);
  const { linear, diodes, plan } = piece;
  const lines = linear.from.length;
  const laws: DiodeLaw[] = Array.from(diodes.is, (is, d) => ({
    is,
    n: (diodes.nvt[d] as number) / THERMAL_VOLTAGE,
    rs: diodes.rs[d] as number,
  }));
  const allowed = new Float64Array(piece.size);

  /** Slope of the co-content along the step, `share` of the step away. */
  const slopeAt = (share: number): number => {
    let slope = 0;
    for (let m = 0; m < lines; m++) {
      const a = linear.from[m] as number;
      const b = linear.to[m] as number;
      const along = across(work.step, a, b);
      const volts = across(x, a, b) + (linear.shift[m] as number) + share * along;
      slope += (linear.siemens[m] as number) * volts * along;
    }
    laws.forEach((law, d) => {
      const a = diodes.from[d] as number;
      const b = diodes.to[d] as number;
      const along = across(work.step, a, b);
      slope += diodeCurrent(law, across(x, a, b) + (diodes.shift[d] as number) + share * along) * along;
    });
    return slope;
  };

  for (let step = 1; step <= DAMPED_STEPS; step++) {
    work.clear();
    work.addLinear(x);
    allowed.fill(options.currentFloor);
    for (let m = 0; m < lines; m++) {
      const a = linear.from[m] as number;
      const b = linear.to[m] as number;
      const g = linear.siemens[m] as number;
      const shift = linear.shift[m] as number;
      const amps = Math.abs(g * (across(x, a, b) + shift));
      allow(allowed, a, b, options.currentShare * amps + rounding(x, a, b, shift, g));
    }
    laws.forEach((law, d) => {
      const a = diodes.from[d] as number;
      const b = diodes.to[d] as number;
      const shift = diodes.shift[d] as number;
      const amps = diodeCurrent(law, across(x, a, b) + shift);
      const held = Math.max(diodeSlope(law, amps), DARK_SIEMENS);
      work.add(a, b, plan.slotOf[lines + d] as number, held, amps);
      allow(allowed, a, b, options.currentShare * Math.abs(amps) + rounding(x, a, b, shift, held));
    });
    let settled = true;
    for (let k = 0; k < piece.size; k++) {
      if (!(Math.abs(work.amps[k] as number) <= (allowed[k] as number))) settled = false;
    }
    if (settled) return { x, steps: step, converged: true, damped: true };
    eliminate(plan, work.known, work.g, work.amps, work.step);
    const share = shareOfStep(slopeAt);
    for (let k = 0; k < piece.size; k++) x[k] = (x[k] as number) + share * (work.step[k] as number);
  }
  return { x, steps: DAMPED_STEPS, converged: false, damped: true };
}

function allow(allowed: Float64Array, a: number, b: number, amps: number): void {
  if (a >= 0) allowed[a] = (allowed[a] as number) + amps;
  if (b >= 0) allowed[b] = (allowed[b] as number) + amps;
}

/** Amps that the last digits of the volts at its ends stand for in a branch of `siemens`. */
function rounding(x: Float64Array, a: number, b: number, shift: number, siemens: number): number {
  return LAST_DIGITS * siemens * (Math.abs(across(x, a, -1)) + Math.abs(across(x, b, -1)) + Math.abs(shift));
}

/** The share of the step to take: all of it where it still leads down, or what halving finds flat enough. */
function shareOfStep(slopeAt: (share: number) => number): number {
  const start = Math.abs(slopeAt(0));
  let low = 0;
  let high = 1;
  let share = 1;
  let slope = slopeAt(share);
  if (slope < 0) return share;
  for (let halving = 0; halving < HALVINGS && Math.abs(slope) > SLOPE_LEFT * start; halving++) {
    if (slope < 0) low = share;
    else high = share;
    share = (low + high) / 2;
    slope = slopeAt(share);
  }
  return share;
}
