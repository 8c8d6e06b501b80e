/** How large the sheet is drawn. */
import type { Millimetre } from '../../units/index.ts';

/** Below this share of the width a low window scrolls rather than shrink the sheet further. */
const LEAST_SHARE = 0.6;
/** A small face is not blown up beyond this: 4 px to the millimetre is about true size on a common screen. */
const MOST_PX_PER_MM = 4;
/** Room that the row of cards takes under the sheet, in px. */
const CARDS = 114;

/** Px to the millimetre: as wide as the bench allows, and on a wide screen no taller than it. */
export function fitScale(
  face: { readonly width: Millimetre; readonly height: Millimetre },
  bench: { readonly width: number; readonly height: number },
  wide: boolean,
): number {
  const across = bench.width / face.width;
  if (!wide) return Math.min(across, MOST_PX_PER_MM);
  const down = (bench.height - CARDS) / face.height;
  return Math.min(across, MOST_PX_PER_MM, Math.max(down, across * LEAST_SHARE));
}
