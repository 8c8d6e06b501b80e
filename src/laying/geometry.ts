/** Spots, lines and angles on the face: x to the right, y down, clockwise is to the right of one who looks along a line. */
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import { SAME_SPOT, WRITTEN_STEPS } from './tolerances.ts';

/** A number as it is written: to 0.001 mm, without minus nought. */
export function written(value: number): number {
  return Math.round(value * WRITTEN_STEPS) / WRITTEN_STEPS + 0;
}

/** A spot as it is written in a record. */
export function writtenSpot([x, y]: Spot): [number, number] {
  return [written(x), written(y)];
}

/** Corners as they are written in a record. */
export function writtenPath(path: readonly Spot[]): [number, number][] {
  return path.map(writtenSpot);
}

export function distance(a: Spot, b: Spot): Millimetre {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

export function isSameSpot(a: Spot, b: Spot): boolean {
  return distance(a, b) <= SAME_SPOT;
}

export function add(a: Spot, b: Spot, times = 1): Spot {
  return [a[0] + b[0] * times, a[1] + b[1] * times];
}

export function dot(a: Spot, b: Spot): number {
  return a[0] * b[0] + a[1] * b[1];
}

/** Positive where b is clockwise of a. */
export function cross(a: Spot, b: Spot): number {
  return a[0] * b[1] - a[1] * b[0];
}

/** Unit direction from one spot to another; null where they are one. */
export function direction(from: Spot, to: Spot): Spot | null {
  const length = distance(from, to);
  return length <= SAME_SPOT ? null : [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
}

/** A direction or an offset turned clockwise by so many degrees; by quarters exactly. */
export function turned([x, y]: Spot, by: Degree): Spot {
  const quarters = by / 90;
  if (Number.isInteger(quarters)) {
    const quarter = ((quarters % 4) + 4) % 4;
    return quarter === 0 ? [x, y] : quarter === 1 ? [-y, x] : quarter === 2 ? [-x, -y] : [y, -x];
  }
  const angle = (by * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [x * c - y * s, x * s + y * c];
}

/** The acute angle between two lines, 0 to 90. */
export function acuteAngle(a: Spot, b: Spot): Degree {
  return (Math.atan2(Math.abs(cross(a, b)), Math.abs(dot(a, b))) * 180) / Math.PI;
}

/** An angle in degrees brought into -180 (not included) to 180. */
export function normalAngle(angle: Degree): Degree {
  const around = angle % 360;
  return written(around > 180 ? around - 360 : around <= -180 ? around + 360 : around);
}

/** The spot of a segment nearest a spot: how far along the segment in mm, and how far off. */
export interface Foot {
  readonly at: Spot;
  readonly along: Millimetre;
  readonly off: Millimetre;
}

export function footOn(a: Spot, b: Spot, spot: Spot): Foot {
  const way = direction(a, b);
  if (way === null) return { at: a, along: 0, off: distance(a, spot) };
  const along = Math.min(distance(a, b), Math.max(0, dot([spot[0] - a[0], spot[1] - a[1]], way)));
  const at = add(a, way, along);
  return { at, along, off: distance(at, spot) };
}

/** A spot of a path: the segment (counted from 0), and how far from the path's first corner. */
export interface PathFoot extends Foot {
  readonly segment: number;
}

/** The spot of a path nearest a spot, the first of those equally near; null for a path without corners. */
export function footOnPath(path: readonly Spot[], spot: Spot): PathFoot | null {
  let best: PathFoot | null = null;
  let past = 0;
  for (let i = 0; i + 1 < path.length; i++) {
    const [a, b] = [path[i], path[i + 1]];
    if (a === undefined || b === undefined) continue;
    const foot = footOn(a, b, spot);
    if (best === null || foot.off < best.off - SAME_SPOT / 2) best = { ...foot, along: past + foot.along, segment: i };
    past += distance(a, b);
  }
  const only = path[0];
  if (best === null && only !== undefined) return { at: only, along: 0, off: distance(only, spot), segment: 0 };
  return best;
}

/** Along the corners. */
export function pathLength(path: readonly Spot[]): Millimetre {
  return path.reduce((sum, spot, i) => sum + distance(path[i - 1] ?? spot, spot), 0);
}

/** The spot so far along a path; beyond its ends, its ends. Null for a path without corners. */
export function spotAlongPath(path: readonly Spot[], along: Millimetre): Spot | null {
  let left = along;
  for (let i = 0; i + 1 < path.length; i++) {
    const [a, b] = [path[i], path[i + 1]];
    if (a === undefined || b === undefined) continue;
    const length = distance(a, b);
    if (left <= length && length > 0)
      return add(a, [(b[0] - a[0]) / length, (b[1] - a[1]) / length], Math.max(0, left));
    left -= length;
  }
  return path[path.length - 1] ?? null;
}

/** Where the line through `from` along `way` meets the line through a and b, and how far along each; null where they are parallel. */
export function meetOf(
  from: Spot,
  way: Spot,
  a: Spot,
  b: Spot,
): { readonly at: Spot; readonly along: Millimetre; readonly ahead: Millimetre } | null {
  const other = direction(a, b);
  if (other === null) return null;
  const square = cross(way, other);
  // Nearer to parallel than a thousandth of a degree they meet beyond any sheet.
  if (Math.abs(square) < 1e-5) return null;
  const between: Spot = [a[0] - from[0], a[1] - from[1]];
  const along = cross(between, way) / square;
  return { at: add(a, other, along), along, ahead: cross(between, other) / square };
}

/** An oblong on the face. */
export interface Box {
  readonly left: Millimetre;
  readonly top: Millimetre;
  readonly right: Millimetre;
  readonly bottom: Millimetre;
}

/** The least oblong around spots; null around none. */
export function boxOf(spots: Iterable<Spot>): Box | null {
  let box: Box | null = null;
  for (const [x, y] of spots) {
    box =
      box === null
        ? { left: x, top: y, right: x, bottom: y }
        : {
            left: Math.min(box.left, x),
            top: Math.min(box.top, y),
            right: Math.max(box.right, x),
            bottom: Math.max(box.bottom, y),
          };
  }
  return box;
}

/** From a spot to an oblong; nought inside it. */
export function fromBox([x, y]: Spot, { left, top, right, bottom }: Box): Millimetre {
  return Math.hypot(Math.max(left - x, 0, x - right), Math.max(top - y, 0, y - bottom));
}
