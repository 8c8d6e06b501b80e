/** Sizes of the circuit on the screen, px at its own size: symbols as the book has them, four and a half times a millimetre. */
import type { Px } from './types.ts';

/** Half the height of each symbol as it stands upright, where its conductors begin. */
export const HALF_PX = {
  supply: 26,
  battery: 26,
  ac: 22,
  fuse: 17,
  resistor: 20,
  lamp: 9,
  diode: 9,
  capacitor: 15,
  motor: 24,
  coil: 22,
  'relay-coil': 11,
  button: 18,
  way: 13,
} as const;

/** A tag of a switch: an open circle. */
export const TAG: Px = 4.5;

/** Conductor that the letters of a colour need. */
export const CHIP_ROOM: Px = 36;
