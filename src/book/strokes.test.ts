import { expect, test } from 'vitest';
import { flattenStrokes } from './strokes.ts';

test('a quarter of a circle keeps to its radius, and goes the way it is turned', () => {
  const spots = flattenStrokes([
    { kind: 'line', from: [0, 0], to: [10, 0] },
    { kind: 'arc', from: [10, 0], to: [19, 9], centre: [10, 9], radius: 9, clockwise: true },
  ]);
  expect(spots[0]).toEqual([0, 0]);
  expect(spots.at(-1)).toEqual([19, 9]);
  for (const [x, y] of spots.slice(1)) expect(Math.hypot(x - 10, y - 9)).toBeCloseTo(9, 9);
  // With y down, clockwise from the top is to the right: never left of where it began.
  for (const [x] of spots.slice(1)) expect(x).toBeGreaterThanOrEqual(10);
});

test('the other way round it takes the other side', () => {
  const spots = flattenStrokes([
    { kind: 'arc', from: [10, 0], to: [1, 9], centre: [10, 9], radius: 9, clockwise: false },
  ]);
  for (const [x] of spots) expect(x).toBeLessThanOrEqual(10);
  expect(spots.length).toBeGreaterThan(4);
});
