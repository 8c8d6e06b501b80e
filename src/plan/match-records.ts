/** Which record of the file speaks of which inferred thing. */
import type { Millimetre, Spot } from '../units/index.ts';
import { distance } from './line.ts';
import { RECORD_REACH, SAME_SPOT } from './tolerances.ts';
import type { PlanProblem } from './types.ts';

interface Placed {
  readonly id: string;
  readonly at: Spot;
}

interface Inferred {
  readonly at: Spot;
  /** Half the width of the tape that is met. */
  readonly half: Millimetre;
}

/** How far a record may lie from what it names. */
export function recordReach(half: Millimetre): Millimetre {
  return half + RECORD_REACH;
}

/**
 * For each inferred thing the first record of the file that finds it: the thing nearest its `at` within half the tape's width plus
 * 10 mm; of two equally near the first in the list that has no record yet. Records that find none, or one that is taken, are problems.
 */
export function matchRecords<R extends Placed>(
  kind: 'place' | 'point' | 'crossing' | 'threeWay',
  records: readonly R[],
  things: readonly Inferred[],
  reach: Millimetre,
): { readonly found: ReadonlyMap<number, R>; readonly problems: readonly PlanProblem[] } {
  const found = new Map<number, R>();
  const sharers = new Map<number, string[]>();
  const problems: PlanProblem[] = [];
  for (const record of records) {
    let best = -1;
    let least = Infinity;
    things.forEach((thing, i) => {
      const gap = distance(thing.at, record.at);
      if (gap > recordReach(thing.half) + SAME_SPOT) return;
      // Of things on one spot a record takes one that no other has.
      const nearer = gap < least - SAME_SPOT || (gap <= least + SAME_SPOT && found.has(best) && !found.has(i));
      if (nearer) [best, least] = [i, gap];
    });
    const first = found.get(best);
    if (best < 0) problems.push({ code: 'record-finds-nothing', kind, id: record.id, at: record.at, reach });
    else if (first === undefined) found.set(best, record);
    else sharers.set(best, [...(sharers.get(best) ?? [first.id]), record.id]);
  }
  for (const [i, ids] of sharers) {
    const at = things[i]?.at;
    if (at !== undefined) problems.push({ code: 'records-on-one', kind, ids, at });
  }
  return { found, problems };
}
