import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { derive } from '../derive.ts';
import { readPanel } from '../panel/index.ts';
import { openFaces } from './faces.ts';
import { FONT_FILES, type FontFiles } from './fonts.ts';
import { layBook } from './lay-book.ts';
import { type Measure, measureWith } from './measure.ts';
import { type Page, pt } from './page.ts';
import { type Setting, sheetOf, startFlow } from './sheet.ts';
import { gridKey, layGrid } from './test-grids.ts';
import { breakList, drawList, type ListedTest, layList, spaced } from './test-lists.ts';
import { ranges } from './words.ts';

/** Ids, pins and figures of a text. */
const tokens = (text: string): readonly string[] =>
  [...text.matchAll(/[\w-]*[A-Za-z]*\d[\w.]*/g)].map(([token]) => token.replace(/\.$/, ''));

/** Milliseconds for a book of a hundred pages on a busy machine. */
const LONG = 60_000;
const imprint = { panel: 'Bramble Siding', revision: 'A', date: '2026-03-01' };

let measure: Measure;
let setting: Setting;
beforeAll(async () => {
  const files = Object.entries(FONT_FILES).map(([role, path]) => [
    role,
    new Uint8Array(readFileSync(`node_modules/${path}`)),
  ]);
  measure = measureWith(await openFaces(Object.fromEntries(files) as FontFiles));
  setting = { measure, sheet: sheetOf('A4'), imprint, barMeasured: 100 };
});

const readingsOf = (count: number): readonly string[] =>
  Array.from({ length: count }, (_, i) => `A.${i + 1} to B.${i + 1}: up to 2 \u03a9`);
const size = pt(8.6);

describe('lists of bench tests', () => {
  test('three columns where each reading keeps to one line, two where one does not', () => {
    const short: ListedTest = { name: 'L1:normal', words: [], readings: readingsOf(3) };
    expect(breakList([short], measure, size, 170).across).toBe(3);
    const long = { ...short, readings: ['A.14 to A.15, either way round: at least 164 \u03a9'] };
    expect(breakList([short, long], measure, size, 170).across).toBe(2);
  });
  test('a test of very many readings is cut and its name said again; every reading is drawn once, with its line', () => {
    const list = breakList(
      [{ name: 'L1:normal', words: ['Lit: H1'], readings: readingsOf(400) }],
      measure,
      size,
      setting.sheet.width,
    );
    const flow = startFlow(setting, { title: 'Bench tests' });
    drawList(flow, setting.sheet, list);
    const ops = flow.leaves.flatMap((leaf) => leaf.pen.ops);
    const said = ops.flatMap((op) => (op.op === 'text' ? [op.runs.map((run) => run.text).join('')] : []));
    for (const reading of readingsOf(400)) expect(said.filter((text) => text === reading)).toHaveLength(1);
    expect(said.filter((text) => text === 'L1:normal')).toHaveLength(1);
    expect(said).toContain('L1:normal, continued');
    expect(flow.leaves.length).toBeGreaterThan(1);
  });
  test('ids of many parts can go on over lines', () => {
    expect(spaced('TR1:L1=normal,L2=reverse')).toBe('TR1:L1=normal, L2=reverse');
    expect(spaced('L9:normal, continued')).toBe('L9:normal, continued');
  });
});

describe.each([
  ['quillhaven-harbour', 'A4'],
  ['quillhaven-harbour', 'Letter'],
  ['bramble-siding', 'A4'],
  ['bramble-siding', 'Letter'],
] as const)('the book of %s on %s', (name, paper) => {
  const read = readPanel(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
  if (!read.ok) throw new Error(`${name} cannot be read`);
  const derived = derive(read.panel);

  test('as a list a test loses no reading, no lamp and no spot', () => {
    const all = derived.tests();
    for (const key of new Set(all.map(gridKey))) {
      const group = all.filter((each) => gridKey(each) === key);
      const grid = layGrid(group);
      const listed = layList(grid);
      expect(listed).toHaveLength(group.length);
      for (const [i, each] of group.entries()) {
        const mine = listed[i];
        const spots = each.expect.flatMap((one) => ('at' in one ? [one.at] : []));
        expect(each.id.endsWith(mine?.name ?? '?')).toBe(true);
        expect(mine?.readings.map((text, k) => text.startsWith(`${spots[k]}: `))).toEqual(spots.map(() => true));
        for (const [look, label] of [
          ['lit', 'Lit: '],
          ['unlit', 'Unlit: '],
        ] as const) {
          const lamps = each.expect.flatMap((one) => ('lamp' in one && one.look === look ? [one.lamp] : []));
          expect(mine?.words.filter((text) => text.startsWith(label))).toEqual(
            lamps.length === 0 ? [] : [`${label}${ranges(lamps)}`],
          );
        }
        const said = new Set(tokens([...grid.always, ...(mine?.words ?? [])].join(' ')));
        expect([each.id, tokens(each.do).filter((token) => !said.has(token) && !each.id.includes(token))]).toEqual([
          each.id,
          [],
        ]);
      }
    }
  });

  describe('printed', () => {
    const broken: string[] = [];
    let pages: readonly Page[];
    beforeAll(() => {
      const spied: Measure = {
        ...measure,
        wrap: (text, font, at, most) => {
          for (const word of text.split(/\s+/))
            if (measure.width(word, font, at) > most) broken.push(`"${word}" of "${text}" in ${most.toFixed(1)} mm`);
          return measure.wrap(text, font, at, most);
        },
      };
      pages = layBook(derived, { measure: spied, sheet: sheetOf(paper), imprint, barMeasured: 100 }).pages;
    }, LONG);

    test('no column is narrower than the longest word in it', () => {
      expect(pages.length).toBeGreaterThan(1);
      expect(broken).toEqual([]);
    });
  });
});
