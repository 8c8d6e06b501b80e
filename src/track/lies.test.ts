import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Lies } from '../panel/index.ts';
import { both, fewest, implies } from './lies.ts';

const lies = fc.dictionary(
  fc.constantFrom('P1', 'P2', 'P3', 'P4'),
  fc.constantFrom('normal' as const, 'reverse' as const),
);
const SETTINGS: readonly Lies[] = Array.from({ length: 16 }, (_, bits) =>
  Object.fromEntries(
    ['P1', 'P2', 'P3', 'P4'].map((id, i) => [id, (bits >> i) & 1 ? ('reverse' as const) : ('normal' as const)]),
  ),
);

describe('lies', () => {
  it('[TF12] taken together ask what both ask, or nothing at all where they differ', () => {
    expect(both({ P1: 'normal' }, { P2: 'reverse' })).toEqual({ P1: 'normal', P2: 'reverse' });
    expect(both({ P1: 'normal' }, { P1: 'reverse' })).toBeNull();
    expect(implies({ P1: 'normal', P2: 'reverse' }, { P2: 'reverse' })).toBe(true);
    expect(implies({}, { P2: 'reverse' })).toBe(false);
  });

  it('[TF12] in the fewest words: either lie is no condition', () => {
    expect(fewest([{ P1: 'normal' }, { P1: 'reverse' }])).toEqual([{}]);
    expect(
      fewest([
        { P2: 'normal', P1: 'normal' },
        { P1: 'reverse', P2: 'normal' },
        { P3: 'normal', P2: 'normal' },
      ]),
    ).toEqual([{ P2: 'normal' }]);
    expect(fewest([])).toEqual([]);
  });

  it('[TF12] in fewer words hold in the same settings (seed 1125)', () => {
    fc.assert(
      fc.property(fc.array(lies, { maxLength: 6 }), (list) => {
        const short = fewest(list);
        for (const setting of SETTINGS)
          expect(short.some((each) => implies(setting, each))).toBe(list.some((each) => implies(setting, each)));
        for (const one of short) for (const other of short) if (one !== other) expect(implies(one, other)).toBe(false);
        expect(fewest([...list].reverse())).toEqual(short);
      }),
      { seed: 1125, numRuns: 400 },
    );
  });
});
