/**
 * A proving run hop by hop: always on to the nearest hop that takes something new, by reversals, then throws, then what it takes.
 * Cost: passages x hops. No promise but that it takes all that can be taken from where it begins.
 */
import { LeastFirst } from './moves-queue.ts';
import type { Hop } from './proving-legs.ts';
import { throwFor } from './proving-walk.ts';

/** From a stand, with these positions at first. */
export function greedyWalk(hops: readonly Hop[], start: number, positions: Int8Array): readonly Hop[] {
  const leaving = new Map<number, Hop[]>();
  for (const hop of hops) {
    const known = leaving.get(hop.from);
    if (known === undefined) leaving.set(hop.from, [hop]);
    else known.push(hop);
  }
  const left = new Set(hops.flatMap(({ takes }) => takes));
  const lie = positions.slice();
  const walk: Hop[] = [];
  let stand = start;
  while (left.size > 0) {
    const way = nearestNew(leaving, stand, lie, left, walk.length === 0);
    if (way === null) break;
    for (const hop of way) {
      throwFor(hop, lie);
      for (const passage of hop.takes) left.delete(passage);
      walk.push(hop);
      stand = hop.to;
    }
  }
  return walk;
}

interface Reached {
  readonly stand: number;
  readonly hop: Hop | null;
  readonly by: Reached | null;
}

/** Hops to, and with, the nearest that takes something new; null where there is none. */
function nearestNew(
  leaving: ReadonlyMap<number, readonly Hop[]>,
  start: number,
  lie: Int8Array,
  left: ReadonlySet<number>,
  fresh: boolean,
): readonly Hop[] | null {
  const queue = new LeastFirst<{ readonly reached: Reached; readonly done: boolean }>();
  const seen = new Set<number>();
  const put = (reached: Reached, cost: readonly number[]) => queue.put(cost, { reached, done: false });
  const first: Reached = { stand: start, hop: null, by: null };
  put(first, [0, 0, 0]);
  if (fresh) put({ stand: start ^ 1, hop: null, by: null }, [0, 0, 0]);
  for (let next = queue.take(); next !== undefined; next = queue.take()) {
    const { reached, done } = next.item;
    const [reversals = 0, throws = 0] = next.cost;
    if (done) {
      const way: Hop[] = [];
      for (let each: Reached | null = reached; each !== null; each = each.by)
        if (each.hop !== null) way.unshift(each.hop);
      return way;
    }
    if (seen.has(reached.stand)) continue;
    seen.add(reached.stand);
    put({ stand: reached.stand ^ 1, hop: null, by: reached }, [reversals + 1, throws, 0]);
    for (const hop of leaving.get(reached.stand) ?? []) {
      const fresh = hop.takes.filter((passage) => left.has(passage)).length;
      const more = hop.needs.filter(([thrown, position]) => lie[thrown] !== position).length;
      const on: Reached = { stand: hop.to, hop, by: reached };
      if (fresh > 0) queue.put([reversals, throws + more, -fresh], { reached: on, done: true });
      else put(on, [reversals, throws + more, 0]);
    }
  }
  return null;
}
