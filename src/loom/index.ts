export { cutWires } from './cut-wires.ts';
export { heatPerMetre, type SizedWire, sizeWire, type WireDrop, type WireRun, wireDrop } from './size-wire.ts';
export { DROP_SHARE } from './tolerances.ts';
export type * from './types.ts';
