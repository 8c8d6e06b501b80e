/**
 * What trains can do where they stand, and what bars the rest.
 * A train runs along one route, from its place to another. The places that it passes must be empty, nobody may stand between it and the
 * way out of its own road, and it must fit where it ends.
 */
import type { Lie, Lies } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { moveTeller } from './train-moves.ts';
import { asksOf, fitOf, fullWords, type Stands, standsOf } from './train-stands.ts';
import type { Foul, JudgedMove, LegalMoves, Standing, TrainMove } from './train-types.ts';
import { type TrainWay, type TrainWays, trainWays } from './train-ways.ts';

/**
 * Every route that every train could take from where it stands. `lies`: how points lie; null, and for points that are not named: as they
 * lie with every lever normal. Empty where the standing cannot be read: `findStandings` says why.
 * @example legalMoves(plan, standing, { P1: 'reverse' }).moves.filter(({ now }) => now)
 */
export function legalMoves(plan: Plan, standing: Standing, lies: Lies | null = null): LegalMoves {
  const ways = trainWays(plan);
  const { stands } = standsOf(plan, ways, standing);
  if (stands === null) return { moves: [], complete: false };
  const judge = judgeOf(plan, ways, stands, lies ?? {});
  return {
    moves: standing.flatMap((_, train) =>
      (ways.from[stands.places[train] ?? -1] ?? []).map((way) => judge(train, way)),
    ),
    complete: ways.complete,
  };
}

/** Judges ways of trains of one standing, with points lying so. */
export function judgeOf(
  plan: Plan,
  ways: TrainWays,
  stands: Stands,
  lies: Lies,
): (train: number, way: TrainWay) => JudgedMove {
  const tell = moveTeller(plan, ways);
  const normally = liesWithLeversNormal(plan);
  const lieOf = (point: string): Lie => (Object.hasOwn(lies, point) ? lies[point] : normally.get(point)) ?? 'normal';
  const pointNumber = new Map(plan.points.map(({ id }, i) => [id, i]));
  return (number, way) => {
    const train = stands.trains[number];
    if (train === undefined) throw new RangeError(`no train ${number} of ${stands.trains.length}`);
    const needs = new Map<number, number>();
    const told = tell(train.id, way, stands.heads[number] ?? null, null);
    for (const [point, lie] of Object.entries(told.points)) {
      if (lieOf(point) === lie) continue;
      const [thing, position] = ways.thrown.needs(pointNumber.get(point) ?? -1, lie === 'normal' ? 0 : 1);
      needs.set(thing, position);
    }
    const throws =
      way.needs === null
        ? null
        : tell(
            train.id,
            way,
            null,
            [...needs].sort((a, b) => a[0] - b[0]),
          ).throws;
    const fouledBy = foulsOf(plan, stands, number, way);
    const there = [...(stands.rows[way.to] ?? []).flatMap((each) => stands.trains[each] ?? []), train];
    const fit = fitOf(plan, way.to, there);
    const asks = fit === 'asked' ? asksOf(plan, way.to, there) : [];
    const move: TrainMove = { ...told, throws };
    return {
      ...move,
      now: throws !== null && needs.size === 0 && fouledBy.length === 0 && fit === 'yes',
      fouledBy,
      asks,
      full: fit === 'no' ? fullWords(plan, way.to, there) : null,
    };
  };
}

/** Trains in the way of another, in the order in which it meets them. */
export function foulsOf(plan: Plan, stands: Stands, number: number, way: TrainWay): readonly Foul[] {
  const row = stands.rows[way.from] ?? [];
  const turn = row.indexOf(number);
  const ahead = way.leaves === 0 ? row.slice(turn + 1) : row.slice(0, turn).reverse();
  const met = [
    ...ahead.map((train) => [train, way.from] as const),
    ...way.through.flatMap((place) => (stands.rows[place] ?? []).map((train) => [train, place] as const)),
  ];
  return met.map(([train, place]) => ({
    train: stands.trains[train]?.id ?? '',
    place: plan.places[place]?.id ?? '',
    span: plan.places[place]?.span ?? '',
  }));
}

function liesWithLeversNormal(plan: Plan): ReadonlyMap<string, Lie> {
  const lies = new Map<string, Lie>();
  for (const { works } of plan.levers) {
    for (const { point, whenNormal } of works) if (!lies.has(point)) lies.set(point, whenNormal);
  }
  return lies;
}
