/** Plates enlarged for a small screen, so that a name still reads; the sheet itself stays true. */
import type { DrawnPlate } from '../../face/index.ts';
import type { Millimetre, Spot } from '../../units/index.ts';

/** The smallest type that is read with ease, in px. */
const LEAST_TYPE = 12;
/** Beyond this a plate hides more of the face than its name is worth. */
const MOST = 1.75;
/** A title has room of its own, but not much. */
const MOST_TITLE = 1.15;
/** Kept clear at the edge of the sheet. */
const EDGE: Millimetre = 2;

/** A plate as it is drawn: `scale` about its own middle, which is at `at`; `lines` are those that it keeps. */
export interface FittedPlate {
  readonly plate: DrawnPlate;
  readonly at: Spot;
  readonly scale: number;
  readonly lines: DrawnPlate['lines'];
  readonly width: Millimetre;
  readonly height: Millimetre;
}

/** How much type of `size` mm must grow to be read at `pxPerMm`. */
export const growth = (size: Millimetre, pxPerMm: number): number =>
  Math.min(MOST, Math.max(1, LEAST_TYPE / (size * pxPerMm)));

/**
 * Fit a plate to the scale of the screen. A lever's plate that has to grow keeps only its number. Other plates grow about
 * the spot they name (`about`, as near to it as the plate reaches) and are kept on the sheet.
 */
export function fitPlate(
  plate: DrawnPlate,
  pxPerMm: number,
  about: Spot | null,
  face: { readonly width: Millimetre; readonly height: Millimetre },
): FittedPlate {
  // Lever plates of one size change together: their number decides, whose type does not shrink for a long name.
  const [first] = plate.lines;
  const least = plate.kind === 'lever' ? (first?.size ?? 0) : Math.min(...plate.lines.map((line) => line.size));
  const most = plate.kind === 'title' ? MOST_TITLE : MOST;
  const scale = first === undefined ? 1 : Math.min(growth(least, pxPerMm), most);
  if (scale === 1) return { plate, at: plate.at, scale, lines: plate.lines, width: plate.width, height: plate.height };
  if (plate.kind === 'lever') {
    const height = Math.min(plate.height, (first?.size ?? 0) * 1.45 * scale) / scale;
    const lines = first === undefined ? [] : [{ ...first, y: height / 2 + first.size * 0.34 }];
    return { plate, at: plate.at, scale, lines, width: plate.width / scale, height };
  }
  const anchor: Spot =
    about === null ? plate.at : [clamp(about[0], plate.at[0], plate.width), clamp(about[1], plate.at[1], plate.height)];
  const grown = (i: 0 | 1): number => anchor[i] + (plate.at[i] - anchor[i]) * scale;
  const keep = (value: number, size: Millimetre, whole: Millimetre): number => {
    const half = (size * scale) / 2 + EDGE;
    return half * 2 > whole ? whole / 2 : Math.min(whole - half, Math.max(half, value));
  };
  const inside = plate.at[0] - plate.width / 2 >= 0 && plate.at[0] + plate.width / 2 <= face.width;
  const at: Spot = inside
    ? [keep(grown(0), plate.width, face.width), keep(grown(1), plate.height, face.height)]
    : [grown(0), grown(1)];
  return { plate, at, scale, lines: plate.lines, width: plate.width, height: plate.height };
}

function clamp(value: number, middle: number, size: number): number {
  return Math.min(middle + size / 2, Math.max(middle - size / 2, value));
}
