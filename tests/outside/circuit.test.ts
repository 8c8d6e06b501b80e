/**
 * Operating points against published worked examples, the facts of the trade and the reference solver ngspice.
 */
import { describe, expect, test } from 'vitest';
import {
  type CircuitElement,
  type Netlist,
  netlistOf,
  randomNetwork,
  solveDc,
  spiceText,
} from '../../src/circuit/index.ts';
import { lawFrom, THERMAL_VOLTAGE } from '../../src/parts/index.ts';
import { denseCurrents } from '../oracle/dense-solver.ts';
// Worked examples copied with their sources: each record names its book, page or address.
import worked from './data/08-12-worked-examples.json' with { type: 'json' };
import { runSpice, runSpiceFull, runSpicePrinted } from './ngspice.ts';

interface Case {
  readonly id: string;
  readonly item: number;
  readonly source: string;
  readonly given: Readonly<Record<string, unknown>>;
  readonly expect: Readonly<Record<string, unknown>>;
}

const cases: readonly Case[] = worked;
const ofItem = (item: number): readonly Case[] => cases.filter((c) => c.item === item);

function num(record: Readonly<Record<string, unknown>>, key: string): number {
  const value = record[key];
  if (typeof value !== 'number') throw new RangeError(`${key} is ${String(value)}, not a number`);
  return value;
}

const amps = (lines: string, id: string): number => solveDc(netlistOf(lines, '0')).amps.get(id) ?? Number.NaN;
const volts = (lines: string, node: string): number => solveDc(netlistOf(lines, '0')).volts.get(node) ?? Number.NaN;

/** Within a share of the printed value: half a unit of its last printed digit, as a rule. */
function near(value: number, want: number, share: number): void {
  expect(Math.abs(value - want), `${value} against ${want}`).toBeLessThanOrEqual(share * Math.abs(want));
}

describe('LED resistors (worked examples, item 8)', () => {
  const E12 = [1, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2, 10]; // IEC 60063

  test.each(ofItem(8).map((c) => [c.id, c] as const))('%s', (id, c) => {
    const V = num(c.given, 'V');
    const vf = num(c.given, 'vf');
    const i = num(c.given, 'i');
    const law = lawFrom(vf, i, 2, 5);
    const lamp = (name: string, a: string, k: string): string => `${name} ${a} ${k} ${law.is},2,5`;
    if (id === 'led-vf-too-high') {
      // No resistor can bring it to its current: even straight across it stays below.
      expect(amps(`S1 p 0 ${V}V; W1 p x; ${lamp('D1', 'x', '0')}`, 'D1')).toBeLessThan(i);
      return;
    }
    const R = num(c.expect, 'R');
    if (c.given.parallel === 2) {
      const lines = `S1 p 0 ${V}V; R1 p x ${R}; ${lamp('D1', 'x', '0')}; ${lamp('D2', 'x', '0')}`;
      near(amps(lines, 'D2'), i, 1e-6);
      near(amps(lines, 'R1'), num(c.expect, 'i_total'), 1e-6);
      return;
    }
    const n = typeof c.given.n === 'number' ? c.given.n : 1;
    const string = Array.from({ length: n }, (_, k) =>
      lamp(`D${k + 1}`, `x${k}`, k === n - 1 ? '0' : `x${k + 1}`),
    ).join(';');
    const behind = (ohms: number): number => amps(`S1 p 0 ${V}V; R1 p x0 ${ohms}; ${string}`, 'D1');
    if (c.given.round === 'E12 up') {
      const decade = 10 ** Math.floor(Math.log10(R));
      const at = E12.findIndex((e) => Math.abs(e - R / decade) < 1e-9);
      const below = at === 0 ? 0.82 * decade : (E12[at - 1] ?? 0) * decade;
      expect(behind(R)).toBeLessThanOrEqual(i);
      expect(behind(below)).toBeGreaterThan(i);
      return;
    }
    near(behind(R), i, 1e-6);
    if (c.expect.P_R !== undefined) near(behind(R) ** 2 * R, num(c.expect, 'P_R'), 1e-6);
    if (id === 'led-9v') {
      // The source takes the lamp as a constant 2 V.
      const fixed = (ohms: number): number => amps(`S1 p 0 9V; R1 p x ${ohms}; S2 x 0 2V`, 'R1');
      near(fixed(num(c.expect, 'E24_below')), num(c.expect, 'i_below'), 3e-4);
      near(fixed(num(c.expect, 'E24_above')), num(c.expect, 'i_above'), 3e-4);
      near(behind(R) * vf, num(c.expect, 'P_LED'), 1e-6);
    }
  });
});

describe('diodes behind a resistor (worked examples, item 9)', () => {
  /** The operating point of V, R and a diode without series resistance, of any nVt. */
  function point(V: number, R: number, is: number, nVt: number): { I: number; Vd: number } {
    const n = nVt / THERMAL_VOLTAGE;
    const lines = `S1 p 0 ${V}V; R1 p x ${R}; D1 x 0 ${is},${n},0`;
    return { I: amps(lines, 'D1'), Vd: volts(lines, 'x') };
  }

  test.each(ofItem(9).map((c) => [c.id, c] as const))('%s', (id, c) => {
    if (id === 'diode-newbedev') {
      // 5 - 6.9144e-12 exp(v / 0.025) = v: 5 V behind 1 ohm; the "- 1" of the law is 7e-12 A.
      near(point(5, 1, 6.9144e-12, 0.025).Vd, num(c.expect, 'v'), 1e-6);
      return;
    }
    if (id === 'diode-sedra') {
      // 1 mA at 0.7 V and 0.1 V a decade: nVt = 0.1 / ln 10.
      const nVt = 0.1 / Math.log(10);
      const found = point(num(c.given, 'V'), num(c.given, 'R'), 1e-3 * Math.exp(-0.7 / nVt), nVt);
      near(found.I, num(c.expect, 'I'), 1e-6);
      near(found.Vd, num(c.expect, 'Vd'), 1e-6);
      return;
    }
    const found = point(num(c.given, 'V'), num(c.given, 'R'), num(c.given, 'Is'), num(c.given, 'nVt'));
    near(found.I, num(c.expect, 'I'), 5e-6);
    near(found.Vd, num(c.expect, 'Vd'), 1e-6);
  });
});

describe('resistive networks (worked examples, item 12)', () => {
  /** Lines of the record's R and V lists; V stands from its first node to its second. */
  function linesOf(c: Case, leaveOut = -1): string {
    const list = (key: string): [string, string, number][] => (c.given[key] ?? []) as [string, string, number][];
    const resistors = list('R').flatMap(([a, b, ohms], k) => (k === leaveOut ? [] : [`R${k} ${a} ${b} ${ohms}`]));
    return [...resistors, ...list('V').map(([a, b, v], k) => `S${k} ${a} ${b} ${v}V`)].join(';');
  }

  /** Checks every expectation whose key is a node of the network. */
  function nodes(c: Case, names: readonly string[]): void {
    for (const name of names) near(volts(linesOf(c), name), num(c.expect, name), 1e-6);
  }

  const checks: Readonly<Record<string, (c: Case) => void>> = {
    'net-28-7': (c) => {
      nodes(c, ['n']);
      const currents = c.expect.I as number[];
      currents.forEach((want, k) => {
        near(amps(linesOf(c), `R${k}`), want, 1e-9);
      });
      // Thevenin at n without the 2 ohm load, and Norton: the current through a short in its place.
      near(volts(linesOf(c, 1), 'n'), num(c.expect, 'Vth'), 1e-9);
      near(amps(`${linesOf(c, 1)}; W1 n 0`, 'W1'), num(c.expect, 'In'), 1e-9);
      near(num(c.expect, 'Vth') / amps(`${linesOf(c, 1)}; W1 n 0`, 'W1'), num(c.expect, 'Rth'), 1e-9);
      // All three in parallel, sources dead.
      near(
        (volts('S1 n x 1V; R9 x 0 1; R0 n 0 4; R1 n 0 2; R2 n 0 1', 'n') /
          amps('S1 n x 1V; R9 x 0 1; R0 n 0 4; R1 n 0 2; R2 n 0 1', 'R9')) *
          -1,
        num(c.expect, 'Rtotal'),
        1e-6,
      );
    },
    'net-unbalanced-bridge': (c) => {
      nodes(c, ['2', '3']);
      near(-amps(linesOf(c), 'S0'), num(c.expect, 'I_total'), 1e-6);
      (c.expect.I as number[]).forEach((want, k) => {
        near(Math.abs(amps(linesOf(c), `R${k}`)), want, 2e-5);
      });
    },
    'net-two-node': (c) => nodes(c, ['1', '2']),
    'net-delta-wye': (c) => {
      nodes(c, ['2', '3']);
      near(-amps(linesOf(c), 'S0'), num(c.expect, 'I_total'), 1e-6);
    },
    'net-sp': (c) => {
      const lines = 'S1 p 0 24V; R1 p x 100; R2 p x 250; R3 x 0 350; R4 x 0 200';
      near(-amps(lines, 'S1'), num(c.expect, 'I'), 1e-6);
      const [upper = 0, lower = 0, all = 0] = c.expect.R as number[];
      near((24 - volts(lines, 'x')) / -amps(lines, 'S1'), upper, 1e-6);
      near(volts(lines, 'x') / -amps(lines, 'S1'), lower, 1e-6);
      near(24 / -amps(lines, 'S1'), all, 1e-6);
    },
    'net-suresh-17.4-1': (c) => {
      // A current source beside a resistor is a source of I R behind R (Norton to Thevenin):
      // 9 A into 1 beside 0.2 ohm, 17 A into 2 beside 1 ohm, 21 A from 2 into 3 beside 0.5 ohm.
      const lines = 'S1 1 0 1.8V/0.2; S2 2 0 17V/1; S3 3 2 10.5V/0.5; R2 1 2 1; R3 3 1 0.5; R6 3 0 0.2';
      for (const node of ['1', '2', '3']) near(volts(lines, node), num(c.expect, node), 1e-9);
    },
    'net-bridge-10v': (c) => {
      const value = (key: string): number => {
        const [over = Number.NaN, under = Number.NaN] = String(c.expect[key]).split('/').map(Number);
        return over / under;
      };
      near(volts(linesOf(c), '2'), value('2'), 1e-9);
      near(volts(linesOf(c), '3'), value('3'), 1e-9);
      near(amps(linesOf(c), 'R4'), value('I23'), 1e-9);
    },
    'net-wheatstone-kalsi': (c) => {
      near(Math.abs(amps(linesOf(c), 'R4')), num(c.expect, 'Ig'), 1e-5);
      const open = volts(linesOf(c, 4), '3') - volts(linesOf(c, 4), '2');
      near(open, num(c.expect, 'Eth'), 1e-6);
      near(open / Math.abs(amps(`${linesOf(c, 4)}; W1 2 3`, 'W1')), num(c.expect, 'Rth'), 1e-5);
    },
    'net-series': (c) => {
      const lines = 'S1 p 0 12V; R0 p x 1; R1 x y 6; R2 y 0 13';
      near(amps(lines, 'R1'), num(c.expect, 'I'), 1e-9);
      (c.expect.V as number[]).forEach((want, k) => {
        near(amps(lines, `R${k}`) * ([1, 6, 13][k] ?? 0), want, 1e-9);
      });
      near(-12 * amps(lines, 'S1'), num(c.expect, 'P_total'), 1e-9);
    },
    'net-parallel': (c) => {
      const lines = 'S1 p 0 12V; R0 p 0 1; R1 p 0 6; R2 p 0 13';
      near(-amps(lines, 'S1'), num(c.expect, 'I'), 1e-6);
      near(12 / -amps(lines, 'S1'), num(c.expect, 'R'), 1e-6);
      (c.expect.P as number[]).forEach((want, k) => {
        near(12 * amps(lines, `R${k}`), want, 1e-6);
      });
    },
    'net-combo': (c) => {
      const lines = 'S1 p 0 12V; R0 p x 1; R1 x 0 6; R2 x 0 13';
      near(-amps(lines, 'S1'), num(c.expect, 'I'), 1e-6);
      near(amps(lines, 'R1'), num(c.expect, 'I2'), 1e-6);
      near(volts(lines, 'x'), num(c.expect, 'V_load'), 1e-6);
      near(amps(lines, 'R1') ** 2 * 6, num(c.expect, 'P2'), 1e-6);
    },
    'net-two-battery-node': (c) => {
      nodes(c, ['n']);
      // I1 and I2 as printed flow in the 6 ohm and the 18 V branch.
      near(amps(linesOf(c), 'R0'), num(c.expect, 'I1'), 1e-6);
      near(amps(linesOf(c), 'R1'), num(c.expect, 'I2'), 1e-6);
      near(amps(linesOf(c), 'R2'), num(c.expect, 'I3'), 1e-6);
    },
  };

  test('every record has its check', () => {
    expect(Object.keys(checks).sort()).toEqual(
      ofItem(12)
        .map((c) => c.id)
        .sort(),
    );
  });

  test.each(ofItem(12).map((c) => [c.id, c] as const))('%s', (id, c) => {
    checks[id]?.(c);
  });
});

/** A lamp of 2.1 V at 8 mA, as in the notes of the trade; `more` volts apart from it. */
const trade = (name: string, a: string, k: string, more = 0): string =>
  `${name} ${a} ${k} ${lawFrom(2.1 + more, 0.008, 2, 5).is},2,5`;

describe('facts of the trade, once run in ngspice (lamp 2.1 V at 8 mA)', () => {
  test('two opposed lamps on 12 V, each behind its own resistor: 12.0 V stand on the dark one', () => {
    const lines = `S1 p 0 12V; R1 p x 1k; ${trade('D1', 'x', '0')}; R2 p y 1k; ${trade('D2', '0', 'y')}`;
    expect(volts(lines, 'y')).toBeCloseTo(12.0, 2);
  });

  test('behind one resistor the dark one sees no more than the lit one has', () => {
    const lines = `S1 p 0 12V; R1 p x 1k; ${trade('D1', 'x', '0')}; ${trade('D2', '0', 'x')}`;
    expect(volts(lines, 'x')).toBeLessThan(2.2);
  });

  test.each([
    [0.05, 0.012, 1.7],
    [0.05, 0.0003, 2.5],
    [0.1, 0.012, 3],
    [0.1, 0.0003, 6.5],
  ])('two lamps in parallel %d V apart, the brighter at %d A, share %d to 1', (apart, bright, ratio) => {
    // Sized for the brighter lamp at its current and the other at the printed share of it.
    const ohms = (12 - 2.1) / (bright * (1 + 1 / ratio));
    const lines = `S1 p 0 12V; R1 p x ${ohms}; ${trade('D1', 'x', '0')}; ${trade('D2', 'x', '0', apart)}`;
    near(amps(lines, 'D1'), bright, 0.05);
    // Printed with two digits.
    near(amps(lines, 'D1') / amps(lines, 'D2'), ratio, 0.05);
  });

  test.each([
    [1, 9.9],
    [2, 7.8],
    [4, 3.8],
  ])('%d lamps in series with a drive of 800 ohm on 12 V leave it %d V', (count, left) => {
    const string = Array.from({ length: count }, (_, k) =>
      trade(`D${k}`, k === 0 ? 'x' : `x${k}`, k === count - 1 ? '0' : `x${k + 1}`),
    );
    const lines = `S1 p 0 12V; R1 p x 800; ${string.join(';')}`;
    expect(12 - volts(lines, 'x')).toBeCloseTo(left, 1);
  });
});

/** Every branch gets a probe of its own id. */
function probeAll(netlist: Netlist): Netlist {
  const probe = (e: CircuitElement): CircuitElement =>
    e.kind === 'diode' || e.kind === 'resistor' || e.kind === 'source' ? { ...e, probe: { name: e.id, sign: 1 } } : e;
  return { ...netlist, elements: netlist.elements.map(probe) };
}

/** Worst miss of any probed current, in units of 0.1 % of it or 1 uA, and how many were compared. */
function miss(netlist: Netlist, found: ReadonlyMap<string, number>): { worst: number; compared: number } {
  const point = solveDc(netlist);
  let worst = 0;
  let compared = 0;
  for (const e of netlist.elements) {
    const mine = point.amps.get(e.id) ?? null;
    if (e.probe === undefined || mine === null) continue;
    const other = found.get(`v_${e.probe.name.toLowerCase()}`) ?? Number.NaN;
    const off = Math.abs(mine * e.probe.sign - other) / Math.max(1e-6, 1e-3 * Math.abs(other));
    // NaN stays NaN, and no comparison with it holds.
    worst = Math.max(worst, off);
    compared++;
  }
  return { worst, compared };
}

const AMBER = lawFrom(1.85, 0.002, 2, 5);

/** A reversing switch from p and m to a and b. */
function reversing(name: string, way: 'normal' | 'reverse' | 'centre', a: string, b: string): string {
  const on = (which: string): string => (way === which ? 'on' : 'off');
  return `C${name}1 p ${a} ${on('normal')}; C${name}2 m ${b} ${on('normal')}; C${name}3 m ${a} ${on('reverse')}; C${name}4 p ${b} ${on('reverse')}`;
}

/** Lamps in a row from a to b. */
function lamps(name: string, count: number, a: string, b: string): string {
  return Array.from(
    { length: count },
    (_, k) => `D${name}${k} ${k === 0 ? a : `${name}${k}`} ${k === count - 1 ? b : `${name}${k + 1}`} ${AMBER.is},2,5`,
  ).join(';');
}

describe('a second solver of another make', () => {
  test('[CI9] currents agree with the dense solver to 1e-6 and 1 nA (seeds 20,000 to 21,999)', {
    timeout: 60_000,
  }, () => {
    let compared = 0;
    for (let seed = 20_000; seed < 22_000; seed++) {
      const netlist = randomNetwork(seed, { wild: false });
      const want = denseCurrents(netlist);
      if (want === null) throw new Error(`seed ${seed}: the dense solver gave up`);
      const point = solveDc(netlist);
      for (const [id, amps] of point.amps) {
        if (amps === null) continue;
        compared++;
        const other = want.get(id) ?? Number.NaN;
        if (!(Math.abs(amps - other) <= 1e-9 + 1e-6 * Math.abs(other)))
          throw new Error(`seed ${seed}: ${id} ${amps}, dense ${other}`);
      }
    }
    expect(compared).toBeGreaterThan(20_000);
  });
});

describe('the same text through ngspice -b', () => {
  const ways = ['normal', 'reverse', 'centre'] as const;

  test.each(ways)('(a) 9 V, reversing switch, 10 kohm and three lamps in series each way: %s', (way) => {
    const lines = `S1 p m 9V; ${reversing('L', way, 'a', 'b')}; R1 a c 10k; ${lamps('n', 3, 'c', 'b')}; ${lamps('r', 3, 'b', 'c')}`;
    const netlist = probeAll(netlistOf(lines, 'm'));
    const found = miss(netlist, runSpice(spiceText(netlist, { title: way })));
    expect(found.compared).toBe(8);
    expect(found.worst).toBeLessThan(0.01);
  });

  test.each(ways)('(b) 12 V, reversing switch, a drive of 600 ohm, four lamps and 680 ohm each way: %s', (way) => {
    const lines = `S1 p m 12V; ${reversing('L', way, 'a', 'b')}; R1 a b 600; R2 a c 680; ${lamps('n', 4, 'c', 'b')}; R3 b d 680; ${lamps('r', 4, 'd', 'a')}`;
    const netlist = probeAll(netlistOf(lines, 'm'));
    const found = miss(netlist, runSpice(spiceText(netlist, { title: way })));
    expect(found.compared).toBe(12);
    expect(found.worst).toBeLessThan(0.01);
  });

  test('(d) five groups of four lamps on a common return with resistance, all 32 settings', () => {
    for (let setting = 0; setting < 32; setting++) {
      const groups = [0, 1, 2, 3, 4].map((k) => {
        const way = (setting >> k) & 1 ? 'reverse' : 'normal';
        const wires = `W${k}p p p${k} 0.24; W${k}m r${k} r${k + 1} 0.24`;
        const poles = reversing(`L${k}`, way, `a${k}`, `b${k}`)
          .replaceAll(' p ', ` p${k} `)
          .replaceAll(' m ', ` r${k + 1} `);
        return `${wires}; ${poles}; R${k} a${k} b${k} 800; R${k}g a${k} c${k} 470; ${lamps(`n${k}x`, 2, `c${k}`, `b${k}`)}; ${lamps(`r${k}x`, 2, `b${k}`, `c${k}`)}`;
      });
      const netlist = probeAll(netlistOf(`S1 p r0 12V/0.2; ${groups.join(';')}`, 'r0'));
      const found = miss(netlist, runSpice(spiceText(netlist, { title: `setting ${setting}` })));
      expect(found.compared).toBe(31);
      expect(found.worst, `setting ${setting}`).toBeLessThan(0.01);
    }
  });

  test('250 random networks agree to 0.1 % or 1 uA and 0.1 % or 1 mV (seeds 50,000 to 50,249)', () => {
    let compared = 0;
    let refused = 0;
    for (let seed = 50_000; seed < 50_250; seed++) {
      const netlist = randomNetwork(seed, { wild: false, probes: true });
      const text = spiceText(netlist, { title: `seed ${seed}` });
      let run: ReturnType<typeof runSpiceFull>;
      try {
        run = runSpiceFull(text);
      } catch (error) {
        // Now and then ngspice does not settle where nodes hang on dark diodes; nothing else is forgiven.
        expect(String(error), `seed ${seed}`).toMatch(/timestep too small|singular matrix/i);
        refused++;
        continue;
      }
      const found = miss(netlist, run.amps);
      compared += found.compared;
      expect(found.worst, `seed ${seed}`).toBeLessThanOrEqual(1);
      const point = solveDc(netlist);
      // Volts compare where the text's node 0 is our own zero.
      if (netlist.reference === null || point.volts.get(netlist.reference) !== 0) continue;
      for (const [node, value] of point.volts) {
        const other = run.volts.get(node.toLowerCase());
        if (value === null || other === undefined) continue;
        expect(Math.abs(value - other), `seed ${seed} ${node}`).toBeLessThanOrEqual(
          Math.max(1e-3, 1e-3 * Math.abs(other)),
        );
      }
    }
    expect(compared).toBeGreaterThan(1500);
    // Measured on 5,000 networks of this kind: ngspice itself fails on some 2 %.
    expect(refused).toBeLessThanOrEqual(5);
  });

  test('[CI24] [CI25] [CI28] open, floating, shorted and empty networks run too', () => {
    for (const lines of [
      '',
      'O1 a b',
      'R1 a b 10',
      'S1 p m 9V; W1 p m',
      'S1 p m 9V; S2 p m 8V; R1 p m 1',
      'S1 p m 9V; S2 p m 9V; W1 a b; W2 b a; C1 a c off',
    ]) {
      const netlist = netlistOf(lines, 'm');
      expect(() => runSpice(spiceText(netlist, { title: 'odd' }))).not.toThrow();
    }
    const open = netlistOf('S1 p m 9V; O1 p m', 'm');
    const read = {
      ...open,
      elements: open.elements.map((e) => ({ ...e, probe: { name: e.id === 'O1' ? 'P4' : 'S1', sign: 1 as const } })),
    };
    expect(Math.abs(runSpice(spiceText(read, { title: 'open' })).get('v_p4') ?? 1)).toBeLessThan(1e-8);
  });

  test('[CI21] [CI29] a plain batch run prints the lamp current, positive when it conducts', () => {
    const netlist = netlistOf(`S1 p m 9V; R1 p x 680; D1 x m ${AMBER.is},2,5`, 'm');
    const elements = netlist.elements.map(
      (e): CircuitElement => (e.id === 'D1' ? { ...e, probe: { name: 'H1', sign: 1 } } : e),
    );
    const printed = runSpicePrinted(spiceText({ ...netlist, elements }, { title: 'one lamp' }));
    near(printed.get('v_h1') ?? Number.NaN, solveDc(netlist).amps.get('D1') ?? 0, 1e-5);
    expect(printed.get('v_h1')).toBeGreaterThan(0);
  });
});
