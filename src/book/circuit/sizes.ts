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

/** Letters of a colour: half their box, and what a conductor needs to carry it. */
export const CHIP_HALF: Px = 9;
export const CHIP_ROOM: Px = 36;

/** How far a way of a connector reaches from its middle on the side of the arc, and on that of the bar. */
export const WAY_ARC: Px = 6;
export const WAY_BAR: Px = 10;
