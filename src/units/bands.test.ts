import { describe, expect, it } from 'vitest';
import { resistorBands } from './bands.ts';

const letters = (ohms: number, tolerance?: number) =>
  resistorBands(ohms, tolerance)
    ?.map((band) => band.letters)
    .join(' ') ?? null;

describe('resistorBands', () => {
  it('gives letters and words', () => {
    expect(resistorBands(4700)).toEqual([
      { letters: 'YE', word: 'yellow' },
      { letters: 'VT', word: 'violet' },
      { letters: 'RD', word: 'red' },
      { letters: 'GD', word: 'gold' },
    ]);
  });
  it('has no bands for a value with more figures than the code', () => {
    expect(letters(4750)).toBeNull();
    expect(letters(4750, 0.01)).toBe('YE VT GN BN BN');
    expect(letters(4751, 0.01)).toBeNull();
  });
  it('has none for nought, less, or what the multipliers cannot reach', () => {
    for (const bad of [0, -10, Number.NaN, Number.POSITIVE_INFINITY, 1e12, 0.001]) expect(letters(bad)).toBeNull();
  });
  it('reads a sum that missed a round value by a hair', () => {
    expect(letters(0.1 + 0.2)).toBe('OG BK SR GD');
  });
  it('refuses a tolerance that has no agreed colour', () => {
    expect(() => resistorBands(100, 0.03)).toThrow(RangeError);
  });
});
