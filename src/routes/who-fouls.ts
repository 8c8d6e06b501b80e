/** Who fouls whom: two trains that are to run at the same time. */
import type { Lies } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { findConflicts } from './find-conflicts.ts';
import { judgeOf } from './legal-moves.ts';
import { leverBothWays } from './lever-both-ways.ts';
import { standsOf } from './train-stands.ts';
import type { Fouling, JudgedMove, Standing, WantedTrain } from './train-types.ts';
import { trainWays } from './train-ways.ts';

/**
 * Two trains' moves, each by every route to the place that is wanted, judged singly and together. A pair can run together where each can
 * be set and is barred by no standing train, the two conflict in no point, crossing or span, and no lever would have to lie both ways.
 * `why` is not empty where the question cannot be answered: a train or a place that is not there, or the same train twice.
 */
export function whoFouls(
  plan: Plan,
  standing: Standing,
  wants: readonly [WantedTrain, WantedTrain],
  lies: Lies | null = null,
): Fouling {
  const ways = trainWays(plan);
  const { stands, why: unread } = standsOf(plan, ways, standing);
  const why = [
    ...unread,
    ...wants.flatMap(({ train, place }) => [
      ...(standing.some(({ id }) => id === train) ? [] : [`there is no train ${train}`]),
      ...(plan.places.some(({ id }) => id === place) ? [] : [`there is no place ${place}`]),
    ]),
    ...(wants[0].train === wants[1].train ? [`${wants[0].train} is wanted in two places`] : []),
  ];
  if (stands === null || why.length > 0) return { moves: [[], []], together: [], conflicts: [], why };
  const judge = judgeOf(plan, ways, stands, lies ?? {});
  const movesOf = ({ train, place }: WantedTrain): readonly JudgedMove[] => {
    const number = standing.findIndex(({ id }) => id === train);
    return (ways.from[stands.places[number] ?? -1] ?? [])
      .filter(({ to }) => plan.places[to]?.id === place)
      .map((way) => judge(number, way));
  };
  const moves = [movesOf(wants[0]), movesOf(wants[1])] as const;
  const together: [number, number][] = [];
  const conflicts: [number, number, string][] = [];
  moves[0].forEach((a, i) => {
    moves[1].forEach((b, j) => {
      const reason = findConflicts([a, b])[0]?.[2] ?? leverBothWays(a, b);
      if (reason !== null) conflicts.push([i, j, reason]);
      else if (isFree(a) && isFree(b)) together.push([i, j]);
    });
  });
  return { moves, together, conflicts, why: [] };
}

/**
 * Every two moves of different trains that could each run alone, by their places in the list, with why they cannot run at the same time:
 * `point:P4`, `crossing:X1`, `span:P1/E1`, or `lever:L4` where one lever would have to lie both ways; null where they can.
 */
export function pairsOf(
  moves: readonly JudgedMove[],
): readonly (readonly [i: number, j: number, why: string | null])[] {
  const free = moves.flatMap((move, i) => (isFree(move) ? [{ move, i }] : []));
  const reasons = new Map(findConflicts(free.map(({ move }) => move)).map(([a, b, reason]) => [`${a} ${b}`, reason]));
  return free.flatMap((a, x) =>
    free.slice(x + 1).flatMap((b, k) => {
      if (a.move.train === b.move.train) return [];
      return [[a.i, b.i, reasons.get(`${x} ${x + 1 + k}`) ?? leverBothWays(a.move, b.move)] as const];
    }),
  );
}

/** Can a move run as soon as its levers are thrown: nobody in the way, and for all that is known it fits? */
export function canRun({ throws, fouledBy, full }: Pick<JudgedMove, 'throws' | 'fouledBy' | 'full'>): boolean {
  return throws !== null && fouledBy.length === 0 && full === null;
}

/** The same, and no length is asked for it. */
function isFree(move: JudgedMove): boolean {
  return canRun(move) && move.asks.length === 0;
}
