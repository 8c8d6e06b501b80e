import { describe, expect, it } from 'vitest';
import { done } from '../../tests/generate/done.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import type { PanelFile } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { setDrive, setSwitch, sizeOf, switchLike } from './index.ts';

const bare = tracks('main 0,60 300,60\nloop 60,60 90,85 210,85 240,60');

describe('setDrive', () => {
  it('gives a point without a record one, and takes the key out again', () => {
    const after = done(bare, setDrive(bare, ['P1'], 'limit-2-wire'));
    expect(after.points).toEqual([{ id: 'P1', at: [60, 60], drive: 'limit-2-wire' }]);
    expect(done(after, setDrive(after, ['P1'], null)).points).toEqual([{ id: 'P1', at: [60, 60] }]);
    expect(setDrive(bare, ['P1'], 'stall-2-wire')).toBe(null);
    expect(setDrive(bare, ['P1'], 'steam')).toBe(null);
  });

  it('keeps the record of a drive but for what was measured of the old one', () => {
    const panel: PanelFile = {
      ...bare,
      points: [
        { id: 'P1', at: [60, 60], drive: 'D1' },
        { id: 'P2', at: [240, 60], drive: 'D1' },
      ],
      drives: [{ id: 'D1', part: 'stall-2-wire', wire: { length: 900 }, measured: { amps: 0.01 } }],
    };
    const after = done(panel, setDrive(panel, ['P2'], 'limit-2-wire'));
    expect(after.drives).toEqual([{ id: 'D1', part: 'limit-2-wire', wire: { length: 900 } }]);
    expect(after.points).toEqual(panel.points);
  });

  it('takes a point off its lever for a hand, and gives it one again', () => {
    const panel: PanelFile = { ...bare, levers: [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2' }] }] };
    const byHand = done(panel, setDrive(panel, ['P2'], 'hand'));
    expect(byHand.levers).toEqual([{ id: 'L1', works: [{ point: 'P1' }] }]);
    const again = done(byHand, setDrive(byHand, ['P2'], null));
    expect(readPlan(again).levers.map(({ id, works }) => [id, works.map(({ point }) => point)])).toEqual([
      ['L1', ['P1']],
      ['L2', ['P2']],
    ]);
  });

  it('names the end of a slip', () => {
    const slip: PanelFile = {
      format: 'mimic-panel',
      version: 1,
      strips: [
        {
          id: 'a',
          path: [
            [0, 50],
            [200, 50],
          ],
        },
        {
          id: 'b',
          path: [
            [50, 20],
            [150, 80],
          ],
        },
      ],
      crossings: [{ id: 'X1', at: [100, 50], kind: 'double-slip' }],
    };
    const [first, second] = readPlan(slip).points;
    const after = done(slip, setDrive(slip, [second?.id ?? ''], 'servo-board'));
    expect(after.crossings?.[0]?.ends).toEqual([{ id: first?.id }, { id: second?.id, drive: 'servo-board' }]);
    expect(readPlan(after).points.map(({ record }) => record?.drive)).toEqual([undefined, 'servo-board']);
  });
});

describe('setSwitch and switchLike', () => {
  const catalogue = resolveCatalogue(undefined);
  const part = catalogue.find('switch', 'toggle-3p');

  it('sets it, and leaves it to the tool again', () => {
    const after = done(bare, setSwitch(bare, ['L1'], 'toggle-2p-centre-off'));
    expect(after.levers?.map((each) => each.switch)).toEqual(['toggle-2p-centre-off', undefined]);
    expect(done(after, setSwitch(after, ['L1'], null)).levers?.[0]).toEqual({ id: 'L1', works: [{ point: 'P1' }] });
    expect(setSwitch(bare, ['L1'], null)).toBe(null);
    expect(setSwitch(bare, ['L9'], 'toggle-2p')).toBe(null);
  });

  it('finds the toggle that differs in what is wanted', () => {
    if (part === undefined) throw new Error('no toggle-3p');
    const like = (wanted: Parameters<typeof switchLike>[2]) => switchLike(catalogue, part, wanted)?.id;
    expect(like({ action: 'centre-off' })).toBe('toggle-3p-centre-off');
    expect(like({ action: 'sprung', size: 'mini-toggle' })).toBe('mini-toggle-3p-sprung');
    expect(like({ poles: 4 })).toBe('toggle-4p');
    expect(like({ size: 'sub-mini-toggle' })).toBeUndefined();
    expect(sizeOf('mini-toggle-2p-centre-off')).toBe('mini-toggle');
    expect(sizeOf('my-rocker')).toBe(null);
  });
});
