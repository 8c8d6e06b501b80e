export { diodeCurrent } from './diode-law.ts';
export { netlistOf } from './notation.ts';
export { type RandomOptions, randomNetwork } from './random-network.ts';
export { residual } from './residual.ts';
export { type SolveOptions, solveDc } from './solve-dc.ts';
export { type SpiceOptions, spiceText } from './spice-text.ts';
export type * from './types.ts';
