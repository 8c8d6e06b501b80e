import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  count,
  fixed,
  lengthIn,
  lengthsIn,
  list,
  momentOf,
  percent,
  plain,
  plural,
  ranged,
  trimmed,
} from './figures.ts';

const web = join(import.meta.dirname, '..');

/** What writes a number or a date by itself. */
const BY_ITSELF = /\.(toFixed|toPrecision|toLocale\w*)\(|\bIntl\./;

/** The rescue page loads nothing that the application loads too, so it writes its own dates. */
const OWN = new Set([join('words', 'figures.ts'), join('words', 'rescue.ts')]);

describe('figures', () => {
  it('are written here alone', () => {
    const loose = readdirSync(web, { recursive: true, encoding: 'utf8' })
      .filter((file) => /\.tsx?$/.test(file) && !/\.test\.tsx?$/.test(file) && !OWN.has(file))
      .filter((file) => BY_ITSELF.test(readFileSync(join(web, file), 'utf8')));
    expect(loose).toEqual([]);
    expect(BY_ITSELF.test('x.toFixed(2)')).toBe(true);
  });
  it.each([
    [-0.04, 1, '0.0'],
    [-1.25, 1, '−1.2'],
    [1.005, 2, '1.01'],
    [12, 2, '12.00'],
  ])('are rounded as decimals: %d to %d', (value, places, text) => {
    expect(fixed(value, places)).toBe(text);
  });
  it('of ids that run on are told by the two ends', () => {
    expect(ranged(['P14', 'P15', 'P16', 'P17'])).toBe('P14 to P17');
    expect(ranged(['H9', 'H10'])).toBe('H9 and H10');
    expect(ranged(['H1', 'H2', 'H4'])).toBe('H1, H2 and H4');
    expect(ranged(['H1', 'P2', 'P3'])).toBe('H1, P2 and P3');
    expect(ranged(['up', 'P2', 'P3'])).toBe('up, P2 and P3');
    expect(ranged([])).toBe('');
  });
  it('leave out what is not needed', () => {
    expect([plain(300), plain(0.5), plain(1.23456), plain(-0.0001), plain(-2)]).toEqual([
      '300',
      '0.5',
      '1.235',
      '0',
      '−2',
    ]);
    expect(trimmed(148, 3, 1)).toBe('148.0');
    expect(percent(0.416)).toBe('42%');
  });
  it('take the plural that a number asks for', () => {
    expect([0, 1, 2].map((n) => count(n, 'strip'))).toEqual(['0 strips', '1 strip', '2 strips']);
    expect(count(2, 'leaf', 'leaves')).toBe('2 leaves');
    expect(plural(1, 'is', 'are')).toBe('is');
  });
  it('list with commas and a last "and"', () => {
    expect([[], ['P4'], ['P4', 'P5'], ['P4', 'P5', 'P6']].map(list)).toEqual(['', 'P4', 'P4 and P5', 'P4, P5 and P6']);
  });
  it('are in the unit chosen: 1 in is 25.4 mm (NIST SP 811, B.8)', () => {
    expect([lengthIn(0.5, 'mm'), lengthIn(25.4, 'in'), lengthIn(-12.7, 'in')]).toEqual(['0.5 mm', '1 in', '−0.5 in']);
    expect(lengthsIn('E1 ends 12.7 mm short of main', 'in')).toBe('E1 ends 0.5 in short of main');
    expect(lengthsIn('1,270 mm of track', 'in')).toBe('50 in of track');
    expect(lengthsIn('E1 ends 12.7 mm short', 'mm')).toBe('E1 ends 12.7 mm short');
    // Neither a section of wire nor what a lamp is called is a length on the sheet.
    expect(lengthsIn('wire of 0.22 mm2, a 3 mm amber lamp', 'in')).toBe('wire of 0.22 mm2, a 3 mm amber lamp');
  });
  it('say dates and times', () => {
    const then = new Date(2026, 2, 3, 9, 5);
    expect(momentOf(then)).toBe('3 March 2026, 9:05');
  });
});
