import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { boundsOf } from './bounds.ts';
import { openFaces } from './faces.ts';
import { FONT_FILES, type FontFiles } from './fonts.ts';
import { measureWith } from './measure.ts';
import { bindPages, type Setting, sheetOf, startFlow } from './sheet.ts';
import { drawTable, placeColumns } from './table.ts';

let setting: Setting;
beforeAll(async () => {
  const read = Object.entries(FONT_FILES).map(([role, path]) => [
    role,
    new Uint8Array(readFileSync(`node_modules/${path}`)),
  ]);
  setting = {
    measure: measureWith(await openFaces(Object.fromEntries(read) as FontFiles)),
    sheet: sheetOf('A4'),
    imprint: { panel: 'Bramble Siding', revision: 'A', date: '2026-03-01' },
    barMeasured: 100,
  };
});

const columns = [
  { title: 'Hole', width: 14 },
  { title: 'What it is for', width: { share: 2 } },
  { title: 'x', width: 12, anchor: 'end' as const },
  { title: 'And a long head that must wrap', width: { share: 1 } },
];

describe('tables', () => {
  test('columns fill the width, with gaps between', () => {
    const placed = placeColumns(columns, 20, 170);
    const last = placed.at(-1);
    expect((last?.x ?? 0) + (last?.width ?? 0)).toBeCloseTo(190, 9);
    for (const [i, each] of placed.slice(1).entries())
      expect(each.x).toBeGreaterThan((placed[i]?.x ?? 0) + (placed[i]?.width ?? 0));
  });

  test('no text leaves its column or the body of the page, whatever it says, seed 297', () => {
    const text = fc.string({ unit: 'grapheme', maxLength: 90 });
    fc.assert(
      fc.property(fc.array(fc.tuple(text, text, text, text), { minLength: 1, maxLength: 40 }), (rows) => {
        const flow = startFlow(setting, { title: 'T' });
        drawTable(flow, setting.sheet, columns, rows);
        const placed = placeColumns(columns, setting.sheet.left, setting.sheet.width);
        for (const leaf of flow.leaves) {
          for (const op of leaf.pen.ops) {
            if (op.op !== 'text') continue;
            const [x0, , x1] = boundsOf(op);
            expect(op.at[1]).toBeLessThanOrEqual(setting.sheet.bottom);
            expect(op.at[1]).toBeGreaterThanOrEqual(setting.sheet.top);
            if (
              op.runs
                .map((run) => run.text)
                .join('')
                .startsWith('T')
            )
              continue;
            expect(placed.some(({ x, width }) => x0 >= x - 1e-6 && x1 <= x + width + 1e-6)).toBe(true);
          }
        }
      }),
      { seed: 297, numRuns: 60 },
    );
  });

  test('a row taller than a page goes on over the next', () => {
    const flow = startFlow(setting, { title: 'T' });
    drawTable(flow, setting.sheet, columns, [['H1', 'word '.repeat(3000), '', '']]);
    expect(flow.leaves.length).toBeGreaterThan(1);
  });
});

describe('feet', () => {
  test('every page says panel, revision, date and its number', () => {
    const flow = startFlow(setting, { title: 'T' });
    flow.turn();
    const said = bindPages(flow.leaves, setting, 'Build book').map((page) =>
      page.ops.flatMap((op) => (op.op === 'text' ? [op.runs.map((run) => run.text).join('')] : [])).slice(-3),
    );
    expect(said).toEqual([
      ['Mimicwright', 'Build book, page 1 of 2', 'Bramble Siding, revision A, 1 March 2026'],
      ['Mimicwright', 'Build book, page 2 of 2', 'Bramble Siding, revision A, 1 March 2026'],
    ]);
  });
});
