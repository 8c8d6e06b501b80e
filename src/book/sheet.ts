/** The sheet of paper: its sizes, margins, heads and feet, and a flow that fills one page after another. */
import type { Millimetre, Spot } from '../units/index.ts';
import { longDate } from './format.ts';
import type { Measure } from './measure.ts';
import { type Bookmark, type Page, pt } from './page.ts';
import { FINE, type Pen, startPen } from './pen.ts';

export type Paper = 'A4' | 'Letter';

/** ISO 216 A4 and ANSI Letter, upright, mm. */
const PAPERS: Readonly<Record<Paper, Spot>> = { A4: [210, 297], Letter: [215.9, 279.4] };

/** Where things stand on a sheet, mm. */
export interface Sheet {
  readonly size: Spot;
  readonly left: Millimetre;
  readonly right: Millimetre;
  readonly width: Millimetre;
  readonly top: Millimetre;
  /** Nothing of the body goes below this. */
  readonly bottom: Millimetre;
}

const MARGIN = 20;
const FOOT = 15.5;

export function sheetOf(paper: Paper): Sheet {
  const size = PAPERS[paper];
  return {
    size,
    left: MARGIN,
    right: size[0] - MARGIN,
    width: size[0] - 2 * MARGIN,
    top: 12,
    bottom: size[1] - FOOT - 3,
  };
}

/** What every page says of its panel. */
export interface Imprint {
  readonly panel: string;
  readonly revision: string;
  /** As the file gives it; null: undated. */
  readonly date: string | null;
}

/** What a document needs beside the derived panel. */
export interface Setting {
  readonly measure: Measure;
  readonly sheet: Sheet;
  readonly imprint: Imprint;
  /** How long the 100 mm bar came out on the user's printer; 100 where it is true. */
  readonly barMeasured: Millimetre;
}

/** A page under way: a body without its foot. */
export interface Leaf {
  readonly pen: Pen;
  readonly bookmarks: Bookmark[];
  readonly names: string[];
}

export function newLeaf(setting: Setting): Leaf {
  return { pen: startPen(setting.measure), bookmarks: [], names: [] };
}

/** Finished pages: each with its foot, numbered through. `what` is "Build book" or "Drilling templates". */
export function bindPages(leaves: readonly Leaf[], setting: Setting, what: string): Page[] {
  const { sheet, imprint } = setting;
  const line = sheet.size[1] - FOOT;
  const base = line + 4.6;
  return leaves.map((leaf, i): Page => {
    const pen = startPen(setting.measure, [...leaf.pen.ops]);
    pen.line([sheet.left, line], [sheet.right, line], { stroke: '#000000', width: FINE });
    const left = pen.text([sheet.left, base], 'Mimicwright', { font: 'plate-700', size: pt(9.5) });
    const right = pen.text([sheet.right, base], `${what}, page ${i + 1} of ${leaves.length}`, {
      size: pt(8.4),
      anchor: 'end',
    });
    const room = sheet.width - left - right - 10;
    const told = `, revision ${imprint.revision}, ${longDate(imprint.date)}`;
    const toldWide = setting.measure.width(told, 'text-400', pt(8.4));
    const named = setting.measure.fit(imprint.panel, 'text-400', pt(8.4), Math.max(10, room - toldWide), pt(8.4)).text;
    pen.text([sheet.left + left + 5 + room / 2, base], `${named}${told}`, {
      size: pt(8.4),
      anchor: 'middle',
      most: room,
    });
    return { size: sheet.size, ops: pen.ops, bookmarks: leaf.bookmarks, names: leaf.names };
  });
}

/** Fills leaves from top to bottom, with a head on each. */
export interface Flow {
  readonly leaves: Leaf[];
  /** The pen of the leaf in hand. */
  pen(): Pen;
  /** Where the next thing goes. */
  y: Millimetre;
  /** Turns over where less than `height` is left. True where it turned. */
  need(height: Millimetre): boolean;
  turn(): void;
  paragraph(
    text: string,
    style?: {
      readonly size?: Millimetre;
      readonly strong?: boolean;
      readonly indent?: Millimetre;
      readonly after?: Millimetre;
      readonly width?: Millimetre;
      readonly bullet?: string;
    },
  ): void;
  heading(text: string, aside?: string): void;
}

export interface Head {
  readonly title: string;
  /** A sentence or two under the title, first page. */
  readonly lead?: string;
  /** A name that links can lead to, and what the outline says. */
  readonly name?: string;
  readonly bookmark?: Bookmark;
}

/** Line height as a share of the size. */
export const LEADING = 1.34;

/** Draw the head of a page; returns where its body begins. */
function drawHead(pen: Pen, sheet: Sheet, head: Head, again = false): Millimetre {
  const size = pt(17);
  pen.text([sheet.left, sheet.top + 6], again ? `${head.title}, continued` : head.title, {
    font: 'plate-600',
    size,
    most: sheet.width,
    least: pt(11),
  });
  let y = sheet.top + 9.5;
  if (head.lead !== undefined && !again) {
    for (const line of pen.measure.wrap(head.lead, 'text-400', pt(10), sheet.width)) {
      y += pt(10) * LEADING;
      pen.text([sheet.left, y - 1], line, { size: pt(10) });
    }
  }
  return y + 3.5;
}

/** A heading takes with it its own 9 mm, a table's head and two rows: it never stands alone at the foot of a page. */
const HEADING_KEEP: Millimetre = 32;

export function startFlow(setting: Setting, head: Head): Flow {
  const { sheet, measure } = setting;
  const leaves: Leaf[] = [];
  const flow: Flow = {
    leaves,
    y: 0,
    pen: () => {
      const leaf = leaves.at(-1);
      if (leaf === undefined) throw new RangeError('no page begun');
      return leaf.pen;
    },
    turn: () => {
      const leaf = newLeaf(setting);
      if (leaves.length === 0) {
        if (head.bookmark !== undefined) leaf.bookmarks.push(head.bookmark);
        if (head.name !== undefined) leaf.names.push(head.name);
      }
      flow.y = drawHead(leaf.pen, sheet, head, leaves.length > 0);
      leaves.push(leaf);
    },
    need: (height) => {
      if (flow.y + height <= sheet.bottom) return false;
      flow.turn();
      return true;
    },
    paragraph: (
      text,
      { size = pt(9.6), strong = false, indent = 0, after = 1.6, width = sheet.width, bullet } = {},
    ) => {
      const font = strong ? 'text-700' : 'text-400';
      const lines = measure.wrap(text, font, size, width - indent);
      for (const [i, line] of lines.entries()) {
        flow.need(size * LEADING + (i === 0 && lines.length > 1 ? size * LEADING : 0));
        flow.y += size * LEADING;
        if (i === 0 && bullet !== undefined)
          flow.pen().text([sheet.left, flow.y - size * 0.28], bullet, { font: 'text-700', size });
        flow.pen().text([sheet.left + indent, flow.y - size * 0.28], line, { font, size });
      }
      flow.y += after;
    },
    heading: (text, aside) => {
      flow.need(HEADING_KEEP);
      flow.y += 3 + pt(11);
      const pen = flow.pen();
      const wide =
        aside === undefined
          ? 0
          : pen.text([sheet.right, flow.y], aside, { size: pt(9.4), anchor: 'end', most: sheet.width * 0.75 });
      pen.text([sheet.left, flow.y], text, { font: 'text-700', size: pt(11), most: sheet.width - wide - 4 });
      pen.line([sheet.left, flow.y + 1.6], [sheet.right, flow.y + 1.6], { stroke: '#000000', width: 0.5 });
      flow.y += 2.2;
    },
  };
  flow.turn();
  return flow;
}
