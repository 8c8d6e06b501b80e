/**
 * Rails as a network: pieces of rail that are always joined, what joins them in some lies only, and which bus wire each is on.
 * Idea: a piece runs from gap to gap; stock rails join the outer rails of a body's ways. A live frog is a piece of its own with the rails
 * that run into it, joined to one stock rail or the other by its point's lie. Behind a dead frog each leg's inner rail hangs on its
 * blade: joined while its own leg is set. What is asked of the network is answered by the few pieces that hang on no wire for good.
 */
import type { Lies } from '../panel/index.ts';
import type { Plan, SpanEnd } from '../plan/index.ts';
import type { Millimetre } from '../units/index.ts';
import type { Body } from './bodies.ts';
import { both, implies, liesText } from './lies.ts';
import type { ListedFrog } from './list-frogs.ts';
import { MOST_PATHS, MOST_WAYS } from './tolerances.ts';
import type { Rail } from './types.ts';

/** A cut in one rail. */
export interface Cut {
  readonly span: string;
  readonly rail: Rail;
  readonly along: Millimetre;
}

/** Where two wires reach the rails; a wire by its name: "A", "B", or the two of a reversing section. */
export interface FedSpot {
  readonly span: string;
  readonly along: Millimetre;
  readonly left: string;
  readonly right: string;
}

/** A stretch of a span that no cut interrupts, with the piece of each rail. */
export interface Segment {
  readonly span: string;
  readonly from: Millimetre;
  readonly to: Millimetre;
  readonly left: number;
  readonly right: number;
}

/** What joins two pieces while these lies hold. */
export interface Switched {
  readonly a: number;
  readonly b: number;
  readonly when: Lies;
  /** The frog that does it. */
  readonly frog: string;
}

/** A way in which a piece comes to a wire. */
export interface FedWay {
  readonly wire: string;
  readonly when: Lies;
  readonly frogs: readonly string[];
}

export interface Ways {
  readonly ways: readonly FedWay[];
  /** False where the search was cut. */
  readonly complete: boolean;
}

export interface RailNetwork {
  /** Pieces count from 0. */
  readonly count: number;
  readonly segments: ReadonlyMap<string, readonly Segment[]>;
  readonly switched: readonly Switched[];
  /** Wires by piece: none, one, or more where they are joined for good. */
  readonly wires: readonly (readonly string[])[];
  /** Live frogs by the piece that they are part of. */
  readonly frogPieces: ReadonlyMap<number, readonly string[]>;
  /** The piece at the very end of a span. */
  readonly pieceAt: (end: SpanEnd, rail: Rail) => number;
  /** Every way in which a piece comes to a wire, with further joints that always hold. */
  readonly waysOf: (piece: number, joints?: readonly (readonly [number, number])[]) => Ways;
}

export interface NetworkInput {
  readonly plan: Plan;
  readonly bodies: readonly Body[];
  readonly frogs: readonly ListedFrog[];
  /** What a frog of unknown kind is taken for. */
  readonly unknown: 'live' | 'dead';
  readonly cuts: readonly Cut[];
  readonly feeds: readonly FedSpot[];
}

export function railNetwork({ plan, bodies, frogs, unknown, cuts, feeds }: NetworkInput): RailNetwork {
  const cutsOf = new Map<string, number[]>();
  for (const { span, rail, along } of cuts) {
    const key = `${span} ${rail}`;
    const known = cutsOf.get(key);
    if (known === undefined) cutsOf.set(key, [along]);
    else if (!known.includes(along)) known.push(along);
  }
  /** First node of each rail of each span; its pieces follow, from end 0. */
  const base = new Map<string, number>();
  let nodes = 0;
  for (const { id } of plan.spans)
    for (const rail of ['left', 'right'] as const) {
      const key = `${id} ${rail}`;
      cutsOf.get(key)?.sort((p, q) => p - q);
      base.set(key, nodes);
      nodes += (cutsOf.get(key)?.length ?? 0) + 1;
    }
  const bodyBase = bodies.map((body) => {
    const at = nodes;
    nodes += 2 + body.frogs.length;
    return at;
  });

  const parent = new Int32Array(nodes).map((_, i) => i);
  const root = (node: number): number => {
    let at = node;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at] ?? at] ?? at;
      at = parent[at] ?? at;
    }
    return at;
  };
  const join = (a: number, b: number) => {
    parent[root(a)] = root(b);
  };
  const nodeAt = (span: string, rail: Rail, along: number): number => {
    const key = `${span} ${rail}`;
    const before = (cutsOf.get(key) ?? []).filter((cut) => cut < along).length;
    return (base.get(key) ?? 0) + before;
  };
  const nodeAtEnd = ({ span, end }: SpanEnd, rail: Rail): number => {
    const key = `${span} ${rail}`;
    return (base.get(key) ?? 0) + (end === 0 ? 0 : (cutsOf.get(key)?.length ?? 0));
  };

  const raw: { a: number; b: number; when: Lies; frog: string }[] = [];
  const frogNodes = new Map<number, string>();
  const listed = new Map<Body, Map<number, ListedFrog>>();
  for (const each of frogs) {
    if (each.place === null) continue;
    const known = listed.get(each.place.body) ?? new Map<number, ListedFrog>();
    known.set(each.place.index, each);
    listed.set(each.place.body, known);
  }
  const isLive = (body: Body, index: number): boolean => {
    const kind = listed.get(body)?.get(index)?.frog.kind ?? 'not-said';
    return kind === 'live' || kind === 'module' || (kind === 'not-said' && unknown === 'live');
  };
  bodies.forEach((body, i) => {
    const at = bodyBase[i] ?? 0;
    const stock = (hand: Rail): number => at + (hand === 'left' ? 0 : 1);
    for (const port of body.ports) {
      // Forward runs along the span where it leaves at end 0 or arrives at end 1.
      const along = (port.side === 'out') === (port.leg.end === 0);
      for (const hand of ['left', 'right'] as const) {
        const node = nodeAtEnd(port.leg, along ? hand : hand === 'left' ? 'right' : 'left');
        const to = port[hand];
        if (typeof to === 'string') join(node, stock(to));
        else if (isLive(body, to)) join(node, at + 2 + to);
        else
          raw.push({
            a: node,
            b: stock(hand),
            when: port.asks,
            frog: listed.get(body)?.get(to)?.frog.id ?? '',
          });
      }
    }
    body.frogs.forEach((frog, index) => {
      if (!isLive(body, index)) return;
      const id = listed.get(body)?.get(index)?.frog.id ?? '';
      const node = at + 2 + index;
      frogNodes.set(node, id);
      for (const lie of ['normal', 'reverse'] as const)
        raw.push({ a: node, b: stock(frog[lie]), when: { [frog.toldBy]: lie }, frog: id });
    });
  });

  const pieceOf = new Int32Array(nodes).fill(-1);
  let count = 0;
  for (let node = 0; node < nodes; node++) {
    const at = root(node);
    if (pieceOf[at] === -1) pieceOf[at] = count++;
  }
  const piece = (node: number): number => pieceOf[root(node)] ?? 0;

  const sets: Set<string>[] = Array.from({ length: count }, () => new Set());
  for (const feed of feeds) {
    sets[piece(nodeAt(feed.span, 'left', feed.along))]?.add(feed.left);
    sets[piece(nodeAt(feed.span, 'right', feed.along))]?.add(feed.right);
  }
  const wires = sets.map((set) => [...set].sort());
  const switched = raw
    .map(({ a, b, when, frog }): Switched => ({ a: piece(a), b: piece(b), when, frog }))
    .filter(({ a, b }) => a !== b);
  const near: { to: number; when: Lies; frog: string }[][] = Array.from({ length: count }, () => []);
  for (const { a, b, when, frog } of switched) {
    near[a]?.push({ to: b, when, frog });
    near[b]?.push({ to: a, when, frog });
  }

  const frogPieces = new Map<number, string[]>();
  for (const [node, frog] of frogNodes) frogPieces.set(piece(node), [...(frogPieces.get(piece(node)) ?? []), frog]);

  const segments = new Map<string, readonly Segment[]>();
  for (const { id, length } of plan.spans) {
    const marks = [...(cutsOf.get(`${id} left`) ?? []), ...(cutsOf.get(`${id} right`) ?? [])].sort((p, q) => p - q);
    const edges = [0, ...marks.filter((mark, i) => mark !== marks[i - 1]), length];
    segments.set(
      id,
      edges.slice(1).map((to, i): Segment => {
        const from = edges[i] ?? 0;
        const middle = (from + to) / 2;
        return {
          span: id,
          from,
          to,
          left: piece(nodeAt(id, 'left', middle)),
          right: piece(nodeAt(id, 'right', middle)),
        };
      }),
    );
  }

  return {
    count,
    segments,
    switched,
    wires,
    frogPieces,
    pieceAt: (end, rail) => piece(nodeAtEnd(end, rail)),
    waysOf,
  };

  /** Simple ways over pieces that hang on no wire, their lies taken together; shorter ways that hold whenever a longer one does win. */
  function waysOf(start: number, joints: readonly (readonly [number, number])[] = []): Ways {
    const found: FedWay[] = [];
    let steps = 0;
    const passed = new Set<number>([start]);
    const add = (wire: string, when: Lies, frogs: readonly string[]) => {
      if (found.some((way) => way.wire === wire && implies(when, way.when))) return;
      for (let i = found.length - 1; i >= 0; i--) {
        const way = found[i];
        if (way !== undefined && way.wire === wire && implies(way.when, when)) found.splice(i, 1);
      }
      found.push({ wire, when, frogs });
    };
    for (const wire of wires[start] ?? []) add(wire, {}, []);
    walk(start, {}, []);
    return {
      ways: found.sort((a, b) => compareTexts(a.wire, b.wire) || compareTexts(liesText(a.when), liesText(b.when))),
      complete: steps < MOST_PATHS && found.length < MOST_WAYS,
    };

    function walk(at: number, when: Lies, frogs: readonly string[]): void {
      const over = [
        ...(near[at] ?? []),
        ...joints.flatMap(([p, q]) => (p === at ? [q] : q === at ? [p] : [])).map((to) => ({ to, when: {}, frog: '' })),
      ];
      for (const { to, when: asks, frog } of over) {
        if (passed.has(to) || steps >= MOST_PATHS || found.length >= MOST_WAYS) continue;
        steps++;
        const all = both(when, asks);
        if (all === null) continue;
        const by = frog === '' || frogs.includes(frog) ? frogs : [...frogs, frog];
        const reached = wires[to] ?? [];
        if (reached.length > 0) {
          for (const wire of reached) add(wire, all, by);
          continue;
        }
        passed.add(to);
        walk(to, all, by);
        passed.delete(to);
      }
    }
  }
}

function compareTexts(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Two ways to different wires that hold at once; null where there are none. */
export function conflictOf(ways: readonly FedWay[]): { readonly when: Lies; readonly frogs: readonly string[] } | null {
  for (let i = 0; i < ways.length; i++)
    for (let j = i + 1; j < ways.length; j++) {
      const [a, b] = [ways[i], ways[j]];
      if (a === undefined || b === undefined || a.wire === b.wire) continue;
      const when = both(a.when, b.when);
      if (when !== null) return { when, frogs: [...new Set([...a.frogs, ...b.frogs])] };
    }
  return null;
}
