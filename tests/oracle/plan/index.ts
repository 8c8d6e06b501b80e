export { type Compared, compareReaders, printCase } from './compare.ts';
export type { SlowPlan } from './read.ts';
export { readSlowly } from './read.ts';
export { scatterPanel } from './scatter.ts';
export { inOrder, listClashes, listWays, type SlowRoute, spanName } from './ways.ts';
