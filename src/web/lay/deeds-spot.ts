/** Where the bar of deeds stands: on the view, off what is picked, as near as it can. px of the view, x to the right and y down. */
import type { Extent } from './camera.ts';

/** An upright oblong in px. */
export interface Pane {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Between the bar and what is picked, and between the bar and the edges of the view. */
const GAP = 14;
const MARGIN = 8;

/**
 * The top left corner of a bar for a thing: above it, else below, else beside it, right or left. Where there is room nowhere, the corner of the
 * view that covers least of it. `below`: px at the bottom of the view that others stand in.
 */
export function deedsSpot(
  thing: Pane,
  bar: Extent,
  view: Extent,
  below = 0,
): { readonly left: number; readonly top: number } {
  const [right, bottom] = [view.width - MARGIN - bar.width, view.height - MARGIN - below - bar.height];
  const within = (value: number, most: number): number => Math.max(MARGIN, Math.min(most, value));
  const left = within((thing.left + thing.right - bar.width) / 2, right);
  const top = within((thing.top + thing.bottom - bar.height) / 2, bottom);
  const above = thing.top - GAP - bar.height;
  const under = thing.bottom + GAP;
  const after = thing.right + GAP;
  const before = thing.left - GAP - bar.width;
  // What is off the view holds the bar at its edge, still off the thing.
  if (above >= MARGIN) return { left, top: Math.min(above, bottom) };
  if (under <= bottom) return { left, top: Math.max(under, MARGIN) };
  if (after <= right) return { left: Math.max(after, MARGIN), top };
  if (before >= MARGIN) return { left: Math.min(before, right), top };
  const corners = [
    { left: within(MARGIN, right), top: within(MARGIN, bottom) },
    { left: within(right, right), top: within(MARGIN, bottom) },
    { left: within(MARGIN, right), top: within(bottom, bottom) },
    { left: within(right, right), top: within(bottom, bottom) },
  ];
  const covered = (spot: { readonly left: number; readonly top: number }): number =>
    covers(thing, { ...spot, right: spot.left + bar.width, bottom: spot.top + bar.height });
  return corners.reduce((best, corner) => (covered(corner) < covered(best) ? corner : best));
}

/** px by px that two oblongs share. */
export function covers(a: Pane, b: Pane): number {
  const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
  const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
  return across > 0 && down > 0 ? across * down : 0;
}
