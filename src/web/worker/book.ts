/** The build book as pages, laid in the worker. Widths are those of the application's own fonts, measured by the browser that will draw them. */
import { FONT_CSS, type FontRole, layDocument, pageSvg, TABULAR_EMS, type Widths } from '../../book/index.ts';
import { derive } from '../../derive.ts';
import { readPanel } from '../../panel/index.ts';
import atkinson from '../fonts/atkinson-hyperlegible-next-latin-wght-normal.woff2?url';
import plate500 from '../fonts/national-park-latin-500-normal.woff2?url';
import plate600 from '../fonts/national-park-latin-600-normal.woff2?url';
import plate700 from '../fonts/national-park-latin-700-normal.woff2?url';
import greek from '../fonts/sofia-sans-greek-wght-normal.woff2?url';
import type { BookAnswer, BookOrder } from './types.ts';

/** As tokens.css has them, which is what the pages are drawn in. */
const FONTS: readonly (readonly [family: string, url: string, weight: string])[] = [
  ['Atkinson Hyperlegible Next', atkinson, '200 800'],
  ['Sofia Sans Greek', greek, '200 800'],
  ['National Park', plate500, '500'],
  ['National Park', plate600, '600'],
  ['National Park', plate700, '700'],
];

/** Widths are measured at this size: px. */
const SIZE = 100;

/** Letters of the faces that the application carries; whatever lies beyond is the fallback's. */
const LATIN: readonly (readonly [from: number, to: number])[] = [
  [0x20, 0x7e],
  [0xa0, 0xff],
  [0x131, 0x131],
  [0x152, 0x153],
  [0x2c6, 0x2c6],
  [0x2da, 0x2da],
  [0x2dc, 0x2dc],
  [0x2013, 0x2014],
  [0x2018, 0x201a],
  [0x201c, 0x201e],
  [0x2022, 0x2022],
  [0x2026, 0x2026],
  [0x20ac, 0x20ac],
  [0x2122, 0x2122],
  [0x2212, 0x2212],
];

function has(role: FontRole, code: number): boolean {
  if (role.startsWith('ext')) return true;
  if (role.startsWith('greek')) return code === 0x3a9 || code === 0x3bc;
  return LATIN.some(([from, to]) => code >= from && code <= to);
}

/** A worker has fonts of its own, which the types of a window do not know. */
function hasFonts(scope: object): scope is { readonly fonts: FontFaceSet } {
  return 'fonts' in scope;
}

/** The faces of the application as a canvas of the worker measures them. */
async function browserWidths(): Promise<Widths> {
  const scope: object = self;
  if (!hasFonts(scope)) throw new Error('This browser loads no fonts in a worker.');
  await Promise.all(
    FONTS.map(async ([family, url, weight]) => {
      const face = new FontFace(family, `url(${url})`, { weight });
      scope.fonts.add(face);
      await face.load();
    }),
  );
  const context = new OffscreenCanvas(1, 1).getContext('2d');
  if (context === null) throw new Error('This browser has no canvas to measure on.');
  const words = new Map<string, number>();
  const measured = (role: FontRole, text: string): number => {
    const { family, weight } = FONT_CSS[role];
    context.font = `${weight} ${SIZE}px "${family}", sans-serif`;
    return context.measureText(text).width / SIZE;
  };
  return {
    has,
    ems(role, text) {
      const key = `${role} ${text}`;
      const known = words.get(key);
      if (known !== undefined) return known;
      const figure = TABULAR_EMS[role];
      // A canvas cannot be asked for tabular figures: they are counted, and what stands between them is measured.
      const parts = figure === null ? [text] : text.split(/\d/);
      const width =
        parts.reduce((sum, part) => sum + (part === '' ? 0 : measured(role, part)), 0) +
        (figure ?? 0) * (parts.length - 1);
      words.set(key, width);
      return width;
    },
  };
}

/** The pages of a document, ready to be drawn. Null where the text is no panel. */
export async function makeBook({ text, what, paper, barMeasured }: BookOrder): Promise<BookAnswer | null> {
  const read = readPanel(text);
  if (!read.ok) return null;
  const { title, pages } = layDocument(derive(read.panel), what, {
    paper,
    barMeasured,
    widths: await browserWidths(),
  });
  return { title, pages: pages.map((page, i) => pageSvg(page, `page-${i + 1}-`)) };
}
