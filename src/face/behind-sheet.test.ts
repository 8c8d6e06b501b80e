import { describe, expect, it } from 'vitest';
import { chooseSwitches } from '../contacts/index.ts';
import { readLamps } from '../lamps/index.ts';
import { checkPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { layFace } from './lay-face.ts';
import type { FaceProblem } from './types.ts';

function lay(more: object) {
  const read = checkPanel({
    format: 'mimic-panel',
    version: 1,
    face: { width: 300, height: 200 },
    strips: [
      {
        id: 'main',
        path: [
          [0, 40],
          [300, 40],
        ],
      },
    ],
    levers: [],
    ...more,
  });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const { panel } = read;
  const catalogue = resolveCatalogue(panel.parts);
  const plan = readPlan(panel);
  const { switches } = chooseSwitches(panel, catalogue, plan);
  return layFace(panel, catalogue, plan, switches, readLamps(panel, catalogue, plan).lamps);
}
const behind = (problems: readonly FaceProblem[]) =>
  problems.filter(({ code }) => code === 'bodies-clash' || code === 'body-over-hole');
const relay = (id: string, at: readonly [number, number]) => ({ id, at, follows: 'P1' });
const lever = (id: string, part: string, x: number) => ({ id, at: [x, 120], switch: part, works: [] });

describe('what stands behind the sheet', () => {
  it('[FA7] bodies of 3 and 4 poles are 27 and 36 mm wide (the file format\u2019s figures, from memory)', () => {
    const two = (part: string, apart: number) =>
      behind(lay({ levers: [lever('L1', part, 100), lever('L2', part, 100 + apart)] }).problems);
    expect(two('toggle-3p', 26)).toMatchObject([{ code: 'bodies-clash', ids: ['L1', 'L2'], overlap: 1 }]);
    expect(two('toggle-3p', 28)).toEqual([]);
    expect(two('toggle-4p', 35)).toMatchObject([{ code: 'bodies-clash', overlap: 1 }]);
    expect(two('toggle-4p', 37)).toEqual([]);
  });

  it('[FA26] a relay that the file places clashes with a switch, and with another relay', () => {
    // A standard toggle of two poles is 18 wide, a relay on its board 25: 21.5 apart they touch.
    const at = (x: number) =>
      behind(lay({ levers: [lever('L1', 'toggle-2p', 100)], relays: [relay('K1', [x, 120])] }).problems);
    expect(at(120)).toMatchObject([{ code: 'bodies-clash', ids: ['L1', 'K1'], overlap: 1.5 }]);
    expect(at(122)).toEqual([]);
    const relays = [relay('K1', [50, 150]), relay('K2', [60, 150])];
    expect(behind(lay({ relays }).problems)).toMatchObject([{ ids: ['K1', 'K2'] }]);
  });

  it('[FA26] over the hole of a lamp, off the sheet, or too deep for the box', () => {
    const lamps = [{ id: 'H1', at: [200, 150], shows: {} }];
    expect(behind(lay({ lamps, relays: [relay('K1', [205, 150])] }).problems)).toMatchObject([
      { code: 'body-over-hole', id: 'K1', hole: 'H1' },
    ]);
    expect(lay({ relays: [relay('K1', [310, 150])] }).problems).toContainEqual({
      code: 'off-the-face',
      id: 'K1',
      at: [310, 150],
    });
    const shallow = { width: 300, height: 200, box: { depth: 25 } };
    // 15 mm of relay and 15 for bent wires.
    expect(lay({ face: shallow, relays: [relay('K1', [50, 150])] }).problems).toContainEqual({
      code: 'box-too-shallow',
      id: 'K1',
      at: [50, 150],
      needs: 30,
      has: 25,
    });
  });

  it('[FA26] a relay needs no hole, is in the way of no plate, and without a place stands nowhere', () => {
    const face = lay({
      relays: [relay('K1', [150, 40]), { id: 'K2', follows: 'P1' }],
      plates: [{ at: [150, 40], text: 'BRAMBLE' }],
    });
    expect(face.relays.map(({ id }) => id)).toEqual(['K1']);
    expect(face.holes).toEqual([]);
    expect(face.problems.filter(({ code }) => code === 'plate-hides')).toEqual([]);
  });
});
