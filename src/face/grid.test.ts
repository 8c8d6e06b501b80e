import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BoxGrid } from './grid.ts';
import type { Box } from './shapes.ts';

const box = fc
  .tuple(
    fc.integer({ min: -200, max: 900 }),
    fc.integer({ min: -200, max: 900 }),
    fc.oneof(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 5000 })),
    fc.oneof(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 5000 })),
  )
  .map(([x, y, across, down]): Box => [x, y, x + across, y + down]);

describe('the grid', () => {
  it('[FA19] finds what a look at every box finds, in order (seed 43)', () => {
    fc.assert(
      fc.property(fc.array(box, { maxLength: 40 }), box, (boxes, wanted) => {
        const grid = new BoxGrid();
        for (const each of boxes) grid.add(each);
        const all = boxes.flatMap(([left, top, right, bottom], i) =>
          right < wanted[0] || left > wanted[2] || bottom < wanted[1] || top > wanted[3] ? [] : [i],
        );
        expect(grid.near(wanted)).toEqual(all);
      }),
      { seed: 43, numRuns: 300 },
    );
  });
});
