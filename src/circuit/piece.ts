/**
 * A piece: unknown nodes that hang together once the known node is taken away. Pieces are solved one by one.
 */
import type { EliminationPlan } from './elimination.ts';

/** One piece in flat arrays, its plan for the linear branches first and the diodes after them. Ends of -1 are the known node at 0 V. */
export interface Piece {
  readonly size: number;
  /** Linear branches: amps = siemens (v(from) - v(to) + shift), the emf inside the shift. */
  readonly linear: {
    readonly from: Int32Array;
    readonly to: Int32Array;
    readonly shift: Float64Array;
    readonly siemens: Float64Array;
  };
  /** Diode branches across v(from) - v(to) + shift; laws by nVt. */
  readonly diodes: {
    readonly from: Int32Array;
    readonly to: Int32Array;
    readonly shift: Float64Array;
    readonly is: Float64Array;
    readonly nvt: Float64Array;
    readonly rs: Float64Array;
  };
  readonly plan: EliminationPlan;
}

/** How closely every diode's law is met: amps, and share of its current. */
export interface PieceOptions {
  readonly currentFloor: number;
  readonly currentShare: number;
}

/** Volts of a piece's nodes to the known node, and how they were found. */
export interface PiecePoint {
  readonly x: Float64Array;
  readonly steps: number;
  readonly converged: boolean;
  /** True where the damped method had to finish it. */
  readonly damped: boolean;
}

/** The matrix, the right side and the step of one piece, used again at each iteration. */
export class Workspace {
  readonly known: Float64Array;
  readonly g: Float64Array;
  /** Amps that flow into each node and find no way out: what the next step must carry off. */
  readonly amps: Float64Array;
  readonly step: Float64Array;

  constructor(private readonly piece: Piece) {
    this.known = new Float64Array(piece.size);
    this.g = new Float64Array(piece.plan.slots);
    this.amps = new Float64Array(piece.size);
    this.step = new Float64Array(piece.size);
  }

  clear(): void {
    this.known.fill(0);
    this.g.fill(0);
    this.amps.fill(0);
  }

  /** A branch of `siemens` that now carries `amps` out of `from` into `to`. */
  add(from: number, to: number, slot: number, siemens: number, amps: number): void {
    if (from >= 0) {
      this.amps[from] = (this.amps[from] as number) - amps;
      if (to < 0) this.known[from] = (this.known[from] as number) + siemens;
    }
    if (to >= 0) {
      this.amps[to] = (this.amps[to] as number) + amps;
      if (from < 0) this.known[to] = (this.known[to] as number) + siemens;
    }
    if (slot >= 0) this.g[slot] = (this.g[slot] as number) + siemens;
  }

  /** Adds every linear branch at the volts `x`. */
  addLinear(x: Float64Array): void {
    const { from, to, shift, siemens } = this.piece.linear;
    for (let m = 0; m < from.length; m++) {
      const a = from[m] as number;
      const b = to[m] as number;
      const g = siemens[m] as number;
      this.add(a, b, this.piece.plan.slotOf[m] as number, g, g * (across(x, a, b) + (shift[m] as number)));
    }
  }
}

/** Volts of node a less node b, -1 being the known node. */
export function across(x: Float64Array, a: number, b: number): number {
  return (a >= 0 ? (x[a] as number) : 0) - (b >= 0 ? (x[b] as number) : 0);
}
