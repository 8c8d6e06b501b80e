import { describe, expect, test } from 'vitest';
import type { Box } from './labels.ts';
import { boxRound, meets, passes, within } from './placing.ts';

const box: Box = [10, 10, 20, 16];

describe('boxes and lines', () => {
  test('boxes meet where they share area, not where they touch', () => {
    expect(meets(box, [19, 15, 30, 30])).toBe(true);
    expect(meets(box, [20, 10, 30, 16])).toBe(false);
    expect(within([10, 10, 20, 16], box)).toBe(true);
    expect(within([9.9, 10, 20, 16], box)).toBe(false);
  });

  test.each([
    ['across', [0, 13], [30, 13], true],
    ['slanting through a corner', [8, 13], [12, 9], true],
    ['slanting past a corner', [8, 11], [11, 8], false],
    ['ending before it', [0, 13], [9, 13], false],
    ['within it', [12, 12], [14, 14], true],
    ['above it', [0, 9], [30, 9], false],
    ['upright beside it', [21, 0], [21, 30], false],
  ] as const)('a line %s', (_name, a, b, through) => {
    expect(passes(a, b, box)).toBe(through);
  });

  test('the box round spots', () => {
    expect(
      boxRound([
        [3, 9],
        [-1, 4],
      ]),
    ).toEqual([-1, 4, 3, 9]);
  });
});
