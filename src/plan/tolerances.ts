/** Every tolerance and limit of the plan, with unit and reason. What strips mean stands or falls with these. */
import type { Degree, Millimetre } from '../units/index.ts';

/** A branch nearer to the met strip's own line than this cannot be told from it by eye. */
export const BRANCH_LEAST: Degree = 10;
/** A branch nearer to square than this does not say which way it leaves. */
export const BRANCH_MOST: Degree = 75;
/** The tool's own habit when it lays or swings a branch: 5 across for every 8 along. */
export const BRANCH_USUAL: Degree = 32;
/** A joint of two strips bent more than this is hardly one line. */
export const BUTT_KINK_MOST: Degree = 45;
/** Two ends that lie this straight carry on through a joint where a third end cannot be read. */
export const STRAIGHT_ON: Degree = 10;
/** Legs whose bends differ by less are equally straight: coordinates typed to 0.1 mm blur an angle by about so much. */
export const EQUALLY_STRAIGHT: Degree = 0.1;
/** Added to limits of angles, so that a branch laid at exactly 75 degrees is read however the sheet is turned. */
export const ANGLE_SLACK: Degree = 1e-6;
/** A micrometre: far below what tape can show, far above the rounding of sums a kilometre from the corner. */
export const SAME_SPOT: Millimetre = 0.001;
/** Beyond half a tape's width, how far a record may lie from what it names: about a fingertip. */
export const RECORD_REACH: Millimetre = 10;
/** An end that misses a strip by no more than this beyond its reach was most likely meant to join it. */
export const MISS_MARGIN: Millimetre = 3;
/** Two ends as near as this, as a share of the reach, are equally near: which strip is met cannot be told. */
export const EQUALLY_NEAR = 0.25;
/** Strips within this share of half a tape's width of each other, and as parallel as the next, lie one on the other. */
export const OVERLAP_SHARE = 0.5;
export const OVERLAP_ANGLE: Degree = 1;
/** Places in the order of numbering are compared to this. */
export const NUMBERING_STEP: Millimetre = 0.01;
/** Steps to a millimetre in the records that the tool writes: as fine as numbering. */
export const RECORD_STEP = 100;
/** A road's record that would read as something else is moved along its strip in steps of this. */
export const ROAD_SHIFT: Millimetre = 1;
/** And no further than this: some ten tapes, beyond which the name would stand somewhere else. */
export const ROAD_SHIFT_MOST: Millimetre = 50;
/** Nearer than this to another of its kind a record is written unrounded, so that each finds its own. */
export const CLOSE_SPOTS: Millimetre = 0.05;
/** Crossings read at most: no panel has a hundredth of it, and a scribble of ten thousand corners has millions. */
export const MOST_CROSSINGS = 20_000;
/** Pairs of segments looked at for crossings: a panel of a thousand points has some ten thousand. */
export const MOST_PAIRS = 2_000_000;
/** Pairs of strips told as lying one on the other: beyond this no one reads on. */
export const MOST_OVERLAPS = 1_000;
/** Segments looked at around one spot: a heap of tape that high has no meaning to find. */
export const MOST_NEAR = 500;
/** Share of the strips that may be new or gone for an earlier survey to be worth taking over: beyond it all is measured as fast. */
export const MOST_RESURVEYED = 0.25;
/** Least side of a cell of the index of segments: about two tapes. */
export const CELL_LEAST: Millimetre = 10;

/**
 * How far along a strip, in reaches, a joint can make it cross what it joins: an end at the least angle that overshoots the line by
 * its whole reach crosses it 1 / sin 10 degrees = 5.76 reaches before its end.
 */
export const JOINT_TAIL = 1 / Math.sin((BRANCH_LEAST * Math.PI) / 180);
