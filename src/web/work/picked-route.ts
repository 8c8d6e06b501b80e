/** The route that is picked, which Run has as well: it goes along from stage to stage. */
import { useEffect, useMemo } from 'react';
import { useApp } from '../use-app.ts';
import type { WorkRoute } from '../worker/work-view.ts';
import { waysBetween } from './table-rows.ts';
import { useWork } from './use-work.ts';

export interface PickedRoute {
  readonly index: number;
  readonly route: WorkRoute;
  /** Its place among the ways between its two ends, and how many there are. */
  readonly ways: readonly number[];
}

const NO_ROUTES: readonly WorkRoute[] = [];

/** The picked route among those of the panel as it was last told; null while none is picked. */
export function usePickedRoute(): PickedRoute | null {
  const routes = useWork((work) => work.routes?.routes ?? NO_ROUTES);
  const from = useApp((app) => app.from);
  const to = useApp((app) => app.to);
  const way = useApp((app) => app.way);
  return useMemo(() => {
    const ways = waysBetween(routes, from, to);
    const index = ways[way] ?? ways[0];
    const route = index === undefined ? undefined : routes[index];
    return index === undefined || route === undefined ? null : { index, route, ways };
  }, [routes, from, to, way]);
}

/** Has the worker look at the route that is picked. Once in the stage. */
export function useLookAtRoute(): void {
  const look = useWork((work) => work.look);
  const index = usePickedRoute()?.index ?? null;
  useEffect(() => look(index), [look, index]);
}

/** Picks a route of the list. */
export function usePickRoute(): (index: number) => void {
  const routes = useWork((work) => work.routes?.routes ?? NO_ROUTES);
  const pickFrom = useApp((app) => app.pickFrom);
  const pickTo = useApp((app) => app.pickTo);
  const pickWay = useApp((app) => app.pickWay);
  return (index) => {
    const route = routes[index];
    if (route === undefined) return;
    pickFrom(route.from);
    pickTo(route.to);
    pickWay(Math.max(0, waysBetween(routes, route.from, route.to).indexOf(index)));
  };
}
