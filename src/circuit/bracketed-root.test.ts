import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bracketedRoot, timeAbove } from './bracketed-root.ts';

describe('bracketedRoot', () => {
  it('finds roots that are known in closed form', () => {
    expect(bracketedRoot((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
    expect(bracketedRoot((x) => Math.cos(x) - x, 0, 1)).toBeCloseTo(0.7390851332151607, 15); // Dottie number
    expect(bracketedRoot((x) => Math.log(x), 5, 0.1)).toBeCloseTo(1, 15);
  });

  it('takes an end that is the crossing', () => {
    expect(bracketedRoot((x) => x, 0, 3)).toBe(0);
    expect(bracketedRoot((x) => x - 3, 0, 3)).toBe(3);
  });

  it('refuses a bracket that holds no crossing', () => {
    expect(() => bracketedRoot((x) => x * x + 1, -1, 1)).toThrow(RangeError);
    expect(() => bracketedRoot(() => Number.NaN, -1, 1)).toThrow(RangeError);
  });

  it('finds the crossing of steep and flat curves alike (seed 1997)', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.99, noNaN: true }), fc.integer({ min: 1, max: 9 }), (at, power) => {
        const odd = power % 2 === 0 ? power + 1 : power;
        const root = bracketedRoot((x) => (x - at) ** odd, 0, 1);
        // A flat curve is nought over a whole stretch: (1e-3)^9 is already below rounding of nothing else here.
        expect(Math.abs(root - at)).toBeLessThan(odd === 1 ? 1e-15 : 1e-3);
      }),
      { seed: 1997 },
    );
  });
});

describe('timeAbove', () => {
  it('measures a sine above a half: a third of its period', () => {
    const sine = (t: number) => Math.sin(2 * Math.PI * t);
    expect(timeAbove(sine, [0, 0.25, 0.75, 1], 0.5)).toBeCloseTo(1 / 3, 14);
  });

  it('is nought for a curve that stays below, and all of it for one above', () => {
    expect(timeAbove((t) => t, [0, 1], 2)).toBe(0);
    expect(timeAbove((t) => t, [1, 2, 3], 0.5)).toBe(2);
    expect(timeAbove((t) => t, [1], 0.5)).toBe(0);
  });
});
