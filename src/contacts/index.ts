export { chooseSwitches } from './choose-switches.ts';
export type * from './types.ts';
