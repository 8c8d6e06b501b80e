/**
 * Rails in one lie of every point, slowly and another way: from the directions of tracks on the face alone. Nothing of `src/track` is
 * used but its answer's own lists. Nodes are texts; a flood says which are joined.
 */
import type { Lie } from '../../src/panel/index.ts';
import type { Plan, PlanPoint, Span, SpanEnd } from '../../src/plan/index.ts';

type Spot = readonly [number, number];
export type Lies = Readonly<Record<string, Lie>>;
export interface OneCut {
  readonly span: string;
  /** Seen from end 0 to end 1. */
  readonly rail: 'left' | 'right';
  readonly along: number;
}
export interface OneFeed {
  readonly span: string;
  readonly along: number;
  readonly left: string;
  readonly right: string;
}

/** Unit direction of a span away from its end. */
export function away(span: Span, end: 0 | 1): Spot {
  const path = end === 0 ? span.path : [...span.path].reverse();
  const [a = [0, 0], b = [0, 0]] = path;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
}

export const spanOf = (plan: Plan, id: string): Span => {
  const span = plan.spans.find((each) => each.id === id);
  if (span === undefined) throw new Error(`no span ${id}`);
  return span;
};

/** Every setting of the points. */
export function everyLies(points: readonly string[]): readonly Lies[] {
  return Array.from({ length: 2 ** points.length }, (_, bits) =>
    Object.fromEntries(points.map((id, i) => [id, (bits >> i) & 1 ? 'reverse' : 'normal'] as const)),
  );
}

/** Wires that each rail of each span hangs on, at a spot, in one setting. `kindOf` a frog by the point that it is of. */
export function floodRails(
  plan: Plan,
  lies: Lies,
  cuts: readonly OneCut[],
  feeds: readonly OneFeed[],
  kindOf: (point: string) => 'live' | 'dead',
) {
  const joined = new Map<string, Set<string>>();
  const join = (a: string, b: string) => {
    for (const [p, q] of [
      [a, b],
      [b, a],
    ] as const)
      joined.set(p, (joined.get(p) ?? new Set()).add(q));
  };
  const cutsOn = (span: string, rail: string) =>
    [...new Set(cuts.filter((cut) => cut.span === span && cut.rail === rail).map(({ along }) => along))].sort(
      (a, b) => a - b,
    );
  const rail = (span: string, hand: string, along: number) =>
    `${span} ${hand} ${cutsOn(span, hand).filter((cut) => cut < along).length}`;
  /** The rail on a walker's left or right who comes out of (or goes into) a feature over this end. */
  const leaving = ({ span, end }: SpanEnd, hand: 'left' | 'right') => {
    const seen = end === 0 ? hand : hand === 'left' ? 'right' : 'left';
    return rail(span, seen, end === 0 ? 0 : spanOf(plan, span).length);
  };
  const entering = (leg: SpanEnd, hand: 'left' | 'right') => leaving(leg, hand === 'left' ? 'right' : 'left');
  const heading = (leg: SpanEnd): Spot => away(spanOf(plan, leg.span), leg.end);
  /** Left to right for a walker who looks along `ahead`; y runs down. */
  const leftToRight = (ahead: Spot, legs: readonly SpanEnd[]) => {
    const turn = (leg: SpanEnd) => {
      const [x, y] = heading(leg);
      return Math.atan2(ahead[0] * y - ahead[1] * x, ahead[0] * x + ahead[1] * y);
    };
    return [...legs].sort((a, b) => turn(a) - turn(b));
  };
  const same = (a: SpanEnd, b: SpanEnd) => a.span === b.span && a.end === b.end;

  const done = new Set<string>();
  for (const point of plan.points) {
    if (done.has(point.id) || point.of === 'slip') continue;
    const twin = plan.points.find((other) => other !== point && other.of === 'three-way' && same(other.toe, point.toe));
    const both = twin === undefined ? [point] : [point, twin];
    for (const each of both) done.add(each.id);
    const toe = heading(point.toe);
    const legs = leftToRight([-toe[0], -toe[1]], [point.normal, ...both.map((each) => each.reverse)]);
    const [left, right] = [`stock left ${point.id}`, `stock right ${point.id}`];
    join(entering(point.toe, 'left'), left);
    join(entering(point.toe, 'right'), right);
    const set = (leg: SpanEnd) =>
      both.every((each) =>
        same(leg, each.reverse)
          ? lies[each.id] === 'reverse'
          : same(leg, each.normal) || both.some((other) => same(leg, other.reverse))
            ? lies[each.id] === 'normal'
            : true,
      );
    legs.forEach((leg, i) => {
      const neighbour = (j: number) => `frog ${point.id} ${Math.min(i, j)}`;
      const ends = [
        ['left', i === 0 ? left : neighbour(i - 1), left],
        ['right', i === legs.length - 1 ? right : neighbour(i + 1), right],
      ] as const;
      for (const [hand, to, stock] of ends) {
        if (to === stock || liveBetween(to)) join(leaving(leg, hand), to);
        else if (set(leg)) join(leaving(leg, hand), stock);
      }
    });
    for (let i = 0; i + 1 < legs.length; i++) {
      const frog = `frog ${point.id} ${i}`;
      const by = tells(both, legs[i], legs[i + 1]);
      if (!liveBetween(frog) || by === null) continue;
      const lie = lies[by.id] ?? 'normal';
      const used = [legs[i], legs[i + 1]].find((leg) => leg !== undefined && legOf(by, leg) === lie);
      join(frog, used === legs[i] ? right : left);
    }

    function liveBetween(frog: string): boolean {
      const i = Number(frog.split(' ')[2]);
      const by = tells(both, legs[i], legs[i + 1]);
      return by !== null && kindOf(by.id) === 'live';
    }
  }

  for (const crossing of plan.crossings) {
    const ways = plan.passages.filter((passage) => passage.crossing === crossing.id);
    if (crossing.kind === 'diamond') {
      for (const { between } of ways)
        for (const hand of ['left', 'right'] as const) join(entering(between[0], hand), leaving(between[1], hand));
      continue;
    }
    const ids = [...new Set(ways.flatMap(({ asks }) => Object.keys(asks)))];
    const [one, two] = plan.points.filter(({ id }) => ids.includes(id));
    if (one === undefined || two === undefined) throw new Error('a slip has two ends');
    // Each end: its own two legs, told by the other end's point.
    const middle = (legs: readonly SpanEnd[]): Spot => {
      const [a, b] = legs.map(heading);
      return [(a?.[0] ?? 0) + (b?.[0] ?? 0), (a?.[1] ?? 0) + (b?.[1] ?? 0)];
    };
    const far = [one.normal, one.reverse];
    const near = [two.normal, two.reverse];
    for (const [legs, by, of, flipped] of [
      [far, one, two, false],
      [near, two, one, true],
    ] as const) {
      const order = leftToRight(middle(legs), legs);
      // Both ends share two stock rails; who looks the other way has them the other way round.
      const [left, right] = flipped ? ['right', 'left'] : ['left', 'right'];
      const frog = `frog ${of.id}`;
      const live = kindOf(of.id) === 'live';
      order.forEach((leg, i) => {
        const inner = i === 0 ? 'right' : 'left';
        join(leaving(leg, i === 0 ? 'left' : 'right'), `stock ${i === 0 ? left : right} ${crossing.id}`);
        const used = lies[by.id] === (same(leg, by.normal) ? 'normal' : 'reverse');
        const stock = `stock ${inner === 'right' ? right : left} ${crossing.id}`;
        if (live) {
          join(leaving(leg, inner), frog);
          if (used) join(frog, stock);
        } else if (used) join(leaving(leg, inner), stock);
      });
    }
  }

  for (const span of plan.spans)
    for (const hand of ['left', 'right'] as const)
      joined.set(rail(span.id, hand, 0), joined.get(rail(span.id, hand, 0)) ?? new Set());
  for (const feed of feeds) {
    join(rail(feed.span, 'left', feed.along), `wire ${feed.left}`);
    join(rail(feed.span, 'right', feed.along), `wire ${feed.right}`);
  }

  const wires = new Map<string, ReadonlySet<string>>();
  for (const start of joined.keys()) {
    if (wires.has(start)) continue;
    const group = new Set([start]);
    for (const at of group) for (const next of joined.get(at) ?? []) group.add(next);
    const found = new Set([...group].filter((node) => node.startsWith('wire ')).map((node) => node.slice(5)));
    for (const node of group) wires.set(node, found);
  }
  return {
    wiresAt: (span: string, hand: 'left' | 'right', along: number): ReadonlySet<string> =>
      wires.get(rail(span, hand, along)) ?? new Set(),
    shorted: [...wires.values()].some((set) => set.size > 1),
  };
}

/** The lie of a point that a leg is; any leg that is not its reverse one counts as normal. */
function legOf(by: PlanPoint, leg: SpanEnd): Lie {
  return leg.span === by.reverse.span && leg.end === by.reverse.end ? 'reverse' : 'normal';
}

/** Whose lie tells two neighbouring legs apart: the point whose reverse leg is one of them. */
function tells(both: readonly PlanPoint[], a: SpanEnd | undefined, b: SpanEnd | undefined): PlanPoint | null {
  const isReverse = (point: PlanPoint, leg: SpanEnd | undefined) =>
    leg !== undefined && leg.span === point.reverse.span && leg.end === point.reverse.end;
  const [only, other] = both.filter((point) => isReverse(point, a) || isReverse(point, b));
  if (only === undefined) return null;
  if (other === undefined) return only;
  // Both reverse legs side by side: the normal leg lies at the other side of one of them, whose contact serves this frog as well.
  return isReverse(other, b) && !isReverse(only, b) ? pickByNormal(only, other) : only;
}

function pickByNormal(left: PlanPoint, right: PlanPoint): PlanPoint {
  // Legs n, left, right: the right one's contact also serves the frog inside; left, right, n: the left one's.
  return left.hand === 'right' ? right : left;
}
