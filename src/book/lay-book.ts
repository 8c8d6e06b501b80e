/** The documents as pages: the whole book, and the templates alone. Knows which parts there are and in what order; no file format. */
import type { Derived } from '../derive.ts';
import type { Millimetre } from '../units/index.ts';
import { circuitPages } from './circuit-pages.ts';
import { connectorPages } from './connector-pages.ts';
import { controlPages } from './control-pages.ts';
import { coverPage } from './cover.ts';
import { decoderPages } from './decoder-pages.ts';
import type { Widths } from './faces.ts';
import { findingsPages, tallyWords } from './findings-pages.ts';
import { isoDate } from './format.ts';
import { type Contents, guidePages } from './guide.ts';
import { lidPages } from './lid-sheet.ts';
import { measureWith } from './measure.ts';
import type { Paged } from './page.ts';
import { provingPages } from './proving-sheet.ts';
import { routeCard } from './route-card.ts';
import { bindPages, type Imprint, type Leaf, type Paper, type Setting, sheetOf } from './sheet.ts';
import { holePages, leverPages, partPages, wirePages } from './tables.ts';
import { testPages } from './test-sheets.ts';
import { tilePages } from './tile-pages.ts';
import { trackPages } from './track-pages.ts';

/** What every page says of its panel. */
export function imprintOf(derived: Derived): Imprint {
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
export function layTemplates(derived: Derived, setting: Setting): Paged {
  return {
    title: `${setting.imprint.panel}, drilling templates`,
    subject: `Revision ${setting.imprint.revision}`,
    date: isoDate(setting.imprint.date),
    pages: bindPages(tilePages(derived, setting), setting, 'Drilling templates'),
  };
}

/** What the bar of 100 mm may measure on a print: further off, something else than the printer is wrong. */
export const BAR_RANGE: readonly [Millimetre, Millimetre] = [95, 105];

/** What such a bar measures, where a print can be corrected by it; RangeError where it is out of its range. */
export function correctable(barMeasured: Millimetre): Millimetre {
  const [least, most] = BAR_RANGE;
  if (!(barMeasured >= least && barMeasured <= most))
    throw new RangeError(`the bar measures ${barMeasured} mm; ${least} to ${most} can be corrected`);
  return barMeasured;
}

/** What is printed. */
export type PrintedDocument = 'book' | 'templates';

/**
 * The pages of a document, for whoever draws them himself: a browser. `widths` must be those of the faces in which they will be drawn.
 * `barMeasured` as for `buildBook`: RangeError where it is out of its range.
 */
export function layDocument(
  derived: Derived,
  what: PrintedDocument,
  {
    paper,
    widths,
    barMeasured = 100,
  }: { readonly paper: Paper; readonly widths: Widths; readonly barMeasured?: Millimetre },
): Paged {
  const setting: Setting = {
    measure: measureWith(widths),
    sheet: sheetOf(paper),
    imprint: imprintOf(derived),
    barMeasured: correctable(barMeasured),
  };
  return what === 'book' ? layBook(derived, setting) : layTemplates(derived, setting);
}
