export { proveFaults } from './prove-faults.ts';
export { proveHealthy, type TruthInput } from './prove-healthy.ts';
export type * from './types.ts';
