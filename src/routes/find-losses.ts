/**
 * What a grouping of levers loses: routes that it cannot set, and pairs that could stand together on the track and that it cannot set
 * together, though it can set each of the two.
 * Two routes that can stand at once agree in every point, so that only a lever that works two points or more can come between them. For
 * each route the set of those that can stand beside it is met with those that ask the other position of one of its levers. Cost: routes,
 * by what each holds, by routes / 32, and what is lost; pairs that are not lost are never listed.
 */
import type { Lever, Plan } from '../plan/index.ts';
import { eachBit, hasBit, keepOnly } from './bit-sets.ts';
import { endToEndOf, leverSets } from './lever-sets.ts';
import { MOST_LOST } from './limits.ts';
import { standingTogether } from './standing-together.ts';
import type { Route } from './types.ts';

/** Routes count from 0 in the list that was asked about; pairs have i < j and stand by i, then j. */
export interface Losses {
  /** Those that the levers cannot set. */
  readonly routes: readonly number[];
  /** Both end to end. */
  readonly pairs: readonly (readonly [i: number, j: number])[];
  /** One of the two, or both, ends at a road. */
  readonly meets: readonly (readonly [i: number, j: number])[];
  /** How many there are of each, listed or not. */
  readonly counts: { readonly routes: number; readonly pairs: number; readonly meets: number };
  /** True where more pairs or meets are lost than are listed: `MOST_LOST` of each, the first by i, then j. */
  readonly cut: boolean;
}

/**
 * What is lost of a list of routes, by the levers of the plan or by others that are tried in their place; pairs are those within the
 * list. At most so many pairs and so many meets are listed; all are counted.
 */
export function findLosses(
  plan: Plan,
  routes: readonly Route[],
  levers: readonly Lever[] = plan.levers,
  most: number = MOST_LOST,
): Losses {
  const { positions, contrary } = leverSets(plan, routes, levers);
  const endToEnd = endToEndOf(plan, routes);
  const together = standingTogether(routes);
  const lost: number[] = [];
  const pairs: (readonly [number, number])[] = [];
  const meets: (readonly [number, number])[] = [];
  const counts = { routes: 0, pairs: 0, meets: 0 };
  positions.forEach((asked, i) => {
    if (asked === null) {
      lost.push(i);
      return;
    }
    const against = contrary(i);
    if (against === null) return;
    keepOnly(against, together(i));
    const isThrough = hasBit(endToEnd, i);
    eachBit(against, i + 1, (j) => {
      const through = isThrough && hasBit(endToEnd, j);
      const list = through ? pairs : meets;
      counts[through ? 'pairs' : 'meets']++;
      if (list.length < most) list.push([i, j]);
    });
  });
  counts.routes = lost.length;
  return { routes: lost, pairs, meets, counts, cut: pairs.length < counts.pairs || meets.length < counts.meets };
}
