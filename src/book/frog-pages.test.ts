import { describe, expect, test } from 'vitest';
import type { TrackFrog } from '../track/index.ts';
import { fedWords, takesWords } from './frog-pages.ts';

const leg = { span: 's', end: 0 } as const;
const normal = { when: { P1: 'normal' }, leg, strip: null, rail: 'left', bus: 'B' } as const;
const frog: TrackFrog = {
  id: 'F1',
  record: 'F1',
  of: 'P1',
  at: [0, 0],
  what: 'point',
  legs: [leg, leg],
  kind: 'live',
  toldBy: 'P1',
  normal,
  reverse: { ...normal, when: { P1: 'reverse' }, rail: 'right', bus: 'A' },
  fixed: false,
  contact: { id: 'D1.c1', stated: true },
  wants: 'nothing',
  care: [],
};

describe('what a frog takes', () => {
  test('when, which rail, which wire', () => {
    expect(takesWords(frog.normal)).toEqual(['P1 normal', 'left rail, wire B']);
    expect(takesWords({ ...normal, when: { P10: 'reverse', P2: 'normal' } })[0]).toBe('P2 normal and P10 reverse');
  });
  test('a line in use tells it where no point does, a section where there is one', () => {
    expect(takesWords({ ...normal, when: {}, strip: 'main', bus: null })).toEqual([
      'line main',
      'left rail, by its section',
    ]);
  });
});

describe('what feeds a frog', () => {
  test.each([
    ['contact D1.c1', {}],
    ['contact D2.c1, proposed', { contact: { id: 'D2.c1', stated: false } }],
    ['it is dead: no feed', { kind: 'dead', contact: null }],
    ['its own module', { kind: 'module', contact: null }],
    ['joined to wire B for good', { fixed: true, contact: null }],
    ['no contact is free: a module or a relay', { contact: null, wants: 'contact' }],
    ['a module: no point tells it', { contact: null, toldBy: null, wants: 'module' }],
  ] as const)('%s', (words, changed) => {
    expect(fedWords({ ...frog, ...changed })).toBe(words);
  });
});
