import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keptFor, sharing } from './sharing.ts';

describe('sharing', () => {
  it('gives the earlier object where all says the same', () => {
    const before = { id: 'a', at: [1, 2], of: { x: null } };
    expect(sharing(before, { id: 'a', at: [1, 2], of: { x: null } })).toBe(before);
  });

  it('takes over the parts that say the same', () => {
    const before = [
      { id: 'a', at: [1, 2], n: 1 },
      { id: 'b', at: [3, 4], n: 2 },
    ];
    const now = [
      { id: 'a', at: [1, 2], n: 1 },
      { id: 'b', at: [3, 4], n: 5 },
    ];
    const made = sharing(before, now);
    expect(made).toEqual(now);
    expect(made).not.toBe(before);
    expect(made[0]).toBe(before[0]);
    expect(made[1]?.at).toBe(before[1]?.at);
  });

  it('sets items beside those of the same id where a list grew or shrank', () => {
    const before = [
      { id: 'a', n: [1] },
      { id: 'b', n: [2] },
      { id: 'c', n: [3] },
    ];
    const made = sharing(before, [
      { id: 'x', n: [0] },
      { id: 'b', n: [2] },
      { id: 'c', n: [3] },
      { id: 'a', n: [1] },
    ]);
    expect(made.map((item) => before.indexOf(item))).toEqual([-1, 1, 2, 0]);
  });

  it('takes no record over whose keys stand otherwise, since it is written otherwise', () => {
    const before = { a: 1, b: 2 };
    expect(JSON.stringify(sharing(before, { b: 2, a: 1 }))).toBe('{"b":2,"a":1}');
  });

  it('tells 0 from -0 and leaves maps alone', () => {
    const map = new Map([[1, 2]]);
    const made = sharing({ zero: 0, map: new Map([[1, 2]]) }, { zero: -0, map });
    expect(Object.is(made.zero, -0)).toBe(true);
    expect(made.map).toBe(map);
  });

  it('says what it was given, whatever was before (seed 20261126)', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (before, now) => {
        const text = JSON.stringify(now);
        expect(JSON.stringify(sharing<unknown>(before, now))).toBe(text);
        const copy: unknown = JSON.parse(text);
        const taken = sharing<unknown>(now, copy);
        expect(JSON.stringify(taken)).toBe(text);
      }),
      { seed: 20261126, numRuns: 500 },
    );
  });
});

describe('keptFor', () => {
  it('works once for the same record while the rest is alike', () => {
    let worked = 0;
    const work = keptFor((of: { readonly n: number }, more: readonly number[]) => {
      worked++;
      return [of.n, ...more];
    });
    const record = { n: 1 };
    const first = work(record, [2, 3]);
    expect(work(record, [2, 3])).toBe(first);
    expect(worked).toBe(1);
    expect(work(record, [2, 4])).toEqual([1, 2, 4]);
    expect(work({ n: 1 }, [2, 4])).toEqual([1, 2, 4]);
    expect(worked).toBe(3);
  });
});
