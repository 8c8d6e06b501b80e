/**
 * What a panel file may hold at most, so that no file, however large or odd, stops the program. Each is far above any real panel
 * (one of a hundred points is some hundred kilobytes) and far below what a browser's worker chokes on.
 */

/** Characters of a file's text. */
export const MOST_TEXT = 20_000_000;
/** Values in a file, counting every number, text, list and object. */
export const MOST_VALUES = 500_000;
/** Keys in one object: tables of what is built are the longest that a panel has. */
export const MOST_KEYS = 20_000;
/** Lists and objects inside one another; the records that we know go 7 deep. */
export const MOST_DEPTH = 64;
/** Problems listed before reading stops: beyond this no one reads on. */
export const MOST_PROBLEMS = 1_000;
/** Millimetres from the face's corner, either way: a kilometre. Keeps squares of distances exact enough to compare. */
export const FURTHEST = 1_000_000;
/** Greatest figure of any kind (ohms, millimetres...): products of four of them stay finite. */
export const GREATEST = 1_000_000_000;
/** Least figure that must be above nothing (1 pF is the smallest that a builder names): its reciprocal stays finite. */
export const LEAST = 1e-12;
