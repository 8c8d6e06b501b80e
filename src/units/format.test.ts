import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatAmps,
  formatDegrees,
  formatFarads,
  formatJoules,
  formatMillimetres,
  formatNumber,
  formatOhms,
  formatPercent,
  formatSeconds,
  formatVolts,
  formatWatts,
  parseOhms,
} from './format.ts';
import { type PreferredSeries, preferredValues } from './preferred.ts';

describe('formatNumber', () => {
  it('rounds halves away from zero, by the decimal text and not the binary tail', () => {
    expect(formatNumber(1.005, 2)).toBe('1.01');
    expect(formatNumber(-2.675, 2)).toBe('-2.68');
    expect(formatNumber(0.5, 0)).toBe('1');
    expect(formatNumber(-0.5, 0)).toBe('-1');
  });
  it('prints tiny and large numbers without an exponent', () => {
    expect(formatNumber(1e-7, 2)).toBe('0.00');
    expect(formatNumber(1e-7, 8)).toBe('0.00000010');
    expect(formatNumber(123456789.5, 1)).toBe('123456789.5');
  });
  it('never prints a minus before zero', () => {
    expect(formatNumber(-0, 2)).toBe('0.00');
    expect(formatNumber(-0.004, 2)).toBe('0.00');
    expect(formatVolts(-0.001)).toBe('0.00 V');
    expect(formatDegrees(-0.01)).toBe('0°');
  });
  it('refuses what is no number, or asked with bad decimals', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      expect(() => formatNumber(bad, 2)).toThrow(RangeError);
      expect(() => formatVolts(bad)).toThrow(RangeError);
      expect(() => formatAmps(bad)).toThrow(RangeError);
    }
    expect(() => formatNumber(1, -1)).toThrow(RangeError);
    expect(() => formatNumber(1, 0.5)).toThrow(RangeError);
  });
  it('prints an absurd current so that its finding can be read', () => {
    expect(formatAmps(1e15)).toBe('1.00e+15 A');
    expect(formatVolts(-1e15)).toBe('\u22121.00e+15 V');
    expect(formatAmps(1e9)).toBe('1000000000.00 A');
  });
  it('reads back within half of the last place (seed 4711)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.integer({ min: 0, max: 6 }),
        (value, decimals) => {
          const text = formatNumber(value, decimals);
          expect(text).toMatch(/^-?\d+(\.\d+)?$/);
          expect(Math.abs(Number(text) - value)).toBeLessThanOrEqual(0.5 * 10 ** -decimals + 1e-9);
        },
      ),
      { seed: 4711 },
    );
  });
});

describe('quantities with units', () => {
  it('prints volts', () => {
    expect([9, -0.65, 12.345].map(formatVolts)).toEqual(['9.00 V', '\u22120.65 V', '12.35 V']);
  });
  it('prints amps in the step that a meter would choose', () => {
    expect([1.2, 0.12, 0.0126, 0.002, 0.00024, 0.00001, 0.000008].map(formatAmps)).toEqual([
      '1.20 A',
      '120 mA',
      '12.6 mA',
      '2.00 mA',
      '0.24 mA',
      '0.01 mA',
      '8.0 µA',
    ]);
    expect([0, 1e-14, -1e-14].map(formatAmps)).toEqual(['0.00 mA', '0.00 mA', '0.00 mA']);
    expect([3e-7, 6e-8, 4e-8].map(formatAmps)).toEqual(['0.3 µA', '0.1 µA', '0.00 mA']);
    expect(formatAmps(-0.0126)).toBe('\u221212.6 mA');
  });
  it('goes to the next step when rounding reaches it', () => {
    expect([0.009999, 0.09996, 0.9996, 0.00000996].map(formatAmps)).toEqual(['10.0 mA', '100 mA', '1.00 A', '0.01 mA']);
    expect(formatSeconds(0.99999)).toBe('1 s');
    expect(formatWatts(0.0999)).toBe('0.10 W');
  });
  it('prints watts, seconds, millimetres, degrees', () => {
    expect([13.37, 0.25, 0.088, 0.0088].map(formatWatts)).toEqual(['13.4 W', '0.25 W', '88 mW', '8.8 mW']);
    expect([0, 0.008, 0.0085, 2.5, 60].map(formatSeconds)).toEqual(['0 s', '8 ms', '8.5 ms', '2.5 s', '60 s']);
    expect([1.3536, 0.045, 0.0088].map(formatJoules)).toEqual(['1.35 J', '45 mJ', '8.8 mJ']);
    expect([4700e-6, 1e-7, 0.5e-6, 1].map(formatFarads)).toEqual(['4700 µF', '100 nF', '500 nF', '1 F']);
    expect([0.0458, 1, -0.1].map((share) => formatPercent(share))).toEqual(['4.6 %', '100 %', '\u221210 %']);
    expect(formatPercent(0.0458, 2)).toBe('4.58 %');
    expect([60, 12.2, 100, -3.456].map(formatMillimetres)).toEqual(['60 mm', '12.2 mm', '100 mm', '\u22123.46 mm']);
    expect([32, -7.5].map(formatDegrees)).toEqual(['32°', '\u22127.5°']);
  });
});

describe('the letter code', () => {
  it('prints what the code has no published example for', () => {
    expect([0, 10, 1000, 10000, 1e7, 3575, 0.05, 999.96].map(formatOhms)).toEqual([
      '0R',
      '10R',
      '1k0',
      '10k',
      '10M',
      '3k575',
      'R05',
      '1k0',
    ]);
  });
  it('refuses what the code cannot say', () => {
    for (const bad of [-1, Number.NaN, Number.POSITIVE_INFINITY, 1e12, 9.99999e11]) {
      expect(() => formatOhms(bad)).toThrow(RangeError);
    }
  });
  it('reads plain digits, and null for anything else', () => {
    expect(['4700', ' 0.47 ', '.5'].map(parseOhms)).toEqual([4700, 0.47, 0.5]);
    for (const bad of ['', 'R', 'k', '4m7', '4k7k7', '-4k7', '4,7k', '1e3', 'KK', 'ohm', '4k7Z']) {
      expect(parseOhms(bad), bad).toBeNull();
    }
  });
  it('comes back the same for every preferred value', () => {
    for (const series of ['E12', 'E24', 'E48', 'E96'] satisfies PreferredSeries[]) {
      for (const ohms of preferredValues(series)) expect(parseOhms(formatOhms(ohms))).toBe(ohms);
    }
  });
  it('comes back to four figures for any resistance (seed 60062)', () => {
    fc.assert(
      fc.property(fc.double({ min: -4, max: 11.9, noNaN: true }), (power) => {
        const ohms = 10 ** power;
        expect(parseOhms(formatOhms(ohms))).toBe(Number(ohms.toPrecision(4)));
      }),
      { seed: 60062 },
    );
  });
});
