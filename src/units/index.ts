export { resistorBands } from './bands.ts';
export type { LetteredColour } from './colours.ts';
export { isProtectiveEarth, isWireColour, LETTERED_COLOURS, wireColourName } from './colours.ts';
export type { Class5Row } from './conductor.ts';
export {
  awgArea,
  awgDiameter,
  CLASS_5,
  COPPER_OHM_MM2_PER_M,
  COPPER_PER_KELVIN,
  class5Maximum,
  factorTo20,
  wireOhms,
} from './conductor.ts';
export {
  formatAmps,
  formatDegrees,
  formatFarads,
  formatJoules,
  formatMillimetres,
  formatNumber,
  formatOhms,
  formatPercent,
  formatSeconds,
  formatShort,
  formatVolts,
  formatWatts,
  parseOhms,
} from './format.ts';
export type { PreferredSeries, Rounding } from './preferred.ts';
export { GREATEST_OHMS, LEAST_OHMS, preferred, preferredValues } from './preferred.ts';
export type {
  Ampere,
  Celsius,
  Coulomb,
  Degree,
  Farad,
  Henry,
  Hertz,
  Joule,
  Millimetre,
  Ohm,
  Second,
  Siemens,
  Spot,
  SquareMillimetre,
  Volt,
  Watt,
} from './quantity.ts';
