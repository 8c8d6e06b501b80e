/** What points that one lever works are to each other. */
import type { Plan, PlanPoint } from '../plan/index.ts';
import { ALIKE, OPPOSITE } from './fewest-groups.ts';
import { sharingOf } from './grouping.ts';
import type { Route } from './types.ts';

/**
 * crossover: two whose reverse legs are one length of track; crossovers: several such pairs; loop: two whose legs lead to each other;
 * never: no route, and no two at once, ask any two of them; agree: wherever two are asked at once, they are asked as the lever works
 * them; clash: somewhere they are asked otherwise, which loses something.
 */
export type JoinedAs = 'crossover' | 'crossovers' | 'loop' | 'never' | 'agree' | 'clash';

/** How the points of one lever stand to each other, by their lies when it is normal. Null for less than two points of the plan. */
export function joinedAs(
  plan: Plan,
  routes: readonly Route[],
  works: Plan['levers'][number]['works'],
): JoinedAs | null {
  const ids = [...new Set(works.map(({ point }) => point))];
  const points = ids.flatMap((id) => plan.points.find((point) => point.id === id) ?? []);
  if (points.length < 2) return null;
  const { allowed } = sharingOf(ids, routes);
  const lies = new Map(works.map(({ point, whenNormal }) => [point, whenNormal]));
  const pairs = ids.flatMap((a, i) => ids.slice(i + 1).map((b, k) => [a, b, i * ids.length + i + 1 + k] as const));
  const fits = pairs.every(
    ([a, b, at]) => ((allowed[at] ?? 0) & (lies.get(a) === lies.get(b) ? ALIKE : OPPOSITE)) !== 0,
  );
  if (!fits) return 'clash';
  if (points.length % 2 === 0 && inPairs(points, isCrossover)) return points.length === 2 ? 'crossover' : 'crossovers';
  const [one, two] = points;
  if (points.length === 2 && one !== undefined && two !== undefined && isLoop(one, two)) return 'loop';
  return pairs.every(([, , at]) => allowed[at] === (ALIKE | OPPOSITE)) ? 'never' : 'agree';
}

/** Does every point have just one partner? */
function inPairs(points: readonly PlanPoint[], isPair: (a: PlanPoint, b: PlanPoint) => boolean): boolean {
  return points.every((a) => points.filter((b) => b !== a && isPair(a, b)).length === 1);
}

function isCrossover(a: PlanPoint, b: PlanPoint): boolean {
  return a.reverse.span === b.reverse.span && a.normal.span !== b.normal.span;
}

function isLoop(a: PlanPoint, b: PlanPoint): boolean {
  const legs = new Set([a.normal.span, a.reverse.span]);
  return legs.has(b.normal.span) && legs.has(b.reverse.span);
}
