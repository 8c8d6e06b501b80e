/**
 * Bench tests of one kind as a list, where a grid of them would be too narrow to read: each test a block of its own, with
 * what is its own to do, then each reading on a line with its band and room to write. Blocks run down the columns of a page.
 */
import type { Millimetre } from '../units/index.ts';
import type { FontRole } from './fonts.ts';
import { unitSigns } from './format.ts';
import type { Measure } from './measure.ts';
import { FIRM, HAIR, type Pen } from './pen.ts';
import { type Flow, LEADING, type Sheet } from './sheet.ts';
import { GUTTER, TICK } from './table.ts';
import type { TestGrid } from './test-grids.ts';

/** One test of a list. */
export interface ListedTest {
  readonly name: string;
  /** What is this test's own to do, and what must show: "red on A.1", "Lit: H1 H4". */
  readonly words: readonly string[];
  /** Each with its spot and its band: "A.1 to A.2: 11.27 to 12.75 V". */
  readonly readings: readonly string[];
}

const LABELS = { blades: 'Blades: ', lit: 'Lit: ', unlit: 'Unlit: ', do: '' } as const;

/** The tests of a grid as a list; what all of them say still stands in the grid's `always`. */
export function layList(grid: TestGrid): readonly ListedTest[] {
  return grid.rows
    .filter(({ first }) => first)
    .map(({ cells }, t): ListedTest => {
      const words = grid.columns.flatMap(({ kind, head }, i) => {
        const said = cells[i] ?? '';
        if (kind === 'test' || kind === 'read' || said === '') return [];
        return [kind === 'words' ? `${head} ${said}` : `${LABELS[kind]}${said}`];
      });
      return { name: cells[0] ?? '', words, readings: grid.readings[t] ?? [] };
    });
}

/** Room to write a reading in, mm. */
const WRITE: Millimetre = 14;
/** Between words and the line or the box behind them, mm. */
const CLEAR: Millimetre = 1.2;
/** A line that goes on stands in by so much, mm. */
const HANG: Millimetre = 2.4;
/** Above the first line and below the last of a block, mm. */
const PAD: Millimetre = 0.7;
/** Lines stand further apart than text, so that a figure can be written by hand on each, mm. */
const BY_HAND: Millimetre = 0.8;
const leadingOf = (size: Millimetre): Millimetre => size * LEADING + BY_HAND;
/** A block of more lines is cut, its name said again: so that it fits on a page below the words that lead to it. */
const MOST_LINES = 24;

interface Line {
  readonly text: string;
  readonly font: FontRole;
  readonly indent: Millimetre;
  readonly tick: boolean;
  readonly write: boolean;
}

type Block = readonly Line[];

/** Blocks ready to draw, `across` of them beside each other. */
export interface LaidList {
  readonly across: number;
  readonly each: Millimetre;
  readonly size: Millimetre;
  readonly blocks: readonly Block[];
}

/** Break a list into lines: three columns where every reading keeps to one line in them, else two, else one. */
export function breakList(
  tests: readonly ListedTest[],
  measure: Measure,
  size: Millimetre,
  width: Millimetre,
): LaidList {
  const eachOf = (across: number): Millimetre => (width - GUTTER * (across - 1)) / across;
  const wide = (text: string): Millimetre => measure.width(unitSigns(text), 'text-400', size);
  const readings = tests.flatMap((test) => test.readings);
  const words = [...readings, ...tests.flatMap((test) => [test.name, ...test.words])].flatMap((text) =>
    spaced(text).split(' '),
  );
  const longest = Math.max(0, ...words.map((word) => measure.width(unitSigns(word), 'text-600', size)));
  const keeps = (across: number): boolean => longest + HANG + CLEAR + WRITE <= eachOf(across);
  const across =
    keeps(3) && readings.every((text) => wide(text) + HANG + CLEAR + WRITE <= eachOf(3)) ? 3 : keeps(2) ? 2 : 1;
  const each = eachOf(across);
  const lines = (text: string, font: FontRole, behind: Millimetre, also: Partial<Line> = {}): readonly Line[] => {
    const cut = measure.wrap(unitSigns(text), font, size, each - HANG - behind);
    return cut.map((said, k) => ({
      text: said,
      font,
      indent: k === 0 ? 0 : HANG,
      tick: also.tick === true && k === 0,
      write: also.write === true && k === cut.length - 1,
    }));
  };
  const blocks = tests.flatMap((test): readonly Block[] => {
    const named = (text: string, tick: boolean) => lines(spaced(text), 'text-600', TICK + CLEAR, { tick });
    const body = [
      ...test.words.flatMap((text) => lines(text, 'text-400', CLEAR)),
      ...test.readings.flatMap((text) => lines(text, 'text-400', CLEAR + WRITE, { write: true })),
    ];
    const head = named(test.name, true);
    const again = named(`${test.name}, continued`, false);
    const first = Math.max(1, MOST_LINES - head.length);
    const rest = Math.max(1, MOST_LINES - again.length);
    const cuts: Block[] = [[...head, ...body.slice(0, first)]];
    for (let from = first; from < body.length; from += rest) cuts.push([...again, ...body.slice(from, from + rest)]);
    return cuts;
  });
  return { across, each, size, blocks };
}

/** An id of many parts can go on over lines: "TR1:L1=normal, L2=normal". */
export function spaced(id: string): string {
  return id.replace(/,(?=\S)/g, ', ');
}

const heightOf = (block: Block, size: Millimetre): Millimetre => block.length * leadingOf(size) + 2 * PAD;

/** How tall the first block is, mm: what must stand with the words above. */
export function firstHeight({ blocks, size }: LaidList): Millimetre {
  return blocks[0] === undefined ? 0 : heightOf(blocks[0], size);
}

/** Blocks from the front on, in columns no taller than `most`. */
function fill({ across, size }: LaidList, blocks: readonly Block[], most: Millimetre): readonly (readonly Block[])[] {
  const columns: Block[][] = [[]];
  let used = 0;
  for (const block of blocks) {
    const tall = heightOf(block, size);
    if (used > 0 && used + tall > most) {
      if (columns.length === across) break;
      columns.push([]);
      used = 0;
    }
    if (tall > most) break;
    columns.at(-1)?.push(block);
    used += tall;
  }
  return columns;
}

const countIn = (columns: readonly (readonly Block[])[]): number =>
  columns.reduce((sum, column) => sum + column.length, 0);

/** Draw a list from where the flow stands; columns of its last page are of like height. */
export function drawList(flow: Flow, sheet: Sheet, list: LaidList): void {
  const { each, size } = list;
  let left = list.blocks;
  let fresh = false;
  while (left.length > 0) {
    const room = sheet.bottom - flow.y;
    let columns = fill(list, left, room);
    if (countIn(columns) === 0 && !fresh) {
      flow.turn();
      fresh = true;
      continue;
    }
    if (countIn(columns) === 0) throw new RangeError(`a block of ${left[0]?.length ?? 0} lines is taller than a page`);
    if (countIn(columns) === left.length) {
      // All fits: as low as it still does, so that no column stands alone.
      for (let most = leadingOf(size); most < room; most += leadingOf(size)) {
        const even = fill(list, left, most);
        if (countIn(even) < left.length) continue;
        columns = even;
        break;
      }
    }
    let lowest = flow.y;
    for (const [i, column] of columns.entries())
      lowest = Math.max(lowest, drawColumn(flow.pen(), column, [sheet.left + i * (each + GUTTER), flow.y], each, size));
    flow.y = lowest + 2;
    left = left.slice(countIn(columns));
    if (left.length > 0) {
      flow.turn();
      fresh = true;
    }
  }
}

const RULE = { stroke: '#9a9a9a', width: HAIR };

function drawColumn(
  pen: Pen,
  blocks: readonly Block[],
  [x, top]: readonly [Millimetre, Millimetre],
  each: Millimetre,
  size: Millimetre,
): Millimetre {
  const leading = leadingOf(size);
  let y = top;
  for (const block of blocks) {
    pen.line([x, y], [x + each, y], RULE);
    for (const [k, { text, font, indent, tick, write }] of block.entries()) {
      const base = y + PAD + leading * (k + 1);
      const used = indent + pen.text([x + indent, base - size * 0.36], text, { font, size });
      if (tick)
        pen.rect([x + each - TICK, base - leading / 2 - TICK / 2], [TICK, TICK], { stroke: '#000000', width: FIRM });
      if (write) pen.line([x + used + CLEAR, base - 0.3], [x + each, base - 0.3], { stroke: '#000000', width: HAIR });
    }
    y += heightOf(block, size);
  }
  pen.line([x, y], [x + each, y], RULE);
  return y;
}
