export { diodeCurrent } from './diode-law.ts';
export { netlistOf } from './notation.ts';
export { residual } from './residual.ts';
export { type SolveOptions, solveDc } from './solve-dc.ts';
export { type SpiceOptions, spiceText } from './spice-text.ts';
export type * from './types.ts';
