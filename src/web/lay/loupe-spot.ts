/** Where the loupe stands: near the finger, off it, and never off the view. Pure; px of the view, x to the right and y down. */
import type { Spot } from '../../units/index.ts';
import type { Extent } from './camera.ts';

/** How much larger than the sheet, and how large it is itself: px. */
export const LOUPE = { times: 2.7, radius: 90 } as const;

/** From the finger's middle to the loupe's rim: a fingertip and what it hides. px. */
const OFF_FINGER = 44;
/** From the view's edge: px. */
const MARGIN = 6;

/**
 * The middle of the loupe. Above the finger; where there is no room at its left, which a right hand leaves free; else at its right; else below.
 * Along the other way it is pushed into the view. In a view with no room for any of them, above and over the finger.
 */
export function loupeSpot([x, y]: Spot, { width, height }: Extent): Spot {
  const far = LOUPE.radius + OFF_FINGER;
  const least = LOUPE.radius + MARGIN;
  const inside = (at: number, size: number): number => Math.max(least, Math.min(size - least, at));
  if (y - far >= least) return [inside(x, width), y - far];
  if (x - far >= least) return [x - far, inside(y, height)];
  if (x + far <= width - least) return [x + far, inside(y, height)];
  if (y + far <= height - least) return [inside(x, width), y + far];
  return [inside(x, width), inside(y - far, height)];
}
