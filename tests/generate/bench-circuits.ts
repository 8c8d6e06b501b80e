/**
 * Four circuits of the kind that a panel has, for measuring and for comparing with other solvers, and panels of many levers that
 * feel each other. Lamps 1.85 V at 2 mA, typical of the kind.
 */
import { type Netlist, netlistOf } from '../../src/circuit/index.ts';
import { lawFrom } from '../../src/parts/index.ts';

export interface BenchCircuit {
  readonly name: string;
  readonly netlist: Netlist;
  /** Contacts that are closed in each state; all others are open. */
  readonly states: readonly (readonly string[])[];
  /** Do lamps and resistors stand in series, so that they merge? */
  readonly chains: boolean;
}

const LAMP = lawFrom(1.85, 0.002, 2, 5);
/** A silicon diode of 1 A, typical of the kind. */
const SILICON = '2.9e-9,1.8,0.04';

/** Lamps in a row from a to b. */
export function lampRow(name: string, count: number, a: string, b: string): string {
  return Array.from(
    { length: count },
    (_, k) => `D${name}${k} ${k === 0 ? a : `${name}${k}`} ${k === count - 1 ? b : `${name}${k + 1}`} ${LAMP.is},2,5`,
  ).join(';');
}

/** A reversing switch from p and m to a and b, contacts 1 and 2 for normal, 3 and 4 for reverse, all open. */
export function reversing(name: string, p: string, m: string, a: string, b: string): string {
  return `C${name}1 ${p} ${a} off; C${name}2 ${m} ${b} off; C${name}3 ${m} ${a} off; C${name}4 ${p} ${b} off`;
}

/** Contacts closed by a reversing switch; none in the middle. */
export function closedBy(name: string, way: 'normal' | 'reverse' | 'centre'): readonly string[] {
  return way === 'normal' ? [`C${name}1`, `C${name}2`] : way === 'reverse' ? [`C${name}3`, `C${name}4`] : [];
}

const WAYS = ['normal', 'reverse', 'centre'] as const;

/** (a) a battery, a reversing switch, 10 kohm and three lamps in series each way. */
function circuitA(): BenchCircuit {
  const lines = `S1 p m 9V; ${reversing('L', 'p', 'm', 'a', 'b')}; R1 a c 10k; ${lampRow('n', 3, 'c', 'b')}; ${lampRow('r', 3, 'b', 'c')}`;
  return { name: 'a', netlist: netlistOf(lines, 'm'), states: WAYS.map((way) => closedBy('L', way)), chains: true };
}

/** One lever: a drive of 600 ohm, four lamps and a resistor each way. */
export function leverLines(name: string, p: string, m: string, drive = 600, ohms = 680, wire = 0): string {
  const [a, b] = [`a${name}`, `b${name}`];
  const [far, back] = wire === 0 ? [a, b] : [`e${name}`, `f${name}`];
  return [
    reversing(`${name}_`, p, m, a, b),
    ...(wire === 0 ? [] : [`W${name}a ${a} ${far} ${wire}; W${name}b ${b} ${back} ${wire}`]),
    `R${name}m ${far} ${back} ${drive}`,
    `R${name}n ${a} c${name} ${ohms}`,
    lampRow(`${name}n`, 4, `c${name}`, b),
    `R${name}r ${b} d${name} ${ohms}`,
    lampRow(`${name}r`, 4, `d${name}`, a),
  ].join(';');
}

/** (b) one lever on 12 V. */
function circuitB(): BenchCircuit {
  const netlist = netlistOf(`S1 p m 12V; ${leverLines('L', 'p', 'm')}`, 'm');
  return { name: 'b', netlist, states: WAYS.map((way) => closedBy('L_', way)), chains: true };
}

/** (c) a diode matrix: four switches, ten diodes, six coils of 20 ohm with a common return of some resistance. */
function circuitC(): BenchCircuit {
  const ways = [
    [1, 1],
    [1, 2],
    [1, 3],
    [2, 2],
    [2, 4],
    [3, 1],
    [3, 5],
    [3, 6],
    [4, 4],
    [4, 6],
  ];
  const lines = [
    'S1 p m 12V/0.2',
    ...[1, 2, 3, 4].map((k) => `C${k} p s${k} off`),
    ...ways.map(([s, k], i) => `D${i} s${s} k${k} ${SILICON}`),
    ...[1, 2, 3, 4, 5, 6].map((k) => `R${k} k${k} r 20`),
    'W1 r m 0.1',
  ];
  const states = Array.from({ length: 16 }, (_, bits) =>
    [1, 2, 3, 4].filter((k) => (bits >> (k - 1)) & 1).map((k) => `C${k}`),
  );
  return { name: 'c', netlist: netlistOf(lines.join(';'), 'm'), states, chains: false };
}

/** (d) five groups of four lamps on a common return whose wires have resistance. */
function circuitD(): BenchCircuit {
  const groups = [0, 1, 2, 3, 4].map((k) =>
    [
      `W${k}p p p${k} 0.24; W${k}m r${k} r${k + 1} 0.24`,
      reversing(`${k}_`, `p${k}`, `r${k + 1}`, `a${k}`, `b${k}`),
      `R${k} a${k} b${k} 800; R${k}g a${k} c${k} 470`,
      lampRow(`${k}n`, 2, `c${k}`, `b${k}`),
      lampRow(`${k}r`, 2, `b${k}`, `c${k}`),
    ].join(';'),
  );
  const states = Array.from({ length: 32 }, (_, bits) =>
    [0, 1, 2, 3, 4].flatMap((k) => closedBy(`${k}_`, (bits >> k) & 1 ? 'reverse' : 'normal')),
  );
  return {
    name: 'd',
    netlist: netlistOf(`S1 p r0 12V/0.2; ${groups.join(';')}`, 'r0'),
    states,
    chains: true,
  };
}

export function benchCircuits(): readonly BenchCircuit[] {
  return [circuitA(), circuitB(), circuitC(), circuitD()];
}

/**
 * A panel of so many levers, the figures of each a little different, the drive at the end of two wires of 0.24 ohm (3 m of 0.22 mm2). `return` says what they share: nothing (an ideal supply), one
 * wire of 0.25 ohm back to the supply, or a return that runs from lever to lever, 0.05 ohm each.
 */
export function leverPanel(count: number, shared: 'nothing' | 'wire' | 'run'): Netlist {
  const levers = Array.from({ length: count }, (_, k) => {
    const back = shared === 'nothing' ? 'm' : shared === 'wire' ? 'r' : `r${k + 1}`;
    const run = shared === 'run' ? [`WB${k} ${k === 0 ? 'm' : `r${k}`} r${k + 1} 0.05`] : [];
    return [...run, leverLines(`L${k}`, 'p', back, 600 + (k % 97), 680 + (k % 89), 0.24)].join(';');
  });
  const wire = shared === 'wire' ? ['W0 m r 0.25'] : [];
  return netlistOf(['S1 p m 12V', ...wire, ...levers].join(';'), 'm');
}
