/** Bench tests to work through: what a kind of test always asks stands once above its grid, what differs in the rows. */
import type { Derived } from '../derive.ts';
import type { BenchTest } from '../prove/index.ts';
import type { Millimetre } from '../units/index.ts';
import { unitSigns } from './format.ts';
import type { Measure } from './measure.ts';
import { pt } from './page.ts';
import { SMALLEST } from './pen.ts';
import { type Leaf, type Setting, startFlow } from './sheet.ts';
import { BLANK, type Column, drawTable, GAP, GUTTER, type TableCell, TICK } from './table.ts';
import { type GridColumn, gridKey, layGrid, pattern, sentences, type TestGrid } from './test-grids.ts';
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
const WIDEST: Partial<Record<GridColumn['kind'], Millimetre>> = { words: 46, lit: 34, unlit: 34, blades: 30, do: 70 };

/** What each column needs: its longest cell, or its head over three lines at the most. */
function widthsOf(measure: Measure, grid: TestGrid): readonly Millimetre[] {
  return grid.columns.map(({ kind, head }, i) => {
    const font = kind === 'test' ? 'text-600' : 'text-400';
    const cells = grid.rows.map((row) => measure.width(unitSigns(row.cells[i] ?? ''), font, ROW_SIZE));
    const cell = Math.max(0, ...cells) + (kind === 'read' ? BLANK + 1.2 : 0);
    const words = head.split(' ').map((word) => measure.width(word, 'text-400', SMALLEST));
    const least = Math.max(measure.width(head, 'text-400', SMALLEST) / 2.5, ...words);
    return Math.max(Math.min(cell, WIDEST[kind] ?? Number.POSITIVE_INFINITY), least) + 0.2;
  });
}

/** Columns for the table, and how many tables stand beside each other. */
function columnsOf(
  grid: TestGrid,
  widths: readonly Millimetre[],
  room: Millimetre,
): { readonly columns: readonly Column[]; readonly across: number } {
  const total = widths.reduce((sum, width) => sum + width + GAP, 0) + TICK;
  const fits = (across: number): boolean => total <= (room - GUTTER * (across - 1)) / across;
  const across = grid.rows.every(({ first }) => first) ? ([4, 3, 2].find(fits) ?? 1) : 1;
  // What is left over lengthens the blanks; where there are none, the last column of words.
  const grows = (i: number): boolean =>
    grid.columns.some((column) => column.kind === 'read')
      ? grid.columns[i]?.kind === 'read'
      : i === grid.columns.length - 1;
  const over = total > room;
  return {
    across,
    columns: [
      ...grid.columns.map((column, i): Column => {
        const width = widths[i] ?? 0;
        return {
          title: column.head,
          width: over ? (column.kind === 'test' ? width : { share: width }) : grows(i) ? { share: width } : width,
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
    flow.heading(title, counted(part.length, 'test'));
    for (const key of new Set(part.map(gridKey))) {
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
      const lines = said.reduce((sum, text) => sum + measure.wrap(text, 'text-400', small.size, sheet.width).length, 0);
      // The words stay with the first rows under them.
      flow.need(Math.min(lines * small.size * 1.34 + said.length * small.after + 26, (sheet.bottom - sheet.top) / 2));
      flow.y += 1;
      for (const text of said) flow.paragraph(text, small);
      const { columns, across } = columnsOf(grid, widthsOf(measure, grid), sheet.width);
      drawTable(
        flow,
        sheet,
        columns,
        grid.rows.map(({ first, cells }): TableCell[] => [
          ...cells.map((text, i): TableCell => {
            const said = unitSigns(text);
            return grid.columns[i]?.kind === 'read' && text !== '' ? { text: said, write: true } : said;
          }),
          first ? { tick: true } : '',
        ]),
        { size: ROW_SIZE, pad: 0.6, across, joined: grid.rows.flatMap(({ first }, i) => (first ? [] : [i])) },
      );
    }
  }
  return flow.leaves;
}

function labelled(label: string, said: readonly string[]): readonly string[] {
  return said.length === 0 ? [] : [`${label}: ${said.join(' ')}`];
}
