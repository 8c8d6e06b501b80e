/** What `routes` answers about trains, as plain data. */
import type { Derived } from '../derive.ts';
import type { Lies } from '../panel/index.ts';
import {
  findConflicts,
  type JudgedMove,
  type Standing,
  type StandingsOptions,
  type TrainMove,
  type WantedTrain,
} from '../routes/index.ts';
import type { RoutesAnswer } from './answer-schemas.ts';

/** Conflicts between moves of trains that are listed. */
const MOST_CONFLICTS = 5_000;
/** Moves among which conflicts are looked for: pairs grow as their square. */
const MOST_COMPARED = 500;

export interface TrainsAsked {
  /** Where trains are wanted; null where nothing is asked. */
  readonly wanted: readonly WantedTrain[] | null;
  readonly options: StandingsOptions;
  /** How points lie now. */
  readonly lies: Lies;
}

const plainStanding = (standing: Standing) => standing.map((train) => ({ ...train }));

function plainMove({ train, from, to, through, points, levers, why, head, faceLength, layoutLength }: TrainMove) {
  return {
    train,
    from,
    to,
    through: [...through],
    points: { ...points },
    levers: levers === null ? null : { ...levers },
    ...(why === null ? {} : { why }),
    head,
    faceLength,
    layoutLength,
  };
}

/** Legal moves of every train, and who is fouled by whom. */
export function trainsAnswer(derived: Derived, lies: Lies): NonNullable<RoutesAnswer['trains']> {
  const { moves, complete } = derived.legalMoves(lies);
  const fouled = new Map<string, { train: string; by: string; place: string; moves: number }>();
  for (const { train, fouledBy } of moves) {
    for (const { train: by, place } of fouledBy) {
      const key = `${train} ${by}`;
      const known = fouled.get(key);
      if (known === undefined) fouled.set(key, { train, by, place, moves: 1 });
      else known.moves += 1;
    }
  }
  const { conflicts, cut } = conflictsOf(moves);
  return {
    standing: plainStanding(derived.trains),
    moves: moves.map((move) => ({
      ...plainMove(move),
      throws: move.throws === null ? null : { ...move.throws },
      now: move.now,
      fouledBy: move.fouledBy.map((foul) => ({ ...foul })),
      asks: move.asks.map((ask) => ({ ...ask })),
      full: move.full,
    })),
    fouled: [...fouled.values()],
    conflicts,
    cut: cut || !complete,
  };
}

/** Conflicts among moves of different trains that nothing bars. */
function conflictsOf(moves: readonly JudgedMove[]): {
  readonly conflicts: [number, number, string][];
  readonly cut: boolean;
} {
  const free = moves.flatMap(({ throws, fouledBy, full }, i) =>
    throws !== null && fouledBy.length === 0 && full === null ? [i] : [],
  );
  const compared = free.slice(0, MOST_COMPARED);
  const found = findConflicts(compared.flatMap((i) => moves[i] ?? []))
    .map(([a, b, reason]): [number, number, string] => [compared[a] ?? 0, compared[b] ?? 0, reason])
    .filter(([a, b]) => moves[a]?.train !== moves[b]?.train);
  return {
    conflicts: found.slice(0, MOST_CONFLICTS),
    cut: found.length > MOST_CONFLICTS || free.length > compared.length,
  };
}

/** The moves that bring trains where they are wanted. */
export function standingsAnswer(
  derived: Derived,
  wanted: readonly WantedTrain[],
  options: StandingsOptions,
): NonNullable<RoutesAnswer['standings']> {
  const { outcome, moves, throws, bound, proved, ends, asks, why, standings } = derived.standings(wanted, options);
  return {
    outcome,
    moves: moves.map((move) => ({ ...plainMove(move), throws: { ...move.throws } })),
    throws,
    bound: { ...bound },
    proved,
    ends: plainStanding(ends),
    asks: asks.map((ask) => ({ ...ask })),
    why: [...why],
    standings,
  };
}
