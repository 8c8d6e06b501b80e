export type { OwnPart } from './catalogue.ts';
export { resolveCatalogue, TYPICAL_PARTS } from './catalogue.ts';
export { neighbours } from './connectors.ts';
export { forwardVolts, lampLaw, lawExists, lawFrom, THERMAL_VOLTAGE } from './diode-law.ts';
export { figureNames } from './figures.ts';
export { type FaultKind, faultWeight } from './priors.ts';
export type { ToggleAction } from './switches.ts';
export { smallestToggle } from './switches.ts';
export type * from './types.ts';
