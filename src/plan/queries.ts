/** Questions that others ask of a plan. */
import type { Lie } from '../panel/index.ts';
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import { byId } from './by-id.ts';
import { SAME_SPOT } from './tolerances.ts';
import type { Plan, PlanPoint, Span } from './types.ts';

/**
 * The span nearest a spot within `reach` millimetres, how far along it from its end 0, and how far off; null where there is none. Of
 * spans equally near the one whose id is first.
 */
export function spanAt(
  plan: Plan,
  spot: Spot,
  reach: Millimetre,
): { readonly span: string; readonly along: Millimetre; readonly distance: Millimetre } | null {
  let best: { span: string; along: Millimetre; distance: Millimetre } | null = null;
  let limit = reach + SAME_SPOT;
  const [x, y] = spot;
  for (const { span, path, i, a, b } of piecesNear(plan, x - limit, x + limit)) {
    // What lies further off along one axis alone is not measured: most of the plan.
    if (x - limit > Math.max(a[0], b[0]) || x + limit < Math.min(a[0], b[0])) continue;
    if (y - limit > Math.max(a[1], b[1]) || y + limit < Math.min(a[1], b[1])) continue;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (length === 0) continue;
    const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const t = Math.min(length, Math.max(0, (spot[0] - a[0]) * ux + (spot[1] - a[1]) * uy));
    const off = Math.hypot(a[0] + ux * t - spot[0], a[1] + uy * t - spot[1]);
    if (off < limit || (best === null && off <= limit)) {
      best = { span, along: lengthUpTo(path, i) + t, distance: off };
      limit = off;
    }
  }
  return best;
}

/** A straight piece of a span, from its corner `i` to the next. */
interface Piece {
  readonly span: string;
  readonly path: readonly Spot[];
  readonly i: number;
  readonly a: Spot;
  readonly b: Spot;
}

/** Columns in which the pieces of a plan lie are so wide: a lamp's reach is far less, a strip rarely much more. */
const COLUMN: Millimetre = 100;

const COLUMNS = new WeakMap<Plan, ReadonlyMap<number, readonly number[]>>();
const PIECES = new WeakMap<Plan, readonly Piece[]>();

/** Pieces that may reach into the columns from one x to another, in the order of spans, each once. */
function piecesNear(plan: Plan, from: Millimetre, to: Millimetre): readonly Piece[] {
  const pieces = PIECES.get(plan) ?? piecesOf(plan);
  const columns = COLUMNS.get(plan) ?? columnsOf(plan, pieces);
  const [first, last] = [Math.floor(from / COLUMN), Math.floor(to / COLUMN)];
  if (first === last) return (columns.get(first) ?? []).flatMap((index) => pieces[index] ?? []);
  if (!(last - first < columns.size)) return pieces;
  const found = new Set<number>();
  for (let column = first; column <= last; column++) for (const index of columns.get(column) ?? []) found.add(index);
  return [...found].sort((a, b) => a - b).flatMap((index) => pieces[index] ?? []);
}

function piecesOf(plan: Plan): readonly Piece[] {
  const pieces = plan.spans.flatMap(({ id, path }) =>
    path.slice(1).flatMap((b, i): Piece[] => {
      const a = path[i];
      return a === undefined ? [] : [{ span: id, path, i, a, b }];
    }),
  );
  PIECES.set(plan, pieces);
  return pieces;
}

function columnsOf(plan: Plan, pieces: readonly Piece[]): ReadonlyMap<number, readonly number[]> {
  const columns = new Map<number, number[]>();
  for (const [index, { a, b }] of pieces.entries()) {
    const [first, last] = [Math.floor(Math.min(a[0], b[0]) / COLUMN), Math.floor(Math.max(a[0], b[0]) / COLUMN)];
    for (let column = first; column <= last; column++) {
      const there = columns.get(column);
      if (there === undefined) columns.set(column, [index]);
      else there.push(index);
    }
  }
  COLUMNS.set(plan, columns);
  return columns;
}

/** Length of a path up to one of its corners. */
function lengthUpTo(path: readonly Spot[], corner: number): Millimetre {
  let length = 0;
  for (let i = 0; i < corner; i++) {
    const [a, b] = [path[i], path[i + 1]];
    if (a !== undefined && b !== undefined) length += Math.hypot(b[0] - a[0], b[1] - a[1]);
  }
  return length;
}

/**
 * Which heel legs a span is, by its ends (0, then 1) and then by point. A leg of a three-way names both its points' lies; of a slip
 * those of the blades that choose it. Empty for a span between toes.
 */
export function legsOf(plan: Plan, span: string): readonly Leg[] {
  const known = LEGS.get(plan) ?? legsBySpan(plan);
  LEGS.set(plan, known);
  return known.get(span) ?? NO_LEGS;
}

interface Leg {
  readonly end: 0 | 1;
  readonly point: string;
  readonly lie: Lie;
}

const LEGS = new WeakMap<Plan, ReadonlyMap<string, readonly Leg[]>>();
const NO_LEGS: readonly Leg[] = [];

function legsBySpan(plan: Plan): ReadonlyMap<string, readonly Leg[]> {
  const legs = new Map<string, Leg[]>();
  const add = (span: string, leg: Leg): void => {
    const there = legs.get(span);
    if (there === undefined) legs.set(span, [leg]);
    else there.push(leg);
  };
  for (const point of plan.points) {
    for (const lie of ['normal', 'reverse'] as const) {
      const leg = point[lie];
      if (!isToeOfSlip(plan, point, lie)) add(leg.span, { end: leg.end, point: point.id, lie });
    }
    if (point.of === 'three-way') {
      // The other point's own leg: this one lies normal there.
      const twin = plan.points.find(
        (other) => other.id !== point.id && other.of === 'three-way' && sameEnd(other.toe, point.toe),
      );
      if (twin !== undefined) add(twin.reverse.span, { end: twin.reverse.end, point: point.id, lie: 'normal' });
    }
  }
  for (const list of legs.values()) list.sort((a, b) => a.end - b.end || byId(a.point, b.point) || byId(a.lie, b.lie));
  return legs;
}

function sameEnd(a: PlanPoint['toe'], b: PlanPoint['toe']): boolean {
  return a.span === b.span && a.end === b.end;
}

/** Of a single slip the curve's far leg has blades of its own, and a straight way that these blades say nothing of. */
function isToeOfSlip(plan: Plan, point: PlanPoint, lie: Lie): boolean {
  return point.of === 'slip' && plan.points.some((other) => other.of === 'slip' && sameEnd(other.toe, point[lie]))
    ? !isDoubleSlip(plan, point)
    : false;
}

function isDoubleSlip(plan: Plan, point: PlanPoint): boolean {
  return plan.passages.some(
    (passage) =>
      passage.crossing !== null &&
      passage.asks[point.id] !== undefined &&
      plan.crossings.some((crossing) => crossing.id === passage.crossing && crossing.kind === 'double-slip'),
  );
}

/** So far along a span, and the way that it runs there, clockwise from straight right; its ends where `along` is beyond them. */
export function alongSpan(
  { path }: Pick<Span, 'path'>,
  along: Millimetre,
): { readonly at: Spot; readonly angle: Degree } {
  let left = along;
  let last: { readonly at: Spot; readonly angle: Degree } = { at: path[0] ?? [0, 0], angle: 0 };
  for (let i = 0; i + 1 < path.length; i++) {
    const [a, b] = [path[i], path[i + 1]];
    if (a === undefined || b === undefined) break;
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const length = Math.hypot(dx, dy);
    if (length === 0) continue;
    const angle = (Math.atan2(dy, dx) * 180) / Math.PI;
    const share = Math.max(0, left) / length;
    if (share <= 1) return { at: [a[0] + dx * share, a[1] + dy * share], angle };
    left -= length;
    last = { at: b, angle };
  }
  return last;
}
