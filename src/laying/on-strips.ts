/** What stands on which strip: the strip nearest a spot, and the lamps of a strip. */
import { type LampRecord, type PanelFile, type Strip, stripWidth } from '../panel/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { boxOf, footOnPath, fromBox, type PathFoot } from './geometry.ts';
import { STRIP_REACH } from './tolerances.ts';

export function stripOf(panel: PanelFile, id: string): Strip | undefined {
  return panel.strips.find((strip) => strip.id === id);
}

/** A strip and the spot of it that is meant. */
export interface OnStrip extends PathFoot {
  readonly strip: Strip;
}

/**
 * The strip nearest a spot within half its tape's width and `reach`; of two equally near the one on top. Null where there is none, or
 * none but those in `without`.
 */
export function stripAt(
  panel: PanelFile,
  spot: Spot,
  reach: Millimetre = STRIP_REACH,
  without: ReadonlySet<string> = new Set(),
): OnStrip | null {
  let best: OnStrip | null = null;
  let least = Infinity;
  for (const strip of panel.strips) {
    if (without.has(strip.id) || strip.path.length < 2) continue;
    const limit = reach + stripWidth(strip) / 2;
    const box = boxOf(strip.path);
    if (box === null || fromBox(spot, box) > Math.min(limit, least)) continue;
    const foot = footOnPath(strip.path, spot);
    if (foot === null || foot.off > limit || foot.off > least) continue;
    [best, least] = [{ ...foot, strip }, foot.off];
  }
  return best;
}

/** Lamps that stand on the tape of these strips and no nearer to the middle of another, in the order of the file. */
export function lampsOn(panel: PanelFile, strips: ReadonlySet<string>): readonly LampRecord[] {
  const mine = panel.strips.filter((strip) => strips.has(strip.id)).map((strip) => ({ strip, box: boxOf(strip.path) }));
  return (panel.lamps ?? []).filter(({ at }) => {
    const near = mine.some(({ strip, box }) => {
      const half = stripWidth(strip) / 2;
      if (box === null || fromBox(at, box) > half) return false;
      const foot = footOnPath(strip.path, at);
      return foot !== null && foot.off <= half;
    });
    if (!near) return false;
    const nearest = stripAt(panel, at, 0);
    return nearest !== null && strips.has(nearest.strip.id);
  });
}
