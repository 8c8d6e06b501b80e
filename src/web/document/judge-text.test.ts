/** Every kind of text that is no panel has its own sentence. */
import { describe, expect, it } from 'vitest';
import { LARGEST_BYTES } from './constants.ts';
import { judgeText } from './judge-text.ts';

const CASES = [
  ['empty', ' \n', 'yard.json is empty.'],
  ['not-json', 'once upon a time', /^yard\.json is no panel file: line 1, column 1: /],
  ['not-json', '{"a": 1', /^yard\.json is no panel file: line 1, column /],
  [
    'not-ours',
    '{"format": "drawing", "version": 1}',
    'yard.json is no panel file: it does not say "format": "mimic-panel".',
  ],
  ['not-ours', '[1, 2]', 'yard.json is no panel file: it does not say "format": "mimic-panel".'],
  ['not-ours', '7', 'yard.json is no panel file: it does not say "format": "mimic-panel".'],
  [
    'newer',
    '{"format": "mimic-panel", "version": 99, "strips": 4}',
    'yard.json was written by a newer Mimicwright: it is version 99, and this one reads up to version 1.',
  ],
  ['damaged', '{"format": "mimic-panel", "version": 1, "str', /^yard\.json is damaged: line 1, column /],
  [
    'damaged',
    '{"format": "mimic-panel", "version": 1, "strips": [{"id": "a", "path": [[0, "x"], [1, 1]]}]}',
    /^yard\.json is damaged: strips\[0\]\.path\[0\]\[1\]: expected a number, got /,
  ],
  ['damaged', '{"format": "mimic-panel", "version": "one", "strips": []}', /^yard\.json is damaged: version: /],
] as const;

describe('a text that someone brings', () => {
  it.each(CASES)('is told to be %s: %s', (why, text, sentence) => {
    const judged = judgeText(text, 'yard.json');
    expect(judged).toMatchObject({ ok: false, why });
    if (!judged.ok) expect(judged.sentence).toMatch(sentence);
  });

  it('is too large beyond 20 MB, whatever is in it', () => {
    const judged = judgeText(' '.repeat(LARGEST_BYTES + 1), '');
    expect(judged).toMatchObject({
      ok: false,
      why: 'too-large',
      sentence: 'The text is larger than 20 MB, and no panel file is.',
    });
  });

  it('is a panel where it is one, with a byte order mark too', () => {
    expect(judgeText('\uFEFF{"format": "mimic-panel", "version": 1, "strips": []}', 'x').ok).toBe(true);
    expect(judgeText('\uFEFF{"format": "mimic-panel", "version": 2, "strips": []}', 'x')).toMatchObject({
      why: 'newer',
    });
  });
});
