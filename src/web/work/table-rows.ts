/** The rows of the control table about one route: what cannot stand with it and why, and what can and what has to be thrown for it. */
import type { WorkPieces, WorkRouteView, WorkView } from '../worker/work-view.ts';

export type Why =
  /** A lever lies so for the one and has to lie so for the other. */
  | { readonly kind: 'lever'; readonly lever: string; readonly lie: 'normal' | 'reverse' }
  /** The same of a point that no lever works. */
  | { readonly kind: 'point'; readonly point: string }
  | { readonly kind: 'crossing'; readonly crossing: string }
  | { readonly kind: 'span'; readonly ends: string }
  /** The track has room for both, and one lever would have to lie both ways. */
  | { readonly kind: 'both-ways'; readonly lever: string };

export interface Clash {
  readonly route: number;
  readonly why: Why;
  /** Column of the lever that comes between them; null where none does. */
  readonly column: number | null;
}

export interface Beside {
  readonly route: number;
  /** Levers that have to be thrown for it, all others lying normal; null where the levers cannot set it. */
  readonly throws: readonly string[] | null;
}

export interface TableRows {
  readonly cannot: readonly Clash[];
  readonly can: readonly Beside[];
}

/** The rows about a route, in the order of the list. */
export function tableRows(
  levers: WorkView['levers'],
  points: WorkView['points'],
  routes: WorkPieces['routes']['routes'],
  { route, beside }: WorkRouteView,
): TableRows {
  const column = new Map(levers.map(({ id }, i) => [id, i]));
  const leverOf = new Map(points.map(({ id, levers: by }) => [id, by[0]]));
  const picked = routes[route]?.cells ?? '';
  const cannot: Clash[] = [];
  const can: Beside[] = [];
  for (const { route: other, reason } of beside) {
    const cells = routes[other]?.cells ?? '';
    if (reason === null) {
      const asks = levers.filter((_, i) => cells[i] === 'R' && picked[i] !== 'R');
      can.push({ route: other, throws: routes[other]?.why == null ? asks.map(({ id }) => id) : null });
      continue;
    }
    const [kind = '', id = ''] = reason.split(/:(.*)/s);
    const lever = kind === 'lever' ? id : kind === 'point' ? leverOf.get(id) : undefined;
    const at = lever === undefined ? undefined : column.get(lever);
    const sign = at === undefined ? undefined : cells[at];
    const why: Why =
      kind === 'lever'
        ? { kind: 'both-ways', lever: id }
        : kind === 'crossing'
          ? { kind, crossing: id }
          : kind === 'span'
            ? { kind, ends: id }
            : lever !== undefined && (sign === 'N' || sign === 'R')
              ? { kind: 'lever', lever, lie: sign === 'N' ? 'normal' : 'reverse' }
              : { kind: 'point', point: id };
    const between = why.kind === 'lever' || why.kind === 'both-ways';
    cannot.push({ route: other, why, column: between ? (at ?? null) : null });
  }
  return { cannot, can };
}

/** The places that a route leads to from another, in either direction, in the order of the places. */
export function reachedFrom(
  places: WorkView['places'],
  routes: WorkPieces['routes']['routes'],
  from: string | null,
): WorkView['places'] {
  const reached = new Set<string>();
  for (const route of routes) {
    if (from === null || route.from === from) reached.add(route.to);
    if (from === null || route.to === from) reached.add(route.from);
  }
  return places.filter(({ id }) => reached.has(id));
}

/** All routes between two places, in either direction, in the order of the list. */
export function waysBetween(
  routes: WorkPieces['routes']['routes'],
  from: string | null,
  to: string | null,
): readonly number[] {
  if (from === null || to === null) return [];
  return routes.flatMap((route, i) =>
    (route.from === from && route.to === to) || (route.from === to && route.to === from) ? [i] : [],
  );
}

/** Among routes between the same places, past the same, its number from 1; null where it is the only one. */
export function wayAmongAlike(
  routes: WorkPieces['routes']['routes'],
  route: WorkPieces['routes']['routes'][number],
): number | null {
  const alike = routes.filter(
    ({ from, to, through }) => from === route.from && to === route.to && through.join('/') === route.through.join('/'),
  );
  return alike.length < 2 ? null : alike.indexOf(route) + 1;
}
