/** Figures of the bench: each with its unit and reason. Bands of parts and of the meter's amps stand in `wiring`. */
import type { Ampere, Farad, Ohm, Volt } from '../units/index.ts';

/** What a new 9 V battery shows off load: common practice, no source. Bands are for this; the reader scales them. */
export const BATTERY_VOLTS: Volt = 9.5;
/** A battery within these is fit for the bench: 5 % under 9 V, as a drive's range is judged, and what a fresh one may show. Common practice, no source. */
export const BATTERY_LOW: Volt = 8.55;
export const BATTERY_HIGH: Volt = 9.9;
/** Two digits of a meter's 20 V range. */
export const VOLT_DIGITS: Volt = 0.02;
/** Two digits of a meter's 200 ohm range. */
export const OHM_DIGITS: Ohm = 0.2;
/** A good path through leads, contact and joints reads no more. Common practice, no source. */
export const CONTINUITY: Ohm = 2;
/** A quick fuse reads no more when cold: the smallest ratings read the most. Common practice, no source. */
export const FUSE_OHMS: Ohm = 20;
/** With nothing between two spots a meter reads at least this. Common practice, no source. */
export const OPEN_OHMS: Ohm = 1e6;
/** A dry joint, as the faults of the file format have it. */
export const DRY_JOINT: Ohm = 100;
/** A limit-switched drive that has cut itself off carries less. */
export const CUT_OFF: Ampere = 0.0001;
/** With the lever in its middle nothing should stand at the pins: what a meter shows of leakage across the dummy load. Common practice, no source. */
export const NOTHING: Volt = 0.1;
/** The limited feed is set above the steady draw by this share, to the next step. Common practice, no source. */
export const LIMIT_MARGIN = 1.25;
export const LIMIT_STEP: Ampere = 0.05;
/** A resistor runs at no more than half its rating: common practice, no source. */
export const DERATE = 0.5;
/** Ratings of resistors that a dummy load is made from, W. */
export const RATINGS = [0.25, 0.5, 1, 2, 5] as const;

/** A coil's ohms lie within this share of what is typical of its kind. Common practice, no source. */
export const COIL_BAND = 0.2;
/** A relay's coil: what data sheets of small relays give at 20 C, from memory. */
export const RELAY_BAND = 0.1;
/** A bench unit for coils, where the panel has none of its own: charged from 16 to 24 V. Common practice, no source. */
export const UNIT_LOW: Volt = 15;
export const UNIT_HIGH: Volt = 26;
export const UNIT_FARADS: Farad = 0.0047;
/** The 5 V of the bench, within 5 %. */
export const BOARD_VOLTS: Volt = 5;
export const BOARD_LOW: Volt = 4.75;
export const BOARD_HIGH: Volt = 5.25;
/** What a silicon diode reads on a meter's diode range, at about 1 mA. Common practice, no source. */
export const DIODE_LOW: Volt = 0.4;
export const DIODE_HIGH: Volt = 0.8;
/** An electrolytic capacitor leaks no more than so many amps for each farad and volt, a few minutes after it was charged. From memory. */
export const LEAK: number = 0.01;
/** A dummy load for a coil: it warms little when a lever is held over, and empties a capacitor in seconds. Common practice, no source. */
export const COIL_LOAD: Ohm = 1000;
/** What a steering diode keeps back when next to nothing flows, and what is left after five times R C. */
export const STEERING_LEFT: Volt = 1;
