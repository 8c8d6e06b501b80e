/** The printed book as other programs read it: qpdf, poppler. */
import { beforeAll, describe, expect, test } from 'vitest';
import { BOOK_PATHS, type BuiltFile, buildBook, type FontFiles } from '../../src/book/index.ts';
import type { Derived } from '../../src/derive.ts';
import {
  ask,
  derivePanel,
  examplePanel,
  loadExample,
  rasterise,
  readFonts,
  type Word,
  wordsOf,
  writeOut,
} from './load.ts';

const POINTS_PER_MM = 72 / 25.4;
let fonts: FontFiles;
beforeAll(() => {
  fonts = readFonts();
});

const PDFS = ['book', 'templates'] as const;

describe.each([
  ['quillhaven-harbour', 'A4', [210, 297]],
  ['bramble-siding', 'A4', [210, 297]],
  ['bramble-siding', 'Letter', [215.9, 279.4]],
] as const)('%s on %s', (name, paper, size) => {
  let derived: Derived;
  let files: BuiltFile[];
  let at: (path: string) => string;
  beforeAll(async () => {
    derived = loadExample(name);
    files = await buildBook(derived, { paper, fonts, only: PDFS });
    at = writeOut(files);
  });

  test.each(PDFS)('%s.pdf is whole to qpdf', (pdf) => {
    expect(ask('qpdf', '--check', at(`${pdf}.pdf`))).toContain('No syntax or stream encoding errors found');
  });

  test.each(PDFS)('%s.pdf has as many pages as said, all of the paper asked for', (pdf) => {
    const pages = wordsOf(at(`${pdf}.pdf`));
    expect(pages).toHaveLength(files.find((file) => file.path === `${pdf}.pdf`)?.pages ?? -1);
    // ISO 216 and ANSI Letter, to a hundredth of a millimetre.
    for (const page of pages) {
      expect(page.width / POINTS_PER_MM).toBeCloseTo(size[0], 2);
      expect(page.height / POINTS_PER_MM).toBeCloseTo(size[1], 2);
    }
  });

  test.each(PDFS)('every font of %s.pdf is embedded, as a subset', (pdf) => {
    const [, , ...lines] = ask('pdffonts', at(`${pdf}.pdf`))
      .trim()
      .split('\n');
    expect(lines.length).toBeGreaterThan(2);
    for (const line of lines) expect(line).toMatch(/\s+yes\s+yes\s+yes\s+\d+\s+\d+$/);
  });

  test('every lever, lamp, wire, pin, drive and resistor can be found in the text', () => {
    const words = new Set(ask('pdftotext', at('book.pdf'), '-').split(/[\s,;()]+/));
    const ids = [
      ...derived.plan.levers.map((lever) => lever.id),
      ...derived.plan.points.map((point) => point.id),
      ...derived.face.lamps.map((lamp) => lamp.id),
      ...derived.loom.wires.map((wire) => wire.id),
      ...derived.wiring.connectors.flatMap((connector) => connector.pins.map((pin) => pin.id)),
      ...derived.wiring.drives.map((drive) => drive.id),
      ...derived.wiring.resistors.map((resistor) => resistor.id),
    ];
    expect(ids.length).toBeGreaterThan(20);
    expect(ids.filter((id) => !words.has(id))).toEqual([]);
  });

  test('every page says its panel, revision and number of pages', () => {
    const pages = wordsOf(at('book.pdf'));
    for (const [i, { words }] of pages.entries()) {
      const said = words.map((word) => word.text).join(' ');
      expect(said).toContain(derived.panel.name);
      expect(said).toMatch(new RegExp(`[Rr]evision ${derived.panel.revision}\\b`));
      expect(said).toContain(`Build book, page ${i + 1} of ${pages.length}`);
    }
  });

  test('the outline names every part, and every lever has its circuit', () => {
    interface Outline {
      readonly title: string;
      readonly kids: readonly Outline[];
    }
    const { outlines } = JSON.parse(ask('qpdf', '--json', '--json-key=outlines', at('book.pdf'))) as {
      outlines: readonly Outline[];
    };
    const titles = outlines.map((outline) => outline.title);
    expect(titles).toEqual([
      'Cover',
      'How to use this book',
      'Findings',
      'Levers',
      'Control table',
      'Parts',
      'Drilling templates',
      'Holes',
      'Circuits and tags from behind',
      'Connectors',
      'Wiring list',
      'Bench tests',
      'Sheet for the lid',
    ]);
    const circuits =
      outlines.find((outline) => outline.title.startsWith('Circuits'))?.kids.map((kid) => kid.title) ?? [];
    for (const circuit of derived.wiring.circuits)
      expect(
        circuits.filter(
          (title) => title === circuit.id || title.startsWith(`${circuit.id} `) || title.startsWith(`${circuit.id}:`),
        ),
      ).toHaveLength(2);
  });

  test.each(PDFS)('no word of %s.pdf leaves the margins of the paper', (pdf) => {
    const least = 8 * POINTS_PER_MM;
    const outside = wordsOf(at(`${pdf}.pdf`)).flatMap(({ width, height, words }, i) =>
      words
        .filter((word) => word.x0 < least || word.y0 < least || word.x1 > width - least || word.y1 > height - least / 2)
        .filter((word) => !isCut(derived, words, word, i))
        .map((word) => `page ${i + 1}: ${word.text}`),
    );
    expect(outside).toEqual([]);
  });

  test('no two words of the book lie on each other, the cover and true-size drawings aside', () => {
    const clashes = wordsOf(at('book.pdf'))
      .map(({ words }, i) => ({ words, no: i + 1 }))
      .slice(1)
      .filter(({ words }) => !words.some((word) => word.text === 'template,'))
      .flatMap(({ words, no }) =>
        words.flatMap((a, i) =>
          words.slice(i + 1).flatMap((b) => {
            const w = Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0);
            // Boxes of words hold the whole line: what counts is the middle of each.
            const h = Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0) - 0.45 * Math.min(a.y1 - a.y0, b.y1 - b.y0);
            return w > 0.5 && h > 0 ? [`page ${no}: ${a.text} and ${b.text}`] : [];
          }),
        ),
      );
    expect(clashes).toEqual([]);
  });

  test('the same panel gives the same bytes', async () => {
    const again = await buildBook(loadExample(name), { paper, fonts, only: PDFS });
    for (const [i, file] of again.entries())
      expect(Buffer.from(file.bytes).equals(Buffer.from(files[i]?.bytes ?? []))).toBe(true);
  });

  test('dates are those of the panel, never of the clock', () => {
    const said = ask('pdfinfo', '-isodates', at('book.pdf'));
    expect(said).toMatch(/CreationDate:\s+2026-03-01T00:00:00Z/);
    expect(said).toContain(`Title:           ${derived.panel.name}, build book`);
  });

  test('100 mm is 100.0 mm on every tile, within a tenth, at 600 dpi', () => {
    const tiles = Math.ceil(derived.face.width / 150) * Math.ceil(derived.face.height / 150);
    const pages = wordsOf(at('templates.pdf'));
    const bars = pages.flatMap(({ words }, i) => (words.some((word) => word.text === 'Measure') ? [i + 1] : []));
    expect(bars).toHaveLength(tiles);
    for (const page of bars) expect(Math.abs(barOn(at('templates.pdf'), page) - 100)).toBeLessThan(0.1);
  });
});

/** Lettering of a plate which a tile or the edge of the face on the cover cuts: it is shown in part. */
function isCut(derived: Derived, page: readonly Word[], word: Word, i: number): boolean {
  if (i > 0 && !page.some((other) => other.text === 'template,')) return false;
  return derived.face.plates.some((plate) =>
    plate.lines.some((line) =>
      line.text
        .replaceAll(' ', '')
        .replace(/[^ -\u00ff]/gu, '?')
        .includes(word.text),
    ),
  );
}

/** Millimetres from the bar's first dark pixel to its last, along its middle. */
function barOn(pdf: string, page: number): number {
  const dpi = 600;
  const picture = rasterise(pdf, page, dpi, { x: 22, y: 214, w: 113, h: 1 });
  const y = Math.floor(picture.height / 2);
  const dark = Array.from({ length: picture.width }, (_, x) => x).filter((x) => picture.at(x, y) < 128);
  const [first = 0] = dark;
  return (((dark.at(-1) ?? 0) - first + 1) * 25.4) / dpi;
}

describe('a printer that shrinks', () => {
  test('a bar that came out at 98 mm is drawn 100 / 98 as long, and the tile with it', async () => {
    const at = writeOut(
      await buildBook(loadExample('bramble-siding'), { paper: 'A4', fonts, only: ['templates'], barMeasured: 98 }),
    );
    expect(Math.abs(barOn(at('templates.pdf'), 1) - (100 * 100) / 98)).toBeLessThan(0.1);
  });
});

describe('names that do not fit', () => {
  test('a long panel, long levers and letters that no font has', async () => {
    const panel = examplePanel('bramble-siding');
    const long =
      'The very long name of a panel that someone gave without thinking of any page \u6771\u4eac \u{1f682} '.repeat(4);
    const derived = derivePanel({
      ...panel,
      name: long,
      revision: 'A revision as long as a sentence',
      places: panel.places?.map((place) => ({ ...place, name: `${place.name} ${long}` })) ?? [],
      levers: panel.levers?.map((lever) => ({ ...lever, name: `${long} ${'x'.repeat(200)}` })) ?? [],
    });
    const at = writeOut(await buildBook(derived, { paper: 'Letter', fonts, only: PDFS }));
    for (const pdf of PDFS) {
      const outside = wordsOf(at(`${pdf}.pdf`)).flatMap(({ width, height, words }, i) =>
        words
          .filter((word) => word.x0 < 8 || word.y0 < 8 || word.x1 > width - 8 || word.y1 > height - 8)
          .filter((word) => !isCut(derived, words, word, i)),
      );
      expect(outside).toEqual([]);
      expect(ask('qpdf', '--check', at(`${pdf}.pdf`))).toContain('No syntax or stream encoding errors found');
    }
    expect(ask('pdftotext', at('book.pdf'), '-')).toContain('?');
  });
});

describe('panels with little on them', () => {
  test('nothing laid: every file is made, and the book is whole', async () => {
    const derived = derivePanel({ format: 'mimic-panel', version: 1, strips: [] });
    const files = await buildBook(derived, { paper: 'A4', fonts });
    expect(files.map((file) => file.path)).toEqual(BOOK_PATHS);
    const at = writeOut(files);
    expect(ask('qpdf', '--check', at('book.pdf'))).toContain('No syntax or stream encoding errors found');
  });

  test('one strip and no lever', async () => {
    const path: [number, number][] = [
      [0, 60],
      [300, 60],
    ];
    const derived = derivePanel({
      format: 'mimic-panel',
      version: 1,
      name: '\u0141\u00f3d\u017a \u03a9',
      strips: [{ id: 'main', path }],
    });
    const at = writeOut(await buildBook(derived, { paper: 'Letter', fonts, only: PDFS }));
    // Letters of three fonts, side by side in one name.
    expect(ask('pdftotext', at('book.pdf'), '-')).toContain('\u0141\u00f3d\u017a \u03a9');
  });

  test('a bar that no printer prints is refused', async () => {
    await expect(
      buildBook(loadExample('bramble-siding'), { paper: 'A4', fonts, only: ['templates'], barMeasured: 50 }),
    ).rejects.toThrow(RangeError);
  });
});
