import { describe, expect, it } from 'vitest';
import { tracks } from '../../tests/generate/tracks.ts';
import type { Face } from '../face/index.ts';
import { readPlan } from '../plan/index.ts';
import { pickAt, pickIndex } from './index.ts';

const PANEL = tracks('main 0,60 300,60\nloop 60,60 100,85 200,85 240,60\n@west West 0,60', {
  lamps: [
    { id: 'H1', at: [150, 60] },
    { id: 'H2', at: [66, 62] },
  ],
  levers: [{ id: 'L1', at: [150, 120], works: [{ point: 'P1' }] }],
  buttons: [{ id: 'B1', at: [200, 120] }],
  plates: [{ at: [150, 20], text: 'BRAMBLE SIDING' }],
  platforms: [{ at: [120, 64], size: [60, 16] }],
  face: { width: 300, height: 150, fixings: [{ at: [7, 7], drill: 3.2 }], keepOut: [{ at: [280, 0], size: [20, 10] }] },
});
const index = pickIndex(PANEL, readPlan(PANEL), null);
const hits = (...spot: [number, number]) => pickAt(index, spot, 3).map(({ kind, id }) => `${kind} ${id}`);

describe('what lies under a spot', () => {
  it('in the order of kinds, so that a second tap takes the next', () => {
    expect(hits(62, 61)).toEqual(['lamp H2', 'point P1', 'strip loop', 'strip main']);
    expect(hits(150, 64)).toEqual(['lamp H1', 'strip main', 'platform 0']);
    expect(hits(150, 118)).toEqual(['lever L1']);
    expect(hits(200, 121)).toEqual(['button B1']);
    expect(hits(7, 9)).toEqual(['fixing 0']);
    expect(hits(152, 21)).toEqual(['plate 0']);
    expect(hits(1, 60)).toEqual(['place west', 'strip main']);
    expect(hits(285, 5)).toEqual(['keepOut 0']);
    expect(hits(30, 120)).toEqual([]);
  });

  it('the nearest of a kind first, with how far off', () => {
    const [lamp, , , strip] = pickAt(index, [64, 61], 6);
    expect(lamp).toMatchObject({ kind: 'lamp', id: 'H2', list: 'lamps' });
    expect(strip).toMatchObject({ kind: 'strip', off: 0 });
    expect(pickAt(index, [150, 66], 6).map(({ off }) => off)).toEqual([4.5, 3.5, 0]);
  });

  it('a strip wherever its tape lies, however wide', () => {
    const wide = tracks('', {
      strips: [
        {
          id: 'road',
          width: 80,
          path: [
            [0, 100],
            [300, 100],
          ],
        },
      ],
    });
    const found = pickAt(pickIndex(wide, readPlan(wide), null), [150, 139], 3);
    expect(found.map(({ id, off }) => [id, off])).toEqual([['road', 0]]);
  });

  it('handles of what is selected before all else', () => {
    const [first, second] = pickAt(index, [63, 60], 3, [{ list: 'strips', id: 'loop' }]);
    expect(first).toEqual({ kind: 'handle', list: 'strips', id: 'loop', part: 0, off: 3 });
    expect(second?.kind).toBe('lamp');
    expect(pickAt(index, [63, 60], 3, [{ list: 'strips', id: 'nobody' }])[0]?.kind).toBe('lamp');
  });

  it('a strip where its tape lies, and not at the corner that its bend cuts', () => {
    const square = tracks('bent 0,0 100,0 100,100', {
      strips: [
        {
          id: 'bent',
          bend: 60,
          path: [
            [0, 0],
            [100, 0],
            [100, 100],
          ],
        },
      ],
    });
    const bent = pickIndex(square, readPlan(square), null);
    // The middle of an arc of 60 is 60 (sqrt 2 - 1) = 24.85 mm from its corner: at 82.43, 17.57.
    expect(pickAt(bent, [82.43, 17.57], 1).map(({ kind }) => kind)).toEqual(['strip']);
    expect(pickAt(bent, [100, 0], 3)).toEqual([]);
  });

  it('the face last, and plates for what they name', () => {
    const plate = { width: 30, height: 8, lines: [], screws: false };
    const face: Face = {
      width: 300,
      height: 150,
      thickness: 3,
      material: 'aluminium',
      view: 'front',
      strips: [],
      lamps: [{ id: 'H1', at: [150, 60], size: 3, drill: 3.2, colour: 'amber' }],
      levers: [],
      plates: [
        { ...plate, id: 'plate1', kind: 'title', at: [150, 20] },
        { ...plate, id: 'west', kind: 'place', at: [20, 50] },
        { ...plate, id: 'L1', kind: 'lever', at: [150, 140] },
      ],
      platforms: [],
      fixings: [],
      buttons: [],
      relays: [],
      holes: [],
      problems: [],
    };
    const laid = pickIndex(PANEL, readPlan(PANEL), face);
    const at = (...spot: [number, number]) =>
      pickAt(laid, spot, 1).map(({ kind, list, id }) => `${kind} ${list} ${id}`);
    expect(at(150, 20)).toEqual(['plate plates 0', 'face face face']);
    expect(at(20, 50)).toEqual(['plate places west', 'face face face']);
    expect(at(150, 140)).toEqual(['plate levers L1', 'face face face']);
    expect(at(350, 140)).toEqual([]);
  });
});
