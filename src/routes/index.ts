export { type ControlRow, type ControlTable, controlTable } from './control-table.ts';
export { findConflicts } from './find-conflicts.ts';
export { MOST_ROUTES } from './limits.ts';
export { listRoutes, type RouteOptions } from './list-routes.ts';
export type * from './types.ts';
