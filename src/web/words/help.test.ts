import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type HelpText, helpTexts, terms } from './help.ts';

const root = join(import.meta.dirname, '../../..');
const source = readdirSync(join(root, 'src/web'), { recursive: true, encoding: 'utf8' })
  .filter((file) => /\.tsx?$/.test(file) && !/\.test\.tsx?$/.test(file) && !file.endsWith(join('words', 'help.ts')))
  .map((file) => readFileSync(join(root, 'src/web', file), 'utf8'))
  .join('\n');

const said = (part: HelpText['hand']): string =>
  part === undefined ? '' : typeof part === 'string' ? part : part((mm) => `<${mm}>`);

/** So long is what is read in one look: characters. */
const SHORT = 200;

describe('help', () => {
  it('is asked of something on the screen, every text of it', () => {
    const unused = Object.keys(helpTexts).filter((key) => {
      const [kind = ''] = key.split('.');
      return !source.includes(`'${key}'`) && !source.includes(`"${key}"`) && !source.includes(`\`${kind}.\${`);
    });
    expect(unused).toEqual([]);
  });
  it.each(Object.entries(helpTexts))('is short and ends its sentences: %s', (_, text) => {
    for (const part of [said(text.what), said(text.hand)]) {
      expect(part.length).toBeLessThanOrEqual(SHORT);
      if (part !== '') expect(part).toMatch(/\.$/);
      expect(part).not.toMatch(/!/);
    }
  });
  it('explains the words of the trade as the list of words has them', () => {
    const page = readFileSync(join(root, 'docs/words.md'), 'utf8');
    const rows = new Map(
      [...page.matchAll(/^\| (.+?) \| (.+?) \|$/gm)].map(([, word = '', meaning = '']) => [word, meaning]),
    );
    expect(rows.get('toe')).toBe(terms.toe);
    expect(rows.get('normal')).toBe(terms.normal);
    expect(rows.get('crossover')).toBe(terms.crossover);
    expect(rows.get('butt')).toBe(terms.butt);
    expect(rows.get('blades')).toBe(terms.blades);
    expect(rows.get('claim')).toBe(terms.claim);
    expect(rows.get('route')).toBe(terms.route);
  });
  it('gives no figure of its own where a unit can be chosen', () => {
    for (const text of Object.values(helpTexts)) {
      const all = [said(text.what), said(text.hand)].join(' ');
      expect(all).not.toMatch(/\d ?(mm|in|cm)\b/);
    }
  });
});
