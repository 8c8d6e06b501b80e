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

  it('stay where they are told to, and are kept clear of by the one that is placed anew', () => {
    const wanted = Array.from({ length: 6 }, (_, k) => ({ id: `P${k}`, at: [60 + 18 * k, 50] as Spot }));
    const lines = [{ from: [0, 50] as Spot, to: [400, 50] as Spot, width: 5 }];
    const before = placeTags(wanted, { lines, boxes: [] }, SIZE);
    const stay = new Map(before.filter(({ id }) => id !== 'P2').map((tag) => [tag.id, tag]));
    const moved = wanted.map((each) => (each.id === 'P2' ? { ...each, at: [104, 58] as Spot } : each));
    const after = placeTags(moved, { lines, boxes: [] }, SIZE, stay);
    const anew = after.find(({ id }) => id === 'P2');
    expect(anew?.toe).toEqual([104, 58]);
    for (const [i, tag] of after.entries()) {
      if (tag === anew) continue;
      expect(tag).toBe(before[i]);
      expect(anew === undefined ? 1 : shareCovered(anew, tag)).toBe(0);
    }
  });

  it('are placed alike whatever lies too far to be covered (seed 722)', () => {
    const spot = fc.tuple(fc.integer({ min: 0, max: 200 }), fc.integer({ min: 0, max: 120 }));
    fc.assert(
      fc.property(
        fc.array(spot, { minLength: 1, maxLength: 5 }),
        fc.array(fc.tuple(spot, spot), { maxLength: 6 }),
        (toes, strips) => {
          const wanted = toes.map((at, k) => ({ id: `P${k}`, at }));
          const lines = strips.map(([from, to]) => ({ from, to, width: 5 }));
          const far = Array.from({ length: 40 }, (_, k) => ({
            from: [900 + k, 0] as Spot,
            to: [900, 900] as Spot,
            width: 5,
          }));
          const box = { at: [1500, 900] as Spot, width: 10, height: 6 };
          expect(placeTags(wanted, { lines: [...lines, ...far], boxes: [box] }, SIZE)).toEqual(
            placeTags(wanted, { lines, boxes: [] }, SIZE),
          );
        },
      ),
      { seed: 722, numRuns: 60 },
    );
  });

  it('know how much of them a line covers', () => {
    const box = { at: [0, 0] as Spot, width: 6, height: 8 };
    expect(shareOnLine(box, { from: [-50, 0], to: [50, 0], width: 0 })).toBeCloseTo(0.6, 9);
    expect(shareOnLine(box, { from: [-50, 5], to: [50, 5], width: 0 })).toBe(0);
    expect(shareOnLine(box, { from: [0, 0], to: [0, 1], width: 0 })).toBeCloseTo(0.1, 9);
  });
});
