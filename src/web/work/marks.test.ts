import { describe, expect, it } from 'vitest';
import { markOf } from './marks.ts';

const said = (id: string, place = 0): string => {
  const { outline, ink, solid } = markOf(id, place);
  return `${outline} ${ink} ${solid}`;
};

describe('the marks of levers', () => {
  it('differ for the first 72 numbers', () => {
    expect(new Set(Array.from({ length: 72 }, (_, i) => said(`L${i + 1}`))).size).toBe(72);
  });
  it('stay with the number, wherever the lever stands', () => {
    expect(said('L10', 0)).toBe(said('L10', 9));
    expect(markOf('L10', 3).text).toBe('10');
  });
  it('have their own ink for the first twelve, as the look has it', () => {
    for (let n = 1; n <= 12; n++) {
      const { outline, ink, solid } = markOf(`L${n}`, 0);
      expect(ink).toBe(outline);
      expect(solid).toBe(n <= 6);
    }
  });
  it('go by the place where there is no number', () => {
    expect(said('shed', 2)).toBe(said('L3', 0));
    expect(markOf('shed', 2).text).toBe('hed');
  });
});
