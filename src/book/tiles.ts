/** The face cut into tiles that fit a sheet at true size. */
import type { Face, Hole } from '../face/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';

export interface Tile {
  readonly no: number;
  readonly column: number;
  readonly row: number;
  /** Its own field on the face, without overlap. */
  readonly at: Spot;
  readonly size: Spot;
  readonly holes: readonly Hole[];
  /** The tiles beside it, or null at an edge of the face. */
  readonly joins: {
    readonly left: number | null;
    readonly right: number | null;
    readonly above: number | null;
    readonly below: number | null;
  };
}

export interface Tiling {
  readonly columns: number;
  readonly rows: number;
  readonly tiles: readonly Tile[];
}

/** The side of a tile and how far it reaches into its neighbours, mm. */
const TILE: Millimetre = 150;
export const OVERLAP: Millimetre = 10;

/** Tiles row by row from the top left. Every hole is in exactly one. */
export function cutTiles(face: Face): Tiling {
  const columns = Math.max(1, Math.ceil(face.width / TILE));
  const rows = Math.max(1, Math.ceil(face.height / TILE));
  const inside = (value: number, i: number, count: number): boolean =>
    (i === 0 || value >= i * TILE) && (i === count - 1 || value < (i + 1) * TILE);
  const tiles: Tile[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const no = row * columns + column + 1;
      const at: Spot = [column * TILE, row * TILE];
      tiles.push({
        no,
        column,
        row,
        at,
        size: [Math.min(TILE, face.width - at[0]), Math.min(TILE, face.height - at[1])],
        holes: face.holes.filter((hole) => inside(hole.at[0], column, columns) && inside(hole.at[1], row, rows)),
        joins: {
          left: column > 0 ? no - 1 : null,
          right: column < columns - 1 ? no + 1 : null,
          above: row > 0 ? no - columns : null,
          below: row < rows - 1 ? no + columns : null,
        },
      });
    }
  }
  return { columns, rows, tiles };
}
