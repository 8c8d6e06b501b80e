import { describe, expect, it } from 'vitest';
import type { PanelFile } from '../panel/index.ts';
import { readPlan } from './index.ts';

describe('[IN2] what lies on or across a strip is found wherever it lies on the sheet', () => {
  // Half of half a 5 mm tape is 1.25 mm: 1.1 mm is nearer. Steps of 1 mm let every edge of a cell of the index fall between the two.
  const DOWN = Array.from({ length: 131 }, (_, i) => i);
  it.each(DOWN)('moved down by %s mm', (down) => {
    const strip = (id: string, path: readonly (readonly [number, number])[]) => ({
      id,
      path: path.map(([x, y]): [number, number] => [x, y]),
    });
    const panel: PanelFile = {
      format: 'mimic-panel',
      version: 1,
      strips: [
        strip('far', [
          [0, 0],
          [0, 400],
        ]),
        strip('a', [
          [100, 100 + down],
          [300, 100 + down],
        ]),
        strip('b', [
          [120, 101.1 + down],
          [280, 101.1 + down],
        ]),
      ],
    };
    const overlaps = readPlan(panel).problems.filter(({ code }) => code === 'strips-overlap');
    expect(overlaps).toMatchObject([{ strips: ['a', 'b'] }]);
  });
});
