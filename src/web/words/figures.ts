/**
 * How numbers, counts, lists and dates are written, in one place: another language has other marks and other plurals. A decimal point, a true
 * minus, a space between a number and its unit (SI brochure, 9th ed., 5.4.3). Lengths, which follow the unit chosen, are in `lay/lengths.ts`
 * and end here as well.
 */

/** A number with so many decimals: a true minus, and never "−0". */
export function fixed(value: number, places: number): string {
  const rounded = Number(`${Math.round(Number(`${value}e${places}`))}e-${places}`) + 0;
  return (Number.isNaN(rounded) ? value : rounded).toFixed(places).replace('-', '−');
}

/** A number with no more decimals than it needs, three at most. */
export function plain(value: number): string {
  return trimmed(value, 3, 0);
}

/** A number rounded to `most` decimals, trailing noughts left out down to `least`. */
export function trimmed(value: number, most: number, least: number): string {
  const [whole = '', places = ''] = fixed(value, most).split('.');
  const kept = places.replace(/0+$/, '').padEnd(least, '0');
  return kept === '' ? whole : `${whole}.${kept}`;
}

/** NIST SP 811, B.8: exactly. */
export const MM_PER_INCH = 25.4;

/** A length in running text, in the unit chosen, with no more places than it needs, three at most: "0.5 mm", "0.02 in". */
export function lengthIn(mm: number, unit: 'mm' | 'in'): string {
  return `${plain(unit === 'mm' ? mm : mm / MM_PER_INCH)} ${unit}`;
}

/** So is a lamp called by the trade, whatever lengths are shown in; and a section of wire is no length. */
const NO_LENGTH = '(?! (?:amber|red|yellow|green|blue|white|lamps?|LEDs?|tape)\\b)(?![²2\\w])';

/** A text of the program's own with its millimetres in the unit chosen: "3 mm short" is "0.118 in short". */
export function lengthsIn(text: string, unit: 'mm' | 'in'): string {
  if (unit === 'mm') return text;
  return text.replace(new RegExp(`(\\d[\\d,]*(?:\\.\\d+)?) mm${NO_LENGTH}`, 'g'), (_, figure: string) =>
    lengthIn(Number(figure.replaceAll(',', '')), unit),
  );
}

/** A share as whole hundredths: "42%". */
export function percent(share: number): string {
  return `${Math.round(share * 100)}%`;
}

/** One or several of it: the form that a number asks for. English has two. */
export function plural<T>(n: number, one: T, many: T): T {
  return n === 1 ? one : many;
}

/** "1 strip", "15 strips", "2 leaves" where the plural is said. */
export function count(n: number, one: string, many = `${one}s`): string {
  return `${n} ${plural(n, one, many)}`;
}

/** "P4", "P4 and P5", "P4, P5 and P6"; the empty text for none. */
export function list(items: readonly string[]): string {
  if (items.length < 2) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}

/** Ids as a list, or by their ends where more than two have numbers that run on: "P14 to P17". */
export function ranged(ids: readonly string[]): string {
  const [first, ...numbers] = ids.map((id) => /^([A-Za-z]+)(\d+)$/.exec(id) ?? []);
  const runs = numbers.every(
    ([, letters, n], i) => letters !== undefined && letters === first?.[1] && Number(n) === Number(first[2]) + i + 1,
  );
  return ids.length > 2 && runs ? `${ids[0]} to ${ids.at(-1)}` : list(ids);
}

/** "3 March 2026", in the time of this device. */
export function dateOf(then: Date): string {
  return then.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
}

/** "9:05", in the time of this device. */
export function timeOf(then: Date): string {
  return `${then.getHours()}:${String(then.getMinutes()).padStart(2, '0')}`;
}

/** "3 March 2026, 9:05", in the time of this device. */
export function momentOf(then: Date): string {
  return `${dateOf(then)}, ${timeOf(then)}`;
}
