/** Losses in the user's own names, for lists on screen and on paper. */
import type { Lever, Plan } from '../plan/index.ts';
import type { Losses } from './find-losses.ts';
import { leverSetter } from './lever-positions.ts';
import type { Route } from './types.ts';

/** A route as one says it. Names where the file gives them, else ids. */
export interface NamedRoute {
  readonly index: number;
  readonly from: string;
  readonly to: string;
  readonly through: readonly string[];
}

export interface NamedLosses {
  /** `why`: what stands against it, in words. */
  readonly routes: readonly (NamedRoute & { readonly why: string | null })[];
  readonly pairs: readonly (readonly [NamedRoute, NamedRoute])[];
  readonly meets: readonly (readonly [NamedRoute, NamedRoute])[];
}

/** The losses of these levers (those of the plan, or others that were tried), in their order, by name: at most so many of each kind. */
export function nameLosses(
  plan: Plan,
  routes: readonly Route[],
  losses: Losses,
  levers: readonly Lever[] = plan.levers,
  most = 100,
): NamedLosses {
  const set = leverSetter({ ...plan, levers });
  const nameOf = new Map(plan.places.map(({ id, name }) => [id, name ?? id]));
  const named = (index: number): NamedRoute => {
    const route = routes[index];
    if (route === undefined) throw new RangeError(`route ${index} of ${routes.length}`);
    const name = (id: string): string => nameOf.get(id) ?? id;
    return { index, from: name(route.from), to: name(route.to), through: route.through.map(name) };
  };
  const both = ([i, j]: readonly [number, number]) => [named(i), named(j)] as const;
  return {
    routes: losses.routes.slice(0, most).map((i) => ({ ...named(i), why: set(routes[i]?.points ?? {}).why })),
    pairs: losses.pairs.slice(0, most).map(both),
    meets: losses.meets.slice(0, most).map(both),
  };
}
