/** The sheet cut into pieces that fit on paper at true size. Millimetres. */
import type { Millimetre, Spot } from '../units/index.ts';
import { NO_LENGTH } from './tolerances.ts';
import type { Face, Hole } from './types.ts';

/** How far a piece reaches into the next, so that they can be laid on each other. */
export const TILE_OVERLAP: Millimetre = 10;

export interface TileOptions {
  /** Kept free of the drawing at each edge of the paper. */
  readonly margin?: Millimetre;
  readonly overlap?: Millimetre;
}

export interface Tile {
  /** From 1, row by row from the top left. */
  readonly no: number;
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
  /** What it shows of the sheet, overlap included. */
  readonly at: Spot;
  readonly size: Spot;
  /** Holes whose middle it shows; one in an overlap is on each of the pieces that share it. */
  readonly holes: readonly Hole[];
}

/**
 * Pieces that cover the sheet, all of one size but the last in a row or column, each overlapping the next. Throws RangeError where
 * the paper leaves nothing beside its margins and the overlap.
 */
export function tileFace(
  face: Pick<Face, 'width' | 'height' | 'holes'>,
  paper: { readonly width: Millimetre; readonly height: Millimetre },
  options: TileOptions = {},
): readonly Tile[] {
  const margin = options.margin ?? 0;
  const overlap = options.overlap ?? TILE_OVERLAP;
  const across = cuts(face.width, paper.width - 2 * margin, overlap);
  const down = cuts(face.height, paper.height - 2 * margin, overlap);
  return down.flatMap(([top, bottom], row) =>
    across.map(
      ([left, right], column): Tile => ({
        no: row * across.length + column + 1,
        row,
        column,
        rows: down.length,
        columns: across.length,
        at: [left, top],
        size: [right - left, bottom - top],
        holes: face.holes.filter(
          ({ at: [x, y] }) =>
            x >= left - NO_LENGTH && x <= right + NO_LENGTH && y >= top - NO_LENGTH && y <= bottom + NO_LENGTH,
        ),
      }),
    ),
  );
}

function cuts(
  whole: Millimetre,
  field: Millimetre,
  overlap: Millimetre,
): readonly (readonly [from: Millimetre, to: Millimetre])[] {
  const step = field - overlap;
  if (!(step > 0) || !(overlap >= 0)) throw new RangeError(`paper leaves ${field} mm and the overlap is ${overlap}`);
  const count = Math.max(1, Math.ceil((whole - overlap) / step - NO_LENGTH));
  return Array.from({ length: count }, (_, i) => [i * step, Math.min(whole, i * step + field)] as const);
}
