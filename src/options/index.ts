export { listOptions } from './list-options.ts';
export { listParts, type PartLine, partText } from './list-parts.ts';
export { rankOptions } from './rank-options.ts';
export type * from './types.ts';
export { figuresOf, type Weighing, weighOption } from './weigh-option.ts';
