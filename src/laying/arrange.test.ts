import { describe, expect, it } from 'vitest';
import { tracks } from '../../tests/generate/tracks.ts';
import { applyTransaction, type PanelFile, type Transaction } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import { alignThings, boxOfThings, mirrorThings, moveThings, type Picked, spaceThings, turnThings } from './index.ts';

const done = (panel: PanelFile, tx: Transaction | null) =>
  applyTransaction(panel, tx ?? { name: 'nothing.done', changes: [] });

const levers = (...ats: [number, number][]): PanelFile => ({
  ...tracks(''),
  levers: ats.map((at, i) => ({ id: `L${i + 1}`, at })),
});
const all = (panel: PanelFile): Picked[] => (panel.levers ?? []).map(({ id }) => ({ list: 'levers', id }));
const ats = (panel: PanelFile) => panel.levers?.map(({ at }) => at);

describe('many things at once', () => {
  it('are moved together, levers of the row from where they stand', () => {
    const panel = tracks('main 0,60 300,60\nb 100,60 140,85 200,85');
    const at = readPlan(panel).levers[0]?.at ?? [0, 0];
    const after = done(panel, moveThings(panel, [{ list: 'levers', id: 'L1' }], [5, 5]));
    expect(after.levers).toEqual([{ id: 'L1', works: [{ point: 'P1' }], at: [at[0] + 5, at[1] + 5] }]);
  });

  it('a corner and a lamp, and nothing else', () => {
    const panel = tracks('main 0,60 150,60 300,60', { lamps: [{ id: 'H1', at: [10, 10] }] });
    const picked: Picked[] = [
      { list: 'strips', id: 'main', part: 1 },
      { list: 'lamps', id: 'H1' },
    ];
    const after = done(panel, moveThings(panel, picked, [0, 20]));
    expect(after.strips[0]?.path).toEqual([
      [0, 60],
      [150, 80],
      [300, 60],
    ]);
    expect(after.lamps?.[0]?.at).toEqual([10, 30]);
  });

  it('a named end goes with its strip, a lamp picked beside it once', () => {
    const panel = tracks('main 0,60 300,60\n@west West 0,60', { lamps: [{ id: 'H1', at: [10, 60] }] });
    const picked: Picked[] = [
      { list: 'strips', id: 'main' },
      { list: 'places', id: 'west' },
      { list: 'lamps', id: 'H1' },
    ];
    const after = done(panel, moveThings(panel, picked, [10, 10]));
    expect(after.places?.[0]).toEqual({ id: 'west', name: 'West', at: [10, 70] });
    expect(after.lamps?.[0]?.at).toEqual([20, 70]);
  });

  it('line up by edges and middles', () => {
    const panel = levers([10, 100], [50, 110], [90, 130]);
    expect(ats(done(panel, alignThings(panel, all(panel), 'top')))).toEqual([
      [10, 100],
      [50, 100],
      [90, 100],
    ]);
    expect(ats(done(panel, alignThings(panel, all(panel), 'right')))?.map((at) => at?.[0])).toEqual([90, 90, 90]);
    expect(ats(done(panel, alignThings(panel, all(panel), 'across')))?.map((at) => at?.[0])).toEqual([50, 50, 50]);
    expect(ats(done(panel, alignThings(panel, all(panel), 'down')))?.map((at) => at?.[1])).toEqual([115, 115, 115]);
    expect(alignThings(panel, all(panel).slice(0, 1), 'top')).toBe(null);
  });

  it('are spaced evenly between the first and the last', () => {
    const panel = levers([10, 100], [90, 110], [20, 130], [40, 90]);
    expect(ats(done(panel, spaceThings(panel, all(panel), 'across')))?.map((at) => at?.[0])).toEqual([
      10, 90, 36.667, 63.333,
    ]);
    expect(spaceThings(panel, all(panel).slice(0, 2), 'across')).toBe(null);
  });

  it('are mirrored: a point stays that point, its hand changes', () => {
    const panel = tracks('main 0,60 300,60\nb 100,60 140,85 200,85', {
      lamps: [{ id: 'H1', at: [120, 72.5], shows: { P1: 'reverse' } }],
      levers: [
        { id: 'L1', at: [20, 120], works: [{ point: 'P1' }] },
        { id: 'L2', at: [120, 72.5], angle: 32 },
      ],
      platforms: [{ at: [100, 90], size: [60, 10], names: [{ at: [102, 98], text: '1', anchor: 'start' }] }],
      points: [{ id: 'P1', at: [100, 60], normal: 'left' }],
    });
    const picked: Picked[] = [
      { list: 'strips', id: 'main' },
      { list: 'strips', id: 'b' },
      { list: 'levers', id: 'L1' },
      { list: 'levers', id: 'L2' },
      { list: 'platforms', id: 0 },
    ];
    const after = done(panel, mirrorThings(panel, picked, 'left-right'));
    const [was, is] = [readPlan(panel).points[0], readPlan(after).points[0]];
    expect(is?.id).toBe('P1');
    expect([is?.normalStrip, is?.at]).toEqual([was?.normalStrip, [200, 60]]);
    expect([was?.hand, is?.hand]).toEqual(['right', 'left']);
    expect(after.lamps?.[0]?.at).toEqual([180, 72.5]);
    expect(after.levers?.map(({ at, angle }) => [at, angle])).toEqual([
      [[280, 120], undefined],
      [[180, 72.5], -32],
    ]);
    expect(after.platforms).toEqual([
      { at: [140, 90], size: [60, 10], names: [{ at: [198, 98], text: '1', anchor: 'end' }] },
    ]);
    const down = done(panel, mirrorThings(panel, [{ list: 'levers', id: 'L2' }], 'up-down'));
    expect(down.levers?.[1]?.angle).toBe(148);
    // A lever of the row stays upright, whichever way the sheet is mirrored.
    const row = done(panel, mirrorThings(panel, picked, 'up-down'));
    expect(row.levers?.map(({ angle }) => angle)).toEqual([undefined, 148]);
  });

  it('are turned about a spot; oblongs change sides at odd quarters', () => {
    const panel: PanelFile = {
      ...tracks('main 0,60 100,60'),
      platforms: [{ at: [40, 70], size: [20, 10] }],
      levers: [{ id: 'L1', at: [50, 100], angle: 170 }],
    };
    const picked: Picked[] = [{ list: 'strips', id: 'main' }, { list: 'platforms', id: 0 }, ...all(panel)];
    const after = done(panel, turnThings(panel, picked, 90, { about: [50, 60] }));
    expect(after.strips[0]?.path).toEqual([
      [50, 10],
      [50, 110],
    ]);
    expect(after.platforms).toEqual([{ at: [30, 50], size: [10, 20] }]);
    expect(after.levers?.[0]).toEqual({ id: 'L1', at: [10, 60], angle: -100 });
    expect(turnThings(panel, picked, Number.NaN)).toBe(null);
    expect(turnThings(panel, picked, 0)).toBe(null);
  });

  it('have an oblong around them', () => {
    const panel: PanelFile = { ...tracks('main 0,60 100,60'), platforms: [{ at: [90, 70], size: [20, 10] }] };
    expect(
      boxOfThings(panel, [
        { list: 'strips', id: 'main' },
        { list: 'platforms', id: 0 },
      ]),
    ).toEqual({
      left: 0,
      top: 60,
      right: 110,
      bottom: 80,
    });
    expect(boxOfThings(panel, [])).toBe(null);
  });
});
