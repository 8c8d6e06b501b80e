export { otherLie } from './drives.ts';
export { heldVolts } from './limit.ts';
export { lookOf } from './look.ts';
export { type Corner, layoutSide, type NetlistOptions, NOMINAL, netlistOf, normalSign } from './netlist-of.ts';
export { operate } from './operate.ts';
export { islandsOf, solveIsland } from './solve-island.ts';
export { METER_BAND, METER_DIGITS, STALL_BAND } from './tolerances.ts';
export type * from './types.ts';
export { type WiringInput, wirePanel } from './wire-panel.ts';
