/** Tables that break over pages: cells wrap, heads repeat, nothing overflows its column. */
import type { Millimetre } from '../units/index.ts';
import type { FontRole } from './fonts.ts';
import { type Anchor, pt } from './page.ts';
import { FIRM, HAIR, type Pen } from './pen.ts';
import { type Flow, LEADING, type Sheet } from './sheet.ts';

export interface Column {
  readonly title: string;
  /** Millimetres, or a share of what the fixed columns leave. */
  readonly width: Millimetre | { readonly share: number };
  readonly anchor?: Anchor;
  readonly font?: FontRole;
}

/** What stands in a cell: words, a box to tick, or a line to write on. */
export type TableCell =
  | string
  | { readonly text: string; readonly font?: FontRole; readonly link?: string }
  | { readonly tick: true }
  | { readonly write: true };

export interface TableStyle {
  readonly size?: Millimetre;
  readonly pad?: Millimetre;
  readonly x?: Millimetre;
  readonly width?: Millimetre;
  /** The head stays away where the columns explain themselves. */
  readonly bare?: boolean;
}

const GAP = 2.6;
const RULE = { stroke: '#9a9a9a', width: HAIR };

export interface Placed {
  readonly x: Millimetre;
  readonly width: Millimetre;
}

/** Where each column stands: fixed ones first, the rest by their shares. */
export function placeColumns(
  columns: readonly Column[],
  x: Millimetre,
  width: Millimetre,
  gap: Millimetre = GAP,
): readonly Placed[] {
  const gaps = gap * (columns.length - 1);
  const fixed = columns.reduce((sum, column) => sum + (typeof column.width === 'number' ? column.width : 0), 0);
  const shares = columns.reduce((sum, column) => sum + (typeof column.width === 'number' ? 0 : column.width.share), 0);
  const left = width - gaps - fixed;
  let at = x;
  return columns.map((column) => {
    const wide = typeof column.width === 'number' ? column.width : (left * column.width.share) / Math.max(shares, 1e-9);
    const placed = { x: at, width: wide };
    at += wide + gap;
    return placed;
  });
}

function anchored({ x, width }: Placed, anchor: Anchor): Millimetre {
  return anchor === 'start' ? x : anchor === 'middle' ? x + width / 2 : x + width;
}

function drawTableHead(pen: Pen, columns: readonly Column[], placed: readonly Placed[], y: Millimetre): Millimetre {
  const size = pt(8);
  const wrapped = columns.map((column, i) => pen.measure.wrap(column.title, 'text-400', size, placed[i]?.width ?? 0));
  const most = Math.max(1, ...wrapped.map((lines) => lines.length));
  for (const [i, column] of columns.entries()) {
    const place = placed[i];
    if (place === undefined) continue;
    const lines = wrapped[i] ?? [];
    for (const [k, line] of lines.entries()) {
      pen.text(
        [anchored(place, column.anchor ?? 'start'), y + size * LEADING * (most - lines.length + k + 1) - 0.4],
        line,
        { size, fill: '#3a3a3a', anchor: column.anchor ?? 'start' },
      );
    }
  }
  return y + size * LEADING * most + 1;
}

interface Lines {
  readonly cell: TableCell;
  readonly lines: readonly string[];
  readonly font: FontRole;
}

/** Flow a table on from where the flow stands; it leaves the flow below it. */
export function drawTable(
  flow: Flow,
  sheet: Sheet,
  columns: readonly Column[],
  rows: readonly (readonly TableCell[])[],
  style: TableStyle = {},
): void {
  const { size = pt(8.8), pad = 0.95, x = sheet.left, width = sheet.width, bare = false } = style;
  const placed = placeColumns(columns, x, width);
  const leading = size * LEADING;
  const head = (): void => {
    if (!bare) flow.y = drawTableHead(flow.pen(), columns, placed, flow.y);
  };
  if (rows.length === 0) return;
  flow.need(leading * 2 + pad * 4 + 8);
  head();
  for (const row of rows) {
    const cells = columns.map((column, i): Lines => {
      const cell = row[i] ?? '';
      const text = typeof cell === 'string' ? cell : 'text' in cell ? cell.text : '';
      const font = (typeof cell !== 'string' && 'text' in cell ? cell.font : undefined) ?? column.font ?? 'text-400';
      return { cell, font, lines: flow.pen().measure.wrap(text, font, size, placed[i]?.width ?? 0) };
    });
    // A row taller than a page is cut at the page's foot, line by line.
    let from = 0;
    const most = Math.max(1, ...cells.map((cell) => cell.lines.length));
    while (from < most) {
      const room = (y: Millimetre): number => Math.floor((sheet.bottom - y - 2 * pad) / leading);
      if (room(flow.y) < Math.min(most - from, MOST_LINES_KEPT)) {
        flow.turn();
        head();
      }
      const count = Math.max(1, Math.min(most - from, room(flow.y)));
      const height = count * leading + 2 * pad;
      const pen = flow.pen();
      pen.line([x, flow.y], [x + width, flow.y], RULE);
      for (const [i, { cell, lines, font }] of cells.entries()) {
        const place = placed[i];
        const column = columns[i];
        if (place === undefined || column === undefined) continue;
        const anchor = column.anchor ?? 'start';
        if (typeof cell !== 'string' && 'tick' in cell) {
          if (from === 0)
            pen.rect(
              [
                anchored(place, anchor) - (anchor === 'end' ? TICK : anchor === 'middle' ? TICK / 2 : 0),
                flow.y + pad + leading / 2 - TICK / 2,
              ],
              [TICK, TICK],
              { stroke: '#000000', width: FIRM },
            );
          continue;
        }
        if (typeof cell !== 'string' && 'write' in cell) {
          if (from === 0)
            pen.line([place.x, flow.y + height - pad - 0.3], [place.x + place.width, flow.y + height - pad - 0.3], {
              stroke: '#000000',
              width: HAIR,
            });
          continue;
        }
        for (const [k, line] of lines.slice(from, from + count).entries()) {
          pen.text([anchored(place, anchor), flow.y + pad + leading * (k + 1) - size * 0.36], line, {
            font,
            size,
            anchor,
          });
        }
        if (from === 0 && typeof cell !== 'string' && cell.link !== undefined)
          pen.link([place.x, flow.y], [place.width, height], cell.link);
      }
      flow.y += height;
      from += count;
    }
  }
  flow.pen().line([x, flow.y], [x + width, flow.y], RULE);
  flow.y += 2;
}

/** Boxes to tick, mm across. */
export const TICK = 3.4;
/** A row of up to so many lines is kept together. */
const MOST_LINES_KEPT = 12;
