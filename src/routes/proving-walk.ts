/** A proving run as a row of hops: what it costs, and changes of order that make it cheaper. */
import { IMPROVE_STEPS } from './limits.ts';
import type { Hop } from './proving-legs.ts';

export interface WalkCost {
  readonly reversals: number;
  readonly throws: number;
}

/** Reversals between one hop and the next: 0 goes on, 1 turns back; infinite where they do not meet. */
export function turnsBetween(arrived: number, leaves: number): number {
  return arrived === leaves ? 0 : arrived === (leaves ^ 1) ? 1 : Number.POSITIVE_INFINITY;
}

/** Of hops in a row, from these positions (0 normal); `positions` is left as the run leaves them. */
export function costOf(walk: readonly Hop[], positions: Int8Array): WalkCost {
  let reversals = 0;
  let throws = 0;
  walk.forEach((hop, i) => {
    const before = walk[i - 1];
    if (before !== undefined) reversals += turnsBetween(before.to, hop.from);
    throws += throwFor(hop, positions);
  });
  return { reversals, throws };
}

/** Throws that a hop asks of these positions, which are then so. */
export function throwFor(hop: Hop, positions: Int8Array): number {
  let throws = 0;
  for (const [thrown, position] of hop.needs) {
    if (positions[thrown] === position) continue;
    positions[thrown] = position;
    throws += 1;
  }
  return throws;
}

/** Fewer reversals, then fewer throws. */
export function isCheaper(a: WalkCost, b: WalkCost): boolean {
  return a.reversals < b.reversals || (a.reversals === b.reversals && a.throws < b.throws);
}

/**
 * The same run made cheaper: what takes nothing new is left out at the ends and wherever the train comes back to the same place, and
 * two rounds from one place change order where that saves; until nothing helps, or the count of tries is spent. Takes all that the
 * given run takes.
 */
export function improveWalk(given: readonly Hop[], positions: Int8Array): readonly Hop[] {
  let walk = [...given];
  let cost = costOf(walk, positions.slice());
  let budget = IMPROVE_STEPS;
  const counts = new Map<number, number>();
  for (const hop of walk) for (const passage of hop.takes) counts.set(passage, (counts.get(passage) ?? 0) + 1);

  const offer = (next: Hop[]): boolean => {
    budget -= next.length;
    const found = costOf(next, positions.slice());
    if (!isCheaper(found, cost) && !(next.length < walk.length && !isCheaper(cost, found))) return false;
    walk = next;
    cost = found;
    return true;
  };
  const canSpare = (block: readonly Hop[]): boolean => {
    const taken = new Map<number, number>();
    for (const hop of block) for (const passage of hop.takes) taken.set(passage, (taken.get(passage) ?? 0) + 1);
    return [...taken].every(([passage, times]) => (counts.get(passage) ?? 0) > times);
  };
  const leaveOut = (from: number, to: number): boolean => {
    const block = walk.slice(from, to);
    if (!canSpare(block) || !offer([...walk.slice(0, from), ...walk.slice(to)])) return false;
    for (const hop of block) for (const passage of hop.takes) counts.set(passage, (counts.get(passage) ?? 1) - 1);
    return true;
  };
  /** Where the train stands before each hop, and at the end. */
  const placeBefore = (k: number): number => (walk[k]?.from ?? walk[k - 1]?.to ?? -1) >> 1;

  for (let better = true; better && budget > 0; ) {
    better = false;
    while (leaveOut(walk.length - 1, walk.length) || leaveOut(0, 1)) better = true;
    for (let i = 0; i < walk.length && budget > 0; i++) {
      for (let j = i + 1; j <= walk.length && budget > 0; j++) {
        budget -= 1;
        if (placeBefore(i) !== placeBefore(j)) continue;
        if (leaveOut(i, j)) {
          better = true;
          j = i;
          continue;
        }
        for (let k = j + 1; k <= walk.length && budget > 0; k++) {
          if (placeBefore(k) !== placeBefore(j)) continue;
          const swapped = [...walk.slice(0, i), ...walk.slice(j, k), ...walk.slice(i, j), ...walk.slice(k)];
          if (offer(swapped)) better = true;
        }
      }
    }
  }
  return walk;
}
