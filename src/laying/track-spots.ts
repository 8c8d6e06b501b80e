/**
 * Where rails are fed and cut: spots of the file that name a strip by lying on it, and go along with it. A gap's rail is seen along its strip
 * from the first corner, so it changes hands where the strip is turned round or mirrored.
 */
import type { Edit, PanelFile } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import { writtenSpot } from './geometry.ts';
import { type OnStrip, stripAt } from './on-strips.ts';
import { RECORD_REACH } from './tolerances.ts';

/** What becomes of a spot on a strip; null: it stays as it is. */
export interface TrackSpotMoved {
  readonly at?: Spot | null;
  readonly changesHands?: boolean;
}

type Track = NonNullable<PanelFile['track']>;
type Gap = NonNullable<Track['gaps']>[number];

/** Feeds and gaps of the panel as it was before the edit, where `move` says. Added to the edit. */
export function moveTrackSpots(
  edit: Edit,
  panel: PanelFile,
  move: (strip: string, at: Spot, on: OnStrip) => TrackSpotMoved | null,
): void {
  const { track } = panel;
  if (track === undefined) return;
  const moved = <R extends { at: [number, number]; rail?: Gap['rail'] }>(records: readonly R[]): R[] =>
    records.map((record) => {
      const on = stripAt(panel, record.at, RECORD_REACH);
      const how = on === null ? null : move(on.strip.id, record.at, on);
      if (how === null) return record;
      const rail = how.changesHands === true ? otherRail(record.rail) : record.rail;
      return {
        ...record,
        ...(how.at == null ? {} : { at: writtenSpot(how.at) }),
        ...(rail === undefined ? {} : { rail }),
      };
    });
  const { feeds, gaps } = track;
  const after: Track = {
    ...track,
    ...(feeds === undefined ? {} : { feeds: moved(feeds) }),
    ...(gaps === undefined ? {} : { gaps: moved(gaps) }),
  };
  if (JSON.stringify(after) !== JSON.stringify(track)) edit.set('track', after);
}

function otherRail(rail: string | undefined): string | undefined {
  return rail === 'left' ? 'right' : rail === 'right' ? 'left' : rail;
}
