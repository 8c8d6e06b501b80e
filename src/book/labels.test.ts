import { describe, expect, test } from 'vitest';
import { type Box, placeLabels } from './labels.ts';
import type { Measure } from './measure.ts';

/** Every letter half as wide as its size. */
const measure: Measure = {
  runs: (text, font, size) => [{ font, text, width: (text.length * size) / 2 }],
  width: (text, _font, size) => (text.length * size) / 2,
  wrap: (text) => [text],
  fit: (text, _font, size) => ({ text, size }),
};
const field: Box = [0, 0, 100, 100];
const hole = (text: string, x: number, y: number) => ({
  text,
  at: [x, y] as const,
  radius: 2.6,
  size: 3,
  font: 'text-700' as const,
});
const cross = (a: Box, b: Box): boolean => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];

describe('numbers beside holes', () => {
  test('alone: to the right, above', () => {
    const [label] = placeLabels(measure, [hole('H1', 50, 50)], [], field);
    expect(label?.anchor).toBe('start');
    expect(label?.at[1]).toBeLessThan(50);
  });
  test('at the right edge it turns to the left', () => {
    const [label] = placeLabels(measure, [hole('H1', 98, 50)], [], field);
    expect(label?.anchor).toBe('end');
  });
  test('a lamp every 8 mm along a slanting strip: no number covers a hole or a number', () => {
    const spots = [0, 1, 2, 3, 4].map((i) => hole(`H${15 + i}`, 40 + 6.72 * i, 40 + 4.2 * i));
    const holes = spots.map(({ at: [x, y] }): Box => [x - 1.6, y - 1.6, x + 1.6, y + 1.6]);
    const labels = placeLabels(measure, spots, holes, field);
    for (const [i, a] of labels.entries()) for (const b of labels.slice(i + 1)) expect(cross(a.box, b.box)).toBe(false);
    for (const label of labels) for (const each of holes) expect(cross(label.box, each)).toBe(false);
  });
});
