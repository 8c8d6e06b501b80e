/**
 * Routes as a train runs them: in both directions, with the way along its span in which it leaves and comes in, the places that it
 * passes, and what it needs thrown. Numbers inside, ids outside.
 */
import type { Plan } from '../plan/index.ts';
import { MOST_ROUTES } from './limits.ts';
import { compareWays, findWays, type Way } from './list-routes.ts';
import { needsOf, type Thrown, thrownBy, wayOf } from './moves-legs.ts';
import { type Travel, travelOf } from './travel.ts';

export interface TrainWay {
  /** The way in the direction in which it is run. */
  readonly way: Way;
  readonly from: number;
  readonly to: number;
  /** Along the span of `from` when it sets out, and of `to` when it comes in: 0 toward the span's end 1, 1 toward its end 0. */
  readonly leaves: 0 | 1;
  readonly enters: 0 | 1;
  /** Places passed. */
  readonly through: readonly number[];
  /** What has to lie how, by what is thrown; null where one lever would have to lie both ways. */
  readonly needs: readonly (readonly [thrown: number, position: number])[] | null;
}

export interface TrainWays {
  readonly travel: Travel;
  /** Levers in the order of the plan, then points that no lever works. */
  readonly thrown: Thrown;
  /** By place: the ways that set out from it, by where they lead, then in the order of routes. */
  readonly from: readonly (readonly TrainWay[])[];
  /** False where the list of routes is cut. */
  readonly complete: boolean;
}

/** All routes of a plan in both directions, up to the number that is listed. */
export function trainWays(plan: Plan): TrainWays {
  const travel = travelOf(plan);
  const thrown = thrownBy(plan, 'levers');
  const { ways, cut } = findWays(plan, travel, MOST_ROUTES, {});
  ways.sort(compareWays);
  const from: TrainWay[][] = plan.places.map(() => []);
  for (const way of ways) {
    const first = way.states[0] ?? 0;
    const last = way.states[way.states.length - 1] ?? 0;
    const needs = needsOf(travel, thrown, way.states);
    const asked = needs === null ? null : [...needs].sort((a, b) => a[0] - b[0]);
    const add = (run: Way, leaves: number, enters: number) =>
      from[run.from]?.push({
        way: run,
        from: run.from,
        to: run.to,
        leaves: leaves === 0 ? 0 : 1,
        enters: enters === 0 ? 0 : 1,
        through: run.through,
        needs: asked,
      });
    add(way, first & 1, last & 1);
    const back = [...way.states].reverse().map((state) => state ^ 1);
    add(
      wayOf(plan, travel, 2 * way.to + ((last & 1) ^ 1), back, 2 * way.from + ((first & 1) ^ 1)),
      (last & 1) ^ 1,
      (first & 1) ^ 1,
    );
  }
  for (const list of from) list.sort((a, b) => a.to - b.to);
  return { travel, thrown, from, complete: !cut };
}

/**
 * Ways that can be set, less those that another of the same ends and headings always serves for: one that passes no other place and needs
 * nothing else. No plan has fewer moves or throws with them.
 */
export function waysWorthTaking(list: readonly TrainWay[]): readonly TrainWay[] {
  const kept: TrainWay[] = [];
  for (const way of list) {
    if (way.needs === null || kept.some((other) => serves(other, way))) continue;
    for (let i = kept.length - 1; i >= 0; i--) {
      const other = kept[i];
      if (other !== undefined && serves(way, other)) kept.splice(i, 1);
    }
    kept.push(way);
  }
  return kept;
}

function serves(a: TrainWay, b: TrainWay): boolean {
  if (a.to !== b.to || a.leaves !== b.leaves || a.enters !== b.enters) return false;
  return (
    a.through.every((place) => b.through.includes(place)) &&
    (a.needs ?? []).every(([thing, position]) => b.needs?.some((need) => need[0] === thing && need[1] === position))
  );
}

/** What has to be thrown for a way when all lies so; by what is thrown, in its order. */
export function throwsFor(way: TrainWay, lies: ArrayLike<number>): readonly (readonly [number, number])[] {
  return (way.needs ?? []).filter(([thing, position]) => lies[thing] !== position);
}
