/**
 * Every tolerance and limit of the circuit layer, with its unit and its reason.
 */
import type { Ampere, Farad, Henry, Hertz, Ohm, Volt } from '../units/index.ts';

/** Amps by which a diode's law may miss its current. A thousandth of a nanoamp: far below the 1 uA that a builder's meter can show. */
export const CURRENT_FLOOR: Ampere = 1e-12;

/** Share of a current by which a diode's law may miss it. Newton doubles the digits at each step, so this costs one step more than 1e-4. */
export const CURRENT_SHARE = 1e-9;

/** Steps of limited Newton before the damped one takes over. The worst of 10,000 random circuits takes fewer than 70. */
export const NEWTON_STEPS = 100;

/** Steps of limited Newton after which the older, more patient limiter replaces the quick one (it never jumps twice). */
export const QUICK_STEPS = 8;

/** Steps of damped Newton before the last iterate is returned as not converged: down an exponential a step falls by one nVt, so 100 V need some 4,000. */
export const DAMPED_STEPS = 4000;

/** Halvings of one damped step; 2^-60 of a step is below the spacing of doubles. */
export const HALVINGS = 60;

/** Share of the slope along a step that may be left after it: nearer to 1 accepts sooner, nearer to 0 searches longer. */
export const SLOPE_LEFT = 0.9;

/** Amps at which the quick limiter puts a diode's knee: the working current of a panel lamp. */
export const KNEE_AMPS: Ampere = 2e-3;

/** Siemens added across a dark junction in the matrix only, never in the law: keeps every pivot above zero without moving the answer. */
export const DARK_SIEMENS = 1e-15;

/** Siemens below which a diode does not hold a node: 10 Mohm, the resistance of a common meter, which would then read its own load. */
export const HOLDING_SIEMENS = 1e-7;

/** Ohms below which an element counts as 0 ohm: at 1,000 A it would drop a microvolt. */
export const NO_OHMS: Ohm = 1e-9;

/** Greatest ohms taken as a value: beyond it the current at 1 kV is below a femtoamp, and the value is taken for a slip. */
export const MOST_OHMS: Ohm = 1e18;

/** Greatest volts of a source taken as a value. */
export const MOST_VOLTS: Volt = 1e12;

/** Volts by which ideal sources around a loop may differ and still agree: rounding of sums of decimal volts, as a share of the volts. */
export const AGREE_SHARE = 1e-9;

/** Bounds of a diode law: outside them the exponential leaves the range of doubles. */
export const LEAST_SATURATION: Ampere = 1e-200;
export const MOST_SATURATION: Ampere = 1;
export const LEAST_EMISSION = 0.01;
export const MOST_EMISSION = 1000;
export const MOST_SERIES_OHMS: Ohm = 1e9;

/** Exponent beyond which the exponential runs on as its tangent: e^600 times the least saturation current is already 1e60 A. */
export const MOST_EXPONENT = 600;

/** Two units in the last place of a double, as a share: nothing finer can be asked of a sum. */
export const LAST_DIGITS = 4.4e-16;

/**
 * Greatest saturation current of diodes of different laws that are merged into one: merged, a diode's current misses by no more than
 * this, a tenth of the floor. Diodes of one law are merged exactly, whatever it is.
 */
export const MERGED_SATURATION: Ampere = 1e-13;

/** Topologies kept in one store before it is emptied: far more than the states and faults of the levers of a large panel. */
export const TOPOLOGIES_KEPT = 20_000;

/** Topologies of edits that are held until others come: one fault is solved at a few corners in a row. */
export const TOPOLOGIES_HELD = 8;

/** Branches at a node from which on it is taken for a rail that many blocks share. A lever's own nodes have fewer. */
export const RAIL_BRANCHES = 12;

/** Elements up to which what hangs together between the rails is one block without looking for places to cut it. */
export const BLOCK_ELEMENTS = 64;

/**
 * Volts that a block's ports may move by an edit while the rest of the network is taken for what it looked like before (its tangent):
 * a lamp behind 680 ohm then misses by less than a nanoamp, one at its knee by some tenths of a microamp.
 */
export const MOVED_VOLTS: Volt = 0.02;

/** Volts that a first step may move anything and still be the last: rounding of so little needs no second one. */
export const CLOSE_STEP: Volt = 1e-3;

/** Greatest farads, henries and cycles a second taken as values: far beyond any part of a panel, near enough for SPICE to take steps. */
export const MOST_FARADS: Farad = 1e3;
export const MOST_HENRIES: Henry = 1e3;
export const MOST_HERTZ: Hertz = 1e6;
