import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fewestByTrying } from '../../tests/oracle/every-grouping.ts';
import { ALIKE, fewestGroups, OPPOSITE } from './fewest-groups.ts';

/** A letter for every pair, in rows: `=` alike, `x` opposite, `*` either, `.` neither. */
function table(size: number, letters: string): Uint8Array {
  const allowed = new Uint8Array(size * size);
  let k = 0;
  for (let a = 0; a < size; a++) {
    for (let b = a + 1; b < size; b++) {
      const letter = letters[k++];
      const bits = letter === '=' ? ALIKE : letter === 'x' ? OPPOSITE : letter === '*' ? ALIKE | OPPOSITE : 0;
      allowed[a * size + b] = bits;
      allowed[b * size + a] = bits;
    }
  }
  return allowed;
}

const mayIn =
  (size: number, allowed: Uint8Array) =>
  (a: number, b: number, turned: boolean): boolean =>
    ((allowed[a * size + b] ?? 0) & (turned ? OPPOSITE : ALIKE)) !== 0;

const printed = (size: number, letters: string) =>
  fewestGroups(size, table(size, letters)).groups.map((group) =>
    group.map(({ member, turned }) => `${turned ? '-' : ''}${member}`).join(' '),
  );

describe('the fewest groups', () => {
  it('none for nobody, one for one', () => {
    expect(fewestGroups(0, new Uint8Array(0))).toEqual({ groups: [], atLeast: 0, proved: true });
    expect(printed(1, '')).toEqual(['0']);
  });

  it('lies go with the group', () => {
    expect(printed(2, '=')).toEqual(['0 1']);
    expect(printed(2, 'x')).toEqual(['0 -1']);
    expect(printed(2, '.')).toEqual(['0', '1']);
    // 0 and 1 opposite, 0 and 2 opposite, 1 and 2 alike.
    expect(printed(3, 'xx=')).toEqual(['0 -1 -2']);
  });

  it('three that may share pairwise may be at odds together', () => {
    // 0 = 1, 1 = 2, 0 opposite 2.
    expect(fewestGroups(3, table(3, '=x='))).toMatchObject({ atLeast: 2, proved: true });
    expect(printed(3, '=x=')).toHaveLength(2);
    expect(printed(3, '=*=')).toEqual(['0 1 2']);
  });

  it('a ring of five, each with its neighbours, needs three', () => {
    expect(printed(5, '=..==..=.=')).toHaveLength(3);
  });

  it('is the number found by trying all, its groups hold, and nobody is left out (seed 2718)', () => {
    const bits = fc.constantFrom('=', 'x', '*', '.', '.');
    const some = fc
      .integer({ min: 1, max: 8 })
      .chain((size) =>
        fc.array(bits, { minLength: 28, maxLength: 28 }).map((all) => ({ size, letters: all.join('') })),
      );
    fc.assert(
      fc.property(some, ({ size, letters }) => {
        const allowed = table(size, letters);
        const may = mayIn(size, allowed);
        const { groups, atLeast, proved } = fewestGroups(size, allowed);
        expect([groups.length, atLeast, proved]).toEqual([...Array(2).fill(fewestByTrying(size, may)), true]);
        expect(groups.flatMap((group) => group.map(({ member }) => member)).sort((a, b) => a - b)).toEqual(
          Array.from({ length: size }, (_, i) => i),
        );
        for (const group of groups) {
          for (const [i, a] of group.entries())
            for (const b of group.slice(i + 1)) expect(may(a.member, b.member, a.turned !== b.turned)).toBe(true);
        }
      }),
      { seed: 2718, numRuns: 1000 },
    );
  });

  it('stopped early it still gives groups that hold, and bounds that are true (seed 31)', () => {
    const letters = fc.array(fc.constantFrom('=', 'x', '.', '.'), { minLength: 36, maxLength: 36 });
    let stopped = 0;
    fc.assert(
      fc.property(letters, (all) => {
        const allowed = table(9, all.join(''));
        const may = mayIn(9, allowed);
        const { groups, atLeast, proved } = fewestGroups(9, allowed, 0);
        const fewest = fewestByTrying(9, may);
        expect(atLeast).toBeLessThanOrEqual(fewest);
        expect(groups.length).toBeGreaterThanOrEqual(fewest);
        if (proved) expect(groups.length).toBe(fewest);
        else stopped++;
        for (const group of groups) {
          for (const [i, a] of group.entries())
            for (const b of group.slice(i + 1)) expect(may(a.member, b.member, a.turned !== b.turned)).toBe(true);
        }
      }),
      { seed: 31, numRuns: 300 },
    );
    expect(stopped).toBeGreaterThan(0);
  });

  it('40 members, half of all pairs at odds, are proved (seed 40)', () => {
    let state = 40;
    const next = () => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return state / 2 ** 32;
    };
    const letters = Array.from({ length: 780 }, () => (next() < 0.5 ? '.' : next() < 0.5 ? '=' : 'x')).join('');
    expect(fewestGroups(40, table(40, letters)).proved).toBe(true);
  }, 5_000);

  it('a table of another size is a fault', () => {
    expect(() => fewestGroups(3, new Uint8Array(4))).toThrow(RangeError);
  });
});
