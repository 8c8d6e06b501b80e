import { describe, expect, it } from 'vitest';
import { awgDiameter, CLASS_5, class5Maximum, wireOhms } from './conductor.ts';

describe('wireOhms', () => {
  it('is 0.017241 x metres / mm2 at 20 C', () => {
    // By hand: 0.017241 x 3 / 0.22 = 0.235104...
    expect(wireOhms(3000, 0.22)).toBeCloseTo(0.051723 / 0.22, 12);
    expect(wireOhms(0, 0.22)).toBe(0);
  });
  it('rises 3.93 % for ten kelvin', () => {
    expect(wireOhms(1000, 1, 30) / wireOhms(1000, 1)).toBeCloseTo(1.0393, 12);
  });
  it('refuses a wire that cannot be', () => {
    for (const [length, gauge, celsius] of [
      [-1, 0.22, 20],
      [1, 0, 20],
      [1, -1, 20],
      [Number.NaN, 1, 20],
      [1, 1, Number.NaN],
      [Number.POSITIVE_INFINITY, 1, 20],
    ] as const) {
      expect(() => wireOhms(length, gauge, celsius)).toThrow(RangeError);
    }
  });
});

describe('tables', () => {
  it('refuses an AWG number that is none', () => {
    for (const bad of [-4, 57, 22.5, Number.NaN]) expect(() => awgDiameter(bad)).toThrow(RangeError);
  });
  it('rises by gauge, falls in ohms, and tinned is always more', () => {
    for (const [i, row] of CLASS_5.entries()) {
      expect(row.tinned).toBeGreaterThan(row.plain);
      const next = CLASS_5[i + 1];
      if (next !== undefined) {
        expect(next.gauge).toBeGreaterThan(row.gauge);
        expect(next.plain).toBeLessThan(row.plain);
      }
    }
  });
  it('knows its own gauges only', () => {
    expect(class5Maximum(0.22)?.plain).toBe(96);
    expect(class5Maximum(0.3)).toBeUndefined();
  });
});
