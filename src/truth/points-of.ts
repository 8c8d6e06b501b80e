import type { LampUse } from '../lamps/index.ts';

const POINTS = new WeakMap<LampUse, readonly string[]>();

/** Points that a lamp's claim names, sorted. */
export function pointsOf(lamp: LampUse): readonly string[] {
  const known = POINTS.get(lamp);
  if (known !== undefined) return known;
  const points = [...new Set(lamp.claim.flatMap((lies) => Object.keys(lies)))].sort();
  POINTS.set(lamp, points);
  return points;
}
