/** Track feed and frogs as printed: read back by poppler. */
import { describe, expect, test } from 'vitest';
import { buildBook } from '../../src/book/index.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import { generatePanel } from '../generate/panels.ts';
import { ask, derivePanel, examplePanel, rasterise, readFonts, wordsOf, writeOut } from './load.ts';

const POINTS_PER_MM = 72 / 25.4;

/** A loop whose far end joins where it began, so that a train comes back turned round; and a diamond. */
const BALLOON: PanelFile = {
  format: 'mimic-panel',
  version: 1,
  name: 'Balloon',
  strips: [
    {
      id: 'main',
      path: [
        [0, 100],
        [300, 100],
      ],
    },
    {
      id: 'loop',
      path: [
        [300, 100],
        [340, 125],
        [340, 160],
        [300, 175],
        [260, 137.5],
        [200, 100],
      ],
    },
    {
      id: 'cross',
      path: [
        [60, 60],
        [156, 120],
        [200, 147.5],
      ],
    },
  ],
};

const harbour = examplePanel('quillhaven-harbour');
const ASKED: PanelFile = {
  ...harbour,
  track: {
    system: 'digital',
    bus: { gauge: 1.5, length: 8000 },
    droppers: { gauge: 0.5, length: 300 },
    boosters: [{ id: 'Z1', volts: 15, tripAmps: 3 }],
  },
};

async function printed(panel: PanelFile, paper: 'A4' | 'Letter') {
  const derived = derivePanel(panel);
  const at = writeOut(await buildBook(derived, { paper, fonts: readFonts(), only: ['book'] }));
  const texts = ask('pdftotext', '-layout', at('book.pdf'), '-').split('\f');
  const pages = wordsOf(at('book.pdf'))
    .map((page, i) => ({ ...page, text: texts[i] ?? '', number: i + 1 }))
    .filter(({ text }) => /^\s*Track feed and frogs/.test(text));
  return { derived, pages, book: at('book.pdf'), said: pages.map(({ text }) => text).join('\n') };
}

describe.each([
  ['harbour, nothing said', harbour, 'A4'],
  ['harbour, bus and booster said', ASKED, 'Letter'],
  ['balloon and diamond', BALLOON, 'A4'],
  ['40 points, seed 2', generatePanel(2, 40), 'Letter'],
] as const)('%s', (_name, panel, paper) => {
  const ready = printed(panel, paper);

  test('every frog has its row with the rails and wires of frogs.csv', async () => {
    const { derived, said } = await ready;
    const words = new Set(said.split(/[\s,]+/));
    for (const frog of derived.track().frogs) expect(words).toContain(frog.id);
    const rails = said.match(/\b(left|right) rail, (wire [AB]|by its section)/g) ?? [];
    const live = derived.track().frogs.filter((frog) => frog.kind !== 'dead');
    expect(rails.sort()).toEqual(
      live
        .flatMap((frog) => [frog.normal, frog.reverse])
        .map((each) => `${each.rail} rail, ${each.bus === null ? 'by its section' : `wire ${each.bus}`}`)
        .sort(),
    );
  });

  test('cuts and droppers are listed by number with the wire of their rail', async () => {
    const { derived, said } = await ready;
    const feed = derived.track();
    expect(said.match(/\b(to cut|is there|missing)\b/g)?.length ?? 0).toBe(feed.gaps.length);
    const list = said.slice(said.search(/Droppers /), said.search(/Legs without power|Bus and coin test/));
    const numbers = [...list.matchAll(/(?:^|\s)(\d+) .*?\s(?:A|B|RS\d+)\s+(?:A|B|RS\d+)(?=\s|$)/gm)].map(([, no]) =>
      Number(no),
    );
    expect(numbers.sort((a, b) => a - b)).toEqual(feed.droppers.map(({ no }) => no));
  });

  test('the coin test has its sum and verdict, or what it asks', async () => {
    const { derived, said } = await ready;
    const [bus] = derived.track().buses;
    if (bus === undefined) throw new Error('a layout has a bus');
    const flat = said.replace(/\s+/g, ' ');
    if (bus.verdict === 'not-asked-for') {
      expect(flat).toContain('Not asked for');
      for (const { key } of bus.questions) expect(flat).toContain(`(${key})`);
    } else {
      expect(flat).toContain(bus.verdict === 'trips' ? 'The booster trips' : 'The booster does not trip');
      // The conductor's table gives 0.0133 ohm a metre at 1.5 mm2 at most (IEC 60228 class 5): 16 m is near 0.2 ohm.
      const [, ohms = ''] = /the bus, there and back .*? (0\.\d+) /.exec(flat) ?? [];
      expect(Number(ohms)).toBeGreaterThan(0.15);
      expect(Number(ohms)).toBeLessThan(0.25);
    }
    for (const caution of derived.track().cautions) expect(flat).toContain(caution.slice(0, 40));
  });

  test('no word leaves the margins or lies on another', async () => {
    const { pages } = await ready;
    expect(pages.length).toBeGreaterThan(1);
    const least = 12 * POINTS_PER_MM;
    for (const { words, width, height } of pages) {
      expect(
        words.filter((w) => w.x0 < least || w.x1 > width - least || w.y0 < least / 2 || w.y1 > height - least / 2),
      ).toEqual([]);
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

describe('a reversing section', () => {
  test('is named with its begin and its end, on the drawing and in its list', async () => {
    const { derived, pages, said } = await printed(BALLOON, 'A4');
    const sections = derived.track().sections;
    expect(sections).toHaveLength(1);
    for (const { id } of sections) {
      expect(pages[0]?.text).toMatch(new RegExp(`${id} begins`));
      expect(pages[0]?.text).toMatch(new RegExp(`${id} ends`));
    }
    expect(said).toContain('Reversing sections');
  });
});

describe('the two wires', () => {
  test('are told apart in black and white: one is solid, one is dashed', async () => {
    const { pages, book } = await printed(harbour, 'A4');
    const page = pages[0];
    const word = page?.words.find(({ text }) => text === 'wire');
    if (page === undefined || word === undefined) throw new Error('the drawing has no key');
    // The key's samples end before their words; each is 9 mm long, 1.4 mm before its word.
    const samples = page.words.flatMap((each, i) =>
      each.text === 'wire' && /^[AB]$/.test(page.words[i + 1]?.text ?? '') && Math.abs(each.y0 - word.y0) < 1
        ? [each]
        : [],
    );
    expect(samples).toHaveLength(2);
    const breaks = samples.map((each) => {
      const [x, y] = [each.x0 / POINTS_PER_MM - 10, (each.y0 + each.y1) / 2 / POINTS_PER_MM - 1.5];
      const picture = rasterise(book, page.number, 300, { x, y, w: 8, h: 3 });
      const dark = Array.from({ length: picture.width }, (_, i) =>
        Array.from({ length: picture.height }, (__, k) => picture.at(i, k)).some((grey) => grey < 128),
      );
      return dark.filter((on, i) => !on && dark[i - 1] === true).length;
    });
    expect(breaks[0]).toBe(0);
    expect(breaks[1]).toBeGreaterThan(2);
  });
});
