import { describe, expect, test } from 'vitest';
import { lawFrom, THERMAL_VOLTAGE } from '../parts/index.ts';
import { netlistOf } from './notation.ts';
import { solveDc } from './solve-dc.ts';
import type { OperatingPoint } from './types.ts';

function at(lines: string, reference: string | null = 'm'): OperatingPoint {
  return solveDc(netlistOf(lines, reference));
}

const amps = (point: OperatingPoint, id: string): number => point.amps.get(id) ?? Number.NaN;
const volts = (point: OperatingPoint, node: string): number => point.volts.get(node) ?? Number.NaN;

describe('closed forms', () => {
  test('the example of the README: 9 V', () => {
    expect(at('S1 p m 12V; R1 p x 1k; R2 x m 3k').volts.get('x')).toBe(9);
  });

  test('[CI2] divider: v = V R2 / (R1 + R2); the source that delivers reads negative', () => {
    const point = at('S1 p m 12V; R1 p x 1k; R2 x m 3k');
    expect(volts(point, 'x')).toBeCloseTo((12 * 3) / 4, 12);
    expect(amps(point, 'R1')).toBeCloseTo(12 / 4000, 15);
    expect(amps(point, 'S1')).toBeCloseTo(-12 / 4000, 15);
  });

  test('source with resistance: i = V / (r + R)', () => {
    const point = at('S1 p m 9V/50; R1 p m 400');
    expect(amps(point, 'R1')).toBeCloseTo(9 / 450, 15);
    expect(volts(point, 'p')).toBeCloseTo((9 * 400) / 450, 12);
  });

  test('bridge: no current through the middle when R1 R4 = R2 R3', () => {
    const point = at('S1 p m 10V; R1 p x 100; R2 x m 200; R3 p y 330; R4 y m 660; R5 x y 47');
    expect(Math.abs(amps(point, 'R5'))).toBeLessThan(1e-15);
  });

  test('ladder of n cells of 1 ohm draws F(2n) / F(2n + 1) of V (Fibonacci numbers)', () => {
    // From memory: the resistance of a ladder of unit resistors is a quotient of Fibonacci numbers.
    const cells = 12;
    const lines = Array.from({ length: cells }, (_, k) => `R${2 * k} n${k} n${k + 1} 1; R${2 * k + 1} n${k + 1} m 1`);
    const point = at(`S1 n0 m 1V; ${lines.join(';')}`);
    const fibonacci = [0, 1];
    for (let k = 2; k <= 2 * cells + 1; k++) fibonacci.push((fibonacci[k - 1] ?? 0) + (fibonacci[k - 2] ?? 0));
    const want = (fibonacci[2 * cells] ?? 0) / (fibonacci[2 * cells + 1] ?? 1);
    expect(-amps(point, 'S1')).toBeCloseTo(want, 12);
  });

  test('[CI8] diode behind a resistor: the law and Ohm agree on one current (halving)', () => {
    const law = lawFrom(1.8, 0.002, 2, 5);
    const point = at(`S1 p m 9V; R1 p x 680; D1 x m ${law.is},2,5`);
    // V - i R = n Vt ln(1 + i / is) + i rs, solved by halving.
    let low = 0;
    let high = 9 / 680;
    for (let turn = 0; turn < 200; turn++) {
      const i = (low + high) / 2;
      if (9 - i * 680 > 2 * THERMAL_VOLTAGE * Math.log1p(i / law.is) + i * 5) low = i;
      else high = i;
    }
    expect(amps(point, 'D1')).toBeCloseTo(low, 13);
  });

  test('[CI8] a lamp of 1.8 V at 2 mA carries 2 mA behind (9 - 1.8) / 0.002 ohm', () => {
    const law = lawFrom(1.8, 0.002, 2, 5);
    expect(amps(at(`S1 p m 9V; R1 p x 3600; D1 x m ${law.is},2,5`), 'D1')).toBeCloseTo(0.002, 12);
  });
});

describe('what has no resistance', () => {
  test('[CI3] wires and closed contacts of 0 ohm carry what Kirchhoff says', () => {
    const point = at('S1 p m 12V; W1 p a; C1 a b on; R1 b m 1k; R2 a m 2k; W2 b dead');
    expect(amps(point, 'W1')).toBeCloseTo(0.018, 15);
    expect(amps(point, 'C1')).toBeCloseTo(0.012, 15);
    expect(amps(point, 'W2')).toBe(0);
    expect(volts(point, 'dead')).toBe(12);
  });

  test('[CI3] a loop of 0 ohm is left open, what hangs on it is exact', () => {
    const point = at('S1 p m 12V; W1 p a; W2 a b; W3 b p; W4 b c; R1 c m 1k');
    expect(['W1', 'W2', 'W3'].map((id) => point.amps.get(id))).toEqual([null, null, null]);
    expect(amps(point, 'W4')).toBeCloseTo(0.012, 15);
    expect(amps(point, 'S1')).toBeCloseTo(-0.012, 15);
    expect(point.problems).toEqual([]);
  });

  test('[CI3] sources of 0 ohm in a row add up, and a floating cluster settles between resistors', () => {
    const point = at('S1 p x 9V; S2 x m 3V; R1 p m 1k');
    expect(volts(point, 'p')).toBe(12);
    expect(amps(point, 'S2')).toBeCloseTo(-0.012, 15);
    // S3 hangs between two resistors: i = (12 - 2) / 300.
    const between = at('S1 p m 12V; R1 p u 100; S3 u w 2V; R2 w m 200');
    expect(amps(between, 'S3')).toBeCloseTo(10 / 300, 15);
  });

  test('[CI4] an open contact and an open element join nothing', () => {
    const point = at('S1 p m 12V; C1 p a off; R1 a b 1k; O1 b m; W1 m c');
    expect(point.amps.get('C1')).toBe(0);
    expect(point.amps.get('O1')).toBe(0);
    expect(point.floating).toEqual([['a', 'b']]);
    // The ohms of an open contact are of no account.
    expect(at('S1 p m 12V; C1 p m off/-3').problems).toEqual([]);
  });
});

describe('references and floating parts', () => {
  test('[CI5] each island has its own reference', () => {
    const point = at('S2 a b 5V; R2 a b 10; S1 p m 12V; R1 p m 1k', 'p');
    expect(point.volts).toEqual(
      new Map([
        ['a', 5],
        ['b', 0],
        ['p', 0],
        ['m', -12],
      ]),
    );
    expect(point.islands).toBe(2);
  });

  test('[CI5] without a reference it is the minus of the first source by id', () => {
    expect(at('S2 q n 3V; S1 p n2 9V; R1 n n2 10; R2 p q 10', null).volts.get('n2')).toBe(0);
  });

  test('[CI5] a reference behind dark diodes does not take the volts from all others', () => {
    const point = at('S1 p m 9V; R1 p m 1k; D1 m x 1e-18,2,5; D2 x p 1e-18,2,5', 'x');
    expect([point.volts.get('p'), point.volts.get('m'), point.volts.get('x')]).toEqual([9, 0, null]);
  });

  test('[CI6] islands without a source are named, sorted, and carry nothing', () => {
    const point = at('R9 z y 10; D1 b a 1e-18,2,5; R1 c a 1k; S1 p m 9V; R2 p m 1k');
    expect(point.floating).toEqual([
      ['a', 'b', 'c'],
      ['y', 'z'],
    ]);
    expect(['a', 'b', 'c', 'y', 'z'].map((node) => point.volts.get(node))).toEqual([null, null, null, null, null]);
    expect([point.amps.get('R9'), point.amps.get('D1'), point.amps.get('R1')]).toEqual([0, 0, 0]);
    expect(point.islands).toBe(1);
  });

  test('[CI7] a dangling resistor has the volts of what holds it', () => {
    const point = at('S1 p m 9V; R1 p a 1k; R2 a b 1M');
    expect(point.volts.get('b')).toBe(9);
    expect(point.amps.get('R2')).toBe(0);
  });

  test('[CI7] a node between dark diodes is not given volts', () => {
    const point = at('S1 p m 9V; D1 m x 1e-18,2,5; D2 x p 1e-18,2,5');
    expect(point.volts.get('x')).toBeNull();
    expect(point.floating).toEqual([]);
    expect(Math.abs(amps(point, 'D1'))).toBeLessThan(1e-15);
  });

  test('[CI7] the dark one of an opposed pair sits at the volts of the lit one', () => {
    const point = at('S1 p m 9V; R1 p x 680; D1 x m 1e-18,2,5; D2 m x 1e-18,2,5');
    expect(volts(point, 'x')).toBeGreaterThan(1.5);
    expect(volts(point, 'x')).toBeLessThan(2.5);
  });
});

describe('problems', () => {
  test('[CI10] a shorted source is named with its path; the rest is answered', () => {
    const point = at('S1 p m 12V; W1 p a; C1 a m on; S2 q m 5V; R2 q m 1k; R1 p m 1k');
    expect(point.problems).toEqual([{ code: 'source-shorted', source: 'S1', nodes: ['p', 'a', 'm'] }]);
    expect([point.amps.get('S1'), point.amps.get('W1'), point.amps.get('C1')]).toEqual([null, null, null]);
    expect(amps(point, 'R2')).toBeCloseTo(0.005, 15);
    expect(amps(point, 'R1')).toBe(0);
  });

  test('[CI10] a source of 0 V across a wire is no short', () => {
    expect(at('S1 p m 0V; W1 p m').problems).toEqual([]);
  });

  test('[CI11] sources that disagree are named; the last is left out', () => {
    const point = at('S2 p m 8V; S1 p m 9V; R1 p m 1k');
    expect(point.problems).toEqual([{ code: 'sources-disagree', sources: ['S1', 'S2'] }]);
    expect(volts(point, 'p')).toBe(9);
    expect(amps(point, 'R1')).toBeCloseTo(0.009, 15);
    expect([point.amps.get('S1'), point.amps.get('S2')]).toEqual([null, null]);
  });

  test('[CI11] sources around a loop that sum to nothing agree', () => {
    expect(at('S1 p x 0.1V; S2 x m 0.2V; S3 p m 0.3V').problems).toEqual([]);
  });

  test('[CI12] bad values are named and cut', () => {
    const netlist = netlistOf('S1 p m 12V; R1 p x 1k; R2 x m 3k; R3 x m 1k; D1 x m 1e-18,2,5; W1 p m', 'm');
    const bad = netlist.elements.map((e) => {
      if (e.kind === 'diode') return { ...e, law: { ...e.law, n: 0 } };
      if (e.id === 'R3') return { ...e, ohms: Number.NaN };
      return e.id === 'W1' ? { ...e, ohms: -1 } : e;
    });
    const point = solveDc({ ...netlist, elements: [...bad, ...netlist.elements.slice(1, 2)] });
    expect(point.problems.map((p) => (p.code === 'value-bad' ? [p.element, p.what] : p))).toEqual([
      ['R3', 'ohms NaN'],
      ['D1', 'n 0'],
      ['W1', 'ohms -1'],
      ['R1', 'its id is given twice'],
    ]);
    expect(volts(point, 'x')).toBeCloseTo(9, 12);
    expect(point.amps.get('R3')).toBe(0);
  });

  test('[CI13] an answer that could not settle says so and is still given', () => {
    // A law cannot be met to within less than nothing, so both methods use up their steps.
    const netlist = netlistOf('S1 p m 12V; R1 p x 7; D1 x y 1e-14,1,0; D2 y m 3e-9,1.8,0.05', 'm');
    const point = solveDc(netlist, { currentFloor: -1 });
    expect(point.problems).toEqual([{ code: 'no-convergence', nodes: ['x', 'y'], residual: point.residual }]);
    expect(amps(point, 'D1')).toBeCloseTo(amps(solveDc(netlist), 'D1'), 9);
  });

  test('[CI18] problems stand in their order', () => {
    const point = at('S3 q m 5V; S2 q m 4V; S1 p m 9V; W1 p m; R1 p q 0; R2 q x -1; R3 q x -2', 'm');
    const codes = point.problems.map((p) => [p.code, 'element' in p ? p.element : 'source' in p ? p.source : '']);
    expect(codes).toEqual([
      ['value-bad', 'R2'],
      ['value-bad', 'R3'],
      ['source-shorted', 'S1'],
      ['source-shorted', 'S2'],
      ['source-shorted', 'S3'],
    ]);
  });

  test('[CI14] an empty netlist has an answer', () => {
    expect(solveDc({ elements: [], reference: 'm' })).toEqual({
      volts: new Map(),
      amps: new Map(),
      floating: [],
      islands: 0,
      iterations: 0,
      residual: 0,
      worst: null,
      problems: [],
    });
  });
});

describe('pieces', () => {
  test('[CI16] levers on one good supply do not touch each other', () => {
    const lever = (k: number, ohms: number): string =>
      `R${k}a p a${k} ${ohms}; D${k}a a${k} m 1e-18,2,5; D${k}b m a${k} 1e-18,2,5; R${k}b p b${k} 100; R${k}c b${k} m 600`;
    const one = at(`S1 p m 12V; ${lever(1, 680)}`);
    const many = at(
      `S1 p m 12V; ${Array.from({ length: 300 }, (_, k) => lever(k + 1, k === 0 ? 680 : 470 + k)).join(';')}`,
    );
    expect(many.amps.get('D1a')).toBe(one.amps.get('D1a'));
    expect(many.problems).toEqual([]);
  });

  test('[CI16] three hundred levers behind one resistance are solved together', () => {
    const lever = (k: number): string => `W${k} p w${k} 0.47; R${k} w${k} a${k} ${470 + k}; D${k} a${k} m 1e-18,2,5`;
    const point = at(`S1 p m 12V/0.5; ${Array.from({ length: 300 }, (_, k) => lever(k + 1)).join(';')}`);
    expect(point.problems).toEqual([]);
    expect(point.residual).toBeLessThan(1e-9);
    // Some 300 lamps of 15 mA: the supply's resistance takes about 2 V.
    expect(volts(point, 'p')).toBeLessThan(11);
  });
});
