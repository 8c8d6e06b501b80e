/** What Run asks about trains: where they stand, what each can do, what a running sheet comes to, and the fewest moves to a standing. */
import type { Lie } from '../../panel/index.ts';
import type { Plan } from '../../plan/index.ts';
import {
  canRun,
  findStandings,
  type JudgedMove,
  legalMoves,
  type PlaceHeadings,
  pairsOf,
  placeHeadings,
  runSheet,
  type SheetMove,
  type Standing,
  type Thrown,
  type TrainMark,
  trainMarks,
  type WantedTrain,
} from '../../routes/index.ts';
import { liesIn } from '../run/lies-in.ts';

/** A running sheet, and how many of its moves are done. */
export interface TrainsAsk {
  readonly standing: Standing;
  readonly thrown: Thrown;
  readonly moves: readonly SheetMove[];
  readonly at: number;
}

/** A move as it is shown. */
export interface ViewMove {
  readonly train: string;
  readonly from: string;
  readonly to: string;
  /** Ids of the places that it passes. */
  readonly through: readonly string[];
  readonly points: Readonly<Record<string, Lie>>;
  readonly levers: Readonly<Record<string, Lie>> | null;
  /** What is thrown before it: levers, then points that no lever works; null where nothing can set it. */
  readonly throws: Readonly<Record<string, Lie>> | null;
  readonly head: 'first' | 'last' | null;
  /** Trains in the way, with the place where each stands. */
  readonly fouledBy: readonly { readonly train: string; readonly place: string }[];
  /** Lengths that it hangs on, as questions. */
  readonly asks: readonly string[];
  readonly full: string | null;
  /** Nothing bars it once its levers are thrown. */
  readonly runs: boolean;
  /** Why no lever can set it. */
  readonly why: string | null;
}

export interface ViewStep {
  /** From 1. */
  readonly number: number;
  /** Null where there is no such way from where the train stands then. */
  readonly move: ViewMove | null;
  readonly wanted: SheetMove;
  readonly why: readonly string[];
  /** How levers lie once it has run, and points that no lever works. */
  readonly thrown: Thrown;
}

export interface TrainsAnswer {
  /** Why the standing that the sheet begins with cannot be read; then all else is empty. */
  readonly why: readonly string[];
  readonly steps: readonly ViewStep[];
  /** Moves that can be run, and those that are done. */
  readonly runs: number;
  readonly at: number;
  /** Throws of all moves that can be run. */
  readonly throws: number;
  readonly now: Standing;
  readonly marks: readonly TrainMark[];
  readonly headings: readonly PlaceHeadings[];
  /** What each train could do now. */
  readonly moves: readonly ViewMove[];
  /** Of two moves, by their place in `moves`: why they cannot run at the same time. Pairs of different trains that both could run alone. */
  readonly beside: readonly (readonly [a: number, b: number, conflict: string | null])[];
}

export interface BringAnswer {
  readonly outcome: 'found' | 'asked' | 'refused' | 'stopped';
  readonly moves: readonly ViewMove[];
  readonly throws: number | null;
  /** No plan has fewer moves. */
  readonly proved: boolean;
  readonly asks: readonly string[];
  readonly why: readonly string[];
}

/** Pairs of moves that are told, so that a panel with very many routes does not stand still over them. */
const MOST_PAIRS = 20_000;

function viewMove(move: Omit<JudgedMove, 'now' | 'fouledBy' | 'asks' | 'full'> & Partial<JudgedMove>): ViewMove {
  const { train, from, to, through, points, levers, throws, head, fouledBy = [], asks = [], full = null, why } = move;
  return {
    train,
    from,
    to,
    through,
    points,
    levers,
    throws,
    head,
    fouledBy: fouledBy.map(({ train: other, place }) => ({ train: other, place })),
    asks: asks.map(({ question }) => question),
    full,
    runs: canRun({ throws, fouledBy, full }),
    why: why ?? null,
  };
}

/** Trains of one panel as a sheet has them. */
export function tellTrains(plan: Plan, { standing, thrown, moves, at }: TrainsAsk): TrainsAnswer {
  const sheet = runSheet(plan, { standing, thrown }, moves);
  const done = Math.min(at, sheet.runs);
  const now = done === 0 ? standing : (sheet.steps[done - 1]?.standing ?? standing);
  const able = sheet.why.length > 0 ? [] : legalMoves(plan, now).moves;
  return {
    why: sheet.why,
    steps: sheet.steps.map((step, i) => ({
      number: i + 1,
      move: step.move === null ? null : viewMove(step.move),
      wanted: step.wanted,
      why: step.why,
      thrown: step.thrown,
    })),
    runs: sheet.runs,
    at: done,
    throws: sheet.throws,
    now,
    marks: trainMarks(plan, now),
    headings: placeHeadings(plan),
    moves: able.map(viewMove),
    beside: pairsOf(able).slice(0, MOST_PAIRS),
  };
}

/** The fewest moves, then throws, to where trains are wanted, from where they stand now. */
export function bringTrains(plan: Plan, { standing, thrown, wanted, othersStay }: BringAsk): BringAnswer {
  const found = findStandings(plan, standing, wanted, { levers: thrown, lies: liesIn(thrown), othersStay });
  return {
    outcome: found.outcome,
    moves: found.moves.map(viewMove),
    throws: found.throws,
    proved: found.proved,
    asks: found.asks.map(({ question }) => question),
    why: found.why,
  };
}

export interface BringAsk {
  readonly standing: Standing;
  readonly thrown: Thrown;
  readonly wanted: readonly WantedTrain[];
  /** Trains that are not wanted anywhere end where they stood. */
  readonly othersStay: boolean;
}
