/** The page on parts of one's own: what it tells to write is what the reader of panel files takes. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type PanelFile, readPanel } from '../../src/panel/index.ts';

const page = readFileSync('docs/parts-from-a-data-sheet.md', 'utf8');
const blocks = [...page.matchAll(/```json\n([^`]*)```/g)].map((match) => match[1] ?? '');

function panelOf(part: string): PanelFile {
  const read = readPanel(`{"format":"mimic-panel","version":1,"strips":[],${part}}`);
  if (!read.ok) throw new RangeError(read.problems.map(({ path, message }) => `${path}: ${message}`).join('; '));
  expect(read.hints.filter((hint) => !hint.path.startsWith('parts'))).toEqual([]);
  return read.panel;
}

describe('the page on parts of one’s own', () => {
  it.each(blocks)('opens as part of a panel: %s', (block) => {
    expect(panelOf(block)).toMatchObject(JSON.parse(`{${block}}`));
  });

  it('tells of a reading in the words of the file', () => {
    const measured = /`("measured": [^`]*)`/.exec(page)?.[1] ?? '';
    expect(panelOf(`"drives":[{"id":"D1",${measured}}]`).drives?.[0]?.measured).toEqual({ amps: 0.0148, volts: 11.9 });
  });

  // Closed form: an ideal source behind a resistance, from two loads. E = V1 + I1 R, R = (V1 - V2) / (I2 - I1).
  it('works out a supply from two loads as Thevenin has it', () => {
    const [v1, v2] = [14.6, 13.0];
    const [i1, i2] = [v1 / 100, v2 / 47];
    const ohms = (v1 - v2) / (i2 - i1);
    const block = blocks.find((each) => each.includes('"supplies"')) ?? '';
    const supply = panelOf(block).supplies?.[0];
    const [volts, most] = [supply?.volts ?? 0, supply?.voltsOffLoad ?? 0];
    expect(Math.abs((supply?.ohms ?? 0) - ohms)).toBeLessThan(0.1);
    expect(Math.abs(volts - (v1 + i1 * ohms))).toBeLessThan(0.05);
    expect(volts).toBeLessThanOrEqual(most);
  });

  it('shows the cautions of the trade', () => {
    for (const words of [
      'Extra-low voltage only',
      'Never put a meter set to amps across',
      '100 ohm, 2 W',
      'licensed electrician',
      'data sheet comes first',
      'Never hold a coil',
    ])
      expect(page, words).toContain(words);
  });
});
