/** Strips as lines on the face, read in the plainest way: every question looks at every piece of every strip. */

export type Spot = readonly [number, number];

/** One strip with repeated corners dropped, and how far along it each corner lies. */
export interface Tape {
  readonly id: string;
  readonly half: number;
  readonly path: readonly Spot[];
  readonly marks: readonly number[];
  readonly length: number;
}

/** A spot of a tape, by millimetres from its first corner. */
export interface Along {
  readonly tape: Tape;
  readonly s: number;
}

/** A way off a spot along a tape: sense 1 towards its last corner, -1 towards its first. */
export interface Arm extends Along {
  readonly sense: 1 | -1;
}

/** Below this two spots are one: far under what a hand can lay, far over what sums round off. Millimetres. */
export const SAME = 1e-6;

export function tapeOf(id: string, width: number, corners: readonly Spot[]): Tape {
  const path: Spot[] = [];
  for (const corner of corners) {
    const last = path.at(-1);
    if (last === undefined || apart(last, corner) > SAME) path.push(corner);
  }
  const marks: number[] = [];
  let length = 0;
  path.forEach((corner, i) => {
    length += i === 0 ? 0 : apart(path[i - 1] ?? corner, corner);
    marks.push(length);
  });
  return { id, half: width / 2, path, marks, length };
}

export function apart(a: Spot, b: Spot): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** A straight piece of a tape, and how far along it its ends lie. */
export interface Piece {
  readonly a: Spot;
  readonly b: Spot;
  readonly from: number;
  readonly to: number;
}

/** The straight pieces of a tape. */
export function piecesOf(tape: Tape): Piece[] {
  return tape.path.slice(1).map((b, i) => {
    const a = tape.path[i] ?? b;
    return { a, b, from: tape.marks[i] ?? 0, to: tape.marks[i + 1] ?? 0 };
  });
}

export function spotAt({ tape, s }: Along): Spot {
  for (const { a, b, from, to } of piecesOf(tape)) {
    if (s <= to + SAME) {
      const share = (s - from) / (to - from);
      return [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
    }
  }
  return tape.path.at(-1) ?? [Number.NaN, Number.NaN];
}

/** Which way an arm leaves its spot, as a unit step. */
export function wayOf({ tape, s, sense }: Arm): Spot {
  const ahead = piecesOf(tape).filter(({ from, to }) => (sense === 1 ? to > s + SAME : from < s - SAME));
  const piece = sense === 1 ? ahead[0] : ahead.at(-1);
  if (piece === undefined) return [Number.NaN, Number.NaN];
  const long = piece.to - piece.from;
  return [((piece.b[0] - piece.a[0]) / long) * sense, ((piece.b[1] - piece.a[1]) / long) * sense];
}

/** Degrees between two steps, 0 to 180. */
export function between(a: Spot, b: Spot): number {
  return (Math.atan2(Math.abs(a[0] * b[1] - a[1] * b[0]), a[0] * b[0] + a[1] * b[1]) * 180) / Math.PI;
}

/** Degrees by which `b` lies to the right of `a` as seen from the front (y is down), -180 to 180. */
export function rightOf(a: Spot, b: Spot): number {
  return (Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]) * 180) / Math.PI;
}

/** The nearest spot of every straight piece of a tape, nearest first. */
export function nearest(tape: Tape, to: Spot): { s: number; gap: number; at: Spot }[] {
  return piecesOf(tape)
    .map(({ a, b, from, to: end }) => {
      const long = end - from;
      const raw = ((to[0] - a[0]) * (b[0] - a[0]) + (to[1] - a[1]) * (b[1] - a[1])) / long;
      const s = from + Math.min(long, Math.max(0, raw));
      const at = spotAt({ tape, s });
      return { s, gap: apart(at, to), at };
    })
    .sort((one, two) => one.gap - two.gap);
}

/** Where two straight pieces share one spot; 'along' where they lie on one another. */
export function meet(one: Piece, two: Piece): { s: number; r: number } | 'along' | null {
  const [p, d] = [one.a, [one.b[0] - one.a[0], one.b[1] - one.a[1]] as const];
  const [q, e] = [two.a, [two.b[0] - two.a[0], two.b[1] - two.a[1]] as const];
  const [long, wide] = [one.to - one.from, two.to - two.from];
  const cross = d[0] * e[1] - d[1] * e[0];
  const w = [q[0] - p[0], q[1] - p[1]] as const;
  if (Math.abs(cross) < SAME * long * wide) {
    const off = Math.abs(d[0] * w[1] - d[1] * w[0]) / long;
    if (off > SAME) return null;
    const [u, v] = [two.a, two.b]
      .map((c) => ((c[0] - p[0]) * d[0] + (c[1] - p[1]) * d[1]) / long)
      .sort((x, y) => x - y);
    const shared = Math.min(long, v ?? 0) - Math.max(0, u ?? 0);
    return shared > SAME ? 'along' : null;
  }
  const s = ((w[0] * e[1] - w[1] * e[0]) / cross) * long;
  const r = ((w[0] * d[1] - w[1] * d[0]) / cross) * wide;
  if (s < -SAME || s > long + SAME || r < -SAME || r > wide + SAME) return null;
  return { s: one.from + s, r: two.from + r };
}
