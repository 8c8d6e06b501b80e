import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Derived, derive } from '../../derive.ts';
import { type PanelFile, readPanel } from '../../panel/index.ts';
import { faultByCode, type Position } from '../../wiring/index.ts';
import type { CircuitFigures, StringSum } from './figure-types.ts';
import { circuitFigures } from './figures.ts';

function panelOf(path: string): PanelFile {
  const read = readPanel(readFileSync(path, 'utf8'));
  if (!read.ok) throw new Error(`${path} cannot be read`);
  return read.panel;
}

function figuresOf(derived: Derived, id: string, position: Position, code: string | null = null): CircuitFigures {
  const circuit = derived.wiring.circuits.find((each) => each.id === id);
  if (circuit === undefined) throw new Error(`no circuit ${id}`);
  const fault = code === null ? null : faultByCode(derived.wiring, code);
  if (code !== null && fault === null) throw new Error(`no fault ${code}`);
  return circuitFigures(derived, circuit, { levers: { [id]: position }, fault, history: {} });
}

function stringOf(figures: CircuitFigures, position: Position): StringSum {
  const string = figures.sums.find((sum) => sum.position === position)?.strings[0];
  if (string === undefined) throw new Error(`nothing is lit in ${position}`);
  return string;
}

/** To a figure in the last place that was worked out by hand. */
const NEAR = 3;

// Bramble Siding: a pair behind 47k on 12 V, two amber lamps. Worked by hand (Ohm; Shockley's law with a resistance in series: 1.85 V at 2 mA, n 2, rs 5):
// at 0.2186 mA a lamp has 1.85 - 0.01 - 0.0517 ln (2 / 0.2186) + 0.0011 = 1.727 V, left 12 - 1.727 = 10.273 V, over 47 kohm 0.2186 mA.
describe('a pair behind 47k, by hand', () => {
  const derived = derive(panelOf('tests/panels/findings/lamp-doubtful.mimic.json'));
  const figures = figuresOf(derived, 'L1', 'normal');
  const string = stringOf(figures, 'normal');
  test('has its sum, step by step', () => {
    expect(string.lamps).toEqual(['H1']);
    expect(string.across).toBeCloseTo(12, NEAR);
    expect(string.volts[0]).toBeCloseTo(1.727, 2);
    expect(string.left).toBeCloseTo(10.273, 2);
    expect(string.amps * 1000).toBeCloseTo(0.2186, NEAR);
    expect(string.resistor).toEqual({ id: 'R-G1', ohms: 47000, from: 'file' });
    expect(string.wants).toBeCloseTo(1.85, NEAR);
  });
  // (11.4 - 1.820) / 49350 = 0.194 mA and (12.6 - 1.633) / 44650 = 0.246 mA: about the 0.2 mA from which it is seen.
  test('has its band, and is doubtful', () => {
    expect([string.low * 1000, string.high * 1000].map((amps) => amps.toFixed(3))).toEqual(['0.194', '0.246']);
    expect([string.seen, string.seenFrom, string.darkTo]).toEqual(['doubtful', 0.0002, 0.00001]);
  });
  // The dark lamp of an opposed pair has the lit one's forward volts across it, no more than 1.727 + 0.1 at the corner.
  test('says what the dark lamp stands in reverse, against its limit', () => {
    expect(string.dark?.lamps).toEqual(['H2']);
    expect(string.dark?.volts).toBeGreaterThan(1.73);
    expect(string.dark?.volts).toBeLessThan(1.9);
    expect(string.dark?.limit).toBe(5);
  });
  test('has volts at every tag: plus through the upper pole, minus through the lower', () => {
    const at = (terminal: string) => figures.volts[terminal];
    expect(['S1.p', 'S1.m', 'L1.t1', 'L1.t2', 'L1.t3', 'L1.t4', 'L1.t5', 'L1.t6'].map(at)).toEqual([
      12, 0, 12, 12, 0, 0, 0, 12,
    ]);
    const reverse = figuresOf(derived, 'L1', 'reverse');
    expect(['L1.t2', 'L1.t5'].map((terminal) => reverse.volts[terminal])).toEqual([0, 12]);
    expect(figures.closed).toMatchObject({ 'L1.1': 'normal', 'L1.2': 'normal' });
    expect(reverse.closed).toMatchObject({ 'L1.1': 'reverse', 'L1.2': 'reverse' });
  });
  // A stalled motor of 15 mA at 12 V is 800 ohm; its wires are 2 m of 0.22 mm2 each way, 0.017241 x 2 / 0.22 = 0.157 ohm: 12 / 800.31.
  test('has the current of the drive', () => {
    const [drive] = figures.drives;
    expect(Math.abs(drive?.amps ?? 0) * 1000).toBeCloseTo(14.994, 2);
    expect(Math.abs(drive?.volts ?? 0)).toBeCloseTo(11.9953, NEAR);
  });
});

// Quillhaven Harbour: a spare pole of L3 lights H8 and H9 with P3 normal, H10 and H11 with it reverse, as its file claims. One amber lamp behind
// 5.6 kohm on 12 V, by the same law: 1.85 - 0.0517 ln (2 / 1.814) - 0.005 (2 - 1.814) = 1.844 V, left 10.156 V, over 5.6 kohm 1.814 mA.
describe('lamps of a spare pole, by hand', () => {
  const derived = derive(panelOf('examples/quillhaven-harbour.mimic.json'));
  test.each([
    ['normal', ['H8', 'H9']],
    ['reverse', ['H10', 'H11']],
  ] as const)('have their sums with the lever %s, however it lies now', (position, lamps) => {
    for (const now of ['normal', 'reverse'] as const) {
      const sum = figuresOf(derived, 'L3', now).sums.find((each) => each.position === position);
      expect(sum?.strings.flatMap((each) => each.lamps)).toEqual(lamps);
      for (const string of sum?.strings ?? []) {
        expect(string.seen).toBe('lit');
        expect(string.left).toBeCloseTo(10.156, 2);
        expect(string.amps * 1000).toBeCloseTo(1.814, NEAR);
      }
    }
  });
});

describe('a single fault', () => {
  const panel = panelOf('examples/bramble-siding.mimic.json');
  const derived = derive(panel);
  // Rule 16 of the truth of lamps: a lamp that knows what was asked lies for a link that is off, where the blades stay.
  test('of the link makes the lamps of its lever doubtful witnesses, and names the blades', () => {
    const figures = figuresOf(derived, 'L2', 'reverse', 'linkage:P3');
    const lit = figures.lamps.filter(({ seen }) => seen === 'lit');
    expect(lit.length).toBeGreaterThan(0);
    for (const lamp of lit) {
      expect([lamp.id, lamp.says]).toEqual([lamp.id, 'may lie']);
      expect(lamp.blades).toEqual({ P3: 'normal' });
    }
  });
  test('of a drive that is stuck makes a lit lamp lie for sure', () => {
    const figures = figuresOf(derived, 'L2', 'reverse', 'stuck:P3=normal');
    const lit = figures.lamps.filter(({ seen }) => seen === 'lit');
    expect(lit.length).toBeGreaterThan(0);
    for (const lamp of lit) expect([lamp.id, lamp.says]).toEqual([lamp.id, 'lies']);
    expect(figures.lamps.filter(({ seen }) => seen === 'dark').map(({ says }) => says)).not.toContain('lies');
  });
  test('of nothing: every lamp that is lit tells the truth', () => {
    for (const { id } of derived.wiring.circuits)
      for (const position of ['normal', 'reverse'] as const)
        for (const lamp of figuresOf(derived, id, position).lamps)
          expect([lamp.id, position, ['true', 'nothing'].includes(lamp.says)]).toEqual([lamp.id, position, true]);
  });
  // Ohm: no way from the supply, no volts at the tags.
  test('of a fuse leaves nothing at the rails, and no lamp lit', () => {
    const figures = figuresOf(derived, 'L1', 'normal', 'open:FU-S1');
    expect(figures.lamps.every(({ seen }) => seen === 'dark')).toBe(true);
    expect(figures.broken).toContain('FU-S1');
    expect(figures.volts['S1.p']).toBe(9);
    expect(Math.abs(figures.volts['L1.t2'] ?? 0)).toBeLessThan(0.001);
  });
  test('figures agree with every fault that is proved to lie: its witness lies or may lie here too', () => {
    const wrong = derived
      .faultTruth()
      .wrongSide.filter(({ fault }) => /^(open|stuck|linkage|crossed|value)/.test(fault));
    expect(wrong.length).toBeGreaterThan(10);
    for (const each of wrong) {
      const circuit = derived.wiring.circuits.find(({ lamps }) => lamps.includes(each.lamp));
      const fault = faultByCode(derived.wiring, each.fault);
      if (circuit === undefined || fault === null) throw new Error(`${each.fault} has no circuit`);
      const { lamps } = circuitFigures(derived, circuit, { levers: each.levers, fault, history: each.history });
      const says = lamps.find(({ id }) => id === each.lamp)?.says ?? '';
      expect([each.fault, each.lamp, ['lies', 'may lie'].includes(says)]).toEqual([each.fault, each.lamp, true]);
    }
  });
});
