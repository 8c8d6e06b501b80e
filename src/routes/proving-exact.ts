/**
 * The cheapest proving run of a small plan.
 * Idea: a state is where the train stands, what it has taken and how everything lies; best first by reversals, then throws, with a throw
 * still to come for each lever that something not yet taken needs otherwise (never too much: A*). Begins anywhere. Cost: stands x 2 to
 * the number of passages x 2 to the number of levers at worst; capped.
 */
import { EXACT_PASSAGES, EXACT_STATES } from './limits.ts';
import { compareCosts, LeastFirst } from './moves-queue.ts';
import type { Hop } from './proving-legs.ts';
import type { WalkCost } from './proving-walk.ts';

interface Label {
  readonly stand: number;
  readonly taken: number;
  readonly lie: number;
  readonly reversals: number;
  readonly throws: number;
  readonly hop: Hop | null;
  readonly by: Label | null;
}

/**
 * The cheapest run, where it costs less than `known`; `known` where none does; null where the plan is too large or the cap ended the
 * search. `needs` says what each passage alone needs.
 */
export function exactWalk(
  hops: readonly Hop[],
  needs: (passage: number) => readonly (readonly [number, number])[],
  positions: Int8Array,
  known: WalkCost,
): readonly Hop[] | 'known' | null {
  const passages = [...new Set(hops.flatMap(({ takes }) => takes))].sort((a, b) => a - b);
  const thrown = [...new Set(hops.flatMap((hop) => hop.needs.map(([key]) => key)))].sort((a, b) => a - b);
  if (passages.length > EXACT_PASSAGES || thrown.length > EXACT_PASSAGES) return null;
  const all = (1 << passages.length) - 1;
  const bit = (list: readonly number[], value: number) => 1 << list.indexOf(value);
  const moves = hops.map((hop) => ({
    hop,
    takes: hop.takes.reduce((mask, passage) => mask | bit(passages, passage), 0),
    asked: hop.needs.reduce((mask, [key]) => mask | bit(thrown, key), 0),
    lie: hop.needs.reduce((mask, [key, position]) => mask | (position === 1 ? bit(thrown, key) : 0), 0),
  }));
  /** By lever: passages that need it normal, and reverse. */
  const wants = thrown.map((key) =>
    [0, 1].map((position) =>
      passages.reduce(
        (mask, passage, i) => (needs(passage).some(([k, p]) => k === key && p === position) ? mask | (1 << i) : mask),
        0,
      ),
    ),
  );
  const toCome = (taken: number, lie: number): number =>
    wants.filter((want, i) => ((want[(lie >> i) & 1 ? 0 : 1] ?? 0) & ~taken) !== 0).length;

  const queue = new LeastFirst<Label>();
  const done = new Set<string>();
  const bound = [known.reversals, known.throws];
  const put = (label: Label) => {
    const cost = [label.reversals, label.throws + toCome(label.taken, label.lie)];
    if (compareCosts(cost, bound) < 0) queue.put(cost, label);
  };
  const lie = thrown.reduce((mask, key, i) => (positions[key] === 1 ? mask | (1 << i) : mask), 0);
  const stands = [...new Set(hops.map(({ from }) => from))].sort((a, b) => a - b);
  for (const stand of stands) put({ stand, taken: 0, lie, reversals: 0, throws: 0, hop: null, by: null });
  for (let next = queue.take(); next !== undefined; next = queue.take()) {
    const label = next.item;
    if (label.taken === all) {
      const walk: Hop[] = [];
      for (let each: Label | null = label; each !== null; each = each.by) if (each.hop !== null) walk.unshift(each.hop);
      return walk;
    }
    const key = `${label.stand} ${label.taken} ${label.lie}`;
    if (done.has(key)) continue;
    done.add(key);
    if (done.size > EXACT_STATES) return null;
    put({ ...label, stand: label.stand ^ 1, reversals: label.reversals + 1, hop: null, by: label });
    for (const move of moves) {
      if (move.hop.from !== label.stand) continue;
      const after = (label.lie & ~move.asked) | move.lie;
      put({
        stand: move.hop.to,
        taken: label.taken | move.takes,
        lie: after,
        reversals: label.reversals,
        throws: label.throws + ones(after ^ label.lie),
        hop: move.hop,
        by: label,
      });
    }
  }
  return 'known';
}

function ones(word: number): number {
  let count = 0;
  for (let rest = word; rest !== 0; rest &= rest - 1) count += 1;
  return count;
}
