import { readFileSync } from 'node:fs';
import * as fontkit from 'fontkit';
import { describe, expect, it } from 'vitest';
import { textWidth } from './letter-widths.ts';

describe('widths of lettering', () => {
  const texts = [
    'Tolland',
    'Storage 1',
    'Quay cross',
    'Stores 1·4',
    'QUILLHAVEN HARBOUR',
    'Run-round',
    'L12',
    'Willow Mill',
  ];

  it.each([500, 600, 700] as const)('[FA12] weight %i is within 4 % of the typeface itself', (weight) => {
    // Outside: the advance widths in the font file that the screens and documents use.
    const font = fontkit.create(readFileSync(`src/web/fonts/national-park-latin-${weight}-normal.woff2`));
    if (!('layout' in font)) throw new Error('a collection of fonts');
    for (const text of texts) {
      const width = (font.layout(text).advanceWidth / font.unitsPerEm) * 7.6;
      expect(Math.abs(textWidth(text, 7.6, weight) / width - 1), text).toBeLessThan(0.04);
    }
  });

  it('[FA12] spacing stands between letters, not after the last', () => {
    expect(textWidth('AB', 10, 600, 1) - textWidth('AB', 10, 600)).toBeCloseTo(1, 12);
    expect(textWidth('', 10, 600, 1)).toBe(0);
  });
});
