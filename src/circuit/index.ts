export { type BlockOptions, Blocks, type Found, prepareBlocks } from './blocks.ts';
export { bracketedRoot, timeAbove } from './bracketed-root.ts';
export { CHARGED_CAPACITOR_CAUTION, HELD_COIL_CAUTION, OPENED_COIL_CAUTION } from './cautions.ts';
export {
  type ChargeFeed,
  type ChargeFeedThrows,
  type ChargeRush,
  type ChargeThrow,
  type ChargeWay,
  chargeFeedThrows,
  chargeRush,
  chargeRushMixed,
  chargeThrow,
  type FeedAndCoil,
  type MixedRush,
} from './charge-feed.ts';
export { type Charger, chargingAmps, chargingSeconds, fullVolts, voltsAfter } from './charging.ts';
export { diodeCurrent } from './diode-law.ts';
export {
  type Coil,
  type CoilThrow,
  coilOf,
  type DischargeUnit,
  leastVolts,
  type Pulse,
  pulseOf,
  type SecondThrow,
  secondThrow,
  type Throw,
  type ThrowOptions,
  tellThrow,
  throwByIntegrator,
  throwCoils,
  throwsAtOnce,
} from './discharge.ts';
export { type Edit, editElement, editNetlist } from './edits.ts';
export { type Flyback, flyback, type OpenedCoil, tellFlyback } from './flyback.ts';
export { type Happening, integrate, type Rates, type Run, type RunOptions, type TimedEvent } from './integrate.ts';
export { netlistOf } from './notation.ts';
export { Prepared, type PrepareOptions, prepare } from './prepared.ts';
export { type RandomOptions, randomNetwork } from './random-network.ts';
export { type Dead, type DeadWhy, deadElements } from './reach.ts';
export {
  holdUp,
  type Load,
  type Rectified,
  type Rectifier,
  rectify,
  reservoirFor,
  tellRectified,
} from './reservoir.ts';
export { residual } from './residual.ts';
export {
  criticalOhms,
  feedFrom,
  type HeldCoil,
  heldCoil,
  type Loop,
  type LoopState,
  NO_FEED,
  type Response,
  rlcResponse,
  storedJoules,
} from './rlc.ts';
export { type CycleMeans, cycleMeans } from './settled-cycle.ts';
export { type SolveOptions, solveDc } from './solve-dc.ts';
export { type SpiceOptions, spiceText } from './spice-text.ts';
export { TIGHTEST, WORKING } from './time-tolerances.ts';
export { TopologyStore } from './topology-store.ts';
export type * from './types.ts';
