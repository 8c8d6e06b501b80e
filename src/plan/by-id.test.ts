import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { byId } from './index.ts';

describe('byId', () => {
  it('[ID1] counts figures as numbers, case aside', () => {
    expect(['P10', 'p3', 'P2', 'P02', 'A1b', 'P', 'A1'].sort(byId)).toEqual([
      'A1',
      'A1b',
      'P',
      'P02',
      'P2',
      'p3',
      'P10',
    ]);
  });

  it('[ID1] is an order of all ids (seed 1)', () => {
    const id = fc.string({ unit: fc.constantFrom('P', 'p', '0', '1', '2', '-', '_', 'Z'), minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(id, id, id, (a, b, c) => {
        const sign = (x: number) => Math.sign(x);
        expect(sign(byId(a, b))).toBe(sign(byId(b, a)) === 0 ? 0 : -sign(byId(b, a)));
        expect(byId(a, b) === 0).toBe(a === b);
        if (byId(a, b) <= 0 && byId(b, c) <= 0) expect(byId(a, c)).toBeLessThanOrEqual(0);
      }),
      { seed: 1, numRuns: 2_000 },
    );
  });
});
