/** Routes by what they ask of levers, as sets. */
import type { Lever, Plan } from '../plan/index.ts';
import { addAll, addBit, type BitSet, bitSet } from './bit-sets.ts';
import { leverSetter } from './lever-positions.ts';
import type { Route } from './types.ts';

export interface LeverSets {
  /** By route: the positions that it asks; null where the levers cannot set it. */
  readonly positions: readonly Route['levers'][];
  readonly settable: BitSet;
  /** Settable routes that ask this position, by lever. */
  readonly asking: ReadonlyMap<string, { readonly normal: BitSet; readonly reverse: BitSet }>;
  /**
   * Settable routes that ask the other position of a lever that route i asks something of; null where there can be none that could stand
   * beside it: two that can agree in every point, so that only a lever of two points or more comes between them.
   */
  readonly contrary: (i: number) => BitSet | null;
}

/** What levers, those of the plan or others in their place, make of a list of routes. */
export function leverSets(plan: Plan, routes: readonly Route[], levers: readonly Lever[]): LeverSets {
  const set = leverSetter({ ...plan, levers });
  const positions = routes.map((route) => set(route.points).levers);
  const settable = bitSet(routes.length);
  const asking = new Map(
    levers.map(({ id }) => [id, { normal: bitSet(routes.length), reverse: bitSet(routes.length) }]),
  );
  positions.forEach((asked, i) => {
    if (asked === null) return;
    addBit(settable, i);
    for (const [lever, position] of Object.entries(asked)) {
      const sets = asking.get(lever);
      if (sets !== undefined) addBit(sets[position], i);
    }
  });
  const shared = new Set(levers.filter(({ works }) => works.length > 1).map(({ id }) => id));
  const contrary = (i: number): BitSet | null => {
    let found: BitSet | null = null;
    for (const [lever, position] of Object.entries(positions[i] ?? {})) {
      const others = shared.has(lever) ? asking.get(lever)?.[position === 'normal' ? 'reverse' : 'normal'] : undefined;
      if (others === undefined) continue;
      found ??= bitSet(routes.length);
      addAll(found, others);
    }
    return found;
  };
  return { positions, settable, asking, contrary };
}

/** Routes with free ends at both ends. */
export function endToEndOf(plan: Plan, routes: readonly Route[]): BitSet {
  const ends = new Set(plan.places.filter(({ kind }) => kind === 'end').map(({ id }) => id));
  const set = bitSet(routes.length);
  routes.forEach((route, i) => {
    if (ends.has(route.from) && ends.has(route.to)) addBit(set, i);
  });
  return set;
}
