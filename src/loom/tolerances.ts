import type { Millimetre, SquareMillimetre } from '../units/index.ts';

/** Both ends of a wire want a hand's breadth to reach and strip: common practice, no source. */
export const SLACK: Millimetre = 80;

/** Wires are cut to the next 10 mm. */
export const ROUND_UP: Millimetre = 10;

/** From tag to tag of one switch, or along the leads of one lamp: common practice, no source. */
export const LINK_LENGTH: Millimetre = 30;

/** Inside the panel, one lever's amps: 7/0.2. */
export const PANEL_GAUGE: SquareMillimetre = 0.22;

/** From the supply along the levers, the sum of all: 16/0.2. */
export const CHAIN_GAUGE: SquareMillimetre = 0.5;

/** Inside the panel, the pulse of one lever's coils, 2 to 8 A: 16/0.2 loses 10 mV an amp in 300 mm. Common practice, no source. */
export const PULSE_GAUGE: SquareMillimetre = 0.5;

/** From what gives pulses along the levers: 24/0.2. Common practice, no source. */
export const PULSE_CHAIN_GAUGE: SquareMillimetre = 0.75;

/** Relays, capacitors and diodes whose place no file gives stand so far from the switch that works them. Common practice, no source. */
export const BESIDE: Millimetre = 40;

/** A tenth of the feed lost in a drive's wires is worth thicker wire: common practice, no source. */
export const DROP_SHARE = 0.1;
