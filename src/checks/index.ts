export { CODES, type Code, type FindingCode } from './codes.ts';
export { findAll, SEVERITIES } from './find-all.ts';
export { findingsPage } from './findings-page.ts';
export { RANGE_GRACE, UNEQUAL_SHARE } from './tolerances.ts';
export type * from './types.ts';
