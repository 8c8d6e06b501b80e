/** Every limit of the face, millimetres unless said otherwise, each with its reason. */
import type { Millimetre } from '../units/index.ts';

/** Metal between the edges of two holes: less bends when the second is drilled. Common practice, no source. */
export const HOLE_WEB: Millimetre = 1.5;
/** Metal between a hole and the edge of the sheet. Common practice, no source. */
export const HOLE_TO_EDGE: Millimetre = 3;
/** Clear between two bats: the least separation of two toggles, NUREG-0700 rev. 3, Table 11.5. */
export const BATS_CLEAR: Millimetre = 19;
/** Width of a bat at its tip as a share of its nut: 4.7 mm for a standard toggle, so that 19 clear is 23.7 between middles. From memory. */
export const BAT_WIDTH = 0.3;
/** How far a bat reaches over the face from the middle of its nut, as a share of the nut: 14.2 mm for a standard toggle. From memory. */
export const BAT_REACH = 0.9;
/** Tags and bent wires behind a switch want so much more than its depth. Common practice, no source. */
export const BENT_WIRES: Millimetre = 15;
/** A thread of tape narrower than this tears when the hole is pierced. Common practice, no source. */
export const TAPE_THREAD: Millimetre = 0.2;
/** Lettering below this is not read at arm's length (16 minutes of arc at 0.65 m: 3.0). */
export const LEAST_LETTERING: Millimetre = 3;
/** Contrast of tape on paint, no unit: WCAG 2.2, 1.4.11, for the parts of a picture that must be told apart. */
export const LEAST_CONTRAST = 3;
/** Head of a fixing screw as a share of its drill: 5.8 mm over a 3.2 hole. Common practice, no source. */
export const SCREW_HEAD = 1.8;
/** From the middle of a bush to the small hole for the tab of its washer, on the side of the keyway. From memory. */
export const TAB_REACH: Millimetre = 6.4;
/** Shorter than this nothing has a length: far below what a drill or a knife can do, far above the error of the sums. */
export const NO_LENGTH: Millimetre = 1e-6;
/** Two things that share less than this touch and do not overlap. */
export const TOUCH: Millimetre = 0.01;
/** A corner sharper than this, in radians short of doubling back, is cut and not bent: a bend would need an endless leg. */
export const DOUBLED_BACK = 0.02;
/** A turn below this, in radians, moves a bend of 9 mm by less than 5 micrometres: it is drawn straight. */
export const STRAIGHT_ON = 0.0005;
/** How much wider than its hole the rim of a push button is on the face. Common practice, no source. */
export const RIM: Millimetre = 4;
/** A small relay with its two diodes on a strip of board, across and down, and how far it stands behind the sheet. Common practice, no source. */
export const RELAY_BODY: readonly [Millimetre, Millimetre] = [25, 15];
export const RELAY_DEPTH: Millimetre = 15;
