import type { Ampere } from '../units/index.ts';

/** Cases of one lamp that are told one by one: ten levers' worth; a claim on more points than that is told in brief. */
export const CASES_MOST = 4096;

/** Two draws that differ by less are the same: far above the solver's own error, far below what any lamp shows. */
export const ALIKE_AMPS: Ampere = 1e-9;

/** Levers whose every setting is tried together when a fault joins them; beyond, the others stand where they draw most and least. */
export const FEW_LEVERS = 5;

/** Halvings of the feed's volts in the search for those down to which a lever is as it should be: a twentieth of a volt of 24. */
export const FLOOR_HALVINGS = 9;

/** Share of its travel after which a drive's contact changes over: near mid-stroke, common practice, no source. */
export const MID_STROKE = 0.5;

/** Drives whose lie a fault leaves open that are tried in all lies together. */
export const FEW_SLIDERS = 6;

/** States of circuits that a fault joins up to which all are tried together. */
export const STATES_TOGETHER = 512;

/** States of one lamp up to which a certificate tells all; beyond, its range rests on the tool's own bounds. */
export const CERTIFIED_STATES = 256;

/** Settings of what shares a weak supply up to which a certificate tells all: six levers' worth. */
export const CERTIFIED_TOGETHER = 64;

/** The solver's tolerance for a current: what is less is none. */
export const LEAK_AMPS: Ampere = 1e-12;

/** Cases of a lamp up to which a certificate lists each. */
export const CERTIFIED_CASES = 64;

/** A wrong resistor has ten times its ohms. */
export const WRONG_TENTH = 10;

/** By how much a lamp's least current may lie below its nominal one: a quarter covers supply, resistor and forward volts. */
export const DIM_MARGIN = 1.25;

/** A changeover under the layout takes a common and two throws: so many wires, and as many pins. */
export const WIRES_A_CHANGEOVER = 3;

/** A relay under the layout: plus and minus of its feed from the panel, and a wire from the contact to its coil. */
export const WIRES_A_RELAY = 3;
export const PINS_A_RELAY = 2;
