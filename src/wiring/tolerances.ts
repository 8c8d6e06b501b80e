import type { Ampere, Henry, Ohm, Second, Volt } from '../units/index.ts';

/** Bands that are not a part's own: the file format states them. */
export const STALL_BAND = 0.2;

/** A meter is right within 1 % and two digits; two digits of a 0.1 mA meter are 0.2 mA. */
export const METER_BAND = 0.01;
export const METER_DIGITS: Ampere = 0.0002;

/** Between lamps of one parallel group: each may stand 25 mV to either side of their mean, so two may be 50 mV apart. */
export const PARALLEL_SPREAD = 0.05;

/** A lamp is good to five times what is just seen, or to its greatest current where that is less; destroyed above twice that. */
export const GOOD_FROM = 5;
export const DESTROYED_ABOVE = 2;

/** Standard fuse ratings, A (the R10 steps that IEC 60127 fuses follow; from memory). */
export const FUSES: readonly Ampere[] = [
  0.1, 0.125, 0.16, 0.2, 0.25, 0.315, 0.4, 0.5, 0.63, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10,
];

/** A fuse is sized a third above the worst draw so that it does not tire: common practice, no source. */
export const FUSE_MARGIN = 1.35;

/** A quick fuse holds this much of its rating for an hour or more (IEC 60127-2, from memory): a supply that limits below never blows it. */
export const FUSE_HOLDS = 1.5;

/** A slow fuse holds so many times its rating for a tenth of a second (IEC 60127-2, time-lag, from memory): a pulse does not blow it. */
export const SLOW_FUSE_HOLDS = 4;

/** A supply is chosen a quarter above the worst draw, so that it runs at four fifths: common practice, no source. */
export const SUPPLY_MARGIN = 1.25;

/** Share by which sums of decimal amps may miss a round one: a supply of 1 A serves a need of 1.0000000000000002. */
export const SAME_AMPS = 1e-12;

/** Ratings of plug-in supplies on sale, A: common practice, no source. */
export const SUPPLIES: readonly Ampere[] = [0.3, 0.5, 1, 1.5, 2, 3, 4, 5, 6, 8, 10];

/** Wires inside the panel and closed contacts: the file format takes them as nothing. */
export const NO_OHMS: Ohm = 0;

/** The solver's tolerance for a current: what is less is none. */
export const LEAST_AMPS: Ampere = 1e-12;

/** Behind so many levers or fewer one group of lamps moves a limited supply's volts, and each is judged at a corner of its own. */
export const LIMIT_FEW = 8;

/** Answers kept for one wiring: no more than one setting of a large panel asks for. */
export const HELD_KEPT = 4096;

/** A supply at its limit gives its amps within this share of them: far below anything that is read. */
export const LIMIT_CLOSENESS = 1e-12;

/** Solves after which the search for a limited supply's volts ends; it takes fewer than 20. */
export const LIMIT_STEPS = 60;

/** What a dry joint adds: the file format states it. */
export const DRY_OHMS: Ohm = 100;

/** A supply that is low gives a fifth less, one that is high two fifths more; a wrong resistor has ten times its ohms or a tenth. */
export const LOW_SUPPLY = 0.8;
export const HIGH_SUPPLY = 1.4;
export const WRONG_VALUE = 10;

/** Volts of a shared supply that the last turn of its search may move: Newton's error goes by the square, so what is left is next to none. */
export const CLOSE_VOLTS: Volt = 1e-7;

/** Turns after which the search for a shared supply's volts ends; Newton takes fewer than 10, halving alone 60. */
export const SHARED_TURNS = 100;

/** Different levers behind a shared supply up to which each is solved at every turn of the search. */
export const FEW_KINDS = 24;

/**
 * Volts between rungs at which many different levers are worked out. A lamp's amps bend over some n Vt = 52 mV; a cubic across a
 * thirteenth of that misses by (1/13)^4 / 384 of its amps, a tenth of a millionth.
 */
export const RUNG_VOLTS: Volt = 0.004;

/** Rungs kept: 16 V of them, more than any one supply asks for. */
export const RUNGS_KEPT = 4096;

/** Drives to one way of a return: common practice, no source. */
export const DRIVES_A_RETURN_PIN = 6;

/** Charging resistor of a capacitor unit whose record gives none: common practice, no source. */
export const CHARGE_OHMS: Ohm = 100;

/** Of a small relay's coil, typical, from memory: at rest it does not matter. */
export const RELAY_HENRIES: Henry = 0.1;

/**
 * A drive moves for sure at half the least volts of its range; below that it may stay as it was. Motors creep from less: common
 * practice, no source. The same share of a relay coil's own amps.
 */
export const MOVES_FROM = 0.5;

/** How long a press lasts where a sum needs one figure: a hand's, common practice, no source. */
export const PULSE_SECONDS: Second = 0.1;

/** Amps at which a steering diode's volts are taken while it carries a throw. */
export const STEERING_AMPS: Ampere = 2;

/** Cycles that a run of an alternating supply takes: a second at 50 Hz, in which what smooths it has settled; and steps in each. */
export const HALF_WAVE_CYCLES = 50;
export const STEPS_A_CYCLE = 200;

/**
 * Seconds after which a capacitor that starts at what it holds at rest has settled, and steps on the way: a unit of 4700 uF that a coil of
 * some 5.5 ohm drains all the same is within e^-19 of it.
 */
export const SETTLE_SECONDS: Second = 0.5;
export const TIME_STEPS = 500;

/** States of a circuit up to which all are tried; six levers' worth. */
export const STATES_ALL = 64;

/** Share of a lamp's amps by which two readings of it may differ and be the same: above the solver's own error, below what any band shows. */
export const ALIKE_SHARE = 1e-9;

/** What a smoothed rail of one diode keeps of its volts without its capacitor: the mean of a sine's one half over a whole cycle, 1 / pi. */
export const UNSMOOTHED = 1 / Math.PI;

/** Settings kept whose means over a cycle have been taken: an evening's play. */
export const SWUNG_KEPT = 512;

/** A pulse throws a drive when it lasts as long as the healthy one does, steering diodes and resistors aside: within a tenth. */
export const LASTS_AS_WELL = 0.9;

/** What a rail of a half-wave feed carries at least where a lamp on it is seen: a good lamp's least. */
export const RAIL_LEAST_AMPS: Ampere = 0.0002;

/** Volts below which a node stands at none: what a resistor drops at the least amps that are told, far below what any diode wants. */
export const LEAST_VOLTS: Volt = 1e-6;

/** Volts at which it is kept what a load draws: more than there are marks of circuits on one panel. */
export const DRAWN_KEPT = 1024;
