/**
 * Which routes can stand at once, a set for each route, without listing the pairs.
 * Routes that hold a lie, a crossing or a span stand in one set each; what fouls a route is the union of a few of these, and all others can
 * stand beside it. Cost: routes, by what each holds, by routes / 32.
 */
import { addAll, addBit, type BitSet, bitSet } from './bit-sets.ts';
import { keysOf } from './find-conflicts.ts';
import type { Route } from './types.ts';

/**
 * A function that gives the routes that can stand beside route i, by their places in the list, i itself not among them. The set is
 * made anew at each call. The same pairs as `findConflicts` leaves out.
 */
export function standingTogether(routes: readonly Route[]): (i: number) => BitSet {
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
  const beyond = routes.length & 31;
  return (i) => {
    const route = routes[i];
    if (route === undefined) throw new RangeError(`route ${i} of ${routes.length}`);
    const set = bitSet(routes.length);
    addBit(set, i);
    for (const key of keysOf(route, true)) {
      const held = holders.get(key);
      if (held !== undefined) addAll(set, held);
    }
    for (let w = 0; w < set.length; w++) set[w] = ~(set[w] ?? 0);
    // No numbers past the end of the list.
    if (beyond !== 0) set[set.length - 1] = (set[set.length - 1] ?? 0) & ((1 << beyond) - 1);
    return set;
  };
}
