/**
 * Groupings of points by brute force, for plans of a few points: every way to part them into levers, every lie of every point in its
 * lever, and what each loses, by sets and strings. Shares no code with the grouping of levers. Also the fewest groups for any table of
 * what may share, by trying all.
 */
import type { Lie } from '../../src/panel/index.ts';
import type { Plan } from '../../src/plan/index.ts';
import type { Route } from '../../src/routes/index.ts';

/** By point: its lever, and its lie when that lies normal. */
export type Grouped = ReadonlyMap<string, { readonly lever: string; readonly whenNormal: Lie }>;

/** Whether two routes can stand on the track at once. */
export function canStand(a: Route, b: Route): boolean {
  if (a.spans.some((span) => b.spans.includes(span))) return false;
  if (a.crossings.some((crossing) => b.crossings.includes(crossing))) return false;
  return Object.keys(a.points).every((id) => b.points[id] === undefined || b.points[id] === a.points[id]);
}

/** Whether one position of each lever gives all these lies. */
export function canSet(grouped: Grouped, ...lies: readonly Readonly<Record<string, Lie>>[]): boolean {
  const positions = new Map<string, boolean>();
  for (const [point, lie] of lies.flatMap((each) => Object.entries(each))) {
    const worked = grouped.get(point);
    if (worked === undefined) return false;
    const position = worked.whenNormal === lie;
    if (positions.has(worked.lever) && positions.get(worked.lever) !== position) return false;
    positions.set(worked.lever, position);
  }
  return true;
}

/** What a grouping loses: routes by place, pairs end to end, pairs of which one ends at a road. */
export function everyLoss(
  plan: Plan,
  routes: readonly Route[],
  grouped: Grouped,
): { readonly routes: number[]; readonly pairs: [number, number][]; readonly meets: [number, number][] } {
  const kind = new Map(plan.places.map((place) => [place.id, place.kind]));
  const lost = routes.flatMap((route, i) => (canSet(grouped, route.points) ? [] : [i]));
  const [pairs, meets]: [number, number][][] = [[], []];
  for (const [i, a] of routes.entries()) {
    for (const [j, b] of routes.entries()) {
      if (j <= i || lost.includes(i) || lost.includes(j)) continue;
      if (!canStand(a, b) || canSet(grouped, a.points, b.points)) continue;
      const through = [a.from, a.to, b.from, b.to].every((id) => kind.get(id) === 'end');
      (through ? pairs : meets)?.push([i, j]);
    }
  }
  return { routes: lost, pairs: pairs ?? [], meets: meets ?? [] };
}

/** Every way to part these points into levers, with every lie; the first of each lever lies normal. Fewest levers first. */
export function everyGrouping(points: readonly string[]): readonly Grouped[] {
  let all: { lever: number; whenNormal: Lie }[][] = [[]];
  for (let i = 0; i < points.length; i++) {
    all = all.flatMap((sofar) => {
      const levers = 1 + Math.max(-1, ...sofar.map(({ lever }) => lever));
      return Array.from({ length: levers + 1 }, (_, lever) => lever).flatMap((lever) =>
        (lever === levers ? (['normal'] as const) : (['normal', 'reverse'] as const)).map((whenNormal) => [
          ...sofar,
          { lever, whenNormal },
        ]),
      );
    });
  }
  const count = (each: readonly { lever: number }[]) => new Set(each.map(({ lever }) => lever)).size;
  return all
    .sort((a, b) => count(a) - count(b))
    .map(
      (each) => new Map(each.map(({ lever, whenNormal }, i) => [points[i] ?? '', { lever: `L${lever}`, whenNormal }])),
    );
}

/** The smallest number of levers that loses nothing, by trying every grouping. */
export function leastByTrying(plan: Plan, routes: readonly Route[], points: readonly string[]): number {
  for (const grouped of everyGrouping(points)) {
    const lost = everyLoss(plan, routes, grouped);
    if (lost.routes.length + lost.pairs.length + lost.meets.length === 0)
      return new Set([...grouped.values()].map(({ lever }) => lever)).size;
  }
  return Number.NaN;
}

/** The fewest groups where `may(a, b, turned)` says whether two may share with like (false) or opposite (true) lies, by trying all. */
export function fewestByTrying(size: number, may: (a: number, b: number, turned: boolean) => boolean): number {
  let best = size;
  const groups: { member: number; turned: boolean }[][] = [];
  const go = (member: number): void => {
    if (groups.length > best) return;
    if (member === size) {
      best = groups.length;
      return;
    }
    for (const group of groups) {
      for (const turned of [false, true]) {
        if (!group.every((each) => may(member, each.member, turned !== each.turned))) continue;
        group.push({ member, turned });
        go(member + 1);
        group.pop();
      }
    }
    groups.push([{ member, turned: false }]);
    go(member + 1);
    groups.pop();
  };
  go(0);
  return best;
}
