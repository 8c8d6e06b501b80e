export { compareReaders, printCase } from './compare.ts';
export { readSlowly } from './read.ts';
export { scatterPanel } from './scatter.ts';
export { listWays } from './ways.ts';
