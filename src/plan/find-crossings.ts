/**
 * Where interiors of strips cross, touch, or lie one on the other, joints left aside.
 * Each segment is set against those in its cells of the grid; spots at corners are found by both segments and told once.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import { against, clockwise, type Line, spotAlong, step } from './line.ts';
import type { Segment, SegmentGrid } from './segment-grid.ts';
import { MOST_CROSSINGS, MOST_OVERLAPS, MOST_PAIRS, OVERLAP_ANGLE, OVERLAP_SHARE, SAME_SPOT } from './tolerances.ts';

/** A spot that two lines have in common away from their ends. */
export interface Hit {
  readonly lines: readonly [Line, Line];
  readonly alongs: readonly [Millimetre, Millimetre];
  readonly spot: Spot;
  /** They change sides here; else they only touch. */
  readonly crosses: boolean;
}

/** Lines that lie one on the other. */
export interface Overlap {
  readonly lines: readonly [Line, Line];
  readonly at: Spot;
  readonly length: Millimetre;
}

export interface CrossingsFound {
  /** By the two lines, then along the first. */
  readonly hits: readonly Hit[];
  readonly overlaps: readonly Overlap[];
  /** There are more than are read. */
  readonly cut: boolean;
}

export function findCrossings(lines: readonly Line[], grid: SegmentGrid): CrossingsFound {
  const raw: { readonly a: Segment; readonly b: Segment; readonly alongs: readonly [number, number] }[] = [];
  const over = new Map<number, { lines: readonly [Line, Line]; at: Spot; length: Millimetre }>();
  let cut = false;
  let pairs = 0;
  for (let i = 0; i < grid.segments.length && !cut; i++) {
    const a = grid.segments[i];
    if (a === undefined) continue;
    const near = grid.touching(i);
    pairs += near.length;
    for (const j of near) {
      const b = grid.segments[j];
      if (b === undefined || (a.line === b.line && b.i === a.i + 1)) continue;
      const alongs = meetOf(a, b);
      // A loop smaller than the tape is wide is no loop that one can see.
      const crumb = a.line === b.line && alongs !== null && Math.abs(alongs[0] - alongs[1]) <= a.line.half;
      if (alongs !== null && !crumb) raw.push({ a, b, alongs });
      const overlap = overlapOf(a, b);
      if (overlap === null) continue;
      const key = a.line.index * lines.length + b.line.index;
      const known = over.get(key);
      if (known === undefined) over.set(key, { lines: [a.line, b.line], ...overlap });
      else known.length += overlap.length;
    }
    cut = raw.length > 2 * MOST_CROSSINGS || pairs > MOST_PAIRS || over.size > MOST_OVERLAPS;
  }

  raw.sort(
    (x, y) =>
      x.a.line.index - y.a.line.index ||
      x.b.line.index - y.b.line.index ||
      x.alongs[0] - y.alongs[0] ||
      x.alongs[1] - y.alongs[1],
  );
  const hits: Hit[] = [];
  for (const { a, b, alongs } of raw) {
    const pair = [a.line, b.line] as const;
    if (isEnd(pair[0], alongs[0]) || isEnd(pair[1], alongs[1])) continue;
    if (toldBefore(hits, pair, alongs)) continue;
    hits.push({ lines: pair, alongs, spot: spotAlong(pair[0], alongs[0]), crosses: changeSides(pair, alongs) });
    if (hits.length >= MOST_CROSSINGS) {
      cut = true;
      break;
    }
  }
  const overlaps = [...over.values()].filter(
    ({ lines: [a, b], length }) => length > Math.max(a.half, b.half) + SAME_SPOT,
  );
  return { hits, overlaps, cut };
}

/** How far along each line the two segments meet, or null: they do not, or are parallel. */
function meetOf(a: Segment, b: Segment): readonly [number, number] | null {
  const [ax, ay] = [(a.b[0] - a.a[0]) / a.length, (a.b[1] - a.a[1]) / a.length];
  const [bx, by] = [(b.b[0] - b.a[0]) / b.length, (b.b[1] - b.a[1]) / b.length];
  const sine = ax * by - ay * bx;
  if (Math.abs(sine) < PARALLEL_SINE) return null;
  const [dx, dy] = [b.a[0] - a.a[0], b.a[1] - a.a[1]];
  const t = (dx * by - dy * bx) / sine;
  const u = (dx * ay - dy * ax) / sine;
  if (t < -SAME_SPOT || t > a.length + SAME_SPOT || u < -SAME_SPOT || u > b.length + SAME_SPOT) return null;
  return [a.from + settle(t, a.length), b.from + settle(u, b.length)];
}

/** Below this sine, a twentieth of a degree, where two lines meet says nothing: they overlap or pass. */
const PARALLEL_SINE = 1e-3;

/** A spot as good as at a corner is at the corner. */
function settle(t: number, length: number): number {
  return t <= SAME_SPOT ? 0 : t >= length - SAME_SPOT ? length : t;
}

function isEnd(line: Line, along: number): boolean {
  return along <= SAME_SPOT || along >= line.length - SAME_SPOT;
}

/** The same spot, found by the segment on the other side of a corner. They are sorted: only the last few can be it. */
function toldBefore(hits: readonly Hit[], lines: readonly [Line, Line], alongs: readonly [number, number]): boolean {
  for (let k = hits.length - 1; k >= 0; k--) {
    const hit = hits[k];
    if (hit === undefined || hit.lines[0] !== lines[0] || hit.lines[1] !== lines[1]) return false;
    if (alongs[0] - hit.alongs[0] > 2 * SAME_SPOT) return false;
    if (Math.abs(alongs[1] - hit.alongs[1]) <= 2 * SAME_SPOT) return true;
  }
  return false;
}

/** Does the second line lie on both sides of the first around a spot that they share? */
function changeSides([a, b]: readonly [Line, Line], [s, t]: readonly [number, number]): boolean {
  const ahead = step(a, s, 1);
  const behind = step(a, s, -1);
  const sector = full(clockwise(ahead, behind));
  const one = full(clockwise(ahead, step(b, t, 1)));
  const two = full(clockwise(ahead, step(b, t, -1)));
  return one < sector !== two < sector;
}

function full(degrees: number): number {
  return degrees < 0 ? degrees + 360 : degrees;
}

/** The stretch of two nearly parallel segments that lies side by side nearer than tape can, or null. */
function overlapOf(a: Segment, b: Segment): { readonly at: Spot; readonly length: Millimetre } | null {
  const u: Spot = [(a.b[0] - a.a[0]) / a.length, (a.b[1] - a.a[1]) / a.length];
  const v: Spot = [(b.b[0] - b.a[0]) / b.length, (b.b[1] - b.a[1]) / b.length];
  const bent = Math.abs(clockwise(u, v));
  if (Math.min(bent, 180 - bent) > OVERLAP_ANGLE) return null;
  const w = bent > 90 ? against(v) : v;
  const [start, end] = bent > 90 ? [b.b, b.a] : [b.a, b.b];
  const along = (spot: Spot) => (spot[0] - a.a[0]) * u[0] + (spot[1] - a.a[1]) * u[1];
  const from = Math.max(0, along(start));
  const to = Math.min(a.length, along(end));
  if (to - from <= SAME_SPOT) return null;
  const middle = (from + to) / 2;
  const here: Spot = [a.a[0] + u[0] * middle, a.a[1] + u[1] * middle];
  const off = Math.abs((here[0] - start[0]) * w[1] - (here[1] - start[1]) * w[0]);
  if (off > OVERLAP_SHARE * Math.min(a.line.half, b.line.half)) return null;
  return { at: here, length: to - from };
}
