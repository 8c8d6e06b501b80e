/** Every file of `build`: which there are, which are asked for, and the bytes of each. */
import { spiceText } from '../circuit/index.ts';
import type { Derived } from '../derive.ts';
import type { Millimetre } from '../units/index.ts';
import { circuitPages } from './circuit-pages.ts';
import { connectorPages } from './connector-pages.ts';
import { controlPages } from './control-pages.ts';
import { coverPage } from './cover.ts';
import { decoderPages } from './decoder-pages.ts';
import { type Faces, openFaces } from './faces.ts';
import { findingsPages, tallyWords } from './findings-pages.ts';
import type { FontFiles } from './fonts.ts';
import { isoDate } from './format.ts';
import { type Contents, guidePages } from './guide.ts';
import { lidPages } from './lid-sheet.ts';
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
import type { Paged } from './page.ts';
import { backPage, facePage, layeredPage } from './pictures.ts';
import { provingPages } from './proving-sheet.ts';
import { routeCard } from './route-card.ts';
import { bindPages, type Imprint, type Leaf, type Paper, type Setting, sheetOf } from './sheet.ts';
import { holePages, leverPages, partPages, wirePages } from './tables.ts';
import { testPages } from './test-sheets.ts';
import { tilePages } from './tile-pages.ts';
import { trackPages } from './track-pages.ts';
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

/** What the bar of 100 mm may measure on a print: further off, something else than the printer is wrong. */
export const BAR_RANGE: readonly [Millimetre, Millimetre] = [95, 105];

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

function imprintOf(derived: Derived): Imprint {
  const { panel } = derived;
  return {
    panel: panel.name?.trim() || 'Unnamed panel',
    revision: panel.revision?.trim() || 'A',
    date: panel.date ?? null,
  };
}

/** The whole book as pages: what stands in it is counted first, so that the front can name pages. */
export function layBook(derived: Derived, setting: Setting): Paged {
  const parts: readonly {
    readonly title: string;
    readonly name: string;
    readonly what: string;
    readonly leaves: Leaf[];
  }[] = [
    {
      title: 'Control table',
      name: 'control',
      what: 'which lever lies how for which route, and which routes cannot stand together',
      leaves: controlPages(derived, setting),
    },
    { title: 'Parts', name: 'parts', what: 'what to buy, and what each is for', leaves: partPages(derived, setting) },
    {
      title: 'Drilling templates',
      name: 'templates',
      what: 'the face at true size, tile by tile',
      leaves: tilePages(derived, setting),
    },
    { title: 'Holes', name: 'holes', what: 'every hole with its place and drill', leaves: holePages(derived, setting) },
    {
      title: 'Circuits and tags',
      name: 'circuits',
      what: 'each circuit drawn, with its readings and its tags from behind',
      leaves: circuitPages(derived, setting),
    },
    {
      title: 'Connectors',
      name: 'connectors',
      what: 'both halves from the wiring side, every pin',
      leaves: connectorPages(derived, setting),
    },
    {
      title: 'Wiring list',
      name: 'wires',
      what: 'every wire with ends, colour, section and length',
      leaves: wirePages(derived, setting),
    },
    {
      title: 'Track feed and frogs',
      name: 'track',
      what: 'rails, cuts, droppers, what each frog takes, the coin test',
      leaves: trackPages(derived, setting),
    },
    {
      title: 'Decoders',
      name: 'decoders',
      what: 'address, board, pair and bytes of each, and a test by address',
      leaves: decoderPages(derived, setting),
    },
    {
      title: 'Bench tests',
      name: 'tests',
      what: 'in order, with the readings to expect',
      leaves: testPages(derived, setting),
    },
    {
      title: 'Proving run',
      name: 'proving',
      what: 'a train over every leg of every point, with the throws',
      leaves: provingPages(derived, setting),
    },
    {
      title: 'Route card',
      name: 'card',
      what: 'one page for beside the levers, read at arm’s length',
      leaves: routeCard(derived, setting),
    },
    {
      title: 'Sheet for the lid',
      name: 'lid',
      what: 'supply, fuses, pins, the likeliest faults, spares',
      leaves: lidPages(derived, setting),
    },
  ].filter((part) => part.leaves.length > 0);

  const findings = findingsPages(derived, setting);
  const lay = (front: number): { readonly leaves: Leaf[]; readonly front: number } => {
    const pages = new Map<string, number>();
    const contents: Contents[] = [];
    let page = front;
    for (const part of parts) {
      contents.push({ title: part.title, name: part.name, what: part.what, page: page + 1 });
      for (const leaf of part.leaves) {
        page += 1;
        for (const name of leaf.names) pages.set(name, page);
      }
    }
    const levers = leverPages(derived, setting, (name) => pages.get(name) ?? null);
    const guide = guidePages(derived, setting, [
      {
        title: 'Findings',
        name: 'findings',
        what: tallyWords(derived.findings()) ?? 'nothing found',
        page: front - levers.length - findings.length + 1,
      },
      ...(levers.length === 0
        ? []
        : [
            {
              title: 'Levers',
              name: 'levers',
              what: 'what each works and what its positions mean',
              page: front - levers.length + 1,
            },
          ]),
      ...contents,
    ]);
    const leaves = [coverPage(derived, setting), ...guide, ...findings, ...levers];
    return { leaves, front: leaves.length };
  };
  const first = lay(0);
  const second = lay(first.front);
  const leaves = [...second.leaves, ...parts.flatMap((part) => part.leaves)];
  return {
    title: `${setting.imprint.panel}, build book`,
    subject: `Revision ${setting.imprint.revision}`,
    date: isoDate(setting.imprint.date),
    pages: bindPages(leaves, setting, 'Build book'),
  };
}

/** The templates alone. */
function layTemplates(derived: Derived, setting: Setting): Paged {
  return {
    title: `${setting.imprint.panel}, drilling templates`,
    subject: `Revision ${setting.imprint.revision}`,
    date: isoDate(setting.imprint.date),
    pages: bindPages(tilePages(derived, setting), setting, 'Drilling templates'),
  };
}

/**
 * The files of the book. Same panel, paper and fonts: same bytes. Throws RangeError where `barMeasured` is out of its range.
 * Fonts and the PDF writer are loaded only where something is drawn.
 */
export async function buildBook(derived: Derived, options: BookOptions): Promise<BuiltFile[]> {
  const { paper, fonts, barMeasured = 100 } = options;
  const [least, most] = BAR_RANGE;
  if (!(barMeasured >= least && barMeasured <= most))
    throw new RangeError(`the bar measures ${barMeasured} mm; ${least} to ${most} can be corrected`);
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
