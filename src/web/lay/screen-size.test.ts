import { describe, expect, it } from 'vitest';
import { CSS_PX_PER_MM } from './camera.ts';
import { MEASURES, rescaled, screenOf } from './screen-size.ts';

describe('screen size', () => {
  it('keeps to the promise of the browser where nothing that could be was kept', () => {
    for (const text of [null, '', 'wide', '0', '-4', '900', 'NaN']) expect(screenOf(text)).toBe(CSS_PX_PER_MM);
    expect(screenOf('5.2')).toBe(5.2);
  });
  it('moves by whole px of the width of what is laid against the screen', () => {
    const { width } = MEASURES.card;
    const next = rescaled(CSS_PX_PER_MM, width, 1);
    expect(next * width).toBeCloseTo(Math.round(CSS_PX_PER_MM * width) + 1, 9);
    expect(rescaled(next, width, -1) * width).toBeCloseTo(Math.round(CSS_PX_PER_MM * width), 9);
  });
  it('knows the card of ISO/IEC 7810, ID-1', () => {
    expect(MEASURES.card).toEqual({ width: 85.6, height: 53.98 });
  });
  it('goes no farther than a screen can be', () => {
    expect(screenOf(String(rescaled(0.2, 100, -500)))).toBe(0.2);
    expect(screenOf(String(rescaled(30, 100, 500)))).toBe(30);
  });
});
