export type * from './types.ts';
export { type ProveInput, writeTests } from './write-tests.ts';
