import { describe, expect, test } from 'vitest';
import { expectWords, sentences, shared } from './test-sheets.ts';

describe('what tests of a kind share', () => {
  test('sentences end at a full stop before a capital, never within a number', () => {
    expect(sentences('Feed of 9.5 V. Read when still. P4 lies normal.')).toEqual([
      'Feed of 9.5 V.',
      'Read when still.',
      'P4 lies normal.',
    ]);
  });
  test('what all have stands once, in its order; the rest stays with its test', () => {
    expect(shared(['Switch on. Clip to A.1. Look.', 'Switch on. Clip to A.3. Look.'])).toEqual({
      always: ['Switch on.', 'Look.'],
      rest: ['Clip to A.1.', 'Clip to A.3.'],
    });
  });
  test('a test alone keeps its text', () => {
    expect(shared(['Look.'])).toEqual({ always: [], rest: ['Look.'] });
  });
});

describe('expectations in words', () => {
  test('bands first, then lies, then lamps together', () => {
    expect(
      expectWords([
        { lamp: 'H1', look: 'lit' },
        { quantity: 'volts', unit: 'V', low: 8.9, high: 9.6, at: 'A.1 to A.2' },
        { lamp: 'H2', look: 'unlit' },
        { point: 'P1', lie: 'normal' },
        { lamp: 'H3', look: 'unlit' },
        { quantity: 'ohms', unit: 'ohm', low: 1e6, high: null, at: 'A.1 to A.3' },
      ]),
    ).toBe('8.90 V to 9.60 V, A.1 to A.2; P1 normal; at least 1000000 ohm, A.1 to A.3; lit: H1; unlit: H2 H3');
  });
});
