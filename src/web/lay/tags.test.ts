import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Spot } from '../../units/index.ts';
import { placeTags, shareCovered, shareOnLine } from './tags.ts';

const SIZE = { width: 16, height: 9 };
const NOTHING = { lines: [], boxes: [] };

describe('tags of points', () => {
  it('stand right above their toes on an empty sheet', () => {
    const [tag] = placeTags([{ id: 'P1', at: [100, 50] }], NOTHING, SIZE);
    expect(tag?.at[0]).toBeCloseTo(100, 9);
    expect(tag?.at[1]).toBeLessThan(50 - SIZE.height / 2);
  });

  it('go to the other side of the tape where a branch leaves upwards', () => {
    const lines = [
      { from: [0, 50] as Spot, to: [200, 50] as Spot, width: 5 },
      { from: [100, 50] as Spot, to: [104, 0] as Spot, width: 5 },
    ];
    const [tag] = placeTags([{ id: 'P1', at: [100, 50] }], { lines, boxes: [] }, SIZE);
    for (const line of lines) expect(tag === undefined ? 1 : shareOnLine(tag, line)).toBe(0);
  });

  it('cover neither each other nor a plate in a ladder of ten (seed 721)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 40 }), (pitch) => {
        const wanted = Array.from({ length: 10 }, (_, k) => ({
          id: `P${k}`,
          at: [60 + k * pitch, 60 + k * pitch * 0.62] as Spot,
        }));
        const lines = [{ from: [40, 47.6] as Spot, to: [520, 345] as Spot, width: 5 }];
        const boxes = wanted.map(({ at }) => ({ at: [at[0] + 30, at[1] + 12] as Spot, width: 10, height: 6 }));
        const tags = placeTags(wanted, { lines, boxes }, SIZE);
        for (const tag of tags) {
          for (const other of tags) if (other !== tag) expect(shareCovered(tag, other)).toBe(0);
          expect(Math.hypot(tag.at[0] - tag.toe[0], tag.at[1] - tag.toe[1])).toBeLessThan(40);
        }
      }),
      { seed: 721, numRuns: 20 },
    );
  });

  it('know how much of them a line covers', () => {
    const box = { at: [0, 0] as Spot, width: 6, height: 8 };
    expect(shareOnLine(box, { from: [-50, 0], to: [50, 0], width: 0 })).toBeCloseTo(0.6, 9);
    expect(shareOnLine(box, { from: [-50, 5], to: [50, 5], width: 0 })).toBe(0);
    expect(shareOnLine(box, { from: [0, 0], to: [0, 1], width: 0 })).toBeCloseTo(0.1, 9);
  });
});
