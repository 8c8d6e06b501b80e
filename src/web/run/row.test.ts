import { describe, expect, it } from 'vitest';
import { fitScale } from './fit.ts';
import { rowOf } from './row.ts';

const row = [36, 84, 132].map((x) => ({ at: [x, 250] as const }));

describe('rowOf', () => {
  it('lines cards up with levers in one row', () => {
    expect(rowOf(row, 1.8, 16)?.middles).toEqual([36, 84, 132].map((x) => x * 1.8));
  });
  it('gives no row where the cards would be too narrow for their words, at this size of text', () => {
    expect(rowOf(row, 0.6, 16)).toBe(null);
    expect(rowOf(row, 1.8, 32)).toBe(null);
  });
  it('gives no row for levers on the diagram, or none', () => {
    expect(rowOf([...row, { at: [200, 90] }], 1.8, 16)).toBe(null);
    expect(rowOf([], 1.8, 16)).toBe(null);
  });
});

describe('fitScale', () => {
  const face = { width: 600, height: 300 };
  it('fills the width where the height allows it', () => {
    expect(fitScale(face, { width: 1120, height: 748, em: 16 }, 20, true)).toBeCloseTo(1.8);
  });
  it('gives way to a low window, but not for ever', () => {
    // 24 above, 114 for the cards, 4.3 x 16 for the foot: 656.8 leaves 450 for 300 mm.
    expect(fitScale(face, { width: 1120, height: 656.8, em: 16 }, 20, true)).toBeCloseTo(1.5);
    expect(fitScale(face, { width: 1120, height: 100, em: 16 }, 20, true)).toBeCloseTo(1.8 * 0.6);
  });
  it('takes the width alone where the page scrolls', () => {
    expect(fitScale(face, { width: 820, height: 100, em: 16 }, 20, false)).toBeCloseTo(1.3);
  });
});
