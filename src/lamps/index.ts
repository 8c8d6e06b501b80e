export { feedVolts, groupLamps } from './group-lamps.ts';
export { leversOfPoints, readLamps } from './read-lamps.ts';
export { type Load, RESISTOR_BAND, type SizedResistor, sizeResistor, VF_BAND } from './size-resistor.ts';
export type * from './types.ts';
