import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shared } from './share.ts';

describe('what came anew', () => {
  it('is what was there before where nothing differs', () => {
    const before = { strips: [{ id: 's1', path: [[0, 1]] }], name: null };
    expect(shared(before, structuredClone(before))).toBe(before);
  });

  it('keeps every part that is as it was, and no other', () => {
    const before = { strips: [{ id: 's1', at: [0, 1] }, { id: 's2' }], points: [{ id: 'P1' }] };
    const now = shared(before, { strips: [{ id: 's1', at: [0, 2] }, { id: 's2' }], points: [{ id: 'P1' }] });
    expect(now).toEqual({ strips: [{ id: 's1', at: [0, 2] }, { id: 's2' }], points: [{ id: 'P1' }] });
    expect(now.points).toBe(before.points);
    expect(now.strips[1]).toBe(before.strips[1]);
    expect(now.strips[0]).not.toBe(before.strips[0]);
  });

  it.each([
    ['a longer list', [1], [1, 2]],
    ['a shorter list', [1, 2], [1]],
    ['a list for a record', [], {}],
    ['a key for another', { a: undefined }, { b: undefined }],
    ['nothing for something', { a: 1 }, null],
    ['the other zero', [0], [-0]],
  ])('tells %s', (_name, before, next) => {
    const now = shared(before, next);
    expect(now).toEqual(next);
    expect(now).not.toBe(before);
  });

  it('equals what came, whatever was there before: seed 20', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (before, next) => {
        expect(shared(before, structuredClone(next))).toEqual(next);
        expect(shared(next, structuredClone(next))).toBe(next);
      }),
      { seed: 20 },
    );
  });
});
