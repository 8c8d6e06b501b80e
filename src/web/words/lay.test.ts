import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hasWords, kindCounts, layWords, parted, stepWords } from './lay.ts';

const source = join(import.meta.dirname, '../..');

/** Names of edits in a folder: every dotted text behind `done(`, `finish(`, `put(`, `begin` and their kin. */
function namesIn(folder: string): readonly string[] {
  return readdirSync(join(source, folder))
    .filter((file) => file.endsWith('.ts') && !file.endsWith('.test.ts'))
    .flatMap((file) => [...readFileSync(join(source, folder, file), 'utf8').matchAll(/'([a-z-]+\.[a-z-]+)'/g)])
    .map(([, name = '']) => name)
    .filter((name) => !name.endsWith('.ts'));
}

describe('words of the Lay stage', () => {
  it('has words for every edit that laying, the plan and the mends make', () => {
    for (const folder of ['laying', 'plan', 'checks']) {
      const names = [...new Set(namesIn(folder))];
      expect(names.length, folder).toBeGreaterThan(5);
      expect(
        names.filter((name) => !hasWords(name)),
        folder,
      ).toEqual([]);
    }
  });
  it('names what undo takes back', () => {
    expect(layWords.undoOf({ name: 'thing.move', subject: 'P7' })).toBe('Undo move P7');
    expect(layWords.undoOf({ name: 'strip.lay', subject: '' })).toBe('Undo lay a strip');
    expect(layWords.redoOf({ name: 'never.heard', subject: '' })).toBe('Redo alter the panel');
    expect(layWords.undoOf(null)).toBe('Nothing to undo');
    expect(stepWords({ name: 'strip.move', subject: '$& lane' })).toBe('move $& lane');
  });
  it('counts what was read of the ends that meet', () => {
    expect(layWords.counts(15, 16, 17, 12, 48)).toBe('15 strips, 16 of 17 points, 12 levers, 48 lamps');
    expect(layWords.counts(1, 1, 1, 1, 0)).toBe('1 strip, 1 point, 1 lever, 0 lamps');
    expect(
      kindCounts([
        ['strips', 3],
        ['lamps', 1],
      ]),
    ).toBe('3 strips and 1 lamp');
  });
  it('parts a message at its first sentence, not behind an id', () => {
    expect(parted('the sheet is aluminium: insulate it from both poles')).toEqual([
      'the sheet is aluminium',
      'Insulate it from both poles.',
    ]);
    expect(parted('P4: no lever works it')).toEqual(['P4: no lever works it', '']);
    expect(parted('H1 draws 0.5 mA. It stays dark; look.')).toEqual(['H1 draws 0.5 mA', 'It stays dark; look.']);
  });
  it('says which figures would be taken', () => {
    expect(layWords.badLength('mm', '1 mm', null)).toBe('A length such as 12.5, 12.5 mm or 1/2 in, at least 1 mm');
  });
});
