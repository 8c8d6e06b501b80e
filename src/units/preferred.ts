import type { Ohm } from './quantity.ts';
import { SAME_VALUE } from './tolerances.ts';

/** Series of preferred values, IEC 60063: the number is how many values a decade has. */
export type PreferredSeries = 'E12' | 'E24' | 'E48' | 'E96';
export type Rounding = 'up' | 'down' | 'nearest';

// E12 and E24 are older than the formula and depart from it (27 30 33 36 39 43 47 82), so they are listed: IEC 60063.
const E12 = [100, 120, 150, 180, 220, 270, 330, 390, 470, 560, 680, 820];
const E24 = [...E12, 110, 130, 160, 200, 240, 300, 360, 430, 510, 620, 750, 910].sort((a, b) => a - b);

/** IEC 60063, series E48 and up: three figures of 10^(i/N). */
function byFormula(count: number): number[] {
  return Array.from({ length: count }, (_, i) => Math.round(100 * 10 ** (i / count)));
}

const THREE_FIGURES: Readonly<Record<PreferredSeries, readonly number[]>> = {
  E12,
  E24,
  E48: byFormula(48),
  E96: byFormula(96),
};

/** The least and the greatest resistance that resistors are made in, for this product. */
export const LEAST_OHMS: Ohm = 0.1;
export const GREATEST_OHMS: Ohm = 10e6;

const FIRST_EXPONENT = -3; // 100e-3 = 0.1 ohm
const LAST_EXPONENT = 4; // 999e4 is just below 10 Mohm

function listValues(series: PreferredSeries): readonly Ohm[] {
  const values: Ohm[] = [];
  for (let exponent = FIRST_EXPONENT; exponent <= LAST_EXPONENT; exponent += 1) {
    // Read from decimal text so that 4700 is 4700 and 0.47 is 0.47, without the dirt of a multiplication.
    for (const figures of THREE_FIGURES[series]) values.push(Number(`${figures}e${exponent}`));
  }
  values.push(GREATEST_OHMS);
  return values;
}

const VALUES: Readonly<Record<PreferredSeries, readonly Ohm[]>> = {
  E12: listValues('E12'),
  E24: listValues('E24'),
  E48: listValues('E48'),
  E96: listValues('E96'),
};

/** Every preferred value of a series from 0.1 ohm to 10 Mohm, both included, rising. Source: IEC 60063. */
export function preferredValues(series: PreferredSeries): readonly Ohm[] {
  return VALUES[series];
}

/**
 * The preferred value for a resistance, rounded up, down, or to the nearest in ohms (the greater when halfway).
 *
 * A value within 1e-9 of a preferred one is that one, however it is rounded. Outside the range the end of the range
 * comes back: 0 gives 0.1 ohm and 22 Mohm gives 10 Mohm, whatever the rounding. Throws RangeError for a negative
 * number, NaN or Infinity: a sum that gives one has no resistor, and its caller must say so.
 *
 * @example preferred('E12', 3575, 'up') // 3900
 */
export function preferred(series: PreferredSeries, ohms: Ohm, rounding: Rounding): Ohm {
  if (!Number.isFinite(ohms) || ohms < 0) throw new RangeError(`no preferred value for ${ohms} ohm`);
  const values = VALUES[series];
  // Below the first value both neighbours are the first.
  let below: Ohm = LEAST_OHMS;
  for (const value of values) {
    if (Math.abs(value - ohms) <= SAME_VALUE * value) return value;
    if (value > ohms) {
      if (rounding === 'up') return value;
      if (rounding === 'down') return below;
      return value - ohms <= ohms - below ? value : below;
    }
    below = value;
  }
  return GREATEST_OHMS;
}
