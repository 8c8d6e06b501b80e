/**
 * The one number formatter of the product. Every text is built from decimal digits here: no locale, no grouping of
 * thousands, a point as the decimal sign, and the same text on every machine.
 *
 * Minus stands directly before the digits. `formatNumber` is for files (CSV, SPICE, DXF) and writes the hyphen-minus of
 * ASCII, "-4.20"; what carries a unit is for people and has the true minus U+2212. Nothing that rounds to zero has a sign.
 * Halves round away from zero, as on paper: 0.125 to two places is 0.13 and -0.125 is -0.13; what counts is the
 * shortest decimal text of the number and not its binary tail. NaN, Infinity and sizes of 1e15 and above throw.
 */
import type { Ampere, Degree, Farad, Joule, Millimetre, Ohm, Second, Volt, Watt } from './quantity.ts';

/** Above this the digits of a binary number are no longer whole; nothing on a panel comes near. No unit. */
const GREATEST_DIGITS = 1e15;
const MOST_DECIMALS = 12;

/** `value` times 10^`power`, by moving the point in its shortest decimal text. */
function shift(value: number, power: number): number {
  const [digits, exponent] = String(value).split('e');
  return Number(`${digits}e${Number(exponent ?? 0) + power}`);
}

/** The decimal digits of a number of at least 0, rounded half up. */
function digitsOf(value: number, decimals: number): string {
  const text = String(Math.round(shift(value, decimals))).padStart(decimals + 1, '0');
  return decimals === 0 ? text : `${text.slice(0, -decimals)}.${text.slice(-decimals)}`;
}

/**
 * A number with so many decimals, 0 to 12. From 1e15 up (less the decimals) as "1.00e+15". Throws RangeError for NaN, Infinity or
 * bad `decimals`.
 *
 * @example formatNumber(-2.675, 2) // "-2.68"
 */
export function formatNumber(value: number, decimals: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`cannot print ${value}`);
  if (!Number.isInteger(decimals) || decimals < 0 || decimals > MOST_DECIMALS) {
    throw new RangeError(`${decimals} decimals asked for, 0 to ${MOST_DECIMALS} can be had`);
  }
  // Larger than anything of the trade: a figure that someone typed wrong must still be readable in its finding.
  if (Math.abs(value) * 10 ** decimals >= GREATEST_DIGITS) return value.toExponential(2);
  const digits = digitsOf(Math.abs(value), decimals);
  return value < 0 && /[1-9]/.test(digits) ? `-${digits}` : digits;
}

/** For people: the true minus in place of the hyphen. */
function readable(text: string): string {
  return text.replace('-', '\u2212');
}

/**
 * At most so many decimals, without trailing zeros. Throws as `formatNumber` does.
 * @example formatShort(12.2, 2) // "12.2"
 */
export function formatShort(value: number, decimals: number): string {
  const text = formatNumber(value, decimals);
  return text.includes('.') && !text.includes('e') ? text.replace(/\.?0+$/, '') : text;
}

interface Step {
  /** The step is for what is printed below this number, in its own unit. */
  readonly below: number;
  readonly power: number;
  readonly decimals: number;
  readonly unit: string;
}

/** The first step in which the rounded number stays below the step's limit, so that 9.996 mA is 10.0 mA and not 10.00. */
function formatSteps(
  value: number,
  steps: readonly Step[],
  print: (value: number, decimals: number) => string,
): string {
  if (!Number.isFinite(value)) throw new RangeError(`cannot print ${value}`);
  for (const { below, power, decimals, unit } of steps) {
    const text = print(shift(value, power), decimals);
    if (Math.abs(Number(text)) < below) return `${readable(text)} ${unit}`;
  }
  throw new RangeError(`cannot print ${value}`);
}

/** Volts with two decimals: "9.00 V", "−0.65 V". */
export function formatVolts(volts: Volt): string {
  return `${readable(formatNumber(volts, 2))} V`;
}

const NO_AMPS = 0.00000005; // rounds to 0.0 µA: nothing that a meter of the trade could show
const AMPS: readonly Step[] = [
  { below: 10, power: 6, decimals: 1, unit: 'µA' },
  { below: 10, power: 3, decimals: 2, unit: 'mA' },
  { below: 100, power: 3, decimals: 1, unit: 'mA' },
  { below: 1000, power: 3, decimals: 0, unit: 'mA' },
  { below: Number.POSITIVE_INFINITY, power: 0, decimals: 2, unit: 'A' },
];

/**
 * Amps as a meter shows them: "1.20 A", "120 mA", "12.6 mA", "0.24 mA", and below 0.01 mA "8.0 µA". What is under
 * 0.05 µA is "0.00 mA".
 */
export function formatAmps(amps: Ampere): string {
  if (Math.abs(amps) < NO_AMPS) return '0.00 mA';
  return formatSteps(amps, AMPS, formatNumber);
}

const WATTS: readonly Step[] = [
  { below: 10, power: 3, decimals: 1, unit: 'mW' },
  { below: 100, power: 3, decimals: 0, unit: 'mW' },
  { below: 10, power: 0, decimals: 2, unit: 'W' },
  { below: Number.POSITIVE_INFINITY, power: 0, decimals: 1, unit: 'W' },
];

/** Watts: "13.4 W", "0.25 W", and below a tenth of a watt "88 mW", "8.8 mW". */
export function formatWatts(watts: Watt): string {
  return formatSteps(watts, WATTS, formatNumber);
}

const SECONDS: readonly Step[] = [
  { below: 1000, power: 3, decimals: 1, unit: 'ms' },
  { below: Number.POSITIVE_INFINITY, power: 0, decimals: 2, unit: 's' },
];

/** Seconds, trailing zeros dropped: "2.5 s", and below one second "8 ms"; nought is "0 s". */
export function formatSeconds(seconds: Second): string {
  return seconds === 0 ? '0 s' : formatSteps(seconds, SECONDS, formatShort);
}

const JOULES: readonly Step[] = [
  { below: 10, power: 3, decimals: 1, unit: 'mJ' },
  { below: 100, power: 3, decimals: 0, unit: 'mJ' },
  { below: Number.POSITIVE_INFINITY, power: 0, decimals: 2, unit: 'J' },
];

/** Joules: "1.35 J", and below a tenth of a joule "45 mJ", "8.8 mJ". */
export function formatJoules(joules: Joule): string {
  return formatSteps(joules, JOULES, formatNumber);
}

const FARADS: readonly Step[] = [
  { below: 1000, power: 9, decimals: 1, unit: 'nF' },
  { below: 100_000, power: 6, decimals: 1, unit: 'µF' },
  { below: Number.POSITIVE_INFINITY, power: 0, decimals: 2, unit: 'F' },
];

/** Farads as they are printed on the part, trailing zeros dropped: "4700 µF", "100 nF", "1 F". */
export function formatFarads(farads: Farad): string {
  return formatSteps(farads, FARADS, formatShort);
}

/** A share as percent with at most so many decimals, trailing zeros dropped: 0.046 is "4.6 %". */
export function formatPercent(share: number, decimals = 1): string {
  return `${readable(formatShort(shift(share, 2), decimals))} %`;
}

/** Millimetres to a hundredth, trailing zeros dropped: "12.2 mm", "60 mm". */
export function formatMillimetres(millimetres: Millimetre): string {
  return `${readable(formatShort(millimetres, 2))} mm`;
}

/** Degrees to a tenth, trailing zeros dropped: "32°", "−7.5°". */
export function formatDegrees(degrees: Degree): string {
  return `${readable(formatShort(degrees, 1))}°`;
}

const LETTERS = [
  { letter: 'R', exponent: 0 },
  { letter: 'k', exponent: 3 },
  { letter: 'M', exponent: 6 },
  { letter: 'G', exponent: 9 },
] as const;
const FIGURES = 4;
const MOST_OHMS: Ohm = 1e12;

/**
 * Ohms in the letter code of IEC 60062 (BS 1852): the letter stands where the point would. To four figures:
 * "R47", "4R7", "470R", "1k0", "4k7", "47k", "1M0"; nought, a wire link, is "0R". Throws RangeError below 0 and from
 * 1e12 up, where the code ends.
 *
 * @example formatOhms(4700) // "4k7"
 */
export function formatOhms(ohms: Ohm): string {
  if (!(ohms >= 0 && ohms < MOST_OHMS)) throw new RangeError(`no letter code for ${ohms} ohm`);
  const rounded = Number(ohms.toPrecision(FIGURES));
  if (rounded >= MOST_OHMS) throw new RangeError(`no letter code for ${ohms} ohm`);
  if (rounded === 0) return '0R';
  const step = [...LETTERS].reverse().find(({ exponent }) => rounded >= 10 ** exponent) ?? LETTERS[0];
  const shifted = shift(rounded, -step.exponent);
  const decimals = Math.max(0, FIGURES - 1 - Math.floor(Math.log10(shifted)));
  const [whole = '0', fraction = ''] = formatShort(shifted, Math.min(decimals, MOST_DECIMALS)).split('.');
  const before = whole === '0' ? '' : whole;
  // The code has two figures at least: 1k0 and not 1k.
  const after = fraction === '' && whole.length === 1 && whole !== '0' ? '0' : fraction;
  return `${before}${step.letter}${after}`;
}

const CODE = /^(\d*)([RkKMG])(\d*)[MKJGFDCBWPL]?$/;
const PLAIN = /^(\d+(?:\.\d*)?|\.\d+)$/;

/**
 * Ohms read from the letter code of IEC 60062 ("4k7", "4K7", "R47", "47K3F"; a letter of tolerance at the end is passed
 * over, so that 33KK is 33 kohm of 10 %) or from plain digits ("4700", "0.47"). Null where the text is neither.
 */
export function parseOhms(text: string): Ohm | null {
  const trimmed = text.trim();
  if (PLAIN.test(trimmed)) return finiteOrNull(Number(trimmed));
  const [, whole = '', letter = '', fraction = ''] = CODE.exec(trimmed) ?? [];
  const step = LETTERS.find((each) => each.letter === (letter === 'K' ? 'k' : letter));
  if (step === undefined || whole + fraction === '') return null;
  return finiteOrNull(Number(`${whole || '0'}.${fraction || '0'}e${step.exponent}`));
}

function finiteOrNull(ohms: number): Ohm | null {
  return Number.isFinite(ohms) ? ohms : null;
}
