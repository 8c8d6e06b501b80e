import { describe, expect, it } from 'vitest';
import { done } from '../../tests/generate/done.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import type { PanelFile } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import {
  namePlace,
  putButton,
  putFixing,
  putKeepOut,
  putLamp,
  putLever,
  putMissingLevers,
  putPlate,
  putPlatform,
  removeThings,
  setThing,
  showsAt,
} from './index.ts';

const LOOP = tracks('main 0,60 300,60\nloop 60,60 100,85 200,85 240,60');

describe('a place is named', () => {
  it('a free end, with the id that it had without a record', () => {
    const after = done(LOOP, namePlace(LOOP, [3, 62], { name: 'West' }));
    expect(after.places).toEqual([{ id: 'E1', name: 'West', at: [0, 60] }]);
    expect(done(after, namePlace(after, [0, 60], { name: 'Tolland' })).places?.[0]?.name).toBe('Tolland');
    expect(namePlace(after, [0, 60], { name: 'West' })).toBe(null);
  });

  it('a road, on the tape', () => {
    const after = done(LOOP, namePlace(LOOP, [150, 88], { name: 'Loop', length: 1850 }));
    expect(after.places).toEqual([{ id: 'place-1', name: 'Loop', length: 1850, at: [150, 85] }]);
    expect(readPlan(after).places.find(({ name }) => name === 'Loop')?.kind).toBe('road');
    expect(namePlace(LOOP, [150, 120], { name: 'Nowhere' })).toBe(null);
  });
});

describe('things are put and set', () => {
  it('oblongs from one corner to the other', () => {
    expect(done(LOOP, putPlatform(LOOP, [120, 80], [60, 70])).platforms).toEqual([{ at: [60, 70], size: [60, 10] }]);
    expect(done(LOOP, putKeepOut(LOOP, [0, 0], [10, 12])).face?.keepOut).toEqual([{ at: [0, 0], size: [10, 12] }]);
    expect(putPlatform(LOOP, [60, 70], [60, 90])).toBe(null);
  });

  it('plates, screws and buttons', () => {
    const plate = done(LOOP, putPlate(LOOP, [150, 20], 'BRAMBLE SIDING', { size: 6 }));
    expect(plate.plates).toEqual([{ at: [150, 20], text: 'BRAMBLE SIDING', size: 6 }]);
    const two = done(plate, putFixing(plate, [7, 7], 3.2));
    const moved = done(two, setThing(two, { list: 'fixings', id: 0 }, { at: [8, 8.00004] }));
    expect(moved.face?.fixings).toEqual([{ at: [8, 8], drill: 3.2 }]);
    expect(putFixing(LOOP, [7, 7], 0)).toBe(null);
    expect(done(LOOP, putButton(LOOP, [80, 125], { sets: { P1: 'reverse' } })).buttons).toEqual([
      { id: 'B1', at: [80, 125], sets: { P1: 'reverse' } },
    ]);
  });

  it('a lever that a point has by default is written down with the others when it is moved', () => {
    const after = done(LOOP, setThing(LOOP, { list: 'levers', id: 'L2' }, { at: [60, 125] }));
    expect(after.levers).toEqual([
      { id: 'L1', works: [{ point: 'P1' }] },
      { id: 'L2', works: [{ point: 'P2' }], at: [60, 125] },
    ]);
    expect(readPlan(after).problems.filter(({ code }) => code.startsWith('point'))).toEqual([]);
    expect(setThing(LOOP, { list: 'levers', id: 'L9' }, { at: [60, 125] })).toBe(null);
  });

  it('a lever is put in the row, or on a spot; points that nothing works get one each', () => {
    const row = done(LOOP, putLever(LOOP, null, { name: 'Signal', works: [{ signal: 'S1' }] }));
    expect(row.levers?.map(({ id, at }) => [id, at])).toEqual([
      ['L1', undefined],
      ['L2', undefined],
      ['L3', undefined],
    ]);
    expect(done(LOOP, putLever(LOOP, [20, 120])).levers?.[2]?.at).toEqual([20, 120]);
    expect(putMissingLevers(LOOP)).toBe(null);
    const none: PanelFile = { ...LOOP, levers: [] };
    expect(done(none, putMissingLevers(none)).levers).toEqual([
      { id: 'L1', works: [{ point: 'P1' }] },
      { id: 'L2', works: [{ point: 'P2' }] },
    ]);
  });

  it('a lamp shows what its leg asks', () => {
    const after = done(LOOP, putLamp(LOOP, [150, 85]));
    expect(after.lamps).toEqual([{ id: 'H1', at: [150, 85], shows: { P1: 'reverse', P2: 'reverse' } }]);
    expect(done(LOOP, putLamp(LOOP, [30, 60])).lamps).toEqual([{ id: 'H1', at: [30, 60] }]);
    expect(done(LOOP, putLamp(LOOP, [150, 85], { shows: null })).lamps).toEqual([{ id: 'H1', at: [150, 85] }]);
    expect(showsAt(readPlan(LOOP), [150, 150])).toBe(null);
  });

  it('nothing is written that a file would not take', () => {
    expect(putLamp(LOOP, [Number.NaN, 3])).toBe(null);
    expect(putPlate(LOOP, [3e6, 3], 'Far')).toBe(null);
    const lamp = done(LOOP, putLamp(LOOP, [30, 60]));
    expect(setThing(lamp, { list: 'lamps', id: 'H1' }, { current: 0 })).toBe(null);
    expect(setThing(lamp, { list: 'lamps', id: 'H1' }, { at: [30, 60] })).toBe(null);
  });
});

describe('things are taken off', () => {
  it('several of a list without ids at once, and what spoke of lamps and levers', () => {
    const panel: PanelFile = {
      ...LOOP,
      plates: ['A', 'B', 'C'].map((text, i) => ({ at: [i, 0], text })),
      lamps: [
        { id: 'H1', at: [0, 0] },
        { id: 'H2', at: [0, 0] },
      ],
      lampGroups: [
        { id: 'G1', lamps: ['H1', 'H2'] },
        { id: 'G2', lamps: ['H1'] },
      ],
      levers: [{ id: 'L1' }],
      returns: [{ id: 'R0', levers: ['L1', 'L2'] }],
      face: { fixings: [{ at: [7, 7], drill: 3 }] },
    };
    const after = done(
      panel,
      removeThings(panel, [
        { list: 'plates', id: 0 },
        { list: 'plates', id: 2 },
        { list: 'lamps', id: 'H1' },
        { list: 'levers', id: 'L1' },
        { list: 'fixings', id: 0 },
        { list: 'plates', id: 9 },
      ]),
    );
    expect(after.plates).toEqual([{ at: [1, 0], text: 'B' }]);
    expect(after.lampGroups).toEqual([{ id: 'G1', lamps: ['H2'] }]);
    expect(after.returns?.[0]?.levers).toEqual(['L2']);
    expect(after.face).toEqual({});
    expect(after.retired).toEqual(['G2', 'H1', 'L1']);
  });

  it('corners of a strip, as long as two are left', () => {
    const corner = (part: number) => ({ list: 'strips' as const, id: 'loop', part });
    expect(done(LOOP, removeThings(LOOP, [corner(1), corner(2)])).strips[1]?.path).toEqual([
      [60, 60],
      [240, 60],
    ]);
    expect(removeThings(LOOP, [corner(1), corner(2), corner(3)])).toBe(null);
  });
});
