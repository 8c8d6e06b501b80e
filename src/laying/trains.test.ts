import { describe, expect, it } from 'vitest';
import { done } from '../../tests/generate/done.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import type { PanelFile } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import { readTrains, type Standing } from '../routes/index.ts';
import { putTrains } from './index.ts';

const sheet: PanelFile = {
  ...tracks('main 0,60 300,60\nloop 60,60 90,85 210,85 240,60'),
  places: [
    { id: 'west', at: [0, 60] },
    { id: 'east', at: [300, 60] },
    { id: 'loop-road', at: [150, 85] },
  ],
};
const goods = { id: 'T1', name: 'Goods', length: 900, stands: 'west', heads: 'east' };
const coal = { id: 'T2', name: null, length: null, stands: 'loop-road', heads: null };

const standing = (panel: PanelFile): Standing => readTrains(panel, readPlan(panel));

describe('putTrains', () => {
  it('writes what is told of each train, and no key of which nothing is', () => {
    const put = putTrains(sheet, [goods, coal]);
    expect(put?.ids).toEqual({ T1: 'T1', T2: 'T2' });
    const after = done(sheet, put?.tx ?? null);
    expect(after.trains).toEqual([
      { id: 'T1', name: 'Goods', length: 900, stands: 'west', heads: 'east' },
      { id: 'T2', stands: 'loop-road' },
    ]);
    expect(standing(after)).toEqual([goods, coal]);
    expect(putTrains(after, [goods, coal])).toBe(null);
  });

  it('moves, renames and takes off, and keeps what else the file says of a train', () => {
    const stock = { id: 'T1', name: 'Goods', length: 900, stands: 'west', heads: 'east', livery: 'grey' };
    const panel: PanelFile = { ...sheet, trains: [stock, { id: 'T2', stands: 'loop-road' }] };
    const put = putTrains(panel, [{ ...goods, name: 'Fish', length: null, stands: 'east', heads: null }]);
    const after = done(panel, put?.tx ?? null);
    expect(after.trains).toEqual([{ id: 'T1', name: 'Fish', stands: 'east', livery: 'grey' }]);
    expect(after.retired).toEqual(['T2']);
  });

  it('leaves trains that stand nowhere, and gives a new one another id than theirs, or than one that is retired', () => {
    const panel: PanelFile = { ...sheet, trains: [{ id: 'T1', name: 'In its box' }], retired: ['T2'] };
    const put = putTrains(panel, [goods, coal, { ...coal, id: 'T3', stands: 'east' }]);
    expect(put?.ids).toEqual({ T1: 'T4', T2: 'T5', T3: 'T3' });
    expect(done(panel, put?.tx ?? null).trains).toEqual([
      { id: 'T1', name: 'In its box' },
      { ...goods, id: 'T4' },
      { id: 'T5', stands: 'loop-road' },
      { id: 'T3', stands: 'east' },
    ]);
  });
});
