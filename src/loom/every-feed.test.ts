import { describe, expect, it } from 'vitest';
import { chooseSwitches } from '../contacts/index.ts';
import { layFace } from '../face/index.ts';
import { groupLamps, polesOf, readLamps } from '../lamps/index.ts';
import { checkPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { wirePanel } from '../wiring/index.ts';
import { cutWires } from './cut-wires.ts';
import type { CutWire } from './types.ts';

/** One point on a drive with 4,500 mm of 0.75 mm2, lamps on both legs. */
function cut(drive: string, more: object): readonly CutWire[] {
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
        id: 'siding',
        path: [
          [60, 60],
          [108, 90],
          [300, 90],
        ],
      },
    ],
    points: [{ id: 'P1', at: [60, 60], drive: 'D1' }],
    drives: [{ id: 'D1', part: drive, wire: { length: 4500, gauge: 0.75 } }],
    levers: [{ id: 'L1', at: [60, 125], works: [{ point: 'P1' }] }],
    lamps: [
      { id: 'H1', at: [110, 60], shows: { P1: 'normal' } },
      { id: 'H2', at: [150, 90], shows: { P1: 'reverse' } },
    ],
    ...more,
  });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const { panel } = read;
  const catalogue = resolveCatalogue(panel.parts);
  const plan = readPlan(panel);
  const { lamps, trees } = readLamps(panel, catalogue, plan);
  const { switches } = chooseSwitches(panel, catalogue, plan, polesOf(trees));
  const { groups } = groupLamps(panel, catalogue, plan, lamps);
  const wiring = wirePanel({ panel, catalogue, plan, switches, lamps, trees, groups });
  return cutWires(wiring, layFace(panel, catalogue, plan, switches, lamps)).wires;
}
function find(wires: readonly CutWire[], from: string, to: string): CutWire {
  const found = wires.find((wire) => wire.from === from && wire.to === to);
  if (found === undefined)
    throw new Error(`no wire ${from} ${to} among ${wires.map((w) => `${w.from} ${w.to}`).join(', ')}`);
  return found;
}
const into = (wires: readonly CutWire[], to: string): CutWire => {
  const found = wires.find((wire) => wire.to === to && wire.side === 'layout');
  if (found === undefined) throw new Error(`nothing leads to ${to}`);
  return found;
};
const twelve = (id: string) => ({ id, volts: 12, amps: 1 });
const SPLIT = { feed: { kind: 'split', supplies: ['S1', 'S2'] }, supplies: [twelve('S1'), twelve('S2'), twelve('S9')] };
const CHARGE = {
  feed: { kind: 'charge', supplies: ['S1'], farads: 0.0022 },
  lighting: { scheme: 'spare-pole', supply: 'S9' },
  supplies: [{ id: 'S1', volts: 24, amps: 5 }, twelve('S9')],
};
const UNIT = {
  feed: { kind: 'pulse', supplies: ['C1'] },
  lighting: { scheme: 'latching-relay', supply: 'S9' },
  supplies: [
    { id: 'S1', volts: 24, amps: 1 },
    { id: 'C1', kind: 'cdu', from: 'S1', farads: 0.0047, chargeOhms: 100 },
    twelve('S9'),
  ],
};

describe('wires of every feed', () => {
  it('[LO1] three rails have three colours, and the return that of the middle', () => {
    const wires = cut('stall-2-wire', SPLIT);
    expect(find(wires, 'S1.p', 'FU-S1.1').colour).toBe('RD');
    expect(find(wires, 'S2.m', 'FU-S2.1').colour).toBe('BKWH');
    expect(into(wires, 'D1.b')).toMatchObject({ from: 'R0.1', colour: 'BK' });
    expect(into(wires, 'D1.a').colour).toBe('BN');
  });

  it('[LO1] both coils have the colour of their drive, coil R with white, and a colour goes on through the plug', () => {
    const wires = cut('twin-coil', CHARGE);
    expect(into(wires, 'D1.n').colour).toBe('BN');
    expect(into(wires, 'D1.r').colour).toBe('BNWH');
    expect(into(wires, 'D1.com').colour).toBe('BK');
    for (const wire of wires) {
      if (wire.side !== 'layout') continue;
      const inside = wires.find((each) => each.side === 'panel' && (each.to === wire.from || each.from === wire.from));
      expect(inside?.colour, wire.to).toBe(wire.colour);
    }
    // Spare pole: tag 4 is its normal throw, tag 6 its reverse one.
    expect(find(wires, 'L1.t4', 'H1.a').colour).toBe('GY');
    expect(find(wires, 'L1.t6', 'H2.a').colour).toBe('VT');
  });

  it('[LO2] pulses of 2 to 8 A (the trade) go through thicker wire, and lamps do not', () => {
    const charge = cut('twin-coil', CHARGE);
    expect(find(charge, 'FU-S1.2', 'L1.t1').gauge).toBe(0.75);
    expect(find(charge, 'L1.t2', 'CAP-L1.p').gauge).toBe(0.5);
    expect(find(charge, 'L1.t4', 'H1.a').gauge).toBe(0.22);
    const unit = cut('twin-coil', UNIT);
    expect(find(unit, 'C1.p', 'L1.t2').gauge).toBe(0.75);
    expect(find(unit, 'S1.p', 'FU-S1.1').gauge).toBe(0.5);
    expect(into(unit, 'D1.n').gauge).toBe(0.75);
  });

  it('[LO8] under the layout returns, commons and contacts run as the drive\u2019s own wires do', () => {
    const run = { length: 4500, gauge: 0.75, guess: false };
    const split = cut('stall-2-wire', { ...SPLIT, lighting: { scheme: 'drive-contact', supply: 'S9' } });
    for (const to of ['D1.a', 'D1.b', 'D1.c2.c', 'D1.c2.n', 'D1.c2.r']) expect(into(split, to), to).toMatchObject(run);
    expect(into(split, 'R0.1')).toMatchObject({ length: 30 });
    const blades = cut('servo-board', {
      feed: { kind: 'contact', supplies: ['S1'] },
      lighting: { scheme: 'blade-contact', supply: 'S9' },
      supplies: [{ id: 'S1', volts: 5, amps: 1 }, twelve('S9')],
    });
    for (const to of ['D1.a', 'D1.b', 'D1.p', 'P1.b1.c', 'P1.b1.n', 'P1.b1.r'])
      expect(into(blades, to), to).toMatchObject(run);
  });

  it('[LO9] a relay that the file places is measured to, one that it does not is a guess', () => {
    const guessed = find(cut('twin-coil', UNIT), 'L1.t1', 'K1.rp');
    // 40 mm beside its lever, and 80 of slack.
    expect(guessed).toMatchObject({ length: 120, guess: true });
    const relays = [{ id: 'K1', follows: 'P1', at: [160, 125] }];
    // From L1 at (60, 125): 100 along and 80 of slack.
    expect(find(cut('twin-coil', { ...UNIT, relays }), 'L1.t1', 'K1.rp')).toMatchObject({ length: 180, guess: false });
  });

  it('[LO9] every wire has a colour, a gauge and a length', () => {
    for (const wires of [cut('stall-2-wire', SPLIT), cut('twin-coil', CHARGE), cut('twin-coil-end-off', UNIT)])
      for (const { id, colour, gauge, length } of wires) {
        expect(colour, id).toMatch(/^[A-Z]{2}([A-Z]{2})?$/);
        expect(gauge, id).toBeGreaterThan(0);
        expect(length, id).toBeGreaterThan(0);
      }
  });
});
