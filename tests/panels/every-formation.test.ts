/**
 * Routes, their number, conflicts and moves against brute force on formations made of points alone. Enumerated: every way to join the
 * three ports of each of n points in pairs by spans, or to leave them as free ends, that hangs together, each once however its points are
 * numbered; all of them for 1 to 4 points. Of 5 and 6 points, of which there are tens of thousands and millions, a seeded sample.
 * There are 4, 38, 308 and 4,026 of 1 to 4 points; how many of 1 and 2 was counted on paper.
 */
import { describe, expect, it } from 'vitest';
import type { Plan } from '../../src/plan/index.ts';
import { countRoutes, findConflicts, findMoves, listRoutes, type Route } from '../../src/routes/index.ts';
import {
  everyFormation,
  type Formation,
  planOfFormation,
  printFormation,
  someFormation,
} from '../generate/port-plan.ts';
import { randomOf } from '../generate/random.ts';
import { everyRoute } from '../oracle/every-route.ts';

/** Formations of 5 and of 6 points that are tried. */
const SAMPLE = 2_000;

/** As brute force tells a route. */
function told(route: Route): string {
  const asked = Object.entries(route.points)
    .map(([id, lie]) => `${id}=${lie}`)
    .sort();
  return `${route.from} ${route.to} ${asked.join(' ')} | ${route.spans.join(' ')} | ${route.through.join(' ')} | ${(route.faceLength + 0.0213).toFixed(1)}`;
}

/** Pairs that need a point differently, else have a span in common; spans go by the ids at their ends. */
function clashes(routes: readonly Route[]): readonly string[] {
  return routes.flatMap((a, i) =>
    routes.slice(i + 1).flatMap((b, k) => {
      const points = Object.keys(a.points).filter((id) => (b.points[id] ?? a.points[id]) !== a.points[id]);
      const shared = a.spans.some((id) => b.spans.includes(id));
      // Here no id has more than one figure.
      const [first] = points.sort();
      return first !== undefined ? [`${i} ${i + 1 + k} point:${first}`] : shared ? [`${i} ${i + 1 + k} span`] : [];
    }),
  );
}

/** Fewest reversals from a place to each other one: a train turns back at free ends alone, between routes. */
function reversalsFrom(start: string, routes: readonly Route[]): ReadonlyMap<string, number> {
  const legs = new Map([[start, 0]]);
  for (const [place, count] of legs) {
    for (const { from, to } of routes) {
      const next = from === place ? to : to === place ? from : null;
      if (next !== null && !legs.has(next)) legs.set(next, count + 1);
    }
  }
  return new Map([...legs].filter(([id]) => id !== start).map(([id, count]) => [id, count - 1]));
}

function compare(formation: Formation, starts: number): void {
  const plan: Plan = planOfFormation(formation);
  const said = printFormation(formation);
  const { routes, cut } = listRoutes(plan);
  const brute = everyRoute(plan);
  expect(cut, said).toBe(false);
  expect(routes.map(told).sort(), said).toEqual(brute);
  expect(countRoutes(plan), said).toEqual({ count: BigInt(brute.length), counted: 'exact' });
  const conflicts = findConflicts(routes).map(([i, j, reason]) => `${i} ${j} ${reason.replace(/^span:.*/, 'span')}`);
  expect(conflicts, said).toEqual(clashes(routes));
  for (const from of plan.places.slice(0, starts)) {
    const wanted = reversalsFrom(from.id, routes);
    for (const to of plan.places) {
      if (to.id === from.id) continue;
      const { reversals, outcome } = findMoves(plan, { from: from.id, to: to.id, length: null });
      const least = wanted.get(to.id) ?? null;
      expect([reversals, outcome], `${from.id} to ${to.id}: ${said}`).toEqual([
        least,
        least === null ? 'refused' : 'found',
      ]);
    }
  }
}

describe('every formation of points', () => {
  it('[RT9] [RT11] [CF3] [MV7] of one, two and three points', () => {
    const [one, two, three] = [1, 2, 3].map(everyFormation);
    expect(one?.map(printFormation)).toEqual([
      'P1.toe-end P1.normal-end P1.reverse-end',
      'P1.toe-end P1.normal-P1.reverse',
      'P1.toe-P1.normal P1.reverse-end',
      'P1.toe-P1.reverse P1.normal-end',
    ]);
    // Of two points: of 76 ways to pair off 6 ports 4 x 4 do not hang together. Of the 60 left 16 look the same with the points changed
    // over: each of toe, normal, reverse free or joined to its like, or two of them joined, on one point or across (8 + 3 x 2 x 2), less
    // the 4 in which nothing goes across. So (60 + 16) / 2.
    expect(two).toHaveLength(38);
    for (const formation of [...(one ?? []), ...(two ?? []), ...(three ?? [])]) compare(formation, 9);
  });

  it('[RT9] [RT11] [CF3] [MV7] of four points', () => {
    for (const formation of everyFormation(4)) compare(formation, 1);
  });

  it.each([5, 6])(`[RT9] [RT11] [CF3] [MV7] of %s points, ${SAMPLE} at random (seed 20261125)`, (points) => {
    const random = randomOf(20_261_125 + points);
    for (let i = 0; i < SAMPLE; i++) compare(someFormation(points, random), 1);
  });
});
