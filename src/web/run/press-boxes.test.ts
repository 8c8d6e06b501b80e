import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PRESS, placed, pressBoxes } from './press-boxes.ts';

describe('boxes to press', () => {
  it('are as large as a finger needs where they stand alone', () => {
    expect(pressBoxes([{ at: [100, 100], width: 20, height: 10 }])).toEqual([
      { at: [100, 100], width: 44, height: 44 },
    ]);
    expect(pressBoxes([{ at: [100, 100], width: 90, height: 60 }])).toEqual([
      { at: [100, 100], width: 90, height: 60 },
    ]);
  });

  it('end where the sheet ends', () => {
    const sheet = { width: 300, height: 150 };
    expect(placed({ at: [10, 140], width: 44, height: 44 }, sheet)).toEqual({
      left: 0,
      top: 118,
      width: 32,
      height: 32,
    });
  });

  it('share the room between rows that lie close', () => {
    const rows = [0, 30, 60].map((y) => ({ at: [100, 100 + y] as const, width: 60, height: 16 }));
    for (const { width, height } of pressBoxes(rows)) expect([width, height]).toEqual([60, 30]);
  });

  it('never lie over the middle of another that is 24 px away or more (seed 801)', () => {
    const spot = fc.tuple(fc.integer({ min: 0, max: 12 }), fc.integer({ min: 0, max: 12 }));
    fc.assert(
      fc.property(fc.uniqueArray(spot, { maxLength: 10, selector: ([x, y]) => `${x} ${y}` }), (spots) => {
        const boxes = pressBoxes(spots.map(([x, y]) => ({ at: [x * 26, y * 26], width: 20, height: 20 })));
        for (const box of boxes) {
          expect(Math.min(box.width, box.height)).toBeGreaterThanOrEqual(PRESS.least);
          for (const other of boxes) {
            if (other === box) continue;
            const [dx, dy] = [Math.abs(other.at[0] - box.at[0]), Math.abs(other.at[1] - box.at[1])];
            expect(dx < box.width / 2 && dy < box.height / 2).toBe(false);
          }
        }
      }),
      { seed: 801, numRuns: 200 },
    );
  });
});
