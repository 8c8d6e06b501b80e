/** Routes against levers, as the book prints it. */
import type { Plan } from '../plan/index.ts';
import type { Route } from './types.ts';

export interface ControlRow {
  readonly from: string;
  readonly to: string;
  /** One for each lever, in their order: N, R, or blank where the route asks nothing of it. All blank where it cannot be set. */
  readonly cells: readonly ('N' | 'R' | '')[];
  /** Why the levers cannot set it; null where they can. */
  readonly why: string | null;
}

export interface ControlTable {
  readonly levers: readonly string[];
  /** In the order of the routes. */
  readonly rows: readonly ControlRow[];
}

/** The control table: a row a route, a column a lever. */
export function controlTable(plan: Plan, routes: readonly Route[]): ControlTable {
  const levers = plan.levers.map((lever) => lever.id);
  return {
    levers,
    rows: routes.map((route) => ({
      from: route.from,
      to: route.to,
      cells: levers.map((id) => {
        const position = route.levers?.[id];
        return position === undefined ? '' : position === 'normal' ? 'N' : 'R';
      }),
      why: route.why,
    })),
  };
}
