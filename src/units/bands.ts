import { LETTERED_COLOURS, type LetteredColour } from './colours.ts';
import type { Ohm } from './quantity.ts';

/** Colours of the digits 0 to 9, IEC 60062, by the letters of IEC 60757. */
const DIGITS = ['BK', 'BN', 'RD', 'OG', 'YE', 'GN', 'BU', 'VT', 'GY', 'WH'] as const;
/** Multipliers below 1: a tenth, a hundredth, a thousandth. */
const FRACTIONS = ['GD', 'SR', 'PK'] as const;

/** Tolerances that have one agreed colour; grey, yellow and orange differ between editions and are left out. */
const TOLERANCES: ReadonlyMap<number, string | null> = new Map([
  [0.2, null],
  [0.1, 'SR'],
  [0.05, 'GD'],
  [0.02, 'RD'],
  [0.01, 'BN'],
  [0.005, 'GN'],
  [0.0025, 'BU'],
  [0.001, 'VT'],
]);
/** From here up two figures are shown, below it three: IEC 60062. */
const TWO_FIGURES_FROM = 0.05;

function colour(letters: string): LetteredColour {
  const found = LETTERED_COLOURS.find((each) => each.letters === letters);
  if (found === undefined) throw new RangeError(`no colour has the letters ${letters}`);
  return found;
}

/**
 * The bands of a resistor from the end that is read first, IEC 60062: four for 5 % and 10 % (three for 20 %), five
 * for 2 % and tighter. `tolerance` is a share: 0.05. Null where the value needs more figures than the code has
 * (4750 ohm at 5 %), is nought, or is out of its reach; throws RangeError for a tolerance without a colour.
 *
 * @example resistorBands(4700) // yellow, violet, red, gold
 */
export function resistorBands(ohms: Ohm, tolerance = 0.05): readonly LetteredColour[] | null {
  const last = TOLERANCES.get(tolerance);
  if (last === undefined) throw new RangeError(`no band for a tolerance of ${tolerance}`);
  const count = tolerance >= TWO_FIGURES_FROM ? 2 : 3;
  if (!(ohms > 0) || !Number.isFinite(ohms)) return null;
  const [mantissa = '', exponent = ''] = ohms.toExponential(count - 1).split('e');
  // Twelve figures tell a computed 4700.0000000001 from a true 4701.
  if (Number(`${mantissa}e${exponent}`) !== Number(ohms.toPrecision(12))) return null;
  const power = Number(exponent) - (count - 1);
  const multiplier = power >= 0 ? DIGITS[power] : FRACTIONS[-power - 1];
  if (multiplier === undefined) return null;
  const figures = [...mantissa.replace('.', '')].map((figure) => colour(DIGITS[Number(figure)] ?? ''));
  return [...figures, colour(multiplier), ...(last === null ? [] : [colour(last)])];
}
