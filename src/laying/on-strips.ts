/** What stands on which strip: the strip nearest a spot, and the lamps of a strip. */
import { keptFor, type LampRecord, type PanelFile, type Strip, stripWidth } from '../panel/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { gridOf } from './box-grid.ts';
import { boxOf, footOnPath, fromBox, type PathFoot } from './geometry.ts';
import { STRIP_REACH } from './tolerances.ts';

export function stripOf(panel: PanelFile, id: string): Strip | undefined {
  return panel.strips.find((strip) => strip.id === id);
}

const boxOfStrip = keptFor((strip: Strip) => boxOf(strip.path));

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
  const { grid, segments } = segmentsOf(panel);
  let best: OnStrip | null = null;
  let least = Infinity;
  let last: Strip | null = null;
  // Rising, so that of two equally near the later is taken.
  for (const i of grid.near(spot, reach + halfWidest(panel))) {
    const strip = segments[i]?.strip;
    if (strip === undefined || strip === last || without.has(strip.id)) continue;
    last = strip;
    const foot = footOnPath(strip.path, spot);
    if (foot === null || foot.off > reach + stripWidth(strip) / 2 || foot.off > least) continue;
    [best, least] = [{ ...foot, strip }, foot.off];
  }
  return best;
}

/** Every straight piece of every strip, strip by strip, found by where it lies; made once for each panel. */
const segmentsOf = keptFor((panel: PanelFile) => {
  const segments = panel.strips.flatMap((strip) =>
    strip.path.slice(1).flatMap((b, i) => {
      const a = strip.path[i];
      return a === undefined ? [] : [{ strip, a, b }];
    }),
  );
  return { segments, grid: gridOf(segments) };
});

/** Half of the widest tape on the sheet; nought without strips. */
export const halfWidest: (panel: PanelFile) => Millimetre = keptFor((panel: PanelFile) =>
  panel.strips.reduce((most, strip) => Math.max(most, stripWidth(strip) / 2), 0),
);

/** Lamps that stand on the tape of these strips and no nearer to the middle of another, in the order of the file. */
export function lampsOn(panel: PanelFile, strips: ReadonlySet<string>): readonly LampRecord[] {
  const mine = panel.strips.filter((strip) => strips.has(strip.id)).map((strip) => ({ strip, box: boxOfStrip(strip) }));
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
