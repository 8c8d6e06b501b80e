/**
 * Segments of all lines in a grid of square cells, to find those near a spot or near each other.
 * A cell is no smaller than half the mean segment, so that a long line never fills more cells than there are segments to look at;
 * cost about n for lines spread over a sheet. Finds at least what is near, never less: callers measure for themselves.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import { corner, type Line } from './line.ts';
import { CELL_LEAST, MOST_NEAR, OVERLAP_SHARE, SAME_SPOT } from './tolerances.ts';

/** One straight piece of a line, from corner `i` to the next. */
export interface Segment {
  readonly line: Line;
  readonly i: number;
  readonly a: Spot;
  readonly b: Spot;
  /** Millimetres from the line's first corner to `a`. */
  readonly from: Millimetre;
  readonly length: Millimetre;
}

export interface SegmentGrid {
  readonly segments: readonly Segment[];
  /** Indices of segments that may lie within `reach` of a spot, rising, each once; `MOST_NEAR` at most. */
  near(spot: Spot, reach: Millimetre): readonly number[];
  /** Indices above `above` of segments that may touch that one or lie on it, rising, each once. */
  touching(index: number, above: number): readonly number[];
  /** Can a look with that reach find more than `MOST_NEAR`? Not told for sure: false where it cannot. */
  crowded(reach: Millimetre): boolean;
  /** Pairs of segments that share a cell: no more touch each other. */
  readonly pairs: number;
}

export function indexSegments(lines: readonly Line[]): SegmentGrid {
  const segments: Segment[] = [];
  let total = 0;
  for (const line of lines) {
    for (let i = 0; i + 1 < line.corners.length; i++) {
      const from = line.marks[i] ?? 0;
      const length = (line.marks[i + 1] ?? 0) - from;
      segments.push({ line, i, a: corner(line, i), b: corner(line, i + 1), from, length });
      total += length;
    }
  }
  const cell = Math.max(CELL_LEAST, total / Math.max(1, 2 * segments.length));
  let [left, top, right] = [Infinity, Infinity, -Infinity];
  for (const { a, b } of segments) {
    left = Math.min(left, a[0], b[0]);
    right = Math.max(right, a[0], b[0]);
    top = Math.min(top, a[1], b[1]);
  }
  const columns = segments.length === 0 ? 1 : Math.floor((right - left) / cell) + 5;
  const column = (x: number) => Math.floor((x - left) / cell);
  const row = (y: number) => Math.floor((y - top) / cell);
  const key = (c: number, r: number) => (r + 2) * columns + c + 2;

  const cells = new Map<number, number[]>();
  segments.forEach((segment, index) => {
    eachCell(segment, (c, r) => {
      const at = key(c, r);
      const held = cells.get(at);
      if (held === undefined) cells.set(at, [index]);
      else held.push(index);
    });
  });
  let fullest = 0;
  let pairs = 0;
  for (const { length } of cells.values()) {
    fullest = Math.max(fullest, length);
    pairs += (length * (length - 1)) / 2;
  }

  /** Cells that a segment passes, wider by what overlaps or touches it, row by row. */
  function eachCell({ a, b, line }: Segment, visit: (c: number, r: number) => void): void {
    const hair = cell * 1e-6 + Math.min(OVERLAP_SHARE * line.half + 2 * SAME_SPOT, CELL_LEAST);
    const [upper, lower] = a[1] <= b[1] ? [a, b] : [b, a];
    const [first, last] = [row(upper[1] - hair), row(lower[1] + hair)];
    const slope = lower[1] - upper[1] > 0 ? (lower[0] - upper[0]) / (lower[1] - upper[1]) : 0;
    const [least, most] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
    for (let r = first; r <= last; r++) {
      let [x0, x1] = [least, most];
      if (slope !== 0) {
        const atTop = upper[0] + (top + r * cell - hair - upper[1]) * slope;
        const atBottom = atTop + (cell + 2 * hair) * slope;
        x0 = Math.max(least, Math.min(atTop, atBottom));
        x1 = Math.min(most, Math.max(atTop, atBottom));
      }
      const end = column(x1 + hair);
      for (let c = column(x0 - hair); c <= end; c++) visit(c, r);
    }
  }

  const seen = new Int32Array(segments.length).fill(-1);
  let stamp = 0;
  /** Cells hold rising indices: those above one stand last. */
  const take = (found: number[], held: readonly number[] | undefined, above: number, most: number) => {
    if (held === undefined) return;
    for (let i = held.length - 1; i >= 0 && found.length < most; i--) {
      const index = held[i] ?? -1;
      if (index <= above) return;
      if (seen[index] === stamp) continue;
      seen[index] = stamp;
      found.push(index);
    }
  };

  return {
    segments,
    near(spot, reach) {
      // Without segments there are no cells to count.
      if (segments.length === 0) return [];
      stamp += 1;
      const found: number[] = [];
      const [c0, c1] = [column(spot[0] - reach), column(spot[0] + reach)];
      const [r0, r1] = [row(spot[1] - reach), row(spot[1] + reach)];
      if ((c1 - c0 + 1) * (r1 - r0 + 1) > segments.length + 16) {
        for (let i = 0; i < Math.min(segments.length, MOST_NEAR); i++) found.push(i);
        return found;
      }
      for (let r = r0; r <= r1; r++) for (let c = c0; c <= c1; c++) take(found, cells.get(key(c, r)), -1, MOST_NEAR);
      return found.sort((a, b) => a - b);
    },
    touching(index, above) {
      stamp += 1;
      const found: number[] = [];
      const segment = segments[index];
      if (segment !== undefined) eachCell(segment, (c, r) => take(found, cells.get(key(c, r)), above, Infinity));
      return found.sort((a, b) => a - b);
    },
    crowded: (reach) => segments.length > MOST_NEAR && fullest * (Math.floor((2 * reach) / cell) + 2) ** 2 > MOST_NEAR,
    pairs,
  };
}

/** The spot of a segment nearest a spot: how far along the line, and how far off. */
export function footOn(segment: Segment, spot: Spot): { readonly along: Millimetre; readonly distance: Millimetre } {
  const { a, b, length, from } = segment;
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const t = Math.min(length, Math.max(0, (spot[0] - a[0]) * ux + (spot[1] - a[1]) * uy));
  return { along: from + t, distance: Math.hypot(a[0] + ux * t - spot[0], a[1] + uy * t - spot[1]) };
}
