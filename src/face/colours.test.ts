import { describe, expect, it } from 'vitest';
import { contrastRatio, relativeLuminance, tapeOnPaint } from './colours.ts';

describe('contrast of tape on paint', () => {
  it('[FA20] luminance and ratio are those of WCAG 2.2', () => {
    // WCAG 2.2, definitions: black 0, white 1, the weights of the primaries; black on white is 21 to 1.
    expect(relativeLuminance('#000000')).toBe(0);
    expect(relativeLuminance('#ffffff')).toBeCloseTo(1, 12);
    expect(relativeLuminance('#00ff00')).toBeCloseTo(0.7152, 12);
    expect(contrastRatio('#000000', '#ffffff')).toBeCloseTo(21, 9);
    // The greys of 4.5 to 1 on white that every guide gives (from memory): #767676 passes with 4.54, #777777 fails with 4.48.
    expect(contrastRatio('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
    expect(contrastRatio('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  });

  it('[FA20] the three tapes on sage stand apart as the visual direction measured them', () => {
    // docs: the table of colour roles gives 10.1, 6.2 and 5.9.
    expect(tapeOnPaint('graphite', 'sage')).toBeCloseTo(10.1, 1);
    expect(tapeOnPaint('oxide', 'sage')).toBeCloseTo(6.2, 1);
    expect(tapeOnPaint('slate', 'sage')).toBeCloseTo(5.9, 1);
  });

  it('[FA20] a name that is not known is not judged', () => {
    expect(tapeOnPaint('graphite', 'heliotrope')).toBeNull();
    expect(tapeOnPaint('toString', 'sage')).toBeNull();
  });
});
