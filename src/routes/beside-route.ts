/**
 * What can stand beside one route, with what has to be thrown for it, and what cannot, with the reason.
 * Idea: routes that foul it on the track come from the sets that `findConflicts` goes by, and only of those the reason is looked for; of the
 * rest a lever that would have to lie both ways. Cost: routes, by what each holds.
 */
import { eachBit } from './bit-sets.ts';
import { findConflicts } from './find-conflicts.ts';
import { leverBothWays } from './lever-both-ways.ts';
import { foulingSets } from './standing-together.ts';
import type { Route } from './types.ts';

/** Another route against the one that is asked about. */
export interface Beside {
  /** Its place in the list. */
  readonly route: number;
  /** `point:P4`, `crossing:X1`, `span:P1/E1`, `lever:L4` (it would have to lie both ways); null: both can stand at once. */
  readonly reason: string | null;
}

/** All other routes of the list, in its order, against route i. Throws where there is no route i. */
export function besideRoute(routes: readonly Route[], i: number): readonly Beside[] {
  const route = routes[i];
  if (route === undefined) throw new RangeError(`route ${i} of ${routes.length}`);
  const fouled = new Set<number>();
  eachBit(foulingSets(routes)(i), 0, (j) => fouled.add(j));
  return routes.flatMap((other, j): readonly Beside[] => {
    if (j === i) return [];
    const reason = fouled.has(j) ? (findConflicts([route, other])[0]?.[2] ?? null) : leverBothWays(route, other);
    return [{ route: j, reason }];
  });
}
