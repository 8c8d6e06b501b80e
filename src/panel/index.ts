export type * from './schema.ts';
export { FORMAT, ID_PATTERN, VERSION } from './schema.ts';
