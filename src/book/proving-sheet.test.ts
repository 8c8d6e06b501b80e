import { describe, expect, test } from 'vitest';
import { boundWords, provesWords } from './proving-sheet.ts';

const leg = (points: Record<string, 'normal' | 'reverse'>, way: 'facing' | 'trailing' | 'across') => ({
  points,
  way,
  from: 'a',
  to: 'b',
});

describe('what a move proves', () => {
  test('way by way, points by number', () => {
    expect(
      provesWords([
        leg({ P10: 'reverse' }, 'trailing'),
        leg({ P1: 'normal' }, 'facing'),
        leg({ P12: 'reverse', P3: 'normal' }, 'across'),
        leg({ P2: 'reverse' }, 'facing'),
      ]),
    ).toEqual(['facing P1 N, P2 R', 'trailing P10 R', 'across P3 N with P12 R']);
  });
});

describe('how good the run is', () => {
  const run = {
    moves: [],
    legs: { covered: 4, all: 4 },
    missed: [],
    reversals: 3,
    throws: 5,
    bound: { reversals: 3, throws: 2 },
    proved: false,
  };
  test('proved, turned back as seldom as can be, or neither', () => {
    expect(boundWords({ ...run, proved: true })).toContain('none throws fewer');
    expect(boundWords(run)).toMatch(/^No run turns back less often\. Any throws at least 2 levers; .* fewer than 5 /);
    expect(boundWords({ ...run, bound: { reversals: 2, throws: 1 } })).toMatch(
      /^Any run turns back at least 2 times and throws at least 1 lever; /,
    );
  });
});
