/** Boxes, turned boxes and circles on the face: do they meet, and by how much. Millimetres, y down, angles clockwise. */
import type { Degree, Millimetre, Spot } from '../units/index.ts';

/** Left, top, right, bottom. */
export type Box = readonly [left: Millimetre, top: Millimetre, right: Millimetre, bottom: Millimetre];

/** An oblong about its middle, turned clockwise. */
export interface Oblong {
  readonly at: Spot;
  readonly size: readonly [Millimetre, Millimetre];
  readonly angle: Degree;
}

/** The box about a middle. */
export function boxAbout(at: Spot, width: Millimetre, height: Millimetre): Box {
  return [at[0] - width / 2, at[1] - height / 2, at[0] + width / 2, at[1] + height / 2];
}

/** A box grown on every side. */
export function grown([left, top, right, bottom]: Box, by: Millimetre): Box {
  return [left - by, top - by, right + by, bottom + by];
}

/** How far two boxes overlap in the direction in which they do so least; below 0 they are so far apart. */
export function boxesOverlap(a: Box, b: Box): Millimetre {
  return Math.min(Math.min(a[2], b[2]) - Math.max(a[0], b[0]), Math.min(a[3], b[3]) - Math.max(a[1], b[1]));
}

/** Clear distance from a box to a spot; 0 inside. */
export function boxToSpot([left, top, right, bottom]: Box, [x, y]: Spot): Millimetre {
  return Math.hypot(Math.max(left - x, 0, x - right), Math.max(top - y, 0, y - bottom));
}

/** Clear distance from a box to a straight line between two spots; 0 where they meet. */
export function boxToLine(box: Box, from: Spot, to: Spot): Millimetre {
  if (lineEnters(box, from, to)) return 0;
  let least = Math.min(boxToSpot(box, from), boxToSpot(box, to));
  const corners: readonly Spot[] = [
    [box[0], box[1]],
    [box[2], box[1]],
    [box[2], box[3]],
    [box[0], box[3]],
  ];
  const way: Spot = [to[0] - from[0], to[1] - from[1]];
  const square = way[0] ** 2 + way[1] ** 2;
  for (const corner of corners) {
    const share =
      square === 0
        ? 0
        : Math.min(1, Math.max(0, ((corner[0] - from[0]) * way[0] + (corner[1] - from[1]) * way[1]) / square));
    least = Math.min(least, Math.hypot(corner[0] - from[0] - share * way[0], corner[1] - from[1] - share * way[1]));
  }
  return least;
}

/** Does a line share a spot with a box? By cutting the line at each side in turn (Liang and Barsky). */
function lineEnters(box: Box, from: Spot, to: Spot): boolean {
  let begin = 0;
  let end = 1;
  for (const axis of [0, 1] as const) {
    const way = to[axis] - from[axis];
    const low = box[axis] - from[axis];
    const high = box[axis === 0 ? 2 : 3] - from[axis];
    if (way === 0) {
      if (low > 0 || high < 0) return false;
      continue;
    }
    begin = Math.max(begin, Math.min(low / way, high / way));
    end = Math.min(end, Math.max(low / way, high / way));
  }
  return begin <= end;
}

/** The two directions of an oblong's sides. */
function axesOf(angle: Degree): readonly [Spot, Spot] {
  const turn = (angle * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return [
    [c, s],
    [-s, c],
  ];
}

/** Half of what an oblong covers along a direction. */
function halfAlong({ size, angle }: Oblong, [x, y]: Spot): Millimetre {
  const [across, down] = axesOf(angle);
  return (size[0] / 2) * Math.abs(across[0] * x + across[1] * y) + (size[1] / 2) * Math.abs(down[0] * x + down[1] * y);
}

/** How far two oblongs overlap in the direction in which they do so least (of their sides' four); 0 or less: they do not. */
export function oblongsOverlap(a: Oblong, b: Oblong): Millimetre {
  let least = Number.POSITIVE_INFINITY;
  for (const axis of [...axesOf(a.angle), ...axesOf(b.angle)]) {
    const apart = Math.abs((b.at[0] - a.at[0]) * axis[0] + (b.at[1] - a.at[1]) * axis[1]);
    least = Math.min(least, halfAlong(a, axis) + halfAlong(b, axis) - apart);
  }
  return least;
}

/** Clear distance from an oblong to a spot; 0 inside. */
export function oblongToSpot({ at, size, angle }: Oblong, spot: Spot): Millimetre {
  const [across, down] = axesOf(angle);
  const way: Spot = [spot[0] - at[0], spot[1] - at[1]];
  const x = Math.abs(way[0] * across[0] + way[1] * across[1]) - size[0] / 2;
  const y = Math.abs(way[0] * down[0] + way[1] * down[1]) - size[1] / 2;
  return Math.hypot(Math.max(x, 0), Math.max(y, 0));
}

/** The box about an oblong. */
export function boxOf(oblong: Oblong): Box {
  return boxAbout(oblong.at, 2 * halfAlong(oblong, [1, 0]), 2 * halfAlong(oblong, [0, 1]));
}
