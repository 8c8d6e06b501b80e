/** Trains as markers with a length that stand on roads, and what is told of moving them. */
import type { Lie } from '../panel/index.ts';
import type { Millimetre } from '../units/index.ts';
import type { Route } from './types.ts';

/** A train where it stands. Of several at one place the order in the list is that from left to right on the face. */
export interface StandingTrain {
  readonly id: string;
  readonly name: string | null;
  /** Over all, mm on the layout; null: not given, so whether it fits is asked. */
  readonly length: Millimetre | null;
  /** Id of the place. */
  readonly stands: string;
  /** A place that lies where its head points; at a free end the end itself where it points there. Null: not given, or not to be told. */
  readonly heads: string | null;
}

/** Every train that is on the plan. */
export type Standing = readonly StandingTrain[];

/** What a lever, or a point that no lever works, is when a train sets out. `centre` gives way to either for one throw. */
export type Thrown = Readonly<Record<string, Lie | 'centre'>>;

/** Where a train is wanted. */
export interface WantedTrain {
  readonly train: string;
  readonly place: string;
  /** A place that its head must point to; null or not given: either way. */
  readonly heads?: string | null;
}

/** A length that is not given: of a place, of a train, or both. */
export interface AskedFit {
  readonly train: string;
  readonly place: string | null;
  readonly question: string;
}

/** A train that stands in the way of another, and where. */
export interface Foul {
  readonly train: string;
  readonly place: string;
  readonly span: string;
}

/** One way that a train could take now. */
export interface TrainMove extends Route {
  readonly train: string;
  /** The train's head goes first (it is pulled), or last (it is pushed); null where the file does not say how it heads. */
  readonly head: 'first' | 'last' | null;
  /** What it has to have thrown first: levers, then points that no lever works. Null where no lever can set it: `why` says it. */
  readonly throws: Readonly<Record<string, Lie>> | null;
}

/** A move with what stands against it. */
export interface JudgedMove extends TrainMove {
  /** The points lie for it and nothing bars it. */
  readonly now: boolean;
  /** Trains in the way, in the order in which it meets them. */
  readonly fouledBy: readonly Foul[];
  /** Lengths that it hangs on. */
  readonly asks: readonly AskedFit[];
  /** Why it does not fit where it ends; null where it does, or where that is asked. */
  readonly full: string | null;
}

/** What trains can do where they stand. */
export interface LegalMoves {
  /** By train, then in the order of routes. */
  readonly moves: readonly JudgedMove[];
  /** False where the list of routes is cut: there may be more. */
  readonly complete: boolean;
}

/** Two moves that are wanted at the same time, or what keeps them from it. */
export interface Fouling {
  readonly moves: readonly [readonly JudgedMove[], readonly JudgedMove[]];
  /** Moves, counted from 0 in the two lists, that can run together. */
  readonly together: readonly (readonly [i: number, j: number])[];
  /** Those that cannot: `point:P4`, `crossing:X1`, `span:P1/E1`, or `lever:L4` where one lever would have to lie both ways. */
  readonly conflicts: readonly (readonly [i: number, j: number, reason: string])[];
  readonly why: readonly string[];
}

/** The answer to a standing that is wanted. */
export interface StandingsFound {
  /**
   * `found`: the moves are the fewest, or the best found (`proved`). `asked`: they hang on lengths that are not given. `refused`: it cannot
   * be had. `stopped`: nothing found in as many standings as were looked at.
   */
  readonly outcome: 'found' | 'asked' | 'refused' | 'stopped';
  readonly moves: readonly TrainMove[];
  /** Levers thrown in all, with points that no lever works; null where there are no moves to tell. */
  readonly throws: number | null;
  /** No plan has fewer moves; and none of so few moves has fewer throws. */
  readonly bound: { readonly moves: number; readonly throws: number };
  /** True where the plan meets its bound, and where it is proved that there is none. */
  readonly proved: boolean;
  /** Where every train stands at the end. */
  readonly ends: Standing;
  readonly asks: readonly AskedFit[];
  readonly why: readonly string[];
  /** Standings looked at. */
  readonly standings: number;
}
