/**
 * The operating-point core beside ngspice in the same run: four circuits in all their states, sweeps, faults, coupled panels.
 * Medians of interleaved runs; each operation sets every contact, solves from 0 V and reads the supply's amps.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  type Edit,
  type Netlist,
  prepare,
  prepareBlocks,
  randomNetwork,
  spiceText,
  TopologyStore,
} from '../src/circuit/index.ts';
import { type BenchCircuit, benchCircuits, leverPanel } from '../tests/generate/bench-circuits.ts';

const RUNS = 7;

function median(list: readonly number[]): number {
  return [...list].sort((a, b) => a - b)[list.length >> 1] ?? Number.NaN;
}

function micro(work: () => void, times: number): number {
  const start = performance.now();
  for (let k = 0; k < times; k++) work();
  return ((performance.now() - start) / times) * 1000;
}

/** All states of a circuit, one after the other; microseconds a state. */
function ours(circuit: BenchCircuit): () => number {
  const network = prepare(circuit.netlist);
  const source = network.handle('S1');
  const closed = circuit.states.map((ids) => {
    const on = new Set(ids.map((id) => network.handle(id)));
    return network.contacts.map((handle) => on.has(handle));
  });
  const { contacts } = network;
  let sum = 0;
  const all = () => {
    for (let s = 0; s < closed.length; s++) {
      const state = closed[s] as readonly boolean[];
      for (let k = 0; k < contacts.length; k++) network.setContact(contacts[k] as number, state[k] as boolean);
      network.solve();
      sum += network.amps(source);
    }
  };
  micro(all, 20_000 / closed.length);
  return () => {
    const each = micro(all, Math.ceil(60_000 / closed.length)) / closed.length;
    if (!(sum < 0)) throw new Error(`${circuit.name}: the supply gave ${-sum} A in all`);
    return each;
  };
}

/** A sweep of the supply in steps of 0.1 mV, warm, in the first state; microseconds a point. */
function oursSweep(circuit: BenchCircuit): () => number {
  const network = prepare(circuit.netlist);
  for (const id of circuit.states[circuit.states.length > 3 ? circuit.states.length - 1 : 0] ?? [])
    network.setContact(network.handle(id), true);
  const source = network.handle('S1');
  let sum = 0;
  const from = 8;
  const sweep = () => {
    for (let k = 0; k < 20_000; k++) {
      network.setVolts(source, from + k * 1e-4);
      network.solve({ warm: true });
      sum += network.amps(source);
    }
  };
  sweep();
  return () => {
    const each = micro(sweep, 3) / 20_000;
    if (!(sum < 0)) throw new Error(`${circuit.name}: the supply gave ${-sum} A in all`);
    return each;
  };
}

/** Ohms of a closed contact in ngspice, which knows no 0 ohm, and of an open one. */
const CLOSED = 1e-5;
const OPEN = 1e12;

/** Cards of the netlist with every contact a resistor of its own, and its lines for `alter`. */
function cards(netlist: Netlist): string[] {
  const models = new Map<string, string>();
  const lines = netlist.elements.map((e) => {
    const [a, b] = [e.a, e.b].map((node) => (node === netlist.reference ? '0' : node));
    if (e.kind === 'contact') return `RC${e.id} ${a} ${b} ${e.closed ? CLOSED : OPEN}`;
    if (e.kind === 'diode') {
      const law = `IS=${e.law.is} N=${e.law.n} RS=${e.law.rs}`;
      const model = models.get(law) ?? `DM${models.size}`;
      models.set(law, model);
      return `D${e.id} ${a} ${b} ${model}`;
    }
    if (e.kind === 'source')
      return e.ohms === 0
        ? `V${e.id} ${a} ${b} ${e.volts}`
        : `V${e.id} ${a} x${e.id} ${e.volts}\nRV${e.id} x${e.id} ${b} ${e.ohms}`;
    if (e.kind === 'open' || e.kind === 'capacitor') return `* ${e.id} open`;
    return `R${e.id} ${a} ${b} ${e.ohms}`;
  });
  return [...lines, ...[...models].map(([law, name]) => `.model ${name} D(${law} TNOM=27)`)];
}

const folder = mkdtempSync(join(tmpdir(), 'circuit-bench-'));

function ngspice(text: string, file = 'in.cir'): number {
  writeFileSync(join(folder, file), text);
  const start = performance.now();
  const run = spawnSync('ngspice', ['-b', file], { cwd: folder, stdio: ['ignore', 'ignore', 'ignore'] });
  if (run.error !== undefined) throw run.error;
  return performance.now() - start;
}

/** Microseconds a state in one process: the same script with many and with few rounds, apart by nothing but the rounds. */
function spiceLoop(circuit: BenchCircuit): () => number {
  const contacts = circuit.netlist.elements.flatMap((e) => (e.kind === 'contact' ? [e.id] : []));
  const body = circuit.states.flatMap((closed) => [
    ...contacts.map((id) => `alter rc${id.toLowerCase()} = ${closed.includes(id) ? CLOSED : OPEN}`),
    'op',
    'destroy all',
  ]);
  const script = (rounds: number) =>
    ['loop', ...cards(circuit.netlist), '.control', `repeat ${rounds}`, ...body, 'end', 'quit', '.endc', '.end'].join(
      '\n',
    );
  const [few, many] = [Math.ceil(200 / circuit.states.length), Math.ceil(2200 / circuit.states.length)];
  return () => ((ngspice(script(many)) - ngspice(script(few))) / ((many - few) * circuit.states.length)) * 1000;
}

function spiceSweep(circuit: BenchCircuit): () => number {
  const state = circuit.states[circuit.states.length > 3 ? circuit.states.length - 1 : 0] ?? [];
  const netlist = {
    ...circuit.netlist,
    elements: circuit.netlist.elements.map((e) => (e.kind === 'contact' ? { ...e, closed: state.includes(e.id) } : e)),
  };
  const script = (points: number) =>
    ['sweep', ...cards(netlist), '.control', `dc VS1 8 ${8 + points * 1e-4} 1e-4`, 'quit', '.endc', '.end'].join('\n');
  return () => ((ngspice(script(40_000)) - ngspice(script(2_000))) / 38_000) * 1000;
}

function spiceProcess(circuit: BenchCircuit): () => number {
  const text = [`one`, ...cards(circuit.netlist), '.op', '.end'].join('\n');
  return () => ngspice(text) * 1000;
}

const spice = spawnSync('ngspice', ['-v'], { encoding: 'utf8' }).error === undefined;
if (!spice) console.log('ngspice is not installed: no comparison, our own figures only.');

const table: string[][] = [];
for (const circuit of benchCircuits()) {
  const cold = ours(circuit);
  const warm = oursSweep(circuit);
  const [loop, sweep, process] = [spiceLoop(circuit), spiceSweep(circuit), spiceProcess(circuit)];
  const found = { cold: [], warm: [], loop: [], sweep: [], process: [] } as Record<string, number[]>;
  for (let run = 0; run < RUNS; run++) {
    found.cold?.push(cold());
    found.warm?.push(warm());
    if (!spice) continue;
    found.loop?.push(loop());
    found.sweep?.push(sweep());
    for (let k = 0; k < 5; k++) found.process?.push(process());
  }
  const m = (key: string) => median(found[key] ?? []);
  const ratio = (key: string, of: string) => (m(key) / m(of)).toFixed(key === 'sweep' ? 1 : 0);
  table.push([
    circuit.name,
    String(circuit.states.length),
    m('cold').toFixed(2),
    m('loop').toFixed(0),
    ratio('loop', 'cold'),
    m('process').toFixed(0),
    ratio('process', 'cold'),
    m('warm').toFixed(2),
    m('sweep').toFixed(2),
    ratio('sweep', 'warm'),
  ]);
}
const head = [
  'circuit',
  'states',
  'ours us',
  'alter+op us',
  'ratio',
  'process us',
  'ratio',
  'ours warm us',
  '.dc us',
  'ratio',
];
for (const row of [head, ...table]) console.log(row.map((cell) => cell.padStart(13)).join(''));
console.log(
  'alter+op: one ngspice process, contacts altered and the point worked out; most of it is its command language, not its solver.\n' +
    'process: a new ngspice for each state. .dc: its own sweep in steps of 0.1 mV against ours, each from the point before: solver against solver.',
);

/** Single faults of every component of a lever; what welds or bridges a feed dead is a finding, not an operating point. */
function faultsOf(lever: number, netlist: Netlist): Edit[] {
  const name = new RegExp(`^[CDRW]L${lever}(_|m|n|r|a|b)`);
  return netlist.elements.flatMap((e): Edit[] => {
    if (!name.test(e.id)) return [];
    if (e.kind === 'contact') return [{ do: 'open', element: e.id }];
    const element = e.id;
    const both: Edit[] = [
      { do: 'open', element },
      { do: 'short', element },
      { do: 'join', id: 'leak', a: e.a, b: e.b, ohms: 1000 },
    ];
    if (e.kind === 'diode')
      return [
        ...both,
        { do: 'turn', element },
        { do: 'ohms', element, ohms: 100 },
        { do: 'law', element, law: { ...e.law, is: e.law.is * 10 } },
        { do: 'law', element, law: { ...e.law, is: e.law.is / 10 } },
      ];
    if (e.kind === 'wire')
      return [
        { do: 'open', element },
        { do: 'ohms', element, ohms: 100 },
      ];
    if (e.kind !== 'resistor') return both;
    return [...both, ...[10, 0.1, 1.05, 0.95].map((k): Edit => ({ do: 'ohms', element, ohms: e.ohms * k }))];
  });
}

const POSITIONS = [[1, 2], [3, 4], []] as const;

/** Every fault of every lever in its three positions, the others normal; milliseconds, and what was done. */
function allFaults(count: number, shared: 'nothing' | 'wire' | 'run'): string {
  const netlist = leverPanel(count, shared);
  const start = performance.now();
  const store = new TopologyStore();
  let solved = 0;
  let whole = 0;
  let sum = 0;
  if (shared === 'nothing') {
    // Behind an ideal supply every lever stands alone.
    for (let k = 0; k < count; k++) {
      const name = new RegExp(`^(S1$|[CDRW]L${k}(_|m|n|r|a|b))`);
      const own = { elements: netlist.elements.filter(({ id }) => name.test(id)), reference: 'm' };
      const network = prepare(own, { store });
      const motor = network.handle(`RL${k}m`);
      const faults = faultsOf(k, own);
      for (const closed of POSITIONS) {
        network.edit([]);
        for (let c = 1; c <= 4; c++)
          network.setContact(
            network.handle(`CL${k}_${c}`),
            closed.some((on) => on === c),
          );
        for (const fault of faults) {
          network.edit([fault]);
          network.solve();
          sum += network.amps(motor);
          solved++;
        }
      }
    }
  } else {
    const blocks = prepareBlocks(netlist, { store });
    for (let k = 0; k < count; k++) for (const c of [1, 2]) blocks.setContact(`CL${k}_${c}`, true);
    for (const closed of POSITIONS) {
      // All levers in the same position: the good state is worked out once for each.
      blocks.edit([]);
      for (let k = 0; k < count; k++)
        for (let c = 1; c <= 4; c++)
          blocks.setContact(
            `CL${k}_${c}`,
            closed.some((on) => on === c),
          );
      for (let k = 0; k < count; k++) {
        for (const fault of faultsOf(k, netlist)) {
          blocks.edit([fault]);
          blocks.solve();
          sum += blocks.amps(`RL${k}m`) ?? 0;
          solved++;
          if (blocks.found !== 'tangent') whole++;
        }
      }
    }
  }
  if (!Number.isFinite(sum)) throw new Error(`${count} ${shared}: ${sum}`);
  return `${(performance.now() - start).toFixed(0)} ms for ${solved} solves (${whole} of the whole)`;
}

/** All 65,536 settings of a panel of 16 levers that share a return, one lever changed at a time. */
function allSettings(shared: 'wire' | 'run', warm: boolean): string {
  const blocks = prepareBlocks(leverPanel(16, shared));
  for (let k = 0; k < 16; k++) for (const c of [1, 2]) blocks.setContact(`CL${k}_${c}`, true);
  blocks.solve();
  const start = performance.now();
  let sum = 0;
  let failed = 0;
  for (let n = 1; n <= 65_536; n++) {
    const gray = (n % 65_536) ^ ((n % 65_536) >> 1);
    const k = 31 - Math.clz32(gray ^ ((n - 1) ^ ((n - 1) >> 1)) || 1);
    const reverse = ((gray >> k) & 1) === 1;
    for (const c of [1, 2]) blocks.setContact(`CL${k}_${c}`, !reverse);
    for (const c of [3, 4]) blocks.setContact(`CL${k}_${c}`, reverse);
    blocks.solve({ warm });
    if (blocks.found !== 'whole') failed++;
    sum += Math.abs(blocks.amps(`RL${k}m`) ?? Number.NaN);
  }
  return `${((performance.now() - start) / 1000).toFixed(2)} s (${failed} by the general solver; checksum ${sum.toFixed(6)})`;
}

/** Random networks: our failures and worst error, ngspice's own failures on the first of them. */
function randomNetworks(): string {
  let failed = 0;
  let beyond = 0;
  const start = performance.now();
  for (let seed = 0; seed < 10_000; seed++) {
    const network = prepare(randomNetwork(seed));
    network.solve();
    const point = network.point();
    if (point.problems.some(({ code }) => code === 'no-convergence')) failed++;
    const most = Math.max(0, ...[...point.amps.values()].map((a) => Math.abs(a ?? 0)));
    if (!(point.residual <= 1e-11 + 1e-8 * most + 3.2e-8)) beyond++;
  }
  return `10,000 random networks, each made ready and read out by name: ${failed} failed, ${beyond} beyond rounding, ${((performance.now() - start) / 10).toFixed(0)} us each`;
}

function spiceFailures(count: number): string {
  let failed = 0;
  for (let seed = 0; seed < count; seed++) {
    writeFileSync(join(folder, 'in.cir'), spiceText(randomNetwork(seed), { title: `seed ${seed}` }));
    const run = spawnSync('ngspice', ['-b', 'in.cir'], { cwd: folder, encoding: 'utf8' });
    if (/no convergence|singular|timestep too small|aborted/i.test(`${run.stdout}${run.stderr}`)) failed++;
  }
  return `ngspice at its defaults does not converge, or says singular, on ${failed} of the first ${count} of them`;
}

const once = (label: string, work: () => string, runs = 5): void => {
  // The first run warms up.
  if (runs > 1) work();
  const all = Array.from({ length: runs }, work).sort((a, b) => Number.parseFloat(a) - Number.parseFloat(b));
  console.log(`${label}: ${all[runs >> 1]}`);
};
for (const shared of ['nothing', 'wire', 'run'] as const) {
  once(`all component faults, 3 positions, 16 levers sharing ${shared}`, () => allFaults(16, shared));
  once(`all component faults, 3 positions, 300 levers sharing ${shared}`, () => allFaults(300, shared), 1);
}
for (const shared of ['wire', 'run'] as const)
  for (const warm of [false, true])
    once(
      `65,536 settings of 16 levers sharing ${shared}, ${warm ? 'remembered' : 'from 0 V'}`,
      () => allSettings(shared, warm),
      1,
    );
console.log(randomNetworks());
if (spice) console.log(spiceFailures(300));
rmSync(folder, { recursive: true, force: true });
