/** Every limit and margin of the track's feed, with unit and reason. */
import type { Millimetre } from '../units/index.ts';

/** Beyond half a tape's width, how far a feed or a gap of the file may lie from the track that it names: about a fingertip, as for every record. */
export const REACH: Millimetre = 10;

/** Where a drawing puts a gap, from the end of its span on the face; on a short span a quarter of it. Shows which rail, not where to saw. */
export const GAP_FROM_END: Millimetre = 6;
export const GAP_SHARE = 0.25;

/**
 * How much more than its trip the short at the far end must draw to be seen for sure. Stranded wire has up to a fifth more ohms than
 * copper alone (IEC 60228 class 5: 13.3 ohm/km at 1.5 mm2 against 11.5), joints, rails and the coin add theirs, and a trip is seldom
 * where its label says: twice. Common practice, no source.
 */
export const COIN_MARGIN = 2;

/** A bus that loses more than this share of the booster's volts at the most that it gives is thin: common practice, no source. */
export const DROP_MOST = 0.1;

/** Knots looked at in the search for the fewest reversing sections: a layout of a few loops takes some hundreds, all of them a twentieth of a second. */
export const MOST_SECTION_STEPS = 1_000_000;
/** Choices of sections that are compared for length; beyond this the first ones found stand. */
export const MOST_CHOICES = 400;

/** Steps looked at to find what feeds one piece of rail: a yard of twenty roads fed from its throat alone takes some hundreds. */
export const MOST_PATHS = 2_000;
/** Ways in which one piece of rail is fed that are kept: beyond this no builder reads on. */
export const MOST_WAYS = 64;
/** Shorts that are told: each has a place, and one is enough to stop everything. */
export const MOST_SHORTS = 50;

/** Lengths of tape nearer than this are equal: sums along a mirrored strip differ in their last figures. */
export const SAME_LENGTH: Millimetre = 0.001;
