/** The route card, the control table and the proving sheet, read back from the printed book. */
import { beforeAll, describe, expect, test } from 'vitest';
import { buildBook, type FontFiles } from '../../src/book/index.ts';
import type { Derived } from '../../src/derive.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import { generatePanel } from '../generate/panels.ts';
import { ask, derivePanel, examplePanel, readFonts, type Word, wordsOf, writeOut } from './load.ts';

const POINTS_PER_MM = 72 / 25.4;
/** 16 minutes of arc (NUREG-0700 rev. 3, legibility) at 600 mm, an arm bent a little (common practice, no source), mm. */
const LEAST_CAPITAL = 600 * Math.tan(((16 / 60) * Math.PI) / 180);
/** Height of a capital of the text face as a share of its size, from the font's own table. */
const CAPITAL = 0.668;

let fonts: FontFiles;
beforeAll(() => {
  fonts = readFonts();
});

interface Read {
  readonly text: string;
  readonly words: readonly Word[];
  readonly width: number;
  readonly height: number;
  readonly number: number;
}

const PANELS: readonly (readonly [string, () => PanelFile])[] = [
  ['quillhaven-harbour', () => examplePanel('quillhaven-harbour')],
  ['bramble-siding', () => examplePanel('bramble-siding')],
  ['40 points, seed 1', () => generatePanel(1, 40)],
  ['40 points, seed 2', () => generatePanel(2, 40)],
];

describe.each(
  PANELS.flatMap(([name, make]) => (['A4', 'Letter'] as const).map((paper) => [name, paper, make] as const)),
)('%s on %s', (_name, paper, make) => {
  let derived: Derived;
  let pages: readonly Read[];
  let at: (path: string) => string;
  const titled = (title: string): readonly Read[] =>
    pages.filter(({ text }) => new RegExp(`^\\s*${title}(, continued)?\\b`).test(text));
  const nameOf = (id: string): string => derived.plan.places.find((place) => place.id === id)?.name ?? id;

  beforeAll(async () => {
    derived = derivePanel(make());
    at = writeOut(await buildBook(derived, { paper, fonts, only: ['book'] }));
    const texts = ask('pdftotext', '-layout', at('book.pdf'), '-').split('\f');
    pages = wordsOf(at('book.pdf')).map((page, i) => ({ ...page, text: texts[i] ?? '', number: i + 1 }));
  });

  test('the card is one page', () => {
    expect(titled('Route card')).toHaveLength(1);
  });

  test('the card names every route that the levers set, or says how many stand elsewhere', () => {
    const [card] = titled('Route card');
    const { routes } = derived.routes();
    const set = routes.filter((route) => route.levers !== null);
    const said = (card?.text ?? '').replace(/\s+/g, ' ');
    const [, left = '0', all = String(routes.length)] =
      /Not on this card: (\d+) of (\d+) routes\. .* control table and in routes\.csv/.exec(said) ?? [];
    expect(Number(all)).toBe(routes.length);
    // A row begins with a place, or with "or" for another way there.
    const rows = (card?.words ?? []).filter(({ text }) => text === 'N' || text === 'R');
    const lies = rows.length - 2;
    const asked = set.reduce((sum, route) => sum + Object.keys(route.levers ?? {}).length, 0);
    if (Number(left) === 0) {
      expect(lies).toBe(asked);
      for (const route of set) for (const id of [route.from, route.to]) expect(said).toContain(nameOf(id));
    } else {
      expect(lies).toBeLessThan(asked);
      expect(lies).toBeGreaterThan(40);
    }
  });

  test('every lie of the card is read at arm\u2019s length', () => {
    const [card] = titled('Route card');
    const html = ask(
      'pdftohtml',
      '-xml',
      '-stdout',
      '-zoom',
      '1',
      '-f',
      String(card?.number),
      '-l',
      String(card?.number),
      at('book.pdf'),
    );
    const sizes = new Map(
      [...html.matchAll(/<fontspec id="(\d+)" size="([\d.]+)"/g)].map(([, id = '', size]) => [id, Number(size)]),
    );
    const lies = [...html.matchAll(/<text [^>]*font="(\d+)"[^>]*>(.*?)<\/text>/g)].filter(([, , text = '']) =>
      /^[NR ]+$/.test(text.replace(/<[^>]*>/g, '')),
    );
    expect(lies.length).toBeGreaterThan(3);
    // Sizes are given in whole points: half of one is what rounding takes.
    for (const [, font = ''] of lies)
      expect((((sizes.get(font) ?? 0) + 0.5) / POINTS_PER_MM) * CAPITAL).toBeGreaterThanOrEqual(LEAST_CAPITAL);
  });

  test('the control table has every route by number, and every lever', () => {
    const said = titled('Control table')
      .map(({ text }) => text)
      .join('\n');
    const words = new Set(said.split(/\s+/));
    for (const lever of derived.plan.levers) expect(words).toContain(lever.id);
    const numbers = new Set([...said.matchAll(/^\s*(\d+) /gm)].map(([, number]) => Number(number)));
    for (const [i] of derived.routes().routes.entries()) expect(numbers).toContain(i + 1);
  });

  test('what cannot stand together is charted, or said to be too much for a chart', () => {
    const page = pages.find(({ text }) => text.includes('Routes that cannot stand together'));
    const said = (page?.text ?? '').replace(/\s+/g, ' ');
    const count = derived.routes().routes.length;
    expect(said).toContain(`${derived.conflicts().length} of ${(count * (count - 1)) / 2} pairs`);
    expect(said.includes('too small to read')).toBe(count > 60);
  });

  test('the proving sheet has every move in order with its throws, and its totals', () => {
    const run = derived.proving();
    const said = titled('Proving run')
      .map(({ text }) => text)
      .join('\n');
    expect(said).toContain(`${run.legs.covered} of ${run.legs.all}`);
    expect(said.replace(/\s+/g, ' ')).toContain(`${run.moves.length} ${run.moves.length === 1 ? 'move' : 'moves'}`);
    const numbers = [...said.matchAll(/^\s*(\d+) .*\bF +L +E +T\b/gm)].map(([, number]) => Number(number));
    expect(numbers).toEqual(run.moves.map((_, i) => i + 1));
    const words = said.split(/[\s,]+/);
    const thrown = new Set(run.moves.flatMap((move) => Object.keys(move.throws)));
    for (const lever of thrown)
      expect(words.filter((word) => word === lever)).toHaveLength(
        run.moves.filter((move) => move.throws[lever] !== undefined).length,
      );
    for (const move of run.moves) expect(said).toContain(nameOf(move.to));
  });

  test('no word of these pages leaves the margins or lies on another', () => {
    const least = 12 * POINTS_PER_MM;
    const shown = ['Route card', 'Control table', 'Routes that', 'Proving run'].flatMap((title) => titled(title));
    expect(shown.length).toBeGreaterThan(2);
    for (const { words, width, height } of shown) {
      for (const word of words)
        if (word.x0 < least || word.x1 > width - least || word.y0 < least / 2 || word.y1 > height - least / 2)
          throw new Error(`${word.text} leaves the margins`);
      const clashes = words.flatMap((a, i) =>
        words.slice(i + 1).flatMap((b) => {
          const w = Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0);
          const h = Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0) - 0.45 * Math.min(a.y1 - a.y0, b.y1 - b.y0);
          return w > 0.5 && h > 0 ? [`${a.text} and ${b.text}`] : [];
        }),
      );
      expect(clashes).toEqual([]);
    }
  });
});

describe('a point that no lever works', () => {
  const panel = examplePanel('quillhaven-harbour');
  const derived = derivePanel({
    ...panel,
    levers: panel.levers?.map((lever) => (lever.id === 'L1' ? { ...lever, works: [] } : lever)) ?? [],
  });

  test('its routes are not on the card, and the control table says why', async () => {
    const { routes } = derived.routes();
    const unset = routes.filter((route) => route.levers === null);
    expect(unset.length).toBeGreaterThan(0);
    const at = writeOut(await buildBook(derived, { paper: 'A4', fonts, only: ['book'] }));
    const pages = ask('pdftotext', '-layout', at('book.pdf'), '-').split('\f');
    const card = pages.find((text) => /^\s*Route card/.test(text)) ?? '';
    expect(card).toContain(`The levers cannot set ${unset.length} route`);
    const table = pages.filter((text) => /^\s*Control table/.test(text)).join('\n');
    expect(table.match(/cannot be set: /g)).toHaveLength(unset.length);
    const said = table.replace(/\s+/g, ' ');
    for (const { why } of unset) expect(said).toContain(`cannot be set: ${(why ?? '').slice(0, 30)}`);
  });
});

describe('legs that no train can take', () => {
  test('are named on the proving sheet, each with why', async () => {
    const panel = examplePanel('quillhaven-harbour');
    // The ends of a crossover thrown against each other: no train gets across.
    const derived = derivePanel({
      ...panel,
      levers:
        panel.levers?.map((lever) =>
          lever.id === 'L4' ? { ...lever, works: [{ point: 'P4' }, { point: 'P5', opposite: true }] } : lever,
        ) ?? [],
    });
    const { missed } = derived.proving();
    expect(missed.length).toBeGreaterThan(0);
    const at = writeOut(await buildBook(derived, { paper: 'Letter', fonts, only: ['book'] }));
    const pages = ask('pdftotext', at('book.pdf'), '-').split('\f');
    const said = pages
      .filter((text) => /^\s*Proving run/.test(text))
      .join(' ')
      .replace(/\s+/g, ' ');
    expect(said).toContain('Legs that the run does not reach');
    expect(said).toContain(`${missed.length} of ${derived.proving().legs.all}`);
    for (const leg of missed) {
      for (const [point, lie] of Object.entries(leg.points))
        expect(said).toContain(`${point} ${lie === 'normal' ? 'N' : 'R'}`);
      expect(said).toContain(leg.why.slice(0, 12));
    }
  });
});
