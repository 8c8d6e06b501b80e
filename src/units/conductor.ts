import type { Celsius, Millimetre, Ohm, SquareMillimetre } from './quantity.ts';

/** Resistivity of annealed copper (100 % IACS) at 20 C, ohm mm2/m. Source: NBS Handbook 100. */
export const COPPER_OHM_MM2_PER_M = 0.017241;
/** Rise of copper's resistance per kelvin, from its value at 20 C. Source: the same standard copper, 0.00393 /K. */
export const COPPER_PER_KELVIN = 0.00393;
const REFERENCE_CELSIUS: Celsius = 20;
const MM_PER_M = 1000;

/**
 * Ohms of a copper wire, one way: 0.017241 x metres / mm2 at 20 C, and 0.393 % more for each kelvin above. Solid
 * metal: real stranded wire is a few percent more, at most what `class5Maximum` says. 0 for no length; throws
 * RangeError for a negative length or a gauge that is not above 0.
 *
 * @example wireOhms(3000, 0.22) // 0.2351 ohm
 */
export function wireOhms(length: Millimetre, gauge: SquareMillimetre, celsius: Celsius = REFERENCE_CELSIUS): Ohm {
  if (!(length >= 0) || !(gauge > 0) || !Number.isFinite(length + celsius)) {
    throw new RangeError(`no resistance for ${length} mm of ${gauge} mm2 at ${celsius} C`);
  }
  return ((COPPER_OHM_MM2_PER_M * length) / MM_PER_M / gauge) * (1 + COPPER_PER_KELVIN * (celsius - REFERENCE_CELSIUS));
}

/**
 * Factor that brings a resistance measured at `celsius` to 20 C, as in the annex of IEC 60228: 1 / (1 + 0.004 (t - 20)).
 * The table of that standard uses 0.004 and not the 0.00393 of `wireOhms`; at 40 C they differ by 0.15 %.
 */
export function factorTo20(celsius: Celsius): number {
  return 1 / (1 + 0.004 * (celsius - REFERENCE_CELSIUS));
}

const AWG_LEAST = -3; // 0000, written 4/0
const AWG_GREATEST = 56;

function checkAwg(awg: number): void {
  if (!Number.isInteger(awg) || awg < AWG_LEAST || awg > AWG_GREATEST) {
    throw new RangeError(`no wire gauge ${awg}: whole numbers from ${AWG_LEAST} (0000) to ${AWG_GREATEST}`);
  }
}

/** Diameter of a solid wire of an AWG number, ASTM B258: 0.127 mm x 92^((36 - n) / 39). 0, -1, -2, -3 are 0 to 0000. */
export function awgDiameter(awg: number): Millimetre {
  checkAwg(awg);
  return 0.127 * 92 ** ((36 - awg) / 39);
}

/** Area of metal of a solid wire of an AWG number. */
export function awgArea(awg: number): SquareMillimetre {
  return (Math.PI / 4) * awgDiameter(awg) ** 2;
}

/** Greatest resistance of a flexible conductor, ohm per km at 20 C, plain copper and tinned. */
export interface Class5Row {
  readonly gauge: SquareMillimetre;
  readonly plain: number;
  readonly tinned: number;
}

/** IEC 60228 class 5 from 0.5 mm2 up; the smaller sizes from DIN VDE 0295. Rising by gauge. */
export const CLASS_5: readonly Class5Row[] = [
  { gauge: 0.05, plain: 380, tinned: 392 },
  { gauge: 0.08, plain: 237, tinned: 244 },
  { gauge: 0.11, plain: 170, tinned: 175 },
  { gauge: 0.12, plain: 150, tinned: 155 },
  { gauge: 0.14, plain: 134, tinned: 138 },
  { gauge: 0.22, plain: 96, tinned: 99 },
  { gauge: 0.25, plain: 76, tinned: 79 },
  { gauge: 0.34, plain: 53, tinned: 56 },
  { gauge: 0.5, plain: 39.0, tinned: 40.1 },
  { gauge: 0.75, plain: 26.0, tinned: 26.7 },
  { gauge: 1.0, plain: 19.5, tinned: 20.0 },
  { gauge: 1.5, plain: 13.3, tinned: 13.7 },
  { gauge: 2.5, plain: 7.98, tinned: 8.21 },
];

/** The row of the class 5 table for a nominal gauge; undefined for a gauge that the table does not have. */
export function class5Maximum(gauge: SquareMillimetre): Class5Row | undefined {
  return CLASS_5.find((row) => row.gauge === gauge);
}
