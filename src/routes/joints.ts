/** Features as what may be joined at them, and an order in which few spans are cut through. */
import type { Lie } from '../panel/index.ts';
import type { Passage, Plan } from '../plan/index.ts';

/** Passages that touch each other: of one feature, of one span's end, or asking something of one point. */
export interface Joint {
  /** Ends of spans at it, 2 x span + end, rising. */
  readonly ports: readonly number[];
  /** Every set of passages that one route can take here, each a pair of ports; the empty one first. */
  readonly choices: readonly (readonly (readonly [number, number])[])[];
}

/** The joints of a plan, by first passage; and of each port the joint that it is at, -1 at a free end. */
export function jointsOf(plan: Plan): { readonly joints: readonly Joint[]; readonly ends: Int32Array } {
  const spanIndex = new Map(plan.spans.map((span, i) => [span.id, i]));
  const portOf = ({ span, end }: Passage['between'][number]): number => {
    const i = spanIndex.get(span);
    if (i === undefined) throw new RangeError(`no span ${span} among ${plan.spans.length}`);
    return 2 * i + end;
  };
  const parent = plan.passages.map((_, i) => i);
  const root = (i: number): number => {
    let at = i;
    while (parent[at] !== at) at = parent[at] ?? at;
    return at;
  };
  const first = new Map<string, number>();
  plan.passages.forEach(({ feature, between, asks }, i) => {
    const keys = [
      `feature ${feature}`,
      ...between.map((end) => `port ${portOf(end)}`),
      ...Object.keys(asks).map((id) => `point ${id}`),
    ];
    for (const key of keys) {
      const known = first.get(key);
      if (known === undefined) first.set(key, i);
      else {
        const [a, b] = [root(known), root(i)];
        parent[Math.max(a, b)] = Math.min(a, b);
      }
    }
  });
  const members = new Map<number, Passage[]>();
  plan.passages.forEach((passage, i) => {
    const r = root(i);
    const list = members.get(r);
    if (list === undefined) members.set(r, [passage]);
    else list.push(passage);
  });
  const ends = new Int32Array(2 * plan.spans.length).fill(-1);
  const joints = [...members.values()].map((passages, j): Joint => {
    const pairs = passages.map(({ between: [a, b], asks }) => ({ pair: [portOf(a), portOf(b)] as const, asks }));
    const ports = [...new Set(pairs.flatMap(({ pair }) => pair))].sort((a, b) => a - b);
    for (const port of ports) ends[port] = j;
    return { ports, choices: choicesOf(pairs) };
  });
  return { joints, ends };
}

interface Pair {
  readonly pair: readonly [number, number];
  readonly asks: Readonly<Record<string, Lie>>;
}

function choicesOf(pairs: readonly Pair[]): Joint['choices'] {
  const found: (readonly (readonly [number, number])[])[] = [];
  const go = (from: number, taken: readonly Pair[]): void => {
    found.push(taken.map(({ pair }) => pair));
    for (let i = from; i < pairs.length; i++) {
      const next = pairs[i];
      if (next !== undefined && taken.every((each) => agree(each, next))) go(i + 1, [...taken, next]);
    }
  };
  go(0, []);
  return found;
}

function agree(a: Pair, b: Pair): boolean {
  return (
    !a.pair.some((port) => b.pair.includes(port)) &&
    Object.entries(a.asks).every(([id, lie]) => (b.asks[id] ?? lie) === lie)
  );
}

/** Each joint once, neighbours soon after each other: the order, of a few that are tried, that never cuts through more spans than it must. */
export function orderJoints(joints: readonly Joint[], ends: Int32Array): readonly number[] {
  const order: number[] = [];
  const done = new Uint8Array(joints.length);
  joints.forEach((_, j) => {
    if (done[j] === 1) return;
    // From one end of what hangs together, from the other, and from where it was met.
    const far = distancesFrom(joints, ends, j).at(-1) ?? j;
    const other = distancesFrom(joints, ends, far).at(-1) ?? j;
    const tried = [...new Set([j, far, other])].map((start) => orderFrom(joints, ends, start));
    tried.sort((a, b) => a.width - b.width || a.sum - b.sum);
    for (const each of tried[0]?.order ?? []) {
      done[each] = 1;
      order.push(each);
    }
  });
  return order;
}

/** What hangs together with a joint, nearest first. */
function distancesFrom(joints: readonly Joint[], ends: Int32Array, start: number): readonly number[] {
  const seen = new Set([start]);
  for (const j of seen) {
    for (const port of joints[j]?.ports ?? []) {
      const next = ends[port ^ 1] ?? -1;
      if (next >= 0) seen.add(next);
    }
  }
  return [...seen];
}

/** Always next the neighbour that leaves the fewest spans cut through; of several the one that was met first. */
function orderFrom(joints: readonly Joint[], ends: Int32Array, start: number) {
  const order: number[] = [];
  const done = new Set<number>();
  const waiting = new Set([start]);
  let width = 0;
  let widest = 0;
  let sum = 0;
  while (waiting.size > 0) {
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    for (const j of waiting) {
      const change = changeOf(j);
      if (change < least) [best, least] = [j, change];
    }
    waiting.delete(best);
    done.add(best);
    order.push(best);
    width += least;
    widest = Math.max(widest, width);
    sum += width;
    for (const port of joints[best]?.ports ?? []) {
      const next = ends[port ^ 1] ?? -1;
      if (next >= 0 && !done.has(next)) waiting.add(next);
    }
  }
  return { order, width: widest, sum };

  function changeOf(j: number): number {
    let change = 0;
    for (const port of joints[j]?.ports ?? []) {
      const other = ends[port ^ 1] ?? -1;
      if (other >= 0 && other !== j) change += done.has(other) ? -1 : 1;
    }
    return change;
  }
}
