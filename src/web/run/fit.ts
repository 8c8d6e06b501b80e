/** How large the sheet is drawn. */
import type { Millimetre } from '../../units/index.ts';

/** Below this share of the width a low window scrolls rather than shrink the sheet further. */
const LEAST_SHARE = 0.6;
/** A small face is not blown up beyond this: 4 px to the millimetre is about true size on a common screen. */
const MOST_PX_PER_MM = 4;
/** Room above the sheet and for the row of cards under it, in px; for the lines at the foot, in sizes of the text. */
const ABOVE = 24;
export const ROW_OF_CARDS = 114;
const FOOT_EMS = 4.3;

/**
 * Px to the millimetre on a floor of this size, with a gutter at either side: as wide as the floor allows, and on a wide screen
 * no taller than it leaves room for `below` px of cards. The floor's size does not hang on what stands on it, so one answer holds.
 */
export function fitScale(
  face: { readonly width: Millimetre; readonly height: Millimetre },
  floor: { readonly width: number; readonly height: number; readonly em: number },
  gutter: number,
  wide: boolean,
  below: number = ROW_OF_CARDS,
): number {
  const across = (floor.width - 2 * gutter) / face.width;
  if (!wide) return Math.min(across, MOST_PX_PER_MM);
  const down = (floor.height - ABOVE - below - FOOT_EMS * floor.em) / face.height;
  return Math.min(across, MOST_PX_PER_MM, Math.max(down, across * LEAST_SHARE));
}

/** Height in px of a list of so many cards that wraps at a width, as run.css lays it. */
export function listOfCards(count: number, width: number, em: number): number {
  const gap = 8;
  const across = Math.max(1, Math.floor((width + gap) / (7.5 * em + gap)));
  return 20 + Math.ceil(count / across) * (Math.max(64, 4 * em) + gap);
}
