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
  // From left to right, so that each record looks only at what lies within the widest reach of it.
  const order = things.map((_, i) => i).sort((a, b) => (things[a]?.at[0] ?? 0) - (things[b]?.at[0] ?? 0) || a - b);
  const widest = things.reduce((most, thing) => Math.max(most, recordReach(thing.half)), 0) + SAME_SPOT;
  for (const record of records) {
    let best = -1;
    let least = Infinity;
    const near: number[] = [];
    for (let k = firstFrom(record.at[0] - widest); k < order.length; k++) {
      const i = order[k] ?? -1;
      if ((things[i]?.at[0] ?? Infinity) > record.at[0] + widest) break;
      near.push(i);
    }
    for (const i of near.sort((a, b) => a - b)) {
      const thing = things[i];
      if (thing === undefined) continue;
      const gap = distance(thing.at, record.at);
      if (gap > recordReach(thing.half) + SAME_SPOT) continue;
      // Of things on one spot a record takes one that no other has.
      const nearer = gap < least - SAME_SPOT || (gap <= least + SAME_SPOT && found.has(best) && !found.has(i));
      if (nearer) [best, least] = [i, gap];
    }
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

  /** The first place in the order at or right of x. */
  function firstFrom(x: number): number {
    let low = 0;
    let high = order.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((things[order[middle] ?? -1]?.at[0] ?? Infinity) < x) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}
