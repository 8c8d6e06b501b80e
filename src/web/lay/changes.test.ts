/** What changed, told by name: expected sentences worked out by hand from the edits. */
import { describe, expect, it } from 'vitest';
import { editOf, type PanelFile } from '../../panel/index.ts';
import { changesBetween, marksBetween } from './changes.ts';

const PANEL: PanelFile = {
  format: 'mimic-panel',
  version: 1,
  name: 'Bramble Siding',
  face: { width: 300, height: 150, fixings: [{ at: [7, 7], drill: 3.2 }] },
  strips: [
    {
      id: 'main',
      name: 'Main',
      path: [
        [0, 60],
        [300, 60],
      ],
    },
    {
      id: 'loop',
      path: [
        [60, 60],
        [100, 85],
        [240, 60],
      ],
    },
  ],
  points: [{ id: 'P7', at: [60, 60] }],
  lamps: [{ id: 'H1', at: [150, 60] }],
};
const linesAfter = (after: PanelFile, unit: 'mm' | 'in' = 'mm') =>
  changesBetween(PANEL, after, unit).lines.map(({ text }) => text);

describe('what changed', () => {
  it('is nothing between a panel and itself', () => {
    expect(changesBetween(PANEL, { ...PANEL }, 'mm')).toEqual({ counts: [], lines: [] });
    expect(marksBetween(PANEL, PANEL)).toEqual([]);
  });

  it('is how far a thing moved, in the unit of the screen', () => {
    const after = editOf(PANEL).update('points', 'P7', { at: [60, 72] }).panel;
    expect(linesAfter(after)).toEqual(['P7 moved 12.0 mm']);
    // 12 mm are 0.472 in: 1 in = 25.4 mm, NIST SP 811, B.8.
    expect(linesAfter(after, 'in')).toEqual(['P7 moved 0.47 in']);
    expect(marksBetween(PANEL, after)).toEqual([{ id: 'points P7 now', gone: false, at: [60, 72], path: [] }]);
  });

  it('of a strip is whether it moved whole, by a corner, or was drawn anew', () => {
    const drawn = (path: readonly (readonly [number, number])[]) =>
      linesAfter(editOf(PANEL).update('strips', 'loop', { path: path.map(([x, y]) => [x, y]) }).panel);
    expect(
      drawn([
        [63, 64],
        [103, 89],
        [243, 64],
      ]),
    ).toEqual(['Strip 2 moved 5.0 mm']);
    expect(
      drawn([
        [60, 60],
        [100, 85],
        [250, 60],
      ]),
    ).toEqual(['Strip 2 has a corner moved 10.0 mm']);
    expect(
      drawn([
        [60, 60],
        [240, 60],
      ]),
    ).toEqual(['Strip 2 drawn with 2 corners in place of 3']);
  });

  it('counts by kind, and tells what was laid, lifted and set, on the face as well', () => {
    const after = editOf(PANEL)
      .add('strips', {
        id: 'spur',
        path: [
          [0, 0],
          [9, 9],
        ],
      })
      .remove('lamps', 'H1')
      .update('strips', 'main', { width: 6 })
      .set('name', 'Bramble Yard')
      .set('face', { width: 400, height: 150, fixings: [{ at: [7, 7], drill: 4 }] }).panel;
    const { counts, lines } = changesBetween(PANEL, after, 'mm');
    expect(counts).toEqual(['Lamp: 1 taken out', 'Strips: 1 laid, 1 altered', 'Screw hole: 1 altered']);
    expect(new Set(lines.map(({ id }) => id)).size).toBe(lines.length);
    expect(lines.map(({ text }) => text)).toEqual([
      'H1 taken out',
      'Strip 3 laid',
      'Main has width 6',
      'Screw hole 1 has drill 4 in place of 3.2',
      'The panel has name “Bramble Yard” in place of “Bramble Siding”',
      'The face has width 400 in place of 300',
    ]);
    const marks = marksBetween(PANEL, after);
    expect(marks.map(({ id }) => id)).toEqual(['lamps H1 gone', 'strips spur now', 'strips main now', 'fixings 0 now']);
    expect(marks[0]?.at).toEqual([150, 60]);
  });
});
