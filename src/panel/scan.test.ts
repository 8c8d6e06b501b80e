import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_DEPTH, MOST_KEYS, MOST_VALUES } from './limits.ts';
import { scanText } from './scan.ts';

const SEED = 20260301;

describe('scanText', () => {
  it('[PF3] tells where a fault of the text is, in plain words', () => {
    expect(scanText('{\n  "a": 1,\n}')).toEqual({
      line: 3,
      column: 1,
      message: 'a comma stands before }: nothing follows it',
    });
    expect(scanText('[1, 2,]')).toEqual({ line: 1, column: 7, message: 'a comma stands before ]: nothing follows it' });
    expect(scanText('{"a" 1}')).toEqual({ line: 1, column: 6, message: 'expected a colon after the key, got 1' });
    expect(scanText('{"a": 1 "b": 2}')).toEqual({ line: 1, column: 9, message: 'expected a comma or }, got "' });
    expect(scanText("{'a': 1}")?.message).toBe("expected a key in double quotes, got ' (text stands in double quotes)");
    expect(scanText('{\r\n  // strips\r\n}')).toMatchObject({
      line: 2,
      column: 3,
      message: expect.stringContaining('a comment'),
    });
    expect(scanText('{"a": "b')).toEqual({
      line: 1,
      column: 7,
      message: 'text begins here and its closing quote is missing',
    });
    expect(scanText('{"a": [1, 2')?.message).toBe('expected a comma or ], got the end of the file');
    expect(scanText('"a\nb"')?.message).toBe('a line break or control character stands inside text');
    expect(scanText('"a\\x"')?.message).toBe('a backslash stands before something that it cannot stand before');
    expect(scanText('[NaN]')?.message).toBe('expected a value, got N');
    expect(scanText('{} {}')).toEqual({ line: 1, column: 4, message: 'expected the end of the file, got {' });
  });

  it('[PF7] finds a key that stands twice in one object, however it is spelt', () => {
    expect(scanText('{"a": {"b": 1}, "b": 2}')).toBeNull();
    expect(scanText('{"a": 1, "\\u0061": 2}')).toEqual({
      line: 1,
      column: 10,
      message: 'the key "a" stands twice in one object',
    });
    expect(scanText('{"a": {"constructor": 1, "toString": 2}}')).toBeNull();
  });

  it('[PF5] stops at what is too deep or too much', () => {
    expect(scanText(`${'['.repeat(MOST_DEPTH)}${']'.repeat(MOST_DEPTH)}`)).toBeNull();
    expect(scanText('['.repeat(MOST_DEPTH + 1))?.message).toBe('lists and objects more than 64 deep');
    expect(scanText('['.repeat(1_000_000))?.message).toBe('lists and objects more than 64 deep');
    expect(scanText(`[${'0,'.repeat(MOST_VALUES)}0]`)?.message).toBe('more than 500000 values: this is no panel');
    const keys = Array.from({ length: MOST_KEYS + 1 }, (_, i) => `"k${i}":0`).join(',');
    expect(scanText(`{${keys}}`)?.message).toBe('more than 20000 keys in one object: this is no panel');
  });

  it(`[PF3] accepts what JSON.parse accepts and nothing else, on texts with one character altered (seed ${SEED})`, () => {
    const altered = fc
      .tuple(fc.json(), fc.nat(), fc.constantFrom(...'{}[]",:\\0123e+-.tfn \n\u0001x'), fc.constantFrom(0, 1, 2))
      .map(([text, at, char, how]) => {
        const place = at % (text.length + 1);
        return how === 0 ? text : text.slice(0, place) + char + text.slice(how === 1 ? place : place + 1);
      });
    fc.assert(
      fc.property(altered, (text) => {
        const problem = scanText(text);
        // A key that stands twice is refused on purpose; JSON.parse passes it over.
        if (problem?.message.includes('stands twice')) return;
        let parses = true;
        try {
          JSON.parse(text);
        } catch {
          parses = false;
        }
        expect(problem === null).toBe(parses);
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });
});
