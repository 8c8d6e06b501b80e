import { describe, expect, it } from 'vitest';
import { leverLabel, leverName, litWords, sentence, stateWords, throwNews, words } from './run.ts';

describe('words', () => {
  it('says a lever, what it works and how it lies', () => {
    const lever = {
      id: 'L4',
      name: 'Quay cross',
      at: [0, 0] as const,
      works: ['P4', 'P5'],
      positions: ['normal', 'reverse'] as const,
    };
    expect(leverLabel(lever, 'reverse')).toBe('L4 Quay cross, works P4 and P5, reverse');
    expect(leverLabel({ ...lever, name: null, works: [] }, 'normal')).toBe('L4, works nothing, normal');
  });
  it('says what a throw changed', () => {
    expect(throwNews(['L4 reverse'], ['Quay crossover'], ['Quay line'], false)).toBe(
      'L4 reverse. Lit: Quay crossover. Dark: Quay line.',
    );
    expect(throwNews(['L4 reverse'], [], [], false)).toBe('L4 reverse. No lamp changes.');
    // What was not worked out is not told as if it were.
    expect(throwNews(['L4 reverse'], [], ['Quay line'], true)).toBe(`L4 reverse. ${words.unsolved}`);
  });
  it('counts levers', () => {
    expect(stateWords({ kind: 'throwing', presses: [], left: ['L2'] }, 7).head).toBe('1 lever to throw');
    // "3 left" alone would read as three still to do.
    expect(stateWords({ kind: 'set', thrown: 4, kept: 3, pressed: 0 }, 7).more).toBe(
      'By your ticks: 4 levers thrown, 3 left as they lay',
    );
    expect(stateWords({ kind: 'none' }, 0).head).toBe('No routes');
  });
  it('says a name that is the id once', () => {
    expect(leverName({ id: 'L4', name: 'L4' })).toBe('L4');
  });
  it('begins a sentence with a capital, but leaves ids as they are', () => {
    expect(sentence('the sheet is aluminium', [])).toBe('The sheet is aluminium');
    expect(sentence('lamp a1 is dark', ['a1'])).toBe('Lamp a1 is dark');
    expect(sentence('a1: nothing works it', ['a1'])).toBe('a1: nothing works it');
  });
  it('says of a point what is asked of it, for no one has seen how it lies', () => {
    expect(words.spokenPoint('P4', 'reverse', 'Quay crossover', 'L4')).toBe(
      'P4: asked reverse, to Quay crossover, by L4',
    );
    expect(words.spokenPoint('P4', null, 'Platform loop', 'L4')).toBe('P4: asked nothing, L4 is in the centre');
    expect(words.spokenPoint('P4', 'normal', 'Platform loop', null)).toBe('P4: no lever works it');
  });
  it('tells one way from another', () => {
    expect(words.wayBy(['Loop', 'Quay'], 2)).toBe('via Loop and Quay');
    expect(words.wayBy([], 1)).toBe('direct');
    expect(words.wayBy(null, 2)).toBe('way 2');
  });
  it('says where the lit lamps are', () => {
    const lit = {
      lit: 19,
      all: 48,
      onRoute: 13,
      onOther: { index: 1, lit: 4 },
      elsewhere: 2,
      faint: 0,
      bright: 0,
      destroyed: 0,
    };
    const text = (pieces: readonly (readonly [string, string])[]) => pieces.flat().join(' ');
    expect(text(litWords(lit, true, 'Platform 1 to Storage 3'))).toBe(
      '19 of 48 lamps lit: 13 on this route, 4 on Platform 1 to Storage 3, 2 elsewhere',
    );
    expect(text(litWords({ ...lit, onOther: null, elsewhere: 6 }, true, null))).toBe(
      '19 of 48 lamps lit: 13 on this route, 6 elsewhere',
    );
    expect(text(litWords({ ...lit, lit: 0, all: 0, onRoute: 0, onOther: null, elsewhere: 0 }, true, null))).toBe(
      'No lamps on this panel',
    );
    expect(text(litWords({ ...lit, bright: 1, faint: 2 }, false, null))).toBe(
      '19 of 48 lamps lit: 1 of them too bright, 2 more with a glimmer only, doubtful',
    );
  });
});
