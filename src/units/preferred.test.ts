import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GREATEST_OHMS, LEAST_OHMS, type PreferredSeries, preferred, preferredValues } from './preferred.ts';

const ALL: readonly PreferredSeries[] = ['E12', 'E24', 'E48', 'E96'];

describe('preferred', () => {
  it('rounds up, down and to the nearest', () => {
    expect(preferred('E12', 3575, 'up')).toBe(3900);
    expect(preferred('E12', 3575, 'down')).toBe(3300);
    expect(preferred('E12', 3575, 'nearest')).toBe(3300);
    expect(preferred('E12', 3600, 'nearest')).toBe(3900); // halfway: the greater
    expect(preferred('E12', 9, 'up')).toBe(10);
    expect(preferred('E12', 0.105, 'down')).toBe(0.1);
  });
  it('keeps a value that a sum has missed by a hair', () => {
    expect(preferred('E12', 470.0000000000001, 'up')).toBe(470);
    expect(preferred('E12', 0.1 + 0.37, 'up')).toBe(0.47);
    expect(preferred('E12', 469.9999999999999, 'down')).toBe(470);
    expect(preferred('E12', 470.001, 'up')).toBe(560);
  });
  it('gives the end of the range outside it', () => {
    for (const rounding of ['up', 'down', 'nearest'] as const) {
      expect(preferred('E24', 0, rounding)).toBe(LEAST_OHMS);
      expect(preferred('E24', 0.04, rounding)).toBe(LEAST_OHMS);
      expect(preferred('E24', 22e6, rounding)).toBe(GREATEST_OHMS);
    }
  });
  it('refuses what is no resistance', () => {
    for (const bad of [-1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => preferred('E12', bad, 'up')).toThrow(RangeError);
    }
  });
  it('brackets any resistance by neighbours of the series (seed 60063)', () => {
    fc.assert(
      fc.property(fc.constantFrom(...ALL), fc.double({ min: -1, max: 7, noNaN: true }), (series, power) => {
        const ohms = 10 ** power;
        const up = preferred(series, ohms, 'up');
        const down = preferred(series, ohms, 'down');
        const values = preferredValues(series);
        expect(values.indexOf(up) - values.indexOf(down)).toBe(up === down ? 0 : 1);
        expect(down).toBeLessThanOrEqual(ohms * (1 + 2e-9));
        expect(up).toBeGreaterThanOrEqual(ohms * (1 - 2e-9));
        expect([up, down]).toContain(preferred(series, ohms, 'nearest'));
      }),
      { seed: 60063 },
    );
  });
});

describe('preferredValues', () => {
  it('rises from 0.1 ohm to 10 Mohm with eight decades of the series', () => {
    for (const series of ALL) {
      const values = preferredValues(series);
      expect(values).toHaveLength(8 * Number(series.slice(1)) + 1);
      expect([values.at(0), values.at(-1)]).toEqual([0.1, 10e6]);
      expect([...values].sort((a, b) => a - b)).toEqual(values);
    }
  });
});
