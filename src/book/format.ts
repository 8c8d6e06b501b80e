/** Numbers and dates as the book prints them: one way each, the same on every machine. */
import { formatNumber as decimals } from '../units/index.ts';

/** Decimals that a plain number keeps: a nanoampere, a hundredth of a micrometre. */
const PLAIN_DECIMALS = 9;
/** Figures of a number that are not the tail of its binary form. */
const FIGURES = 14;

/** A plain number without exponent or trailing zeros: 0.0005, 250, -9. Throws RangeError for what is no number. */
export function formatNumber(value: number): string {
  const whole = Math.ceil(Math.log10(Math.abs(value) + 1));
  const places = Math.max(0, Math.min(PLAIN_DECIMALS, FIGURES - whole));
  const text = decimals(value, places);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** With so many decimals; a rounded nothing is never minus. */
function fixed(value: number, places: number): string {
  return decimals(value, places);
}

/** For people: the true minus in place of the hyphen. */
function minus(text: string): string {
  return text.replace('-', '\u2212');
}

/** Millimetres to a tenth: "310.0". */
export function mm(value: number): string {
  return fixed(value, 1);
}

/** A drill or another size: "3.2", "12.2", "6". */
export function size(value: number): string {
  return formatNumber(Math.round(value * 100) / 100);
}

/** Volts to a hundredth: "9.00". */
export function volts(value: number | null): string {
  return value === null ? 'open' : minus(fixed(value, 2));
}

/** Milliamps, to a tenth from 1 mA, else to a hundredth: "15.0", "0.24". */
export function milliamps(amps: number): string {
  const value = amps * 1000;
  return minus(fixed(value, Math.abs(value) < 1 ? 2 : 1));
}

/** Microfarads for people: "4700 µF". */
export function faradText(farads: number): string {
  return `${formatNumber(Math.round(farads * 1e7) / 10)} \u00b5F`;
}

/** Text of other layers with the signs that print has: "47 \u03a9", "0.5 mm\u00b2". */
export function unitSigns(text: string): string {
  return text.replace(/(\d[\d.]*) ohm\b/g, '$1 \u03a9').replace(/\bmm2\b/g, 'mm\u00b2');
}

/** Money to two places. */
export function money(value: number): string {
  return fixed(value, 2);
}

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** "1 March 2026" for `2026-03-01`; anything else as it stands; null: "undated". */
export function longDate(date: string | null): string {
  if (date === null || date === '') return 'undated';
  const found = /^(\d{4})-(\d{2})-(\d{2})/.exec(date);
  const month = found === null ? undefined : MONTHS[Number(found[2]) - 1];
  return found === null || month === undefined ? date : `${Number(found[3])} ${month} ${found[1]}`;
}

/** The date where it is one of the calendar, as `2026-03-01`; else null. */
export function isoDate(date: string | null | undefined): string | null {
  const found = date === null || date === undefined ? null : /^\d{4}-\d{2}-\d{2}/.exec(date);
  if (found === null) return null;
  const read = new Date(`${found[0]}T00:00:00Z`);
  return Number.isNaN(read.getTime()) || read.toISOString().slice(0, 10) !== found[0] ? null : found[0];
}
