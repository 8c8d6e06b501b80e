/** Boxes and lines on a page: what meets what, for lettering that must lie on nothing else. */
import type { Spot } from '../units/index.ts';
import type { Box } from './labels.ts';

/** Do two boxes share more than an edge? */
export function meets(a: Box, b: Box): boolean {
  return Math.min(a[2], b[2]) > Math.max(a[0], b[0]) && Math.min(a[3], b[3]) > Math.max(a[1], b[1]);
}

/** Does the box lie in the field, edges included? */
export function within(a: Box, field: Box): boolean {
  return a[0] >= field[0] && a[1] >= field[1] && a[2] <= field[2] && a[3] <= field[3];
}

/** Does the straight line from `a` to `b` pass through the box? Clipped edge by edge; a line along an edge does. */
export function passes(a: Spot, b: Spot, box: Box): boolean {
  let [from, to] = [0, 1];
  for (const axis of [0, 1] as const) {
    const step = b[axis] - a[axis];
    const [low, high] = axis === 0 ? [box[0], box[2]] : [box[1], box[3]];
    if (step === 0) {
      if (a[axis] < low || a[axis] > high) return false;
      continue;
    }
    const [s, t] = [(low - a[axis]) / step, (high - a[axis]) / step];
    from = Math.max(from, Math.min(s, t));
    to = Math.min(to, Math.max(s, t));
  }
  return from < to;
}

/** The box round spots; of none, one at the origin. */
export function boxRound(spots: readonly Spot[]): Box {
  if (spots.length === 0) return [0, 0, 0, 0];
  const xs = spots.map(([x]) => x);
  const ys = spots.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}
