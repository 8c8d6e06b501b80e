import { describe, expect, it } from 'vitest';
import { chooseSwitches } from '../contacts/index.ts';
import { layFace } from '../face/index.ts';
import { groupLamps, readLamps } from '../lamps/index.ts';
import { checkPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { wirePanel } from '../wiring/index.ts';
import { cutWires } from './cut-wires.ts';
import type { CutWire } from './types.ts';

/** A passing loop: L1 at (60, 125) on P1, L2 at (240, 125) on P2; a pair of lamps on P1's legs. */
function cut(more: object = {}): readonly CutWire[] {
  const read = checkPanel({
    format: 'mimic-panel',
    version: 1,
    face: { width: 300, height: 150 },
    strips: [
      {
        id: 'main',
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
          [200, 85],
          [240, 60],
        ],
      },
    ],
    levers: [
      { id: 'L1', at: [60, 125], works: [{ point: 'P1' }] },
      { id: 'L2', at: [240, 125], works: [{ point: 'P2' }] },
    ],
    lamps: [
      { id: 'H1', at: [110, 60], shows: { P1: 'normal' } },
      { id: 'H2', at: [110, 85], shows: { P1: 'reverse' } },
    ],
    ...more,
  });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const panel = read.panel;
  const catalogue = resolveCatalogue(panel.parts);
  const plan = readPlan(panel);
  const { switches } = chooseSwitches(panel, catalogue, plan);
  const { lamps, trees } = readLamps(panel, catalogue, plan);
  const { groups } = groupLamps(panel, catalogue, plan, lamps);
  const wiring = wirePanel({ panel, catalogue, plan, switches, lamps, trees, groups });
  return cutWires(wiring, layFace(panel, catalogue, plan, switches, lamps)).wires;
}

function find(wires: readonly CutWire[], from: string, to: string): CutWire {
  const found = wires.find((wire) => wire.from === from && wire.to === to);
  if (found === undefined) throw new Error(`no wire ${from} ${to}`);
  return found;
}

describe('cutWires', () => {
  it('[LO1] colours by purpose: plus red, minus black, lamps grey, violet and white, each drive its own and the same with white', () => {
    const wires = cut();
    const colour = (from: string, to: string) => find(wires, from, to).colour;
    expect(colour('S1.p', 'FU-S1.1')).toBe('RD');
    expect(colour('L1.t1', 'L1.t6')).toBe('RD');
    expect(colour('S1.m', 'L1.t4')).toBe('BK');
    expect(colour('L1.t4', 'L1.t3')).toBe('BK');
    expect(colour('L1.t2', 'R-G1.1')).toBe('GY');
    expect(colour('L1.t5', 'H1.k')).toBe('VT');
    expect(colour('R-G1.2', 'H1.a')).toBe('WH');
    expect([colour('L1.t2', 'A.1'), colour('A.1', 'P1.a')]).toEqual(['BN', 'BN']);
    expect([colour('L1.t5', 'A.2'), colour('A.2', 'P1.b')]).toEqual(['BNWH', 'BNWH']);
    expect([colour('L2.t2', 'A.3'), colour('A.4', 'P2.b')]).toEqual(['OG', 'OGWH']);
  });

  it('[LO1] follows the net and not the tag where a drive is crossed', () => {
    const wires = cut({
      points: [{ id: 'P1', at: [60, 60], drive: 'D1' }],
      drives: [{ id: 'D1', positive: 'reverse' }],
    });
    expect([find(wires, 'A.1', 'D1.b').colour, find(wires, 'A.2', 'D1.a').colour]).toEqual(['BN', 'BNWH']);
  });

  it('[LO2] gauges: thin inside, thicker along the supply, under the layout as the record says', () => {
    const wires = cut({
      points: [{ id: 'P1', at: [60, 60], drive: 'D1' }],
      drives: [{ id: 'D1', wire: { gauge: 0.75, length: 4500 } }],
    });
    const gauge = (from: string, to: string) => find(wires, from, to).gauge;
    expect([gauge('S1.p', 'FU-S1.1'), gauge('L1.t1', 'L2.t1')]).toEqual([0.5, 0.5]);
    expect([gauge('L1.t1', 'L1.t6'), gauge('R-G1.2', 'H1.a'), gauge('L1.t2', 'A.1')]).toEqual([0.22, 0.22, 0.22]);
    expect([gauge('A.1', 'D1.a'), gauge('A.3', 'P2.a')]).toEqual([0.75, 0.22]);
  });

  it('[LO3] lengths inside run along the edges of the face with 80 mm of slack, to the next 10; tag to tag of one thing 30', () => {
    const wires = cut();
    const told = (from: string, to: string) => {
      const wire = find(wires, from, to);
      return [wire.length, wire.guess];
    };
    // L1 to L2: 180 along, none down, 80 slack.
    expect(told('L1.t1', 'L2.t1')).toEqual([260, false]);
    // L1 (60, 125) to H1 (110, 60): 50 + 65 + 80 = 195.
    expect(told('L1.t5', 'H1.k')).toEqual([200, false]);
    // H1 to H2: 25 + 80 = 105.
    expect(told('H1.a', 'H2.k')).toEqual([110, false]);
    expect(told('L1.t1', 'L1.t6')).toEqual([30, false]);
    // The resistor stands at its first lamp.
    expect(told('R-G1.2', 'H1.a')).toEqual([30, false]);
  });

  it('[LO4] marks as a guess what hangs on places that no file gives, and lengths under the layout that no one gave', () => {
    const wires = cut({
      points: [{ id: 'P1', at: [60, 60], drive: 'D1' }],
      drives: [{ id: 'D1', wire: { length: 4500 } }],
    });
    expect(find(wires, 'FU-S1.2', 'L1.t1').guess).toBe(true);
    expect(find(wires, 'L1.t2', 'A.1').guess).toBe(true);
    expect([find(wires, 'A.1', 'D1.a').length, find(wires, 'A.1', 'D1.a').guess]).toEqual([4500, false]);
    expect([find(wires, 'A.3', 'P2.a').length, find(wires, 'A.3', 'P2.a').guess]).toEqual([3000, true]);
  });

  it('[LO5] keeps the colour, gauge and length that the file or the built panel gives a wire', () => {
    const wires = cut({
      wires: [{ id: 'W40', from: 'A.1', to: 'P1.a', colour: 'TQ', gauge: 0.5, length: 5200 }],
      built: { wires: { W41: { from: 'L1.t1', to: 'L1.t6', colour: 'PK', gauge: 0.14, length: 55 } } },
    });
    expect(find(wires, 'A.1', 'P1.a')).toMatchObject({
      id: 'W40',
      colour: 'TQ',
      gauge: 0.5,
      length: 5200,
      guess: false,
    });
    expect(find(wires, 'L1.t1', 'L1.t6')).toMatchObject({
      id: 'W41',
      colour: 'PK',
      gauge: 0.14,
      length: 55,
      guess: false,
    });
  });

  it('[LO6] no colour has green beside yellow, which is protective earth (IEC 60445)', () => {
    for (const { colour } of cut()) expect(colour).not.toMatch(/GNYE|YEGN/);
  });
});
