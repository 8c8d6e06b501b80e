import { describe, expect, test } from 'vitest';
import { bandsOf, besideLine } from './rail-drawing.ts';

describe('a rail beside its track', () => {
  test('lies to the left of the way one goes, on a page with y down', () => {
    expect(
      besideLine(
        [
          [0, 10],
          [20, 10],
        ],
        2,
      ),
    ).toEqual([
      [0, 8],
      [20, 8],
    ]);
  });

  test('keeps its distance from both legs at a corner', () => {
    const [, corner] = besideLine(
      [
        [0, 0],
        [10, 0],
        [10, 10],
      ],
      2,
    );
    // The outer rail of a turn to the right: 2 above the first leg, 2 right of the second.
    expect(corner?.[0]).toBeCloseTo(12, 9);
    expect(corner?.[1]).toBeCloseTo(-2, 9);
  });
});

describe('bands of rows', () => {
  test('hold every row, in order, none taller than asked for', () => {
    const heights = [500, 0, 25, 50, 300, 325, 330, 560, 25];
    const bands = bandsOf(heights, 200);
    for (const [top, bottom] of bands) expect(bottom - top).toBeLessThanOrEqual(200);
    for (const height of heights)
      expect(bands.filter(([top, bottom]) => height >= top && height <= bottom)).toHaveLength(1);
    expect(bands.map(([top]) => top)).toEqual([...bands.map(([top]) => top)].sort((a, b) => a - b));
  });

  test('are cut where rows are far apart', () => {
    expect(bandsOf([0, 60, 100, 190, 200], 195)).toEqual([
      [0, 100],
      [190, 200],
    ]);
  });
});
