import type { Ampere, Millimetre, Volt, Watt } from '../units/index.ts';

/** A drive's range is judged at nominal volts with 5 % grace at either end: the file format's rule. */
export const RANGE_GRACE = 0.05;

/** Corners of one strip beyond which it was hardly laid by hand: a whole panel of forty points has some two hundred. */
export const MANY_CORNERS = 500;

/** Less than this past the edge of a range is what a good wire loses, and no news. */
export const EDGE_SLACK: Volt = 0.05;

/** Standard ratings, and what a quick fuse holds: the same that size them. */
export { FUSE_HOLDS, FUSES as STANDARD_FUSES } from '../wiring/index.ts';

/** Currents over a panel match within 2 to 1: common practice, no source. */
export const EVEN_RATIO = 2;

/** At least a quarter of the feed is left for the resistor, or the lit current keeps within 2 to 1. */
export const HEADROOM = 0.25;

/** Faint ends at five times what is just seen. */
export const PLEASANT_TIMES = 5;

/** From 0.2 V apart nearly all goes through the lower lamp: common practice, no source; circuits run in an outside solver agree. */
export const SHARE_APART: Volt = 0.2;

/** Two lamps of one bag may stand so far apart. */
export const SHARE_SPREAD: Volt = 0.05;

/** A resistor that sheds more than this burns a finger: common practice, no source. */
export const HOT_WATTS: Watt = 0.5;

/** Touchable extra-low voltage in dry places, IEC 61140 and EN 60204 (see the reference values of the tests): 25 V AC, 60 V DC. */
export const LOW_VOLTAGE_DC: Volt = 60;
export const LOW_VOLTAGE_AC: Volt = 25;

/** What an unregulated supply may give with nothing on it, as a share of its rating: 12 V that reads 16.5 V, common practice, no source. */
export const OFF_LOAD_SHARE = 1.375;

/** What share of the feed may be lost in a drive's wires: the same that sizes them. */
export { DROP_SHARE } from '../loom/index.ts';

/** Wires under the layout when no length is given, one way. */
export const GUESSED_LENGTH: Millimetre = 3000;

/** Less than this over a trip is the tail of a sum of decimals: fifteen times 0.2 A is no more than 3 A. */
export const SUM_SLACK: Ampere = 1e-6;

/** What a supply bought for coils gives, and one bought for motors: within the range of every kind of them. */
export const COIL_VOLTS: Volt = 24;
export const MOTOR_VOLTS: Volt = 12;

/** Halves of a split feed are one volt in twenty apart within their own tolerance: more is two kinds of supply. */
export const UNEQUAL_SHARE = 0.05;

/** A frog module in the user's own money, typical of the kind beside the prices of the catalogue. From memory. */
export const FROG_MODULE_PRICE = 9;

/** A held coil pulls for sure from three quarters of its volts, and stands a tenth more for good: typical of the kind, from memory. */
export const COIL_LEAST = 0.75;
export const COIL_MOST = 1.1;

/** Resistors on sale, W: common practice, no source. One is taken that stands twice what it gets. */
export const RESISTOR_WATTS: readonly Watt[] = [0.25, 0.5, 1, 2, 5];
