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
  readCsv,
  readFonts,
  textOf,
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
      'Track feed and frogs',
      'Bench tests',
      'Proving run',
      'Route card',
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

  test('each pin of the book has the wires that wires.csv leads to it, and the drive at their far end', async () => {
    const [, ...wires] = readCsv(textOf(await buildBook(derived, { paper, fonts, only: ['wires'] }), 'wires.csv'));
    const said = ask('pdftotext', '-layout', at('book.pdf'), '-')
      .split('\f')
      .flatMap((page) => {
        const [, connector] = /^\s*Connector (\S+)/.exec(page) ?? [];
        if (connector === undefined) return [];
        return [...page.matchAll(/^ *(\d+) +(W\d+) ([A-Z]+) +(W\d+) ([A-Z]+) +(\S+) +(L\d+) /gm)].map(
          ([, number, inner, innerColour, outer, outerColour, to]) =>
            [`${connector}.${number}`, inner, innerColour, outer, outerColour, to] as const,
        );
      });
    expect(said.map(([pin]) => pin).sort()).toEqual(
      derived.wiring.connectors.flatMap((connector) => connector.pins.map((pin) => pin.id)).sort(),
    );
    for (const [pin, inner, innerColour, outer, outerColour, to] of said) {
      const [, , innerTo, colour] = wires.find(([no]) => no === inner) ?? [];
      expect([pin, innerTo, colour]).toEqual([pin, pin, innerColour]);
      expect(wires.find(([no]) => no === outer)?.slice(1, 4)).toEqual([pin, to, outerColour]);
    }
  });

  test('what is dangerous or wrong stands on the cover, and every finding on its page', () => {
    const [cover = '', , ...rest] = ask('pdftotext', '-layout', at('book.pdf'), '-').split('\f');
    const page = rest.find((text) => /^\s*Findings\b/.test(text)) ?? '';
    const serious = derived.findings().some(({ severity }) => severity === 'danger' || severity === 'wrong');
    expect(cover.includes('nothing dangerous or wrong')).toBe(!serious);
    for (const { code } of derived.findings()) expect(page).toContain(code);
  });

  test('no page of a table or a text ends on a heading alone, none is all but empty', () => {
    const pages = wordsOf(at('book.pdf')).map(({ words, height }) => ({
      text: words.map((word) => word.text).join(' '),
      lowest: Math.max(0, ...words.filter((word) => word.y1 < height - 20 * POINTS_PER_MM).map((word) => word.y1)),
    }));
    const short = pages.flatMap(({ text, lowest }, i) =>
      text.includes(', continued') && lowest < 50 * POINTS_PER_MM ? [`page ${i + 1}`] : [],
    );
    expect(short).toEqual([]);
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

describe('a panel that must not be built yet', () => {
  test('says so on its cover, and gives each finding with its mend before anything else', async () => {
    const panel = examplePanel('bramble-siding');
    const derived = derivePanel({
      ...panel,
      supplies: panel.supplies?.map((supply) => ({ ...supply, amps: 5, fuse: null })) ?? [],
      lampGroups: [{ id: 'G1', lamps: ['H1', 'H77'] }],
    });
    const severities = derived.findings().map(({ severity }) => severity);
    expect(severities).toContain('danger');
    expect(severities).toContain('wrong');
    const at = writeOut(await buildBook(derived, { paper: 'A4', fonts, only: ['book'] }));
    const pages = ask('pdftotext', '-layout', at('book.pdf'), '-').split('\f');
    expect(pages[0]).toMatch(/The checks find 1 danger and \d+ things? wrong/);
    expect(pages[0]).not.toContain('nothing dangerous or wrong');
    const index = pages.findIndex((text) => /^\s*Findings\b/.test(text));
    expect(index).toBeLessThan(pages.findIndex((text) => /^\s*Levers\b/.test(text)));
    const said = (pages[index] ?? '').replace(/\s+/g, ' ');
    for (const { code, mends } of derived.findings()) {
      expect(said).toContain(code);
      for (const { text } of mends) expect(said).toContain(text.slice(0, 30));
    }
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

/** Millimetres from the bar's left end to the middle of each dark stretch along a line down the page, `x` mm right of that end. */
function darkDown(pdf: string, page: number, x: number): readonly number[] {
  const dpi = 600;
  const bar = rasterise(pdf, page, dpi, { x: 22, y: 214, w: 113, h: 1 });
  const start =
    Array.from({ length: bar.width }, (_, i) => i).find((i) => bar.at(i, Math.floor(bar.height / 2)) < 128) ?? 0;
  const picture = rasterise(pdf, page, dpi, { x: 22 + (start * 25.4) / dpi + x, y: 40, w: 0.3, h: 172 });
  const dark = Array.from({ length: picture.height }, (_, y) => y).filter((y) => picture.at(0, y) < 128);
  const runs: number[][] = [];
  for (const y of dark) {
    const run = runs.at(-1);
    if (run !== undefined && (run.at(-1) ?? 0) === y - 1) run.push(y);
    else runs.push([y]);
  }
  return runs.map((run) => ((((run[0] ?? 0) + (run.at(-1) ?? 0)) / 2) * 25.4) / dpi);
}

describe.each([100, 98])('holes on the tiles, for a bar that came out at %d mm', (barMeasured) => {
  test('two fixings are as far apart on paper as on the face, to a tenth, and so are its edges', async () => {
    const derived = loadExample('bramble-siding');
    const at = writeOut(await buildBook(derived, { paper: 'A4', fonts, only: ['templates'], barMeasured }));
    const [one, two] = derived.face.fixings.filter((fixing) => fixing.at[0] < 150);
    if (one === undefined || two === undefined) throw new Error('the example has lost its fixings');
    expect(one.at[0]).toBe(two.at[0]);
    const scale = 100 / barMeasured;
    // Beside the hole, where only the cross of its mark is dark.
    const marks = darkDown(at('templates.pdf'), 1, (one.at[0] + one.drill / 2 + 0.6) * scale);
    const [top, bottom] = [marks[0] ?? 0, marks.at(-1) ?? 0];
    expect(Math.abs(bottom - top - derived.face.height * scale)).toBeLessThan(0.1);
    for (const fixing of [one, two])
      expect(Math.min(...marks.map((mark) => Math.abs(mark - top - fixing.at[1] * scale)))).toBeLessThan(0.1);
  });
});

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
