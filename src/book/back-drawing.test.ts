import { describe, expect, test } from 'vitest';
import { backTags } from './back-drawing.ts';

describe('tags from behind', () => {
  // Common practice, no source: the bat points away from the contact that it closes; normal is bat up.
  test('a two-pole switch: pole 1 at the left, normal below, reverse above', () => {
    const tags = backTags(2, [18, 31]);
    expect(tags.map((tag) => tag.name)).toEqual(['t1', 't2', 't3', 't4', 't5', 't6']);
    const at = Object.fromEntries(tags.map((tag) => [tag.name, tag.at]));
    expect(at.t1?.[0]).toBeLessThan(at.t4?.[0] ?? 0);
    expect(at.t1?.[1]).toBeGreaterThan(at.t2?.[1] ?? 0);
    expect(at.t3?.[1]).toBeLessThan(at.t2?.[1] ?? 0);
    expect(tags.filter((tag) => tag.role === 'common').map((tag) => tag.name)).toEqual(['t2', 't5']);
  });
  test('tags stay on the body', () => {
    for (const poles of [1, 2, 3, 4]) {
      for (const { at } of backTags(poles, [9 * poles, 31])) {
        expect(Math.abs(at[0])).toBeLessThan((9 * poles) / 2);
        expect(Math.abs(at[1])).toBeLessThan(15.5);
      }
    }
  });
});
