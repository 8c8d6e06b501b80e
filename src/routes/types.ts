import type { Lie } from '../panel/index.ts';
import type { Millimetre } from '../units/index.ts';

/** A way from one place to another without turning back. */
export interface Route {
  readonly from: string;
  readonly to: string;
  readonly points: Readonly<Record<string, Lie>>;
  /** Positions of the levers that it asks something of; null where they cannot set it, with `why`. */
  readonly levers: Readonly<Record<string, Lie>> | null;
  readonly why: string | null;
  /** Named roads passed on the way, in order. */
  readonly through: readonly string[];
  readonly faceLength: Millimetre;
  readonly layoutLength: Millimetre | null;
  /** Spans passed, in order; the first and last may be taken in part only (a road in the middle of a span). */
  readonly spans: readonly string[];
  /** Diamonds and slips passed, sorted. */
  readonly crossings: readonly string[];
  /** The line along the strips, corner by corner, from place to place. */
  readonly path: readonly (readonly [number, number])[];
}

export interface RouteList {
  readonly routes: readonly Route[];
  /** True when the list was cut at its limit; then `limit` says how many are listed. */
  readonly cut: boolean;
  readonly limit: number;
}

/** i < j count from 0 in the list of routes; `reason` is `point:P4`, `crossing:X1` or `span:P1/E1`. */
export type Conflict = readonly [i: number, j: number, reason: string];

/** One leg of a move: a route in the direction in which it is travelled. */
export interface Leg extends Route {
  /** The train turns back before it; false where it goes on, or sets out. */
  readonly turns: boolean;
}

/** A length that the file does not give and that a move hangs on. */
export interface AskedLength {
  readonly place: string;
  readonly question: string;
}

/** The answer to a move that is asked for. */
export interface Moves {
  readonly from: string;
  readonly to: string;
  /** Of the train, mm on the layout; null: short enough to stand anywhere. */
  readonly length: Millimetre | null;
  readonly outcome: 'found' | 'asked' | 'refused';
  /** How often the train turns back; null where no move is found. */
  readonly reversals: number | null;
  readonly legs: readonly Leg[];
  /** With `asked` what no move does without; with `found` what could make a better one. */
  readonly asks: readonly AskedLength[];
  /** Why it is refused. */
  readonly why: readonly string[];
  /** False where the search was cut: there may be a better move, or one at all. */
  readonly complete: boolean;
}

/** A way through a point, or through the points of a slip or three-way, in one direction. */
export interface ProvedLeg {
  /** What it asks. */
  readonly points: Readonly<Record<string, Lie>>;
  /** From the toe, to the toe; a slip is passed across. */
  readonly way: 'facing' | 'trailing' | 'across';
  /** Spans before and after. */
  readonly from: string;
  readonly to: string;
}

/** One step of the proving run. */
export interface ProvingMove extends Leg {
  /** The train is carried over before it: nothing joins where it was. */
  readonly carried: boolean;
  /** What is thrown before it, by lever, or by point where nothing works it; in the order of levers. */
  readonly throws: Readonly<Record<string, Lie>>;
  /** What it takes for the first time. */
  readonly takes: readonly ProvedLeg[];
}

export interface ProvingRun {
  readonly moves: readonly ProvingMove[];
  /** Ways through points in either direction: those taken, and all. */
  readonly legs: { readonly covered: number; readonly all: number };
  readonly missed: readonly (ProvedLeg & { readonly why: string })[];
  readonly reversals: number;
  /** From every lever normal. */
  readonly throws: number;
  /** No run has fewer. */
  readonly bound: { readonly reversals: number; readonly throws: number };
  /** True where no run is better: fewest reversals, then fewest throws. */
  readonly proved: boolean;
}
