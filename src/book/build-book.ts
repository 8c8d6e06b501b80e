/** Every file of `build`: which there are, which are asked for, and the bytes of each. */
import { spiceText } from '../circuit/index.ts';
import type { Derived } from '../derive.ts';
import type { Millimetre } from '../units/index.ts';
import { type Faces, openFaces } from './faces.ts';
import type { FontFiles } from './fonts.ts';
import { correctable, imprintOf, layBook, layTemplates } from './lay-book.ts';
import {
  conflictsList,
  decodersList,
  frogsList,
  holesList,
  type List,
  partsList,
  pinsList,
  routesList,
  testsList,
  wiresList,
} from './lists.ts';
import { type Measure, measureWith } from './measure.ts';
import { backPage, facePage, layeredPage } from './pictures.ts';
import { type Paper, type Setting, sheetOf } from './sheet.ts';
import { writeCsv } from './write-csv.ts';
import { writePdf } from './write-pdf.ts';
import { writeSvg } from './write-svg.ts';

export interface BuiltFile {
  readonly path: string;
  readonly kind: 'pdf' | 'svg' | 'dxf' | 'csv' | 'spice' | 'json';
  /** Of what is printed; null for the rest. */
  readonly pages: number | null;
  readonly bytes: Uint8Array;
}

export interface BookOptions {
  readonly paper: Paper;
  /** Names with or without their ending: `book`, `holes.csv`. Absent: all. A name that is none of the book's is passed over. */
  readonly only?: readonly string[];
  readonly fonts: FontFiles;
  /** What the bar of 100 mm measures on the user's print, 95 to 105; absent: 100. Templates are drawn larger or smaller to suit. */
  readonly barMeasured?: Millimetre;
}

/** Every file, in the order in which they are given back: pictures to print, pictures to cut, lists, the circuit. */
export const BOOK_PATHS = [
  'book.pdf',
  'templates.pdf',
  'face.svg',
  'back.svg',
  'face.dxf',
  'holes.csv',
  'wires.csv',
  'pins.csv',
  'frogs.csv',
  'decoders.csv',
  'parts.csv',
  'routes.csv',
  'conflicts.csv',
  'tests.csv',
  'panel.cir',
] as const;
type BookPath = (typeof BOOK_PATHS)[number];

/** The files that `only` names, in the order of `BOOK_PATHS`. */
export function choosePaths(only: readonly string[] | undefined): readonly BookPath[] {
  if (only === undefined) return BOOK_PATHS;
  const wanted = new Set(only.map((name) => name.toLowerCase()));
  return BOOK_PATHS.filter((path) => wanted.has(path) || wanted.has(path.slice(0, path.lastIndexOf('.'))));
}

const LISTS: Readonly<Partial<Record<BookPath, (derived: Derived) => List>>> = {
  'holes.csv': holesList,
  'wires.csv': wiresList,
  'pins.csv': pinsList,
  'frogs.csv': frogsList,
  'decoders.csv': decodersList,
  'parts.csv': partsList,
  'routes.csv': routesList,
  'conflicts.csv': conflictsList,
  'tests.csv': testsList,
};

/**
 * The files of the book. Same panel, paper and fonts: same bytes. Throws RangeError where `barMeasured` is out of its range.
 * Fonts and the PDF writer are loaded only where something is drawn.
 */
export async function buildBook(derived: Derived, options: BookOptions): Promise<BuiltFile[]> {
  const { paper, fonts } = options;
  const barMeasured = correctable(options.barMeasured ?? 100);
  const imprint = imprintOf(derived);
  let ready: { readonly faces: Faces; readonly measure: Measure } | null = null;
  const once = async (): Promise<{ readonly faces: Faces; readonly measure: Measure }> => {
    if (ready === null) {
      const faces = await openFaces(fonts);
      ready = { faces, measure: measureWith(faces) };
    }
    return ready;
  };
  const measureOnce = async (): Promise<Measure> => (await once()).measure;
  const settingOf = async (): Promise<Setting> => ({
    measure: await measureOnce(),
    sheet: sheetOf(paper),
    imprint,
    barMeasured,
  });
  const utf8 = new TextEncoder();
  const text = (path: string, kind: BuiltFile['kind'], said: string): BuiltFile => ({
    path,
    kind,
    pages: null,
    bytes: utf8.encode(said),
  });

  const files: BuiltFile[] = [];
  for (const path of choosePaths(options.only)) {
    const list = LISTS[path];
    if (list !== undefined) {
      const { header, rows } = list(derived);
      files.push(text(path, 'csv', writeCsv(header, rows)));
    } else if (path === 'book.pdf' || path === 'templates.pdf') {
      const setting = await settingOf();
      const paged = path === 'book.pdf' ? layBook(derived, setting) : layTemplates(derived, setting);
      files.push({ path, kind: 'pdf', pages: paged.pages.length, bytes: await writePdf(paged, (await once()).faces) });
    } else if (path === 'face.svg')
      files.push(
        text(
          path,
          'svg',
          writeSvg(
            facePage(derived, await measureOnce()),
            `${imprint.panel}, face, revision ${imprint.revision}`,
            fonts,
          ),
        ),
      );
    else if (path === 'back.svg')
      files.push(
        text(
          path,
          'svg',
          writeSvg(
            backPage(derived, await measureOnce()),
            `${imprint.panel}, back, mirrored, revision ${imprint.revision}`,
            fonts,
          ),
        ),
      );
    else if (path === 'face.dxf') {
      const { writeDxf } = await import('./write-dxf.ts');
      files.push(text(path, 'dxf', writeDxf(layeredPage(derived, await measureOnce()))));
    } else if (path === 'panel.cir')
      files.push(
        text(
          path,
          'spice',
          spiceText(derived.netlist({}), {
            title: `${imprint.panel}, revision ${imprint.revision}, every lever normal`,
          }),
        ),
      );
  }
  return files;
}
