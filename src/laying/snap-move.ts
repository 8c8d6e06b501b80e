/** Where a selection that is moved falls: by its own ends. */
import type { PanelFile } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import { add, distance, writtenSpot } from './geometry.ts';
import { isFaceList, present, recordOf, type Selection, spotOf } from './picked.ts';
import { SNAP_KINDS, type SnapOptions, type Snapped, snap } from './snap.ts';
import type { SnapContext } from './snap-index.ts';
import { MOST_HANDLES } from './tolerances.ts';

export interface SnappedMove {
  /** By how much the selection is to be moved, mm. */
  readonly by: Spot;
  /** What holds it, at the handle that is held; null: nothing. */
  readonly held: Snapped | null;
}

/**
 * The spots of a selection that others can meet: ends of strips first, then other corners, then middles of things; 24 at most. Made once for
 * each drag.
 */
export function handlesOf(panel: PanelFile, selection: Selection): readonly Spot[] {
  const ends: Spot[] = [];
  const corners: Spot[] = [];
  const things: Spot[] = [];
  for (const picked of present(panel, selection)) {
    if (picked.list === 'strips') {
      const path = recordOf(panel, picked)?.path ?? [];
      path.forEach((spot, i) => {
        if (picked.part !== undefined && picked.part !== i) return;
        (i === 0 || i === path.length - 1 ? ends : corners).push(spot);
      });
    } else if (!isFaceList(picked.list)) {
      const at = spotOf(panel, picked);
      if (at !== null) things.push(at);
    }
  }
  return [...ends, ...corners, ...things].slice(0, MOST_HANDLES);
}

/**
 * A move of a selection snapped: of all its handles the one that falls on the best kind of thing, the nearest of those, draws the rest along.
 * `turn` goes through what the handles fall on. The context must be made without the selection.
 */
export function snapMove(
  context: SnapContext,
  handles: readonly Spot[],
  by: Spot,
  options: Omit<SnapOptions, 'from' | 'before'>,
): SnappedMove {
  const { turn = 0, ...rest } = options;
  const held = handles
    .map((handle, i) => ({ handle, i, snapped: snap(context, add(handle, by), rest) }))
    .filter(({ snapped }) => snapped.by !== 'free')
    .map((each) => ({ ...each, off: distance(each.snapped.at, add(each.handle, by)), rank: rankOf(each.snapped) }))
    .sort((a, b) => a.rank - b.rank || a.off - b.off || a.i - b.i);
  const k = held.length === 0 ? 0 : ((Math.trunc(turn) % held.length) + held.length) % held.length;
  const best = held[k];
  if (best === undefined) return { by: writtenSpot(by), held: null };
  return { by: writtenSpot(add(best.snapped.at, best.handle, -1)), held: best.snapped };
}

function rankOf({ by }: Snapped): number {
  return by === 'free' ? SNAP_KINDS.length : SNAP_KINDS.indexOf(by);
}
