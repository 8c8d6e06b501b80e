export type * from './quantity.ts';
