/**
 * Two-ended networks as what stands side by side and what stands one below the other, so that a circuit can be drawn by
 * rule without a line that crosses. Series and parallel are folded until one branch is left (common practice, no source).
 */

/** One thing between two nets; `top` and `bottom` are its own terminals as it stands in the drawing. */
interface Leaf<T> {
  readonly kind: 'leaf';
  readonly what: T;
  /** False where its first terminal is at the top. */
  readonly flipped: boolean;
}
export type Ladder<T> =
  | Leaf<T>
  | { readonly kind: 'series'; readonly parts: readonly Ladder<T>[] }
  | { readonly kind: 'parallel'; readonly parts: readonly Ladder<T>[] };

export interface Branch<T> {
  readonly a: string;
  readonly b: string;
  readonly what: T;
}

interface Folded<T> {
  readonly a: string;
  readonly b: string;
  readonly order: number;
  readonly ladder: Ladder<T>;
}

/** The same seen from its other end. */
export function flip<T>(ladder: Ladder<T>): Ladder<T> {
  switch (ladder.kind) {
    case 'leaf':
      return { ...ladder, flipped: !ladder.flipped };
    case 'series':
      return { kind: 'series', parts: ladder.parts.map(flip).reverse() };
    case 'parallel':
      return { kind: 'parallel', parts: ladder.parts.map(flip) };
  }
}

/** What a drawing takes, in the unit of who draws it: mm in the book, px on the screen. */
export interface LadderSize {
  readonly width: number;
  readonly height: number;
}

/** What a ladder takes where a leaf takes so much, with `bar` of free conductor above and below what stands side by side. */
export function sizeOfLadder<T>(ladder: Ladder<T>, leaf: (what: T) => LadderSize, bar: number): LadderSize {
  if (ladder.kind === 'leaf') return leaf(ladder.what);
  const inner = ladder.parts.map((part) => sizeOfLadder(part, leaf, bar));
  const [widths, heights] = [inner.map(({ width }) => width), inner.map(({ height }) => height)];
  return ladder.kind === 'series'
    ? { width: Math.max(...widths), height: sum(heights) }
    : { width: sum(widths), height: Math.max(...heights) + 2 * bar };
}

const sum = (numbers: readonly number[]): number => numbers.reduce((total, each) => total + each, 0);

function parts<T>(kind: 'series' | 'parallel', ladder: Ladder<T>): readonly Ladder<T>[] {
  return ladder.kind === kind ? ladder.parts : [ladder];
}

/**
 * The network between `top` and `bottom`, top first, side by side in the order of `branches`. Null where it is no such
 * network: bridged, open, or with loose ends; an empty list where nothing stands between them.
 */
export function foldLadder<T>(
  branches: readonly Branch<T>[],
  top: string,
  bottom: string,
): readonly Ladder<T>[] | null {
  let edges: Folded<T>[] = branches.map((branch, order) => ({
    a: branch.a,
    b: branch.b,
    order,
    ladder: { kind: 'leaf', what: branch.what, flipped: false },
  }));
  const turned = (edge: Folded<T>, from: string): Folded<T> =>
    edge.a === from ? edge : { ...edge, a: edge.b, b: edge.a, ladder: flip(edge.ladder) };

  for (let folding = true; folding; ) {
    folding = false;
    // Inside the network what is side by side becomes one; between the rails each stays a column of its own.
    const seen = new Map<string, Folded<T>>();
    const after: Folded<T>[] = [];
    for (const edge of edges) {
      const ends = [edge.a, edge.b].sort();
      const rails = ends.includes(top) && ends.includes(bottom);
      const key = ends.join(' ');
      const first = rails ? undefined : seen.get(key);
      if (first === undefined) {
        seen.set(key, edge);
        after.push(edge);
        continue;
      }
      const same = turned(edge, first.a);
      const joined: Folded<T> = {
        ...first,
        ladder: { kind: 'parallel', parts: [...parts('parallel', first.ladder), ...parts('parallel', same.ladder)] },
      };
      after[after.indexOf(first)] = joined;
      seen.set(key, joined);
      folding = true;
    }
    edges = after;

    const degree = new Map<string, Folded<T>[]>();
    for (const edge of edges) for (const end of [edge.a, edge.b]) degree.set(end, [...(degree.get(end) ?? []), edge]);
    for (const [net, at] of degree) {
      const [one, other] = at;
      if (net === top || net === bottom || at.length !== 2 || one === undefined || other === undefined || one === other)
        continue;
      const upper = turned(one, one.a === net ? one.b : one.a);
      const lower = turned(other, net);
      const joined: Folded<T> = {
        a: upper.a,
        b: lower.b,
        order: Math.min(upper.order, lower.order),
        ladder: { kind: 'series', parts: [...parts('series', upper.ladder), ...parts('series', lower.ladder)] },
      };
      edges = edges.filter((edge) => edge !== one && edge !== other).concat(joined);
      folding = true;
      break;
    }
    edges.sort((x, y) => x.order - y.order);
  }
  const columns = edges.map((edge) => turned(edge, top));
  if (columns.some((edge) => edge.a !== top || edge.b !== bottom)) return null;
  return columns.map((edge) => edge.ladder);
}
