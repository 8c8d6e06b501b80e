export {
  bladesAt,
  drivesByPoint,
  isThrown,
  isUnlinked,
  leastToMove,
  sliderCan,
} from './blades.ts';
export { type CarrierLies, carrierLies, carriersOf, lieOf, restOf } from './carrier-lies.ts';
export { canWork, hasCoils, otherLie, turnsOver } from './drives.ts';
export { type Alive, type Faulted, type FaultedLamp, faultedCircuits } from './faulted-circuits.ts';
export { couples, type Fault, faultByCode, faultsOf } from './faults.ts';
export { canFeed } from './lay-feed.ts';
export { layoutSide } from './layout-side.ts';
export { drawAt, heldVolts, sharedVolts } from './limit.ts';
export { lookOf } from './look.ts';
export { type Corner, type NetlistOptions, NOMINAL, netlistOf, normalSign } from './netlist-of.ts';
export {
  type ClosedBy,
  type Figure,
  type IslandRecords,
  type NetworkRecords,
  networkRecords,
  type PartRecord,
} from './network-records.ts';
export { isAsked, isPressed, liesNow, operate, pressOf, pushIn, relayGoes } from './operate.ts';
export { ladder, lampOf, type PanelWired, wireFile } from './panel-wired.ts';
export { askedTo, askIn, type Positions, positionIn, standsIn, turnedBy } from './positions.ts';
export { buttonsThatThrow, type ThrownBy } from './press-buttons.ts';
export { pulseFromTwin, pulseOf } from './pulses.ts';
export { relayHolding } from './relays.ts';
export {
  type Draw,
  type FuseWants,
  type SizedFuse,
  type SizedSupply,
  type SummedDraws,
  sizeFuse,
  sizeSupply,
  sumDraws,
} from './size-supply.ts';
export {
  difference,
  type IslandReading,
  islandOf,
  islandsOf,
  islandsTouched,
  islandsWith,
  solveIsland,
} from './solve-island.ts';
export { decidersOf, positionsOfLever, type State, statesOf } from './states.ts';
export { takeOver } from './take-over.ts';
export { timeFor } from './time-run.ts';
export { FUSE_HOLDS, FUSES, METER_BAND, METER_DIGITS, MOVES_FROM, PULSE_SECONDS, STALL_BAND } from './tolerances.ts';
export type * from './types.ts';
export { type WiringInput, wirePanel } from './wire-panel.ts';
