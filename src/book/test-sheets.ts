/**
 * Bench tests to work through: what a kind of test always asks stands once, below it what differs, in the rows of a grid or,
 * where its columns would be too narrow to read, in the blocks of a list.
 */
import type { Derived } from '../derive.ts';
import type { BenchTest } from '../prove/index.ts';
import type { Millimetre } from '../units/index.ts';
import { unitSigns } from './format.ts';
import type { Measure } from './measure.ts';
import { pt } from './page.ts';
import { SMALLEST } from './pen.ts';
import { LEADING, type Leaf, type Setting, startFlow } from './sheet.ts';
import { BLANK, type Column, drawTable, GAP, GUTTER, type TableCell, TICK } from './table.ts';
import { type GridColumn, gridKey, layGrid, pattern, sentences, type TestGrid } from './test-grids.ts';
import { breakList, drawList, firstHeight, layList, spaced } from './test-lists.ts';
import { counted } from './words.ts';

const STAGES = [
  'Stage 0: look',
  'Stage 1: the layout half, through the connector',
  'Stage 2: the panel unplugged, no power',
  'Stage 3: the panel unplugged, on a limited feed',
  'Stage 4: panel and layout together',
  'Stage 5: a train over every leg of every point',
  'Stage 6: a coin across the rails, everywhere',
] as const;

/** What a pass rules out and what it cannot tell, each said once; a sentence that differs in figures alone is given as of its first test. */
function notes(tests: readonly BenchTest[], of: (test: BenchTest) => string): readonly string[] {
  const seen = new Map<string, { readonly text: string; readonly id: string; readonly texts: Set<string> }>();
  for (const test of tests) {
    for (const sentence of sentences(of(test))) {
      const key = pattern(sentence);
      const known = seen.get(key);
      if (known === undefined) seen.set(key, { text: sentence, id: test.id, texts: new Set([sentence]) });
      else known.texts.add(sentence);
    }
  }
  return [...seen.values()].map(({ text, id, texts }) =>
    texts.size === 1 ? text : `${text} (Figures of ${id}; the others much the same.)`,
  );
}

const ROW_SIZE: Millimetre = pt(8.6);
/** A column of words gets no more than this before its text wraps, mm. */
const WIDEST: Partial<Record<GridColumn['kind'], Millimetre>> = {
  test: 34,
  words: 46,
  lit: 34,
  unlit: 34,
  blades: 30,
  do: 70,
};
/** A figure with its unit gets no less, the room to write beside it, mm. */
const LEAST_READ: Millimetre = 14;
/** Between a figure and the line behind it, mm. */
const CLEAR: Millimetre = 1.2;
/** Widths are sums of letters: a hair more than the text, so that it never wraps for rounding, mm. */
const HAIR_MORE: Millimetre = 0.2;

/** A heading with the room above it, mm. */
const HEADING_TALL: Millimetre = 10;
/** The head of a grid and its first rows, mm. */
const FIRST_ROWS: Millimetre = 26;

const shownIn = ({ kind }: GridColumn, text: string): string => unitSigns(kind === 'test' ? spaced(text) : text);

/**
 * What each column needs. `full`: its longest cell, or its head over three lines at the most. `least`: its longest word, and
 * of a reading its longest part, spot or band.
 */
function widthsOf(
  measure: Measure,
  grid: TestGrid,
): readonly { readonly least: Millimetre; readonly full: Millimetre }[] {
  return grid.columns.map((column, i) => {
    const { kind, head } = column;
    const font = kind === 'test' ? 'text-600' : 'text-400';
    const widest = (texts: readonly string[]): Millimetre =>
      Math.max(0, ...texts.map((text) => measure.width(text, font, ROW_SIZE)));
    const cells = grid.rows.map((row) => shownIn(column, row.cells[i] ?? ''));
    const blank = kind === 'read' ? BLANK + CLEAR : 0;
    const parts = cells.flatMap((cell) => cell.split(kind === 'read' ? /(?<=: )/ : ' '));
    const headWords = head.split(' ').map((word) => measure.width(unitSigns(word), 'text-400', SMALLEST));
    const least = Math.max(widest(parts) + blank, ...headWords, kind === 'read' ? LEAST_READ : 0);
    const full = Math.max(
      Math.min(widest(cells) + blank, WIDEST[kind] ?? Number.POSITIVE_INFINITY),
      measure.width(head, 'text-400', SMALLEST) / 2.5,
      least,
    );
    return { least: least + HAIR_MORE, full: full + HAIR_MORE };
  });
}

/** Columns for the table, and how many tables stand beside each other; null where a column would be too narrow to read. */
function columnsOf(
  measure: Measure,
  grid: TestGrid,
  room: Millimetre,
): { readonly columns: readonly Column[]; readonly across: number } | null {
  const widths = widthsOf(measure, grid);
  const beside = GAP * widths.length + TICK;
  const least = widths.reduce((sum, width) => sum + width.least, beside);
  const full = widths.reduce((sum, width) => sum + width.full, beside);
  if (least > room) return null;
  const fits = (across: number): boolean => full <= (room - GUTTER * (across - 1)) / across;
  const across = grid.rows.every(({ first }) => first) ? ([4, 3, 2].find(fits) ?? 1) : 1;
  // What is left over lengthens the blanks; where there are none, the last column of words.
  const grows = (i: number): boolean =>
    grid.columns.some((column) => column.kind === 'read')
      ? grid.columns[i]?.kind === 'read'
      : i === grid.columns.length - 1;
  // Too wide: every column gives up the same share of what it can do without.
  const kept = full > room ? (room - least) / (full - least) : 1;
  return {
    across,
    columns: [
      ...grid.columns.map((column, i): Column => {
        const { least: low, full: high } = widths[i] ?? { least: 0, full: 0 };
        return {
          title: column.head,
          width: kept < 1 ? low + (high - low) * kept : grows(i) ? { share: high } : high,
          ...(column.kind === 'test' ? { font: 'text-600' as const } : {}),
        };
      }),
      { title: '', width: TICK, anchor: 'end' },
    ],
  };
}

/** Bench tests in the order of work, with bands, a line for each reading and a box. */
export function testPages(derived: Derived, setting: Setting): Leaf[] {
  const tests = derived.tests();
  const flow = startFlow(setting, {
    title: 'Bench tests',
    lead: 'In this order. Write what you read on the line; tick what passes; do not go on past a test that fails. A reading is right from the lower to the upper figure. In brackets stands what the test is named after.',
    name: 'tests',
    bookmark: { title: 'Bench tests', level: 0 },
  });
  const { sheet, measure } = setting;
  const small = { size: pt(9), after: 0.8 };
  if (tests.length === 0) flow.paragraph('There is nothing to test yet.');
  for (const [stage, title] of STAGES.entries()) {
    const part = tests.filter((test) => test.stage === stage);
    if (part.length === 0) continue;
    for (const [k, key] of [...new Set(part.map(gridKey))].entries()) {
      const group = part.filter((test) => gridKey(test) === key);
      const grid = layGrid(group);
      const said = [
        ...(grid.always.length > 0 ? [grid.always.join(' ')] : []),
        ...labelled(
          'A pass rules out',
          notes(group, (test) => test.tells),
        ),
        ...labelled(
          'It cannot tell',
          notes(group, (test) => test.cannotTell),
        ),
      ].map(unitSigns);
      const table = columnsOf(measure, grid, sheet.width);
      const list = table === null ? breakList(layList(grid), measure, ROW_SIZE, sheet.width) : null;
      const lines = said.reduce((sum, text) => sum + measure.wrap(text, 'text-400', small.size, sheet.width).length, 0);
      const keep = list === null ? FIRST_ROWS : firstHeight(list) + 2;
      // The words stay with the first rows under them, and the heading with the words.
      const above = lines * small.size * LEADING + said.length * small.after + (k === 0 ? HEADING_TALL : 0);
      flow.need(Math.min(above + keep, (sheet.bottom - sheet.top) / 2));
      if (k === 0) flow.heading(title, counted(part.length, 'test'));
      flow.y += 1;
      for (const text of said) flow.paragraph(text, small);
      if (list !== null) drawList(flow, sheet, list);
      if (table === null) continue;
      const reads = grid.columns.findIndex((column) => column.kind === 'read');
      drawTable(
        flow,
        sheet,
        table.columns,
        grid.rows.map(({ first, cells }, row): TableCell[] => [
          ...grid.columns.map((column, i): TableCell => {
            const text = shownIn(column, cells[i] ?? '');
            // Where the head says it all, there is still a reading to write.
            return i >= reads && i < reads + (grid.asked[row] ?? 0) ? { text, write: true } : text;
          }),
          first ? { tick: true } : '',
        ]),
        {
          size: ROW_SIZE,
          pad: 0.6,
          across: table.across,
          joined: grid.rows.flatMap(({ first }, i) => (first ? [] : [i])),
        },
      );
    }
  }
  return flow.leaves;
}

function labelled(label: string, said: readonly string[]): readonly string[] {
  return said.length === 0 ? [] : [`${label}: ${said.join(' ')}`];
}
