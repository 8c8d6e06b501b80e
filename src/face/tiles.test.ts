import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tileFace } from './tiles.ts';

const hole = (x: number, y: number) => ({
  no: 1,
  id: 'H1',
  at: [x, y] as const,
  drill: 3.2,
  what: 'lamp' as const,
  for: '',
});

describe('tiles', () => {
  it('[FA21] a face of 600 by 300 on upright A4 with 15 mm margins takes 4 by 2, each reaching 10 into the next', () => {
    // 210 - 30 = 180 across: 180 + 3 x 170 = 690 >= 600, and 180 + 2 x 170 = 520 is too little. 297 - 30 = 267 down: 267 + 257 >= 300.
    const tiles = tileFace(
      { width: 600, height: 300, holes: [hole(175, 50)] },
      { width: 210, height: 297 },
      { margin: 15 },
    );
    expect(tiles).toHaveLength(8);
    expect(tiles.map(({ at }) => at)).toEqual([
      [0, 0],
      [170, 0],
      [340, 0],
      [510, 0],
      [0, 257],
      [170, 257],
      [340, 257],
      [510, 257],
    ]);
    expect(tiles.at(-1)).toMatchObject({ no: 8, row: 1, column: 3, size: [90, 43] });
    expect(tiles.filter(({ holes }) => holes.length > 0).map(({ no }) => no)).toEqual([1, 2]);
  });

  it('[FA21] the tiles cover the face and every hole is on one (seed 44)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 2500 }),
        fc.integer({ min: 1, max: 2500 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (width, height, x, y) => {
          const at = hole(x * width, y * height);
          const tiles = tileFace({ width, height, holes: [at] }, { width: 190, height: 277 });
          expect(tiles.some(({ holes }) => holes.length === 1)).toBe(true);
          expect(Math.max(...tiles.map((tile) => tile.at[0] + tile.size[0]))).toBe(width);
          expect(Math.max(...tiles.map((tile) => tile.at[1] + tile.size[1]))).toBe(height);
          for (const tile of tiles) expect(Math.min(...tile.size)).toBeGreaterThan(0);
        },
      ),
      { seed: 44, numRuns: 200 },
    );
  });

  it('[FA21] paper without room is a fault of the caller', () => {
    expect(() => tileFace({ width: 600, height: 300, holes: [] }, { width: 20, height: 20 }, { margin: 5 })).toThrow(
      RangeError,
    );
  });
});
