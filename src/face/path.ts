/** Centre lines on the face: corners to strokes with rounded bends, and strokes to the path text of SVG. Millimetres, y down. */
import type { Millimetre, Spot } from '../units/index.ts';
import { DOUBLED_BACK, NO_LENGTH, STRAIGHT_ON } from './tolerances.ts';
import type { Stroke } from './types.ts';

/** Corners with those dropped that stand on the one before. */
export function cleanCorners(path: readonly Spot[]): readonly Spot[] {
  const clean: Spot[] = [];
  for (const corner of path) {
    const before = clean[clean.length - 1];
    if (before === undefined || gap(before, corner) > NO_LENGTH) clean.push(corner);
  }
  return clean;
}

/** Distance between two spots. */
export function gap(a: Spot, b: Spot): Millimetre {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/**
 * The line through corners with bends of `radius`. A leg between two bends gives each at most its half and a leg to an end gives
 * its bend the whole, so arcs never overlap: where that is too short the bend is tighter. A path that doubles back keeps its
 * corner. Nothing for a path without length. The first stroke begins at the first corner, the last ends at the last, and each
 * begins where the one before ended.
 */
export function guidePath(path: readonly Spot[], radius: Millimetre): readonly Stroke[] {
  const corners = cleanCorners(path);
  const strokes: Stroke[] = [];
  let from = corners[0];
  if (from === undefined) return strokes;
  for (let i = 1; i < corners.length; i++) {
    const before = corners[i - 1];
    const at = corners[i];
    const after = corners[i + 1];
    if (before === undefined || at === undefined) break;
    const bend = after === undefined ? null : bendAt(before, at, after, radius, i === 1, i === corners.length - 2);
    const lineTo = bend === null ? at : bend.from;
    if (gap(from, lineTo) > NO_LENGTH) strokes.push({ kind: 'line', from, to: lineTo });
    else if (bend !== null) bend.from = from;
    if (bend !== null) strokes.push({ kind: 'arc', ...bend });
    from = bend === null ? at : bend.to;
  }
  return strokes;
}

interface Bend {
  from: Spot;
  readonly to: Spot;
  readonly centre: Spot;
  readonly radius: Millimetre;
  readonly clockwise: boolean;
}

function bendAt(
  before: Spot,
  at: Spot,
  after: Spot,
  radius: Millimetre,
  firstLeg: boolean,
  lastLeg: boolean,
): Bend | null {
  const into: Spot = [at[0] - before[0], at[1] - before[1]];
  const out: Spot = [after[0] - at[0], after[1] - at[1]];
  const lengthIn = Math.hypot(into[0], into[1]);
  const lengthOut = Math.hypot(out[0], out[1]);
  const turn = Math.atan2(into[0] * out[1] - into[1] * out[0], into[0] * out[0] + into[1] * out[1]);
  if (Math.abs(turn) < STRAIGHT_ON || Math.abs(turn) > Math.PI - DOUBLED_BACK || radius <= NO_LENGTH) return null;
  const half = Math.tan(Math.abs(turn) / 2);
  const reach = Math.min(radius * half, firstLeg ? lengthIn : lengthIn / 2, lastLeg ? lengthOut : lengthOut / 2);
  const tight = reach / half;
  const clockwise = turn > 0;
  const from: Spot = [at[0] - (into[0] / lengthIn) * reach, at[1] - (into[1] / lengthIn) * reach];
  const to: Spot = [at[0] + (out[0] / lengthOut) * reach, at[1] + (out[1] / lengthOut) * reach];
  // The centre is square to the leg in, on the inside of the turn; y runs down, so clockwise is to the right of the way.
  const side = clockwise ? 1 : -1;
  const centre: Spot = [from[0] - (into[1] / lengthIn) * tight * side, from[1] + (into[0] / lengthIn) * tight * side];
  return { from, to, centre, radius: tight, clockwise };
}

/** Millimetres to a thousandth, without minus zero. */
const digits = (value: number): string => String(Math.round(value * 1000) / 1000 + 0);
const spot = ([x, y]: Spot): string => `${digits(x)} ${digits(y)}`;

/**
 * Strokes as the `d` of an SVG path, to a thousandth of a millimetre; a new start only where a stroke does not begin where the one
 * before ended. Empty for no strokes.
 *
 * @example pathText(guidePath([[0, 0], [20, 0]], 9)) // "M0 0L20 0"
 */
export function pathText(strokes: readonly Stroke[]): string {
  let text = '';
  let end: Spot | null = null;
  for (const stroke of strokes) {
    if (end === null || gap(end, stroke.from) > NO_LENGTH) text += `M${spot(stroke.from)}`;
    const { to } = stroke;
    if (stroke.kind === 'line') text += `L${spot(to)}`;
    else {
      const radius = digits(stroke.radius);
      text += `A${radius} ${radius} 0 0 ${stroke.clockwise ? 1 : 0} ${spot(to)}`;
    }
    end = to;
  }
  return text;
}

/** How far a spot is from a stroke, and whether the nearest spot of it is one of its ends. */
export function fromStroke(at: Spot, stroke: Stroke): { readonly gap: Millimetre; readonly atEnd: boolean } {
  const ends = Math.min(gap(at, stroke.from), gap(at, stroke.to));
  if (stroke.kind === 'line') {
    const way: Spot = [stroke.to[0] - stroke.from[0], stroke.to[1] - stroke.from[1]];
    const length = Math.hypot(way[0], way[1]);
    const along = ((at[0] - stroke.from[0]) * way[0] + (at[1] - stroke.from[1]) * way[1]) / length;
    if (!(along > 0 && along < length)) return { gap: ends, atEnd: true };
    const off = Math.abs((at[0] - stroke.from[0]) * way[1] - (at[1] - stroke.from[1]) * way[0]) / length;
    return { gap: off, atEnd: false };
  }
  const angle = (of: Spot): number => Math.atan2(of[1] - stroke.centre[1], of[0] - stroke.centre[0]);
  const turned = (of: Spot): number => {
    const by = (angle(of) - angle(stroke.from)) * (stroke.clockwise ? 1 : -1);
    return by < 0 ? by + 2 * Math.PI : by;
  };
  if (turned(at) >= turned(stroke.to)) return { gap: ends, atEnd: true };
  return { gap: Math.abs(gap(at, stroke.centre) - stroke.radius), atEnd: false };
}
