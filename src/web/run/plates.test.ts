import { describe, expect, it } from 'vitest';
import type { DrawnPlate } from '../../face/index.ts';
import { fitPlate, growth } from './plates.ts';

const face = { width: 600, height: 300 };
const line = (text: string, size: number, y: number) => ({ text, size, y, weight: 600 as const, spacing: 0 });
const place: DrawnPlate = {
  id: 'quay',
  kind: 'place',
  at: [494, 154],
  width: 24,
  height: 10.4,
  lines: [line('Quay', 7.6, 7.9)],
  screws: false,
};
const lever: DrawnPlate = {
  id: 'L1',
  kind: 'lever',
  at: [36, 281],
  width: 45,
  height: 17.5,
  lines: [line('L1', 7.8, 7.65), line('Shed', 7.6, 15.15)],
  screws: false,
};

describe('growth', () => {
  it('keeps type that is read at 12 px as it is, and brings smaller type up to it', () => {
    expect(growth(7.6, 1.8)).toBe(1);
    expect(growth(7.6, 1.3) * 7.6 * 1.3).toBeCloseTo(12, 9);
  });
});

describe('fitPlate', () => {
  it('leaves a plate that reads as it is', () => {
    expect(fitPlate(place, 1.8, [482, 154], face)).toMatchObject({ scale: 1, at: [494, 154], lines: place.lines });
  });
  it('grows a place away from the end that it names', () => {
    const fitted = fitPlate(place, 1.3, [482, 154], face);
    expect(fitted.at[0] - (fitted.width * fitted.scale) / 2).toBeCloseTo(482, 9);
    expect(fitted.at[1]).toBeCloseTo(154, 9);
  });
  it('keeps a grown plate on the sheet', () => {
    const far = fitPlate({ ...place, at: [586, 44], width: 20 }, 1, [578, 44], face);
    expect(far.at[0] + (far.width * far.scale) / 2).toBeLessThanOrEqual(600);
  });
  it('keeps only the number of a lever when it has to grow, no wider than it was', () => {
    const fitted = fitPlate(lever, 1.3, null, face);
    expect(fitted.lines.map(({ text }) => text)).toEqual(['L1']);
    expect(fitted.width * fitted.scale).toBeCloseTo(45, 9);
  });
});
