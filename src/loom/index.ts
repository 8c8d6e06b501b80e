export { cutWires } from './cut-wires.ts';
export type * from './types.ts';
