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

/** What stands in a cell: words, a box to tick, or a line to write on, behind words where there are any. */
export type TableCell =
  | string
  | { readonly text: string; readonly font?: FontRole; readonly link?: string; readonly write?: boolean }
  | { readonly tick: true }
  | { readonly write: true };

export interface TableStyle {
  readonly size?: Millimetre;
  readonly pad?: Millimetre;
  readonly x?: Millimetre;
  readonly width?: Millimetre;
  /** The head stays away where the columns explain themselves. */
  readonly bare?: boolean;
  /** So many tables beside each other, filled top to bottom, then left to right. */
  readonly across?: number;
  /** Between columns, mm. */
  readonly gap?: Millimetre;
  /** Rows that belong to the one before them: no line between, and no page break where they can be kept together. */
  readonly joined?: readonly number[];
}

/** Between columns, mm. */
export const GAP: Millimetre = 2.6;
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

interface Lines {
  readonly cell: TableCell;
  readonly lines: readonly string[];
  readonly font: FontRole;
}

/** Rows of cells broken into lines for columns of given widths; everything below draws with it. */
interface Grid {
  readonly columns: readonly Column[];
  readonly placed: readonly Placed[];
  readonly size: Millimetre;
  readonly leading: Millimetre;
  readonly pad: Millimetre;
  readonly bare: boolean;
}

const HEAD_SIZE: Millimetre = pt(8);
/** Room to write a reading in, mm. */
export const BLANK: Millimetre = 12;

function headLines(pen: Pen, { columns, placed }: Grid): readonly (readonly string[])[] {
  return columns.map((column, i) => pen.measure.wrap(column.title, 'text-400', HEAD_SIZE, placed[i]?.width ?? 0));
}

function headHeight(pen: Pen, grid: Grid): Millimetre {
  if (grid.bare) return 0;
  return HEAD_SIZE * LEADING * Math.max(1, ...headLines(pen, grid).map((lines) => lines.length)) + 1;
}

function drawTableHead(pen: Pen, grid: Grid, shift: Millimetre, y: Millimetre): void {
  if (grid.bare) return;
  const wrapped = headLines(pen, grid);
  const most = Math.max(1, ...wrapped.map((lines) => lines.length));
  for (const [i, { anchor = 'start' }] of grid.columns.entries()) {
    const place = grid.placed[i];
    if (place === undefined) continue;
    const lines = wrapped[i] ?? [];
    for (const [k, line] of lines.entries())
      pen.text([shift + anchored(place, anchor), y + HEAD_SIZE * LEADING * (most - lines.length + k + 1) - 0.4], line, {
        size: HEAD_SIZE,
        fill: '#3a3a3a',
        anchor,
      });
  }
}

function layRow(pen: Pen, { columns, placed, size }: Grid, row: readonly TableCell[]): readonly Lines[] {
  return columns.map((column, i): Lines => {
    const cell = row[i] ?? '';
    const text = typeof cell === 'string' ? cell : 'text' in cell ? cell.text : '';
    const font = (typeof cell !== 'string' && 'text' in cell ? cell.font : undefined) ?? column.font ?? 'text-400';
    const blank = typeof cell !== 'string' && 'text' in cell && cell.write === true ? BLANK : 0;
    return { cell, font, lines: pen.measure.wrap(text, font, size, Math.max(1, (placed[i]?.width ?? 0) - blank)) };
  });
}

const linesIn = (row: readonly Lines[]): number => Math.max(1, ...row.map((cell) => cell.lines.length));

/** Draw `count` lines of a row from line `from` on, `shift` to the right of where the grid stands. */
function drawRow(
  pen: Pen,
  { columns, placed, size, leading, pad }: Grid,
  row: readonly Lines[],
  [shift, y]: readonly [Millimetre, Millimetre],
  from: number,
  count: number,
): void {
  const height = count * leading + 2 * pad;
  for (const [i, { cell, lines, font }] of row.entries()) {
    const place = placed[i];
    const column = columns[i];
    if (place === undefined || column === undefined) continue;
    const anchor = column.anchor ?? 'start';
    const x = shift + anchored(place, anchor);
    if (typeof cell !== 'string' && 'tick' in cell) {
      if (from === 0)
        pen.rect(
          [x - (anchor === 'end' ? TICK : anchor === 'middle' ? TICK / 2 : 0), y + pad + leading / 2 - TICK / 2],
          [TICK, TICK],
          { stroke: '#000000', width: FIRM },
        );
      continue;
    }
    let used = 0;
    for (const [k, line] of lines.slice(from, from + count).entries())
      used = Math.max(used, pen.text([x, y + pad + leading * (k + 1) - size * 0.36], line, { font, size, anchor }));
    if (from > 0 || typeof cell === 'string') continue;
    if (cell.write === true) {
      const under = y + pad + leading * Math.min(count, lines.length) - 0.3;
      const start = shift + place.x + (used > 0 ? used + 1.2 : 0);
      pen.line([start, under], [shift + place.x + place.width, under], { stroke: '#000000', width: HAIR });
    }
    if ('link' in cell && cell.link !== undefined) pen.link([shift + place.x, y], [place.width, height], cell.link);
  }
}

/** Flow a table on from where the flow stands; it leaves the flow below it. */
export function drawTable(
  flow: Flow,
  sheet: Sheet,
  columns: readonly Column[],
  rows: readonly (readonly TableCell[])[],
  style: TableStyle = {},
): void {
  const {
    size = pt(8.8),
    pad = 0.95,
    x = sheet.left,
    width = sheet.width,
    bare = false,
    across = 1,
    gap = GAP,
  } = style;
  if (rows.length === 0) return;
  const each = (width - GUTTER * (across - 1)) / across;
  const grid: Grid = { columns, placed: placeColumns(columns, x, each, gap), size, pad, leading: size * LEADING, bare };
  const laid = rows.map((row) => layRow(flow.pen(), grid, row));
  if (across > 1 && laid.every((row) => linesIn(row) <= MOST_LINES_KEPT))
    drawAcross(flow, sheet, grid, laid, x, each, across);
  else if (across > 1) drawTable(flow, sheet, columns, rows, { ...style, across: 1 });
  else drawDown(flow, sheet, grid, laid, x, width, new Set(style.joined));
}

function drawDown(
  flow: Flow,
  sheet: Sheet,
  grid: Grid,
  rows: readonly (readonly Lines[])[],
  x: Millimetre,
  width: Millimetre,
  joined: ReadonlySet<number>,
): void {
  const { leading, pad } = grid;
  const head = (): void => {
    drawTableHead(flow.pen(), grid, 0, flow.y);
    flow.y += headHeight(flow.pen(), grid);
  };
  // The head never stands alone: with it go the first two rows.
  const first = rows
    .slice(0, 2)
    .reduce((sum, row) => sum + Math.min(linesIn(row), MOST_LINES_KEPT) * leading + 2 * pad, 0);
  flow.need(headHeight(flow.pen(), grid) + first);
  head();
  for (const [i, row] of rows.entries()) {
    if (!joined.has(i)) {
      let last = i;
      while (joined.has(last + 1)) last += 1;
      const together = rows.slice(i, last + 1);
      const tall = together.reduce((sum, each) => sum + linesIn(each) * leading + 2 * pad, 0);
      if (together.length > 1 && together.length <= MOST_LINES_KEPT && flow.y + tall > sheet.bottom) {
        flow.pen().line([x, flow.y], [x + width, flow.y], RULE);
        flow.turn();
        head();
      }
    }
    // A row taller than a page is cut at the page's foot, line by line.
    let from = 0;
    const most = linesIn(row);
    while (from < most) {
      const room = (y: Millimetre): number => Math.floor((sheet.bottom - y - 2 * pad) / leading);
      if (room(flow.y) < Math.min(most - from, MOST_LINES_KEPT)) {
        flow.pen().line([x, flow.y], [x + width, flow.y], RULE);
        flow.turn();
        head();
      }
      const count = Math.max(1, Math.min(most - from, room(flow.y)));
      if (!joined.has(i) || from > 0) flow.pen().line([x, flow.y], [x + width, flow.y], RULE);
      drawRow(flow.pen(), grid, row, [0, flow.y], from, count);
      flow.y += count * leading + 2 * pad;
      from += count;
    }
  }
  flow.pen().line([x, flow.y], [x + width, flow.y], RULE);
  flow.y += 2;
}

/** Rows cut into `across` parts of the same number, each under a head of its own; a page is filled before the next is begun. */
function drawAcross(
  flow: Flow,
  sheet: Sheet,
  grid: Grid,
  rows: readonly (readonly Lines[])[],
  x: Millimetre,
  each: Millimetre,
  across: number,
): void {
  const { leading, pad } = grid;
  const heightOf = (row: readonly Lines[]): Millimetre => linesIn(row) * leading + 2 * pad;
  const parts = (count: number, from: number): readonly (readonly (readonly Lines[])[])[] => {
    const per = Math.ceil(count / across);
    return Array.from({ length: across }, (_, i) =>
      rows.slice(from + i * per, Math.min(from + count, from + (i + 1) * per)),
    );
  };
  const tall = (part: readonly (readonly Lines[])[]): Millimetre => part.reduce((sum, row) => sum + heightOf(row), 0);
  const head = headHeight(flow.pen(), grid);
  let fresh = false;
  for (let from = 0; from < rows.length; ) {
    const fits = (count: number): boolean => flow.y + head + Math.max(...parts(count, from).map(tall)) <= sheet.bottom;
    const left = rows.length - from;
    let count = left;
    while (count > across && !fits(count)) count -= 1;
    if (!fits(count) && !fresh) {
      flow.turn();
      fresh = true;
      continue;
    }
    const shown = parts(count, from);
    const deepest = Math.max(...shown.map(tall));
    for (const [i, part] of shown.entries()) {
      if (part.length === 0) continue;
      const shift = i * (each + GUTTER);
      const pen = flow.pen();
      drawTableHead(pen, grid, shift, flow.y);
      let y = flow.y + head;
      for (const row of part) {
        pen.line([x + shift, y], [x + shift + each, y], RULE);
        drawRow(pen, grid, row, [shift, y], 0, linesIn(row));
        y += heightOf(row);
      }
      pen.line([x + shift, y], [x + shift + each, y], RULE);
    }
    flow.y += head + deepest + 2;
    from += count;
    if (from < rows.length) {
      flow.turn();
      fresh = true;
    }
  }
}

/** Between tables beside each other, mm. */
export const GUTTER: Millimetre = 6;
/** Boxes to tick, mm across. */
export const TICK = 3.4;
/** A row of up to so many lines is kept together. */
const MOST_LINES_KEPT = 12;
