/**
 * Every tolerance and limit of what runs in time, with its unit and its reason.
 */
import type { Ampere, Hertz, Second, Volt } from '../units/index.ts';

/** Steps of a bracketed search before its best is taken. Each third step at least halves the bracket: 100 exhaust a double. */
export const ROOT_STEPS = 100;

/** Share of an instant to which a crossing is located: two units in the last place of a double. */
export const ROOT_SHARE = 4.4e-16;

/** Extremes of a ringing current that are looked at. A loop that rings longer than 500 swings loses nothing that a builder could measure. */
export const MOST_EXTREMES = 1000;

/** Relative and absolute error of one step of the integrator at its tightest: rounding of the sums themselves is not far below. */
export const TIGHTEST = { relative: 1e-12, absolute: 1e-14 } as const;

/** Error of one step where an answer to a thousandth of itself is all that is printed. */
export const WORKING = { relative: 1e-8, absolute: 1e-10 } as const;

/** A step is tried at nine tenths of what the last error allows, and changes at most so much at once: Hairer, Norsett, Wanner, section II.4. */
export const STEP_SAFETY = 0.9;
export const STEP_LEAST = 0.2;
export const STEP_MOST = 5;

/** Steps before the integrator gives up; a throw takes some 200 and a mains cycle with a hard diode some 2,000. */
export const MOST_STEPS = 1_000_000;

/** A step smaller than this share of the span can no longer be told from rounding of the time. */
export const LEAST_STEP_SHARE = 1e-14;

/** How long a lever or button is held when no one says otherwise: the long end of 20 to 100 ms, common practice, no source. */
export const PRESS: Second = 0.1;

/** A unit counts as ready again at this share of its full volts (nine tenths of the energy): common practice, no source. */
export const READY_SHARE = 0.95;

/** Mains frequency when no one says otherwise: the file format's. */
export const MAINS: Hertz = 50;

/** A step never spans more than this share of a cycle, so that none jumps over the instant in which a rectifier conducts. */
export const CYCLE_SHARE = 1 / 50;

/** Steps of one cycle: a rectifier of the trade takes 300 to 3,000. Figures beyond all sense end here, and are told as unsettled. */
export const CYCLE_STEPS = 20_000;

/** Parts of a step that are read for crests and summed by Simpson's rule: an even number. */
export const PLACES = 8;

/** Places of a cycle that are summed without a reservoir; they bring the kinks of a rectified sine below 1e-6 of it. */
export const SAMPLES = 2000;

/** A rectifier counts as conducting above this share of its own peak. */
export const CONDUCTING_SHARE = 0.01;

/** Volts to which the settled state of a reservoir is searched for: a thousandth of what any meter shows. */
export const SETTLED: Volt = 1e-7;

/** A reservoir that fills faster than this share of a cycle is followed by implicit steps: the others would take thousands for nothing. */
export const STIFF_SHARE = 1 / 4000;

/** Error of an implicit step; their order is lower, and a rectifier's answers are printed to a thousandth. */
export const STIFF = { relative: 1e-7, absolute: 1e-9 } as const;

/** Below these volts a load of constant amps draws in proportion to them: nothing draws from an empty capacitor. */
export const LOAD_KNEE: Volt = 0.5;

/** What hangs across an opened contact besides the coil: wire and winding, picofarads by the hundred; from memory. */
export const STRAY_FARADS = 100e-12;

/** Below this an opening contact in air draws no arc: 327 V, the least breakdown voltage of air (Paschen's law). */
export const ARC_VOLTS: Volt = 327;

/** Amps below which a coil counts as let go: the thousandth of an ampere that a common meter shows. */
export const NO_CURRENT: Ampere = 1e-3;

/** Steps of a settled cycle, two solves each: a diode that conducts for a tenth of it is met six times, means stand to some 1e-4. */
export const CYCLE_TURN_STEPS = 64;

/** Cycles after which the search for the settled one ends; it takes some eight. */
export const CYCLE_TURNS = 40;

/** Steps of Newton's after that, and the least share of one that is tried: near the end it takes some four whole ones. */
export const CYCLE_NEWTON = 12;
export const LEAST_NEWTON = 1 / 64;

/**
 * A capacitor has settled when a cycle changes it by no more than this share of all that its volts moved: a diode's amps bend over some
 * 50 mV, so its volts are then right within a hundredth of that; or by so many volts, where next to nothing flows.
 */
export const STILL_SHARE = 1e-3;
export const STILL_VOLTS: Volt = 1e-7;

/** First stride of the search, doubled until the settled volts are passed. */
export const FIRST_TURN: Volt = 0.01;

/** Places of half a cycle, from trough to crest, that are summed without a capacitor: kinks stay below 1e-4. */
export const HALF_CYCLE_SAMPLES = 128;
