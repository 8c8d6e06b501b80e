/** Choosing among the routes by where they start and end. A route is listed once and can be run either way. */
import type { View, ViewRoute } from '../worker/types.ts';

/** The route that is picked: its place in the list, and whether it is run from its `to` to its `from`. */
export interface Picked {
  readonly index: number;
  readonly route: ViewRoute;
  readonly backwards: boolean;
}

/** Every route between two places, in the order of the list. */
export function routesBetween(view: View, from: string, to: string): readonly Picked[] {
  return view.routes.flatMap((route, index): Picked[] => {
    if (route.from === from && route.to === to) return [{ index, route, backwards: false }];
    if (route.from === to && route.to === from) return [{ index, route, backwards: true }];
    return [];
  });
}

/** The first of the routes between two places along which the points lie so, and which of them it is; undefined where they do on none. */
export function routeAlong(
  view: View,
  { from, to, points }: { readonly from: string; readonly to: string; readonly points: ViewRoute['points'] },
): (Picked & { readonly way: number }) | undefined {
  const ids = Object.keys(points);
  const routes = routesBetween(view, from, to);
  const way = routes.findIndex(
    ({ route }) =>
      Object.keys(route.points).length === ids.length && ids.every((id) => route.points[id] === points[id]),
  );
  const picked = routes[way];
  return picked === undefined ? undefined : { ...picked, way };
}

/** Places where a route starts or ends, in the order of the panel's places. */
export function placesWithRoutes(view: View): View['places'] {
  const served = new Set(view.routes.flatMap((route) => [route.from, route.to]));
  return view.places.filter((place) => served.has(place.id));
}

/** Places that a route leads to from here, in the order of the panel's places. */
export function placesFrom(view: View, from: string | null): View['places'] {
  if (from === null) return placesWithRoutes(view);
  const reached = new Set<string>();
  for (const route of view.routes) {
    if (route.from === from) reached.add(route.to);
    if (route.to === from) reached.add(route.from);
  }
  return view.places.filter((place) => reached.has(place.id));
}

/** The line of a picked route from where it starts to where it ends. */
export function lineOf({ route, backwards }: Picked): ViewRoute['path'] {
  return backwards ? [...route.path].reverse() : route.path;
}

/** What tells a route from others between the same two places: the places that it passes, or its number among them alone. */
export interface Way {
  /** Names of the places passed, in order; null where another of the ways passes the same. */
  readonly via: readonly string[] | null;
  /** From 1, in the order of the list. */
  readonly number: number;
}

/** The ways of all routes that are not the only one between their ends, by their place in the list. */
export function waysOf(view: View): ReadonlyMap<number, Way> {
  const groups = new Map<string, number[]>();
  view.routes.forEach(({ from, to }, index) => {
    const key = [from, to].sort().join('/');
    groups.set(key, [...(groups.get(key) ?? []), index]);
  });
  const ways = new Map<number, Way>();
  for (const group of groups.values()) {
    if (group.length < 2) continue;
    const passed = group.map((index) => (view.routes[index]?.through ?? []).map((id) => placeName(view, id)));
    group.forEach((index, i) => {
      const mine = passed[i] ?? [];
      const alike = passed.some((other, j) => j !== i && other.join('/') === mine.join('/'));
      ways.set(index, { via: alike ? null : mine, number: i + 1 });
    });
  }
  return ways;
}

/** A place's name by its id; the id itself where there is no such place. */
export function placeName(view: View, id: string): string {
  return view.places.find((place) => place.id === id)?.name ?? id;
}
