/**
 * Reversing sections: the fewest spans to feed through something that changes their two rails over.
 * Idea: every span and every body has one of two states, "my left rail is on A" or "on B"; where a span meets a body the two states are
 * tied, equal or opposite. A loop of track whose ties contradict brings left rail to right. With bodies as knots and spans as edges this
 * is a signed graph, and the fewest edges that hit every contradicting loop are its frustration index (Harary 1959; Abelson and
 * Rosenberg 1958). Hard in general, so: take the shortest contradicting loop, branch on its spans, one more section a round, beginning
 * with as many as there are loops that have no span in common, and leaving a branch where such loops are more than what is left.
 * Cost: loop length^sections; cut at `MOST_SECTION_STEPS`, then the spans that a spanning tree contradicts stand, and that is said.
 */
import { byId, type Plan, type Span } from '../plan/index.ts';
import type { Millimetre } from '../units/index.ts';
import { type Body, railOfSpan } from './bodies.ts';
import { MOST_CHOICES, MOST_SECTION_STEPS, SAME_LENGTH } from './tolerances.ts';

/** A span between two bodies (which may be one), and whether it ties their states equal or opposite. */
interface Edge {
  readonly span: Span;
  readonly a: number;
  readonly b: number;
  readonly odd: boolean;
}

export interface ChosenSections {
  /** Ids of spans, in the order of the plan. */
  readonly spans: readonly string[];
  readonly proved: boolean;
}

/** Spans that the file cuts in both rails, and how often. */
export type BothCuts = ReadonlyMap<string, number>;

/**
 * `longest`: the train that each should hold, on the layout; null where none has a length. Of sets equally few the one that the file
 * has cut stands, then the one that holds the longest train, as far as lengths are known; tape is asked only to break ties.
 */
export function findSections(
  plan: Plan,
  bodies: readonly Body[],
  longest: Millimetre | null,
  cuts: BothCuts,
): ChosenSections {
  const edges = edgesOf(plan, bodies);
  const effort = { steps: 0 };
  const sets = new Map<string, readonly number[]>();
  let proved = true;

  for (let size = apart(new Set(), edges.length); ; size++) {
    if (search(new Set(), size)) break;
    if (effort.steps >= MOST_SECTION_STEPS) {
      proved = false;
      const found = contradicted(bodies.length, edges);
      sets.set(found.join(' '), found);
      break;
    }
  }
  const best = [...sets.values()].sort(better)[0] ?? [];
  return { spans: best.map((i) => edges[i]?.span.id ?? ''), proved };

  /** Loops without a span in common, found greedily up to one more than `most`: each wants a section of its own. */
  function apart(taken: ReadonlySet<number>, most: number): number {
    const passed = new Set(taken);
    for (let count = 0; ; count++) {
      const loop = count > most ? null : shortestOddLoop(bodies.length, edges, passed, effort);
      if (loop === null) return count;
      for (const edge of loop) passed.add(edge);
    }
  }

  /** Every set of `left` more spans that hits all loops; true where there is one. */
  function search(taken: Set<number>, left: number): boolean {
    if (effort.steps >= MOST_SECTION_STEPS || sets.size >= MOST_CHOICES) return sets.size > 0;
    const loop = shortestOddLoop(bodies.length, edges, taken, effort);
    if (loop === null) {
      const found = [...taken].sort((p, q) => p - q);
      sets.set(found.join(' '), found);
      return true;
    }
    if (apart(taken, left) > left) return false;
    let any = false;
    // The best first: where there are too many sets to compare, the first ones stand.
    for (const edge of [...loop].sort((p, q) => better([p], [q]))) {
      taken.add(edge);
      any = search(taken, left - 1) || any;
      taken.delete(edge);
    }
    return any;
  }

  function better(a: readonly number[], b: readonly number[]): number {
    const spans = (set: readonly number[]) => set.flatMap((i) => edges[i]?.span ?? []);
    const [one, two] = [spans(a), spans(b)];
    const short = (list: readonly Span[]) =>
      list.filter(({ layoutLength }) => layoutLength !== null && longest !== null && layoutLength < longest).length;
    const known = (list: readonly Span[]) => list.filter(({ layoutLength }) => layoutLength !== null).length;
    const least = (list: readonly Span[], of: (span: Span) => number) => Math.min(...list.map(of));
    const cut = (list: readonly Span[]) => list.filter(({ id }) => (cuts.get(id) ?? 0) > 1).length;
    return (
      cut(two) - cut(one) ||
      short(one) - short(two) ||
      known(two) - known(one) ||
      compare(
        least(two, (span) => span.layoutLength ?? 0),
        least(one, (span) => span.layoutLength ?? 0),
      ) ||
      compare(
        least(two, (span) => span.length),
        least(one, (span) => span.length),
      ) ||
      byId(one.map(({ id }) => id).join(' '), two.map(({ id }) => id).join(' '))
    );
  }
}

function compare(a: number, b: number): number {
  return Math.abs(a - b) < SAME_LENGTH ? 0 : a - b;
}

/** Does every loop that contradicts itself pass at least two of the file's cuts through both rails? */
export function everyLoopIsCut(plan: Plan, bodies: readonly Body[], cuts: BothCuts): boolean {
  const edges = edgesOf(plan, bodies);
  const cut = edges.flatMap(({ span }, i) => ((cuts.get(span.id) ?? 0) > 0 ? [i] : []));
  // A loop with one cut alone shows when that cut is taken for mended.
  const mended = cut.filter((i) => cuts.get(edges[i]?.span.id ?? '') === 1);
  return [null, ...mended].every((back) => {
    const taken = new Set(cut.filter((i) => i !== back));
    return shortestOddLoop(bodies.length, edges, taken, { steps: 0 }) === null;
  });
}

/** Spans with a body at both ends, in the order of the plan. */
function edgesOf(plan: Plan, bodies: readonly Body[]): readonly Edge[] {
  const ends = new Map<string, { body: number; flips: boolean }[]>();
  bodies.forEach((body, i) => {
    for (const port of body.ports) {
      const at = { body: i, flips: railOfSpan(port, 'left') === 'right' };
      const known = ends.get(port.leg.span);
      if (known === undefined) ends.set(port.leg.span, [at]);
      else known.push(at);
    }
  });
  return plan.spans.flatMap((span): readonly Edge[] => {
    const [a, b] = ends.get(span.id) ?? [];
    return a === undefined || b === undefined ? [] : [{ span, a: a.body, b: b.body, odd: a.flips !== b.flips }];
  });
}

/** Edges of a shortest loop that contradicts itself, without those taken; null where there is none. */
function shortestOddLoop(
  count: number,
  edges: readonly Edge[],
  taken: ReadonlySet<number>,
  effort: { steps: number },
): readonly number[] | null {
  const near: { edge: number; to: number; odd: boolean }[][] = Array.from({ length: count }, () => []);
  edges.forEach(({ a, b, odd }, i) => {
    if (taken.has(i)) return;
    near[a]?.push({ edge: i, to: b, odd });
    if (a !== b) near[b]?.push({ edge: i, to: a, odd });
  });
  const alone = edges.findIndex(({ a, b, odd }, i) => a === b && odd && !taken.has(i));
  if (alone >= 0) return [alone];
  const contradicted = componentsThatContradict(count, near);
  let best: readonly number[] | null = null;
  // Twice the knots, one for each state: a shortest way from a knot to its own other state is a shortest such loop through it.
  for (let start = 0; start < count; start++) {
    // Loops of one span have been looked for: none is shorter than two.
    if (best !== null && best.length === 2) break;
    if (!contradicted.has(start)) continue;
    const came = new Map<number, { from: number; edge: number; far: number }>();
    const queue = [start * 2];
    came.set(start * 2, { from: -1, edge: -1, far: 0 });
    for (let head = 0; head < queue.length; head++) {
      effort.steps++;
      const at = queue[head] ?? 0;
      const far = (came.get(at)?.far ?? 0) + 1;
      if (best !== null && far >= best.length) break;
      for (const { edge, to, odd } of near[at >> 1] ?? []) {
        const next = to * 2 + ((at & 1) ^ (odd ? 1 : 0));
        if (came.has(next)) continue;
        came.set(next, { from: at, edge, far });
        queue.push(next);
      }
    }
    const goal = came.get(start * 2 + 1);
    if (goal === undefined || (best !== null && goal.far >= best.length)) continue;
    const loop: number[] = [];
    for (let at = start * 2 + 1; at !== start * 2; at = came.get(at)?.from ?? start * 2)
      loop.push(came.get(at)?.edge ?? 0);
    best = loop;
  }
  // A way that passes an edge twice contradicts without it as well: what is left of it is shorter and would have been found.
  return best === null ? null : [...new Set(best)].sort((p, q) => p - q);
}

/** Knots of pieces that hold a contradicting loop. */
function componentsThatContradict(
  count: number,
  near: readonly (readonly { to: number; odd: boolean }[])[],
): ReadonlySet<number> {
  const state = new Int8Array(count).fill(-1);
  const found = new Set<number>();
  for (let start = 0; start < count; start++) {
    if (state[start] !== -1) continue;
    const piece = [start];
    state[start] = 0;
    let bad = false;
    for (let head = 0; head < piece.length; head++) {
      const at = piece[head] ?? 0;
      for (const { to, odd } of near[at] ?? []) {
        const wanted = (state[at] ?? 0) ^ (odd ? 1 : 0);
        if (state[to] === -1) {
          state[to] = wanted;
          piece.push(to);
        } else if (state[to] !== wanted) bad = true;
      }
    }
    if (bad) for (const knot of piece) found.add(knot);
  }
  return found;
}

/** Spans that a spanning tree, grown in order, contradicts: hits every loop, seldom the fewest. */
function contradicted(count: number, edges: readonly Edge[]): readonly number[] {
  const parent = new Int32Array(count).map((_, i) => i);
  const flip = new Uint8Array(count);
  const root = (knot: number): { at: number; odd: number } => {
    let [at, odd] = [knot, 0];
    while (parent[at] !== at) {
      odd ^= flip[at] ?? 0;
      at = parent[at] ?? at;
    }
    return { at, odd };
  };
  // The longest are left for last: they are the ones to make sections of.
  const order = edges
    .map((_, i) => i)
    .sort((p, q) => (edges[p]?.span.length ?? 0) - (edges[q]?.span.length ?? 0) || p - q);
  const found: number[] = [];
  for (const i of order) {
    const edge = edges[i];
    if (edge === undefined) continue;
    const [a, b] = [root(edge.a), root(edge.b)];
    const odd = a.odd ^ b.odd ^ (edge.odd ? 1 : 0);
    if (a.at !== b.at) {
      parent[a.at] = b.at;
      flip[a.at] = odd;
    } else if (odd === 1) found.push(i);
  }
  return found.sort((p, q) => p - q);
}
