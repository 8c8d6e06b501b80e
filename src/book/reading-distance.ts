/** How high letters must be to be read from a distance. */
import type { Millimetre } from '../units/index.ts';

/** The least height of a character as it is seen, minutes of arc (NUREG-0700 rev. 3, legibility). */
const LEAST_ARC = 16;
/** From the eye to a card beside the levers: an arm bent a little, and an arm stretched out, mm. Common practice, no source. */
export const ARM_BENT: Millimetre = 600;
export const ARM_STRETCHED: Millimetre = 700;
/** Height of a capital of the text face as a share of its size: 668 units of 1000 in the font's own table. */
const CAPITAL = 0.668;

/** The least height of a capital that is read at `distance`, mm: 2.33 at 500 mm, 4.65 at 1 m. */
export function capitalAt(distance: Millimetre): Millimetre {
  return distance * Math.tan((LEAST_ARC / 60) * (Math.PI / 180));
}

/** The size of type whose capitals are read at `distance`, mm. */
export function typeAt(distance: Millimetre): Millimetre {
  return capitalAt(distance) / CAPITAL;
}

/** The height of a capital in type of this size, mm. */
export function capitalOf(size: Millimetre): Millimetre {
  return size * CAPITAL;
}
