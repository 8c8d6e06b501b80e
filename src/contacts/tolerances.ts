import type { Ampere } from '../units/index.ts';

/** A pulse that is over before the contact opens may be so many times the rating before it welds: from memory, no source. */
export const PULSE_TIMES = 5;

/** Least amps that clear the film on silver at the volts of a panel, and on gold: data sheets differ widely; from memory. */
export const SILVER_WETS: Ampere = 1e-3;
export const GOLD_WETS: Ampere = 1e-5;
