import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { describeFace } from '../../laying/index.ts';
import { type PanelFile, readPanel } from '../../panel/index.ts';
import { readPlan } from '../../plan/index.ts';
import { outlineRows } from './outline-rows.ts';

const demo = readPanel(
  readFileSync(join(import.meta.dirname, '../../../examples/quillhaven-harbour.mimic.json'), 'utf8'),
);
if (!demo.ok) throw new Error('the demo panel does not read');

const rowsOf = (panel: PanelFile) => outlineRows(panel, describeFace(panel, readPlan(panel)), 'mm');

describe('the sheet as a list', () => {
  it('has a row for everything on the demo panel, each once', () => {
    const rows = rowsOf(demo.panel);
    expect(new Set(rows.map(({ key }) => key)).size).toBe(rows.length);
    const { strips, points = [], places = [], lamps = [], levers = [] } = demo.panel;
    for (const { id } of strips)
      expect(
        rows.some(({ key }) => key === `strip ${id}`),
        id,
      ).toBe(true);
    for (const { id } of points)
      expect(
        rows.some(({ key }) => key === `point ${id}`),
        id,
      ).toBe(true);
    for (const { id } of places)
      expect(
        rows.some(({ key }) => key === `place ${id}`),
        id,
      ).toBe(true);
    for (const { id } of lamps)
      expect(
        rows.some(({ key }) => key === `lamp ${id}`),
        id,
      ).toBe(true);
    for (const { id } of levers)
      expect(
        rows.some(({ key }) => key === `lever ${id}`),
        id,
      ).toBe(true);
  });
  it('says a point by the strips of its legs and its lever', () => {
    const p4 = rowsOf(demo.panel).find(({ key }) => key === 'point P4');
    // As the file lays it: the crossover leaves the platform loop at P4, and L4 works it.
    expect(p4?.text).toBe('P4, on Platform loop, normal to Platform 2, reverse to Quay crossover, worked by L4');
    // What moves is the end that makes the point.
    expect(p4?.picks).toEqual({ list: 'strips', id: 'crossover', part: 0 });
  });
  it('says an end without a name, and offers nothing to move of it', () => {
    const panel: PanelFile = {
      format: 'mimic-panel',
      version: 1,
      strips: [
        {
          id: 'main',
          path: [
            [0, 60],
            [200, 60],
          ],
        },
      ],
    };
    const rows = rowsOf(panel);
    expect(rows.map(({ text }) => text)).toEqual([
      'Strip 1, strip of 200 mm, from the free end E1 to the free end E2',
      'E1, unnamed end of Strip 1',
      'E2, unnamed end of Strip 1',
    ]);
    expect(rows[1]).toMatchObject({ picks: null, lifts: false });
  });
});
