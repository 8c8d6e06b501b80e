/**
 * Every figure of laying, with unit and reason. What a hand does to the sheet goes by these. None has a source outside: those for the hand
 * (fingertips, rooms, spacings) are common practice, no source; those for the machine were chosen by the reason given.
 */
import type { Degree, Millimetre } from '../units/index.ts';

/** How far from the middle of the tape a lamp may sit and still speak of it: mm, the same as where lamps are read. */
export { LAMP_REACH } from '../lamps/index.ts';
/** Beyond half a tape's width, how far a record may lie from what it names: mm, the same as where the plan is read. */
export { RECORD_REACH } from '../plan/index.ts';

/** Steps to a millimetre in what is written: 0.001 mm is far below what tape can show, and short to read in a file. */
export const WRITTEN_STEPS = 1_000;
/** Two spots are one: what rounding to the written step can put between them, along both axes and a little more. */
export const SAME_SPOT: Millimetre = 0.0015;
/** A strip shorter than this is hardly longer than its tape is wide: a slip of the hand. */
export const LEAST_STRIP: Millimetre = 6;
/** A spot names a strip within half its tape's width and this: about half a fingertip. */
export const STRIP_REACH: Millimetre = 5;
/** Between lamps of a row unless told otherwise: two 3 mm lamps with a web of metal between their holes. */
export const LAMP_APART: Millimetre = 6;
/** From a point or an end to the first lamp of a leg: clear of the toe's mark and of the tape that parts there. */
export const LAMP_CLEAR: Millimetre = 12;
/** Between the middles of two roads laid side by side: room for a plate and a fingertip. */
export const ROAD_APART: Millimetre = 24;
/** Above the least angle that is read as a branch a crossover keeps so far: typed figures must not make it a doubtful one. */
export const BRANCH_ROOM: Degree = 1;
/** A path beside another is not drawn round a turn sharper than 154 degrees: 1 + cos 154 degrees, without unit. The miter would run off. */
export const DOUBLES_BACK = 0.1;
/** A way that gains less than this for each mm along it, within 6 degrees of level, is not stepped to the rows of the grid: mm per mm. */
export const LEAST_PACE = 0.1;
/** Directions are told apart by this when snapping: coordinates typed to 0.1 mm blur an angle by about so much. */
export const SAME_DIRECTION: Degree = 0.1;
/** The grid that spots fall on: 2 mm, as the look of the product has it. */
export const GRID: Millimetre = 2;
/** Side of a cell of the index of what lies on the sheet: about two tapes. */
export const CELL: Millimetre = 10;
/** Cells that one thing may fill in an index; a longer one is looked at each time. */
export const MOST_CELLS = 4_000;
/** Share of the reach that a line draws: a busy sheet has a lamp in line with nearly every spot, and the grid must stay in reach. */
export const LINE_SHARE = 0.5;
/** Things of one kind that a look for alignment goes through: beyond it no one sees which line is meant. */
export const MOST_ALIGNED = 64;
/** Candidates of one kind that are told; the nearest of them. */
export const MOST_OF_A_KIND = 6;
/** Own ends of a selection that are tried while it is moved: more cannot be watched. */
export const MOST_HANDLES = 24;
/** Things this far apart down the sheet stand in different rows for reading aloud: half a road's distance. */
export const ROW: Millimetre = 12;
/** What is laid beside its model stands so far off, both ways: it is seen to be another. */
export const BESIDE: Millimetre = 10;
/** Lamps laid at once at most: a whole sheet has some hundreds. */
export const MOST_LAMPS = 2_000;
/** Roads of a ladder at most: no yard on a sheet has more. */
export const MOST_ROADS = 40;
/** Half of what a plate or button without a size takes up under a finger. */
export const HALF_THING: Millimetre = 6;
/** Radius of the mark at a toe, a crossing and a place, as it is drawn on the sheet. */
export const MARK: Millimetre = 1.9;
/** A free end's place stands on the very end, but for what numbering rounds. */
export const END_ON: Millimetre = 0.01;
/** Between the middles of two levers at least: room for a hand between bats, as the face asks it of toggles. */
export const LEVER_APART: Millimetre = 22;
/** Levers whose middles lie so near to one level stand in one row: what a hand can be off. */
export const LEVER_LEVEL: Millimetre = 1;
