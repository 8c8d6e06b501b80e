/**
 * The order in which strips are drawn: the file's, but a strip whose end joins another lies under it, so that the seam shows where
 * to cut. Among those that are free to come next the first in the file comes; where strips join each other in a ring, the first.
 */
import { type Strip, stripWidth } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import { BoxGrid } from './grid.ts';
import { cleanCorners, fromStroke, gap } from './path.ts';
import { type Box, grown } from './shapes.ts';

/** Strips in the order of drawing: later lies on top. */
export function orderStrips(strips: readonly Strip[]): readonly Strip[] {
  const grid = new BoxGrid();
  const legs: { readonly strip: number; readonly from: Spot; readonly to: Spot }[] = [];
  for (const [strip, each] of strips.entries()) {
    const corners = cleanCorners(each.path);
    for (const [i, to] of corners.entries()) {
      const from = corners[i - 1];
      if (from === undefined) continue;
      grid.add(grown(boxOfLine(from, to), stripWidth(each) / 2));
      legs.push({ strip, from, to });
    }
  }

  const under = strips.map((each, strip) => joinedBy(each, strip));
  /** How many of the strips that must lie below it have not been drawn. */
  const waits = strips.map(() => 0);
  for (const tops of under) for (const top of tops) waits[top] = (waits[top] ?? 0) + 1;
  const left = new Set(strips.keys());
  const order: Strip[] = [];
  while (left.size > 0) {
    const [first] = left;
    let next = first;
    for (const strip of left) {
      if ((waits[strip] ?? 0) > 0) continue;
      next = strip;
      break;
    }
    if (next === undefined) break;
    left.delete(next);
    for (const top of under[next] ?? []) waits[top] = (waits[top] ?? 0) - 1;
    const strip = strips[next];
    if (strip !== undefined) order.push(strip);
  }
  return order;

  /** Strips that one of this strip's ends meets away from their own ends. */
  function joinedBy(each: Strip, strip: number): ReadonlySet<number> {
    const tops = new Set<number>();
    const corners = cleanCorners(each.path);
    for (const end of [corners[0], corners[corners.length - 1]]) {
      if (end === undefined) continue;
      for (const number of grid.near([end[0], end[1], end[0], end[1]])) {
        const leg = legs[number];
        if (leg === undefined || leg.strip === strip) continue;
        const other = strips[leg.strip];
        if (other === undefined) continue;
        const reach = stripWidth(other) / 2;
        const tips = [other.path[0], other.path[other.path.length - 1]];
        if (tips.some((tip) => tip !== undefined && gap(tip, end) <= reach)) continue;
        if (fromStroke(end, { kind: 'line', from: leg.from, to: leg.to }).gap <= reach) tops.add(leg.strip);
      }
    }
    return tops;
  }
}

function boxOfLine(from: Spot, to: Spot): Box {
  return [Math.min(from[0], to[0]), Math.min(from[1], to[1]), Math.max(from[0], to[0]), Math.max(from[1], to[1])];
}
