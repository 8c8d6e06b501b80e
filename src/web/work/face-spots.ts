/** What can be pressed on the face of this stage, and how the face fits its room. */
import type { Millimetre, Spot } from '../../units/index.ts';
import type { WorkView } from '../worker/work-view.ts';

export interface FaceSpot {
  readonly kind: 'point' | 'lever';
  readonly id: string;
  readonly at: Spot;
  /** The lever, or the one that works the point; null where none does. */
  readonly lever: string | null;
  /** That lever's place among the levers; -1 for none. */
  readonly place: number;
  /** A point that no lever can work. */
  readonly free: boolean;
}

/** All points from left to right, then all levers: the order of the arrow keys. */
export function faceSpots({ points, levers }: WorkView): readonly FaceSpot[] {
  const place = new Map(levers.map(({ id }, i) => [id, i]));
  return [
    ...points
      .map(({ id, at, levers: by, free }): FaceSpot => {
        const lever = by[0] ?? null;
        return { kind: 'point', id, at, lever, place: lever === null ? -1 : (place.get(lever) ?? -1), free };
      })
      .sort((a, b) => a.at[0] - b.at[0] || a.at[1] - b.at[1]),
    ...levers.map(({ id, at }, i): FaceSpot => ({ kind: 'lever', id, at, lever: id, place: i, free: false })),
  ];
}

/** The nearest within reach; null where none is. */
export function nearestSpot(spots: readonly FaceSpot[], at: Spot, reach: Millimetre): FaceSpot | null {
  let best: FaceSpot | null = null;
  let least = reach;
  for (const spot of spots) {
    const gap = Math.hypot(spot.at[0] - at[0], spot.at[1] - at[1]);
    if (gap > least) continue;
    least = gap;
    best = spot;
  }
  return best;
}

/** Where a key goes from one of so many in a row; null where it goes nowhere. */
export function stepFrom(count: number, now: number, key: string): number | null {
  if (count === 0) return null;
  switch (key) {
    case 'ArrowRight':
    case 'ArrowDown':
      return (now + 1) % count;
    case 'ArrowLeft':
    case 'ArrowUp':
      return (now + count - 1) % count;
    case 'Home':
      return 0;
    case 'End':
      return count - 1;
    default:
      return null;
  }
}

/** Gutters about the sheet, px. */
const GUTTER = { across: 20, down: 16 };
/** In a room of no size at all: px to the millimetre. */
const LEAST_SCALE = 0.05;
/** px to the millimetre at which a face fits its room. */
export function fitFace(
  face: { readonly width: Millimetre; readonly height: Millimetre },
  room: { readonly width: number; readonly height: number },
): number {
  const across = (room.width - 2 * GUTTER.across) / face.width;
  const down = (room.height - 2 * GUTTER.down) / face.height;
  return Math.max(LEAST_SCALE, Math.min(across, down));
}

/** Marks that stand closer than this are one above the other anyway: mm. */
const SAME_SPOT: Millimetre = 3;
/** The least that a mark is drawn, beyond which its number is not read: px. */
const LEAST_MARK = 18;

/** Points nearer to each other than this have no room for tags beside them: px. */
const ROOM_FOR_TAGS = 13;

/** How far apart the two of a kind are that stand nearest to each other, along the axis on which they are farther apart. */
function leastGap(spots: readonly FaceSpot[], kind: FaceSpot['kind']): Millimetre {
  const those = spots.filter((spot) => spot.kind === kind).sort((a, b) => a.at[0] - b.at[0]);
  let least = Infinity;
  for (const [i, a] of those.entries())
    for (const b of those.slice(i + 1)) {
      // From left to right: what follows is farther still.
      if (b.at[0] - a.at[0] > least) break;
      const gap = Math.max(Math.abs(a.at[0] - b.at[0]), Math.abs(a.at[1] - b.at[1]));
      if (gap > SAME_SPOT) least = Math.min(least, gap);
    }
  return least;
}

/** How large marks of a kind are drawn so that no two of them cover each other, up to `most`: px. */
export function markSize(spots: readonly FaceSpot[], kind: FaceSpot['kind'], pxPerMm: number, most: number): number {
  return Math.min(most, Math.max(LEAST_MARK, leastGap(spots, kind) * pxPerMm));
}

/** Is there no room for the numbers of points? Enlarged they come back; the marks stay. */
export function isCrowded(spots: readonly FaceSpot[], pxPerMm: number): boolean {
  return leastGap(spots, 'point') * pxPerMm < ROOM_FOR_TAGS;
}

/** How many times larger than it fits a face can be drawn. */
const SIZES = [1, 1.5, 2, 3, 4, 6, 8];

/** The next size up or down; the same at the end. */
export function nextSize(enlarged: number, by: 1 | -1): number {
  const at = SIZES.findIndex((size) => size >= enlarged);
  return SIZES[Math.min(SIZES.length - 1, Math.max(0, at + by))] ?? 1;
}

/** Lines that tie spots together, each to the nearest that is tied already: as short as can be in all. */
export function tiesOf(spots: readonly Spot[]): readonly (readonly [Spot, Spot])[] {
  const [first, ...rest] = spots;
  if (first === undefined) return [];
  const tied: Spot[] = [first];
  const left = [...rest];
  const ties: (readonly [Spot, Spot])[] = [];
  while (left.length > 0) {
    let best: { readonly from: Spot; readonly to: number; readonly gap: number } | null = null;
    for (const from of tied)
      for (const [to, spot] of left.entries()) {
        const gap = Math.hypot(from[0] - spot[0], from[1] - spot[1]);
        if (best === null || gap < best.gap) best = { from, to, gap };
      }
    const to = best === null ? undefined : left[best.to];
    if (best === null || to === undefined) break;
    ties.push([best.from, to]);
    tied.push(to);
    left.splice(best.to, 1);
  }
  return ties;
}
