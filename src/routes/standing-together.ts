/**
 * Which routes can stand at once and which foul each other, a set for each route, without listing the pairs.
 * Routes that hold a lie, a crossing or a span stand in one set each; what fouls a route is the union of a few of these, and all others can
 * stand beside it. Cost: routes, by what each holds, by routes / 32.
 */
import type { Lie } from '../panel/index.ts';
import { addAll, addBit, type BitSet, bitSet } from './bit-sets.ts';
import type { Route } from './types.ts';

/**
 * A function that gives the routes that cannot stand beside route i, by their places in the list: i itself too, with which it has its
 * spans in common. The set is made anew at each call.
 */
export function foulingSets(routes: readonly Route[]): (i: number) => BitSet {
  const holders = new Map<string, BitSet>();
  routes.forEach((route, i) => {
    for (const key of keysOf(route, false)) {
      let set = holders.get(key);
      if (set === undefined) {
        set = bitSet(routes.length);
        holders.set(key, set);
      }
      addBit(set, i);
    }
  });
  return (i) => {
    const route = routes[i];
    if (route === undefined) throw new RangeError(`route ${i} of ${routes.length}`);
    const set = bitSet(routes.length);
    addBit(set, i);
    for (const key of keysOf(route, true)) {
      const held = holders.get(key);
      if (held !== undefined) addAll(set, held);
    }
    return set;
  };
}

/**
 * A function that gives the routes that can stand beside route i, by their places in the list, i itself not among them. The set is
 * made anew at each call. The same pairs as `findConflicts` leaves out.
 */
export function standingTogether(routes: readonly Route[]): (i: number) => BitSet {
  const fouling = foulingSets(routes);
  const beyond = routes.length & 31;
  return (i) => {
    const set = fouling(i);
    for (let w = 0; w < set.length; w++) set[w] = ~(set[w] ?? 0);
    // No numbers past the end of the list.
    if (beyond !== 0) set[set.length - 1] = (set[set.length - 1] ?? 0) & ((1 << beyond) - 1);
    return set;
  };
}

/** What a route holds, or what would foul it: the same but for the lies of points, which are the other ones. */
function keysOf(route: Route, fouls: boolean): readonly string[] {
  const held = (lie: Lie): Lie => (fouls === (lie === 'normal') ? 'reverse' : 'normal');
  return [
    ...Object.entries(route.points).map(([id, lie]) => `point ${id} ${held(lie)}`),
    ...new Set(route.crossings.map((id) => `crossing ${id}`)),
    ...route.spans.map((id) => `span ${id}`),
  ];
}
