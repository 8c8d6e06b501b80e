import { describe, expect, it } from 'vitest';
import { isProtectiveEarth, isWireColour, LETTERED_COLOURS, wireColourName } from './colours.ts';

describe('wire colours', () => {
  it('knows one colour and two joined, in either case', () => {
    for (const good of ['BN', 'bn', 'BNWH', 'gnye', 'SR']) expect(isWireColour(good), good).toBe(true);
  });
  it('knows nothing else', () => {
    for (const bad of ['', 'B', 'Bn', 'XX', 'BNXX', 'BNBN', 'BK+BN', 'BNWHRD', 'brown', ' BN', '__proto__', 'WHI']) {
      expect(isWireColour(bad), bad).toBe(false);
      expect(wireColourName(bad), bad).toBeNull();
    }
  });
  it('names them in words', () => {
    expect(wireColourName('BN')).toBe('brown');
    expect(wireColourName('BNWH')).toBe('brown and white');
  });
  it('tells protective earth in either order', () => {
    expect(['GNYE', 'YEGN', 'gnye'].every(isProtectiveEarth)).toBe(true);
    expect(['GN', 'YE', 'GNWH', 'BNYE', 'nonsense'].some(isProtectiveEarth)).toBe(false);
  });
  it('has each pair of letters and each word once', () => {
    expect(new Set(LETTERED_COLOURS.map((each) => each.letters)).size).toBe(LETTERED_COLOURS.length);
    expect(new Set(LETTERED_COLOURS.map((each) => each.word)).size).toBe(LETTERED_COLOURS.length);
  });
});
