/** What an option brings along where the panel has nothing that suits. All common practice, no source, unless said. */
import type { Farad, Ohm, Volt } from '../units/index.ts';

/** Volts of alternating supplies on sale, rising. */
export const AC_VOLTS: readonly Volt[] = [6, 9, 12, 15, 16, 18, 24];
/** A, the least supply that is worth buying. */
export const LEAST_SUPPLY = 1;
/** Where the catalogue has no such part: behind each diode, of a capacitor unit, what that charges through, and of a charge feed. */
export const SMOOTHING: Farad = 0.0047;
export const UNIT_FARADS: Farad = 0.0047;
export const UNIT_OHMS: Ohm = 100;
/** Coils that a unit of the usual size throws at once; for more, as many such capacitors stand side by side. */
export const COILS_OF_A_UNIT = 2;
export const CHARGE_FARADS: Farad = 0.0022;
/** Rounds of fitting: a switch may move lamps, lamps a supply, and pins a connector; nothing moves back. */
export const ROUNDS = 4;
/** Volts of relay coils on sale. */
export const COIL_SIZES: readonly Volt[] = [5, 6, 9, 12, 24];
/** Supplies that drives are shared among at most, where one asks for a fuse above what the wires carry: more is no simple panel. */
export const MOST_SHARES = 4;
/**
 * Drives and relays that lamps follow and that no lever holds, up to which single faults are tried unasked: each fault is tried with
 * every lie that they may have been left in, each of which is solved anew. What pulses throw counts twice. Four take seconds, eight minutes.
 */
export const MOST_FREE = 4;
/**
 * Levers on feeds that share a rail on their way back, up to which single faults are tried unasked: what breaks the rail is solved for all
 * of them together. Six take seconds, twelve up to a minute.
 */
export const MOST_SHARED = 6;
/** Lamps lit by contacts up to which single faults are tried unasked: sixty take seconds, two hundred minutes. */
export const MOST_BY_CONTACTS = 60;
