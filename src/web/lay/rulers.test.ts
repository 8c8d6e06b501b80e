import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ticksOf } from './rulers.ts';

describe('a ruler', () => {
  it('counts in fifties at the size at which a face of 600 mm fills a laptop', () => {
    const figures = ticksOf(-10, 1.6, 960, 'mm').flatMap(({ text }) => text ?? []);
    expect(figures).toEqual(['0', '50', '100', '150', '200', '250', '300', '350', '400', '450', '500', '550']);
  });

  it('begins at the spot of the face at its corner', () => {
    const [first] = ticksOf(-10, 2, 400, 'mm').filter(({ text }) => text === '0');
    expect(first?.at).toBeCloseTo(20, 9);
  });

  it('counts in inches and their halves', () => {
    const figures = ticksOf(0, 4, 500, 'in').flatMap(({ text }) => text ?? []);
    expect(figures.slice(0, 4)).toEqual(['0', '0.5', '1', '1.5']);
    const [, second] = ticksOf(0, 4, 500, 'in').filter(({ text }) => text !== null);
    expect(second?.at).toBeCloseTo(4 * 12.7, 9);
  });

  it('is never too crowded to read, at any scale (seed 711)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -500, max: 3000, noNaN: true }),
        fc.double({ min: 0.2, max: 60, noNaN: true }),
        fc.constantFrom<'mm' | 'in'>('mm', 'in'),
        (from, pxPerMm, unit) => {
          const ticks = ticksOf(from, pxPerMm, 900, unit);
          expect(ticks.length).toBeLessThanOrEqual(182);
          const figures = ticks.filter(({ text }) => text !== null);
          expect(figures.length).toBeGreaterThan(0);
          for (let k = 1; k < figures.length; k++)
            expect((figures[k]?.at ?? 0) - (figures[k - 1]?.at ?? 0)).toBeGreaterThanOrEqual(43.9);
        },
      ),
      { seed: 711 },
    );
  });
});
