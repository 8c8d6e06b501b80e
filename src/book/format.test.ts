import { describe, expect, test } from 'vitest';
import { formatNumber, isoDate, longDate, milliamps, volts } from './format.ts';

describe('plain numbers', () => {
  test.each([
    [0, '0'],
    [-9, '-9'],
    [250, '250'],
    [0.0005, '0.0005'],
    [0.1 + 0.2, '0.3'],
    [1e6, '1000000'],
    [1.5e9, '1500000000'],
    [-0, '0'],
    [1e-12, '0'],
  ])('%d is %s', (value, text) => {
    expect(formatNumber(value)).toBe(text);
  });
  test('what is no number is refused', () => {
    expect(() => formatNumber(Number.NaN)).toThrow(RangeError);
  });
});

describe('for people', () => {
  test('volts and milliamps have the true minus', () => {
    expect([volts(-11.994), milliamps(-0.015), milliamps(0.00024), volts(null)]).toEqual([
      '\u221211.99',
      '\u221215.0',
      '0.24',
      'open',
    ]);
  });
  test('dates', () => {
    expect([longDate('2026-03-01'), longDate(null), longDate('soon')]).toEqual(['1 March 2026', 'undated', 'soon']);
    expect([isoDate('2026-03-01T10:00:00Z'), isoDate('2026-02-30'), isoDate('soon'), isoDate(undefined)]).toEqual([
      '2026-03-01',
      null,
      null,
      null,
    ]);
  });
});
