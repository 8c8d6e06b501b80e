import type { Millimetre, Volt } from '../units/index.ts';

/** How far from the middle of the tape a lamp may sit and still be read as lying on that span: beyond it, it shows no track. */
export const LAMP_REACH: Millimetre = 10;

/** A resistor is bought at twice what it dissipates at its worst: common practice, no source. */
export const POWER_MARGIN = 2;

/** Ratings on sale, watts: common practice, no source. */
export const RATINGS = [0.25, 0.5, 1, 2, 5] as const;

/** Where the lamps leave nothing for a resistor, it is sized as if this share of the feed were left: the rule of a quarter. */
export const QUARTER = 0.25;

/** Figures of a computed number that its rounding to binary has not touched: 337.4999999999999 is 337.5, and prints as 338. */
export const SURE_FIGURES = 12;

/** Volts that a rectifier diode takes where a sum needs one figure: typical, from memory; operating points use the law. */
export const DIODE_DROP: Volt = 0.8;

/** Ways from a place to a lamp that are told: contacts one behind the other can say one, and more than a few is no route lamp. */
export const WAYS_MOST = 64;
