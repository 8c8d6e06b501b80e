export { CODES, type Code, type FindingCode } from './codes.ts';
export { findAll, SEVERITIES } from './find-all.ts';
export { findingsPage } from './findings-page.ts';
export { COIL_VOLTS, MOTOR_VOLTS, RANGE_GRACE, UNEQUAL_SHARE } from './tolerances.ts';
export type * from './types.ts';
