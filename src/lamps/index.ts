export { feedVolts, groupLamps, rectifiedVolts } from './group-lamps.ts';
export { polesOf } from './grow-trees.ts';
export { leversOfPoints } from './lamp-ways.ts';
export {
  planTree,
  type TreeCarrier,
  type TreeContact,
  type TreeLamp,
  type TreeOptions,
  type TreePlan,
  type TreeShort,
  type TreeShortage,
} from './plan-tree.ts';
export { type LampsRead, readLamps } from './read-lamps.ts';
export {
  type LampCorners,
  type Load,
  RESISTOR_BAND,
  type ResistorOptions,
  type SizedResistor,
  sizeResistor,
  VF_BAND,
} from './size-resistor.ts';
export { LAMP_REACH } from './tolerances.ts';
export type * from './types.ts';
