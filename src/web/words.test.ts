import { describe, expect, it } from 'vitest';
import { leverLabel, list, litWords, stateWords, throwNews } from './words.ts';

describe('words', () => {
  it('lists with commas and a last "and"', () => {
    expect(list([])).toBe('');
    expect(list(['P4'])).toBe('P4');
    expect(list(['P4', 'P5'])).toBe('P4 and P5');
    expect(list(['P4', 'P5', 'P6'])).toBe('P4, P5 and P6');
  });
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
    expect(throwNews(['L4 reverse'], ['Quay crossover'], ['Quay line'])).toBe(
      'L4 reverse. Lit: Quay crossover. Dark: Quay line.',
    );
    expect(throwNews(['L4 reverse'], [], [])).toBe('L4 reverse. No lamp changes.');
  });
  it('counts levers', () => {
    expect(stateWords({ kind: 'throwing', left: ['L2'] }).head).toBe('1 lever to throw');
    expect(stateWords({ kind: 'set', thrown: 4, kept: 3 }).more).toBe('By your ticks: 4 levers thrown, 3 left');
  });
  it('says where the lit lamps are', () => {
    const lit = { lit: 19, all: 48, onRoute: 13, onOther: { index: 1, lit: 4 }, elsewhere: 2, faint: 0, destroyed: 0 };
    const text = (pieces: readonly (readonly [string, string])[]) => pieces.flat().join(' ');
    expect(text(litWords(lit, true, 'Platform 1 to Storage 3'))).toBe(
      '19 of 48 lamps lit: 13 on this route, 4 on Platform 1 to Storage 3, 2 elsewhere',
    );
    expect(text(litWords({ ...lit, onOther: null, elsewhere: 6 }, true, null))).toBe(
      '19 of 48 lamps lit: 13 on this route, 6 elsewhere',
    );
    expect(text(litWords({ ...lit, faint: 2 }, false, null))).toBe(
      '19 of 48 lamps lit: 2 with a glimmer only, doubtful',
    );
  });
});
