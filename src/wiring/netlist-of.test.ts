import { describe, expect, it } from 'vitest';
import type { CircuitElement } from '../circuit/index.ts';
import { chooseSwitches } from '../contacts/index.ts';
import { groupLamps, readLamps } from '../lamps/index.ts';
import { checkPanel } from '../panel/index.ts';
import { forwardVolts, resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { partsOf } from './circuit-parts.ts';
import { NOMINAL, netlistOf } from './netlist-of.ts';
import { operate } from './operate.ts';
import type { Wiring } from './types.ts';
import { wirePanel } from './wire-panel.ts';

type Lie = 'normal' | 'reverse';

/** A passing loop, L1 on P1 and L2 on P2. Lamps of P1 by name: N or R, then a figure. */
function wire(lamps: readonly string[], more: object = {}): Wiring {
  const read = checkPanel({
    format: 'mimic-panel',
    version: 1,
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
    supplies: [{ id: 'S1', volts: 12 }],
    lamps: lamps.map((id) => {
      const lie: Lie = id.startsWith('N') ? 'normal' : 'reverse';
      return { id, at: [150, 20], part: 'led-3-red', shows: { P1: lie } };
    }),
    ...more,
  });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const panel = read.panel;
  const catalogue = resolveCatalogue(panel.parts);
  const plan = readPlan(panel);
  const { switches } = chooseSwitches(panel, catalogue, plan);
  const { lamps: uses, trees } = readLamps(panel, catalogue, plan);
  const { groups } = groupLamps(panel, catalogue, plan, uses);
  return wirePanel({ panel, catalogue, plan, switches, lamps: uses, trees, groups });
}

function element<K extends CircuitElement['kind']>(
  elements: readonly CircuitElement[],
  kind: K,
  id: string,
): Extract<CircuitElement, { kind: K }> {
  for (const each of elements) if (isOf(each, kind) && each.id === id) return each;
  throw new Error(`no ${kind} ${id}`);
}

function isOf<K extends CircuitElement['kind']>(
  each: CircuitElement,
  kind: K,
): each is Extract<CircuitElement, { kind: K }> {
  return each.kind === kind;
}

const G1 = (lamps: string[], arrange: string, more: object = {}) => ({
  lampGroups: [{ id: 'G1', lamps, arrange, ohms: 4700, ...more }],
});

describe('netlistOf', () => {
  it('[NE1] closes each pole to the tag of the lever’s position; in the middle, or let go, to neither', () => {
    const closed = (more: object, position: 'normal' | 'reverse' | 'centre') =>
      netlistOf(wire([], more), { L1: position }, { circuits: new Set(['L1']) }).elements.flatMap((each) =>
        each.kind === 'contact' && each.id.startsWith('L1.') && each.closed ? [`${each.a} ${each.b}`] : [],
      );
    const lever = (part: string) => ({ levers: [{ id: 'L1', switch: part, works: [{ point: 'P1' }] }] });
    expect(closed({}, 'normal')).toEqual(['L1.t2 L1.t1', 'L1.t5 L1.t4']);
    expect(closed({}, 'reverse')).toEqual(['L1.t2 L1.t3', 'L1.t5 L1.t6']);
    expect(closed(lever('toggle-2p-centre-off'), 'centre')).toEqual([]);
    expect(closed(lever('toggle-2p-sprung'), 'reverse')).toEqual([]);
    // A spare pole is no part of the network.
    expect(closed(lever('toggle-3p'), 'normal')).toEqual(['L1.t2 L1.t1', 'L1.t5 L1.t4']);
  });

  it('[NE2] names pins in the middle, the layout half behind them, and the source of every reading', () => {
    const { elements } = netlistOf(wire(['N1']), {}, { circuits: null });
    expect(element(elements, 'contact', 'A.1')).toMatchObject({ a: 'A.1', b: 'A.1:layout', closed: true });
    expect(element(elements, 'resistor', 'P1')).toMatchObject({ a: 'P1.a', b: 'P1.b', probe: { name: 'P1', sign: 1 } });
    expect(element(elements, 'diode', 'N1').probe).toEqual({ name: 'N1', sign: 1 });
    expect(element(elements, 'source', 'S1')).toMatchObject({ a: 'S1.p', b: 'S1.m', volts: 12, ohms: 0 });
  });

  it('[NE3] takes of a supply’s chain what reaches as far as the last lever that is wanted', () => {
    const wiring = wire([]);
    const ends = (lever: string) =>
      netlistOf(wiring, {}, { circuits: new Set([lever]) }).elements.flatMap((each) =>
        each.kind === 'wire' && each.b.endsWith('.t1') ? [`${each.a} ${each.b}`] : [],
      );
    expect(ends('L1')).toEqual(['FU-S1.2 L1.t1']);
    expect(ends('L2')).toEqual(['FU-S1.2 L1.t1', 'L1.t1 L2.t1']);
  });

  it('[NE4] puts each figure on its edge: most flows at high volts, low ohms, low forward volts', () => {
    const wiring = wire(['N1'], G1(['N1'], 'pair'));
    const at = (edge: 'low' | 'high') =>
      netlistOf(wiring, {}, { circuits: null, corner: { ...NOMINAL, supply: edge, lamps: edge, draw: edge } }).elements;
    // 12 V, 5 %; 4700 ohm, 5 %; red 1.80 V at 2 mA, 0.1 V; a stalled motor of 15 mA at 12 V, 20 %.
    expect(element(at('high'), 'source', 'S1').volts).toBeCloseTo(12.6, 9);
    expect(element(at('low'), 'source', 'S1').volts).toBeCloseTo(11.4, 9);
    expect(element(at('high'), 'resistor', 'R-G1').ohms).toBeCloseTo(4465, 9);
    expect(element(at('low'), 'resistor', 'R-G1').ohms).toBeCloseTo(4935, 9);
    expect(forwardVolts(element(at('high'), 'diode', 'N1').law, 0.002)).toBeCloseTo(1.7, 6);
    expect(forwardVolts(element(at('low'), 'diode', 'N1').law, 0.002)).toBeCloseTo(1.9, 6);
    expect(12 / element(at('high'), 'resistor', 'P1').ohms).toBeCloseTo(0.018, 9);
    expect(12 / element(at('low'), 'resistor', 'P1').ohms).toBeCloseTo(0.012, 9);
  });

  it('[NE5] a motor whose reading may be none is open at its low edge, never less than nothing', () => {
    // 0.1 mA read, two digits of 0.1 mA: anything from nothing to 0.3 mA.
    const wiring = wire([], {
      points: [{ id: 'P1', at: [60, 60], drive: 'D1' }],
      drives: [{ id: 'D1', measured: { amps: 0.0001 } }],
    });
    const at = (draw: 'low' | 'high') =>
      netlistOf(wiring, {}, { circuits: null, corner: { ...NOMINAL, draw } }).elements;
    expect(element(at('low'), 'open', 'D1').probe?.name).toBe('P1');
    // 1 % more and 0.2 mA: 0.301 mA at 12 V.
    expect(12 / element(at('high'), 'resistor', 'D1').ohms).toBeCloseTo(0.000301, 9);
  });

  it('[NE6] behind a guard the dark lamp’s diode carries what the lit one should: the file’s to mend, ours to show', () => {
    const guarded = (guard: string) =>
      operate(wire(['N1', 'R1'], G1(['N1', 'R1'], 'pair', { guard })), {}).lamps.find(({ id }) => id === 'N1')?.amps ??
      0;
    // (12 - 1.8) / 4700 = 2.2 mA without; with it 0.7 V stand across both, and a red lamp is dark there.
    expect(guarded('none')).toBeCloseTo(0.00217, 4);
    expect(guarded('antiparallel')).toBeLessThan(1e-6);
  });

  it('[NE7] a dimmer widens the low edge alone, to its share of the volts', () => {
    const low = (lighting: object) => {
      const lamp = operate(wire(['N1'], { ...G1(['N1'], 'pair'), lighting }), {}).lamps[0];
      return [lamp?.low ?? 0, lamp?.amps ?? 0, lamp?.high ?? 0] as const;
    };
    const [full, amps, high] = low({});
    const [dimmed, sameAmps, sameHigh] = low({ dimmer: { least: 0.4 } });
    // 11.4 V x 0.4 = 4.56 V; less 1.86 V (1.9 V at 2 mA, less at a quarter of that), over 4700 x 1.05: 0.55 mA. In full 1.93 mA.
    expect(full).toBeCloseTo((11.4 - 1.9) / 4935, 5);
    expect(dimmed).toBeGreaterThan((4.56 - 1.9) / 4935);
    expect(dimmed).toBeLessThan((4.56 - 1.75) / 4935);
    expect([sameAmps, sameHigh]).toEqual([amps, high]);
    expect(low({ dimmer: { least: 1.5 } })[0]).toBe(full);
  });
});

describe('operate at the corners', () => {
  it('[OP8] behind a supply with ohms the low edge has everything else at its most, the high edge at its least', () => {
    const weak = {
      ...G1(['N1'], 'pair'),
      levers: [{ id: 'L1', works: [{ point: 'P1' }] }],
      supplies: [{ id: 'S1', volts: 12, ohms: 100 }],
    };
    const lamp = operate(wire(['N1'], weak), {}).lamps[0];
    // Low: 11.4 V behind 100 ohm; the motor at 20 % more is 800 / 1.2 = 666.7 ohm. Thevenin: 11.4 x 666.7 / 766.7 = 9.913 V behind
    // 100 || 666.7 = 86.96 ohm. Lamp: 1.9 V at 2 mA, 1.887 V at 1.6 mA (n Vt ln 0.8 and 5 ohm x 0.4 mA less):
    // (9.913 - 1.887) / (4935 + 86.96) = 1.598 mA. With the motor at 20 % less it would be 1.69 mA.
    expect(lamp?.low).toBeCloseTo(0.001598, 5);
    // High: 12.6 V, motor 1000 ohm: 12.6 x 1000 / 1100 = 11.455 V behind 90.91 ohm; lamp 1.7 V at 2 mA, 1.704 V at 2.14 mA:
    // (11.455 - 1.704) / (4465 + 90.91) = 2.140 mA. With the motor at 20 % more: 1.96 mA.
    expect(lamp?.high).toBeCloseTo(0.00214, 5);
  });

  it('[OP3] reverse volts are those of the highest feed, off load if that is more', () => {
    const reverse = (supply: object) =>
      operate(
        wire(['N1', 'R1'], { ...G1(['N1', 'R1'], 'own'), supplies: [{ id: 'S1', volts: 12, ...supply }] }),
        {},
      ).lamps.find(({ id }) => id === 'R1')?.reverseVolts;
    // A resistor of its own: the whole feed.
    expect(reverse({})).toBeCloseTo(12.6, 2);
    expect(reverse({ voltsOffLoad: 16.5 })).toBeCloseTo(16.5, 2);
  });

  it('[OP3] a paired lamp stands under its partner’s forward volts at their greatest', () => {
    const lamps = operate(
      wire(['N1', 'R1'], { ...G1(['N1', 'R1'], 'pair'), supplies: [{ id: 'S1', volts: 12, tolerance: 0 }] }),
      {},
    ).lamps;
    // Red, 1.80 V at 2 mA and 0.1 V more, at (12 - 1.9) / 4935 = 2.05 mA: 1.90 V. At typical volts 1.80 V.
    expect(lamps.find(({ id }) => id === 'R1')?.reverseVolts).toBeCloseTo(1.9, 2);
  });
});

describe('coils of a charge feed', () => {
  it('[NE9] each reads positive when it carries: coil R from the common, wherever the drive is turned', () => {
    const ends = (positive: string) => {
      const charge = {
        points: [{ id: 'P1', at: [60, 60], drive: 'D1' }],
        drives: [{ id: 'D1', part: 'twin-coil', positive }],
        feed: { kind: 'charge', farads: 0.0022 },
      };
      const { elements } = netlistOf(wire([], charge), {}, { circuits: new Set(['L1']), time: true });
      return elements.flatMap((each) => (each.kind === 'coil' ? [[each.probe?.name, each.a, each.b]] : []));
    };
    expect(ends('normal')).toEqual([
      ['P1N', 'D1.n', 'D1.com'],
      ['P1R', 'D1.com', 'D1.r'],
    ]);
    // Turned, coil R stands behind the first diode and takes the point normal.
    expect(ends('reverse')).toEqual([
      ['P1R', 'D1.com', 'D1.n'],
      ['P1N', 'D1.r', 'D1.com'],
    ]);
  });
});

describe('partsOf', () => {
  it('[NE8] counts as side by side the lamps of one lie that share a resistor, not those in a string or on their own', () => {
    const counts = (arrange: string) =>
      [...partsOf(wire(['N1', 'N2', 'N3', 'R1'], G1(['N1', 'N2', 'N3', 'R1'], arrange))).sideBySide].sort();
    expect(counts('parallel')).toEqual([
      ['G1 normal', 3],
      ['G1 reverse', 1],
    ]);
    expect(counts('series')).toEqual([['G1 reverse', 1]]);
    expect(counts('own')).toEqual([]);
  });

  it('[NE8] gathers by lever what is its own, and by supply what several share', () => {
    const wiring = wire(['N1']);
    const parts = partsOf(wiring);
    expect([...parts.circuits.keys()]).toEqual(['L1', 'L2']);
    const own = parts.circuits.get('L1');
    expect([own?.pins, own?.lamps, own?.drives, own?.resistors].map((list) => list?.map(({ id }) => id))).toEqual([
      ['A.1', 'A.2'],
      ['N1'],
      ['P1'],
      ['R-N1'],
    ]);
    // Feeder through the fuse, plus and minus to the first, plus and minus on to the second.
    expect(parts.chains.get('S1')?.wires.length).toBe(5);
    expect(partsOf(wiring)).toBe(parts);
  });
});
