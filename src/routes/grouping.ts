/**
 * Which points can be worked together, and the fewest levers that lose nothing.
 * Idea: a route asks a lie of every point it passes, and so do two routes that can stand at once, taken together. Two points may share a
 * lever with like lies exactly when nothing that can be asked at once wants them in contrary lies; with opposite lies exactly when nothing
 * wants them in the same. For each lie of each point the routes that ask it, and the routes that can stand beside one of those, are two
 * sets: what is asked at once is whether one of the one meets one of the other. Three points and more share a lever where every two of
 * them may, in the lies given: any clash is a clash of two. The rest is `fewestGroups`. Cost: routes by what each holds by routes / 32;
 * points squared by routes / 32; then the search. Memory: points by routes / 8 bytes; no list of pairs is made.
 */
import type { Lie } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { addAll, addBit, bitSet, haveCommon } from './bit-sets.ts';
import { ALIKE, fewestGroups, OPPOSITE } from './fewest-groups.ts';
import { findLosses, type Losses } from './find-losses.ts';
import { standingTogether } from './standing-together.ts';
import type { Route, RouteList } from './types.ts';

export interface FewestLevers {
  /** Levers that lose no route, no pair and no meet; the smallest number of them where `proved`, else the best found. */
  readonly least: number;
  /** False where the search had to stop, or where the list of routes is cut: then `least` holds for what is listed. */
  readonly proved: boolean;
  /** No fewer levers will do. */
  readonly atLeast: number;
  /** The points that each works, with the lie of each when the first of them lies normal; by first point, in the order of points. */
  readonly groups: readonly Readonly<Record<string, Lie>>[];
}

export interface Grouping extends FewestLevers {
  /** By the present levers, of the routes listed. */
  readonly lost: Losses;
}

/** In pairs by place in `points`, at `a * points.length + b`: whether the two may share a lever `ALIKE`, `OPPOSITE`, or both. */
export interface Sharing {
  readonly points: readonly string[];
  readonly allowed: Uint8Array;
}

/** What levers shall not lose: routes, pairs and meets; or routes alone. */
export type Keeping = 'all' | 'routes';

/** How every two of these points may share a lever without losing a route, or (`all`) a pair of routes that can stand at once. */
export function sharingOf(points: readonly string[], routes: readonly Route[], keeping: Keeping = 'all'): Sharing {
  const index = new Map(points.map((id, p) => [id, p]));
  const lits = points.length * 2;
  const asking = Array.from({ length: lits }, () => bitSet(routes.length));
  const beside = Array.from({ length: lits }, () => bitSet(routes.length));
  const together = standingTogether(routes);
  routes.forEach((route, i) => {
    const set = keeping === 'all' ? together(i) : bitSet(routes.length);
    addBit(set, i);
    for (const [id, lie] of Object.entries(route.points)) {
      const p = index.get(id);
      if (p === undefined) continue;
      const lit = 2 * p + (lie === 'normal' ? 0 : 1);
      const [asks, stands] = [asking[lit], beside[lit]];
      if (asks === undefined || stands === undefined) continue;
      addBit(asks, i);
      addAll(stands, set);
    }
  });
  const allowed = new Uint8Array(points.length * points.length);
  const atOnce = (a: number, b: number): boolean => {
    const [stands, asks] = [beside[a], asking[b]];
    return stands !== undefined && asks !== undefined && haveCommon(stands, asks);
  };
  for (let p = 0; p < points.length; p++) {
    for (let q = p + 1; q < points.length; q++) {
      const contrary = atOnce(2 * p, 2 * q + 1) || atOnce(2 * p + 1, 2 * q);
      const same = atOnce(2 * p, 2 * q) || atOnce(2 * p + 1, 2 * q + 1);
      const bits = (contrary ? 0 : ALIKE) | (same ? 0 : OPPOSITE);
      allowed[p * points.length + q] = bits;
      allowed[q * points.length + p] = bits;
    }
  }
  return { points, allowed };
}

/**
 * The fewest levers for the points of a plan. Points that no lever can work (by hand, or by a decoder) are named in `without` and
 * counted out; every other point stands in one group, also one that no route passes. Keeping `routes` alone, pairs and meets may go.
 */
export function fewestLevers(
  plan: Plan,
  list: RouteList,
  without: ReadonlySet<string>,
  keeping: Keeping = 'all',
): FewestLevers {
  const points = plan.points.map(({ id }) => id).filter((id) => !without.has(id));
  const { allowed } = sharingOf(points, list.routes, keeping);
  const { groups, atLeast, proved } = fewestGroups(points.length, allowed);
  return {
    least: groups.length,
    proved: proved && !list.cut,
    atLeast,
    groups: groups.map((group) =>
      Object.fromEntries(
        group.map(({ member, turned }) => [points[member] ?? '', turned ? 'reverse' : 'normal'] as const),
      ),
    ),
  };
}

/** What the present levers lose, and the fewest that lose nothing. */
export function groupLevers(plan: Plan, list: RouteList, without: ReadonlySet<string>): Grouping {
  return { lost: findLosses(plan, list.routes), ...fewestLevers(plan, list, without) };
}
