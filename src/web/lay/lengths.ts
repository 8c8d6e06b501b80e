/**
 * Lengths as a hand reads and types them. The document knows millimetres alone; inches are for the screen.
 * 1 in = 25.4 mm exactly: NIST SP 811, B.8.
 */
import type { Degree, Millimetre } from '../../units/index.ts';
import { fixed, MM_PER_INCH, trimmed } from '../words/figures.ts';
import type { RulerUnit } from './rulers.ts';

/** Units that can be typed behind a number, in millimetres. */
const UNITS: Readonly<Record<string, Millimetre>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: MM_PER_INCH,
  inch: MM_PER_INCH,
  inches: MM_PER_INCH,
  '"': MM_PER_INCH,
  '″': MM_PER_INCH,
};

/** Places that a figure is shown to at most, and those that it always has. */
const MOST_PLACES = 3;
const LEAST_PLACES: Readonly<Record<RulerUnit, number>> = { mm: 1, in: 2 };

/**
 * A length without its unit: at most three places, trailing noughts left out down to one place (mm) or two (in).
 * @example lengthText(148, 'mm') // "148.0"
 */
export function lengthText(mm: Millimetre, unit: RulerUnit): string {
  return trimmed(unit === 'mm' ? mm : mm / MM_PER_INCH, MOST_PLACES, LEAST_PLACES[unit]);
}

/** A length in a sentence: "148.0 mm", "5.83 in". `places` beyond which it is rounded: mm 1, in 2. */
export function lengthWords(mm: Millimetre, unit: RulerUnit): string {
  const places = LEAST_PLACES[unit];
  return `${fixed(unit === 'mm' ? mm : mm / MM_PER_INCH, places)} ${unit}`;
}

/** An angle in a field: at most three places, one at least. */
export function degreesText(degrees: Degree): string {
  return trimmed(degrees, MOST_PLACES, 1);
}

/**
 * Millimetres from what was typed: a decimal or a fraction, with or without its unit; `unit` holds where none is typed. A comma is a
 * decimal comma. Null where it is no length.
 * @example readLength('1/2 in', 'mm') // 12.7
 */
export function readLength(text: string, unit: RulerUnit): Millimetre | null {
  const typed = /^\s*(.*?)\s*(mm|cm|m|inches|inch|in|"|″)?\s*$/i.exec(text);
  const value = readNumber(typed?.[1] ?? '');
  if (value === null) return null;
  return tidy(value * (UNITS[(typed?.[2] ?? unit).toLowerCase()] ?? 1));
}

/** Degrees from what was typed, with or without the sign or "deg". Null where it is no angle. */
export function readDegrees(text: string): Degree | null {
  return readNumber(text.replace(/\s*(°|deg|degrees)\s*$/i, ''));
}

/** "12.5", "−3", "1/2", "1 1/2"; null for anything else. */
function readNumber(text: string): number | null {
  const typed = text.trim().replace(/[−–]/g, '-').replace(',', '.');
  const mixed = /^([-+])?(?:(\d+)[ -])?(\d+)\s*\/\s*(\d+)$/.exec(typed);
  if (mixed !== null) {
    const [, sign, whole = '0', over = '', under = ''] = mixed;
    if (Number(under) === 0) return null;
    const size = Number(whole) + Number(over) / Number(under);
    return sign === '-' ? -size : size;
  }
  return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(typed) ? Number(typed) : null;
}

/** A product of decimals without its binary tail: to a millionth, far below what is kept. */
function tidy(value: number): number {
  return Math.round(value * 1e6) / 1e6 + 0;
}

/** An angle in a sentence, to a tenth: "32.0°". */
export function degreesWords(degrees: Degree): string {
  return `${fixed(degrees, 1)}°`;
}
