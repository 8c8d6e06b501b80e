/**
 * A second solver, slow and of another make: the whole modified nodal matrix with dense elimination, every source and every
 * 0 ohm element an unknown current, the inside of every diode a node of its own. Damped Newton: no junction rises by more
 * than 2 nVt a step above its critical volts, none falls by more than 4 nVt. Shares no code with the product but the value of Vt.
 */
import type { CircuitElement, Netlist } from '../../src/circuit/index.ts';
import { THERMAL_VOLTAGE } from '../../src/parts/index.ts';

/** Siemens from every node to ground: makes floating parts solvable; 24 V give 2.4e-11 A. */
const NODE_SIEMENS = 1e-12;

/** Amps of every element by id, or null where it does not get there. */
export function denseCurrents(netlist: Netlist): Map<string, number> | null {
  const numbers = new Map<string, number>();
  const node = (name: string): number => {
    const at = numbers.get(name) ?? numbers.size;
    numbers.set(name, at);
    return at;
  };
  const live = netlist.elements.filter(conducts);
  for (const e of live) {
    node(e.a);
    node(e.b);
  }
  const inner = new Map<string, number>();
  for (const e of live) if (e.kind === 'diode' && e.law.rs > 0) inner.set(e.id, node(`inside ${e.id}`));
  const stiff = live.filter((e) => e.kind !== 'diode' && e.ohms === 0);
  const nodes = numbers.size;
  const size = nodes + stiff.length;
  const extra = new Map(stiff.map((e, k) => [e.id, nodes + k]));

  const junction = new Map<string, number>();

  /** One linear system, every diode its tangent at its junction volts. */
  const newton = (): Float64Array | null => {
    const matrix = Array.from({ length: size }, () => new Float64Array(size + 1));
    const put = (row: number, column: number, value: number): void => {
      const line = matrix[row];
      if (line !== undefined) line[column] = (line[column] ?? 0) + value;
    };
    const branch = (p: number, q: number, g: number, amps: number): void => {
      // amps = g (v(p) - v(q)) + the constant `amps`.
      put(p, p, g);
      put(q, q, g);
      put(p, q, -g);
      put(q, p, -g);
      put(p, size, -amps);
      put(q, size, amps);
    };
    for (let k = 0; k < nodes; k++) put(k, k, NODE_SIEMENS);
    for (const e of live) {
      const p = node(e.a);
      const q = node(e.b);
      const k = extra.get(e.id);
      if (k !== undefined) {
        put(p, k, 1);
        put(q, k, -1);
        put(k, p, 1);
        put(k, q, -1);
        put(k, size, e.kind === 'source' ? e.volts : 0);
      } else if (e.kind === 'diode') {
        const mid = inner.get(e.id) ?? p;
        if (mid !== p) branch(p, mid, 1 / e.law.rs, 0);
        const nvt = e.law.n * THERMAL_VOLTAGE;
        const v = junction.get(e.id) ?? 0;
        const g = (e.law.is / nvt) * Math.exp(v / nvt);
        branch(mid, q, g, e.law.is * Math.expm1(v / nvt) - g * v);
      } else {
        const emf = e.kind === 'source' ? e.volts : 0;
        branch(p, q, 1 / e.ohms, -emf / e.ohms);
      }
    }
    return eliminateDense(matrix, size);
  };

  const settle = (): Float64Array | null => {
    for (let turn = 0; turn < 2000; turn++) {
      const next = newton();
      if (next === null) return null;
      let done = true;
      for (const e of live) {
        if (e.kind !== 'diode') continue;
        const nvt = e.law.n * THERMAL_VOLTAGE;
        const critical = nvt * Math.log(nvt / (Math.SQRT2 * e.law.is));
        const old = junction.get(e.id) ?? 0;
        const wanted = (next[inner.get(e.id) ?? node(e.a)] ?? 0) - (next[node(e.b)] ?? 0);
        const v = Math.min(Math.max(wanted, Math.min(old - 4 * nvt, 0)), Math.max(old + 2 * nvt, critical));
        junction.set(e.id, v);
        const off = e.law.is * Math.abs(Math.exp(v / nvt) - Math.exp(old / nvt));
        if (v !== wanted || off > 1e-13 + 1e-10 * e.law.is * Math.exp(v / nvt)) done = false;
      }
      if (done) return next;
    }
    return null;
  };
  const x = settle();
  if (x === null) return null;
  const v = (name: string): number => x[node(name)] ?? 0;
  const current = (e: CircuitElement): number => {
    const k = extra.get(e.id);
    if (k !== undefined) return x[k] ?? 0;
    if (!conducts(e)) return 0;
    if (e.kind === 'diode') {
      const mid = inner.get(e.id);
      return (
        e.law.is * Math.expm1(((mid === undefined ? v(e.a) : (x[mid] ?? 0)) - v(e.b)) / (e.law.n * THERMAL_VOLTAGE))
      );
    }
    return (v(e.a) - v(e.b) - (e.kind === 'source' ? e.volts : 0)) / e.ohms;
  };
  return new Map(netlist.elements.map((e) => [e.id, current(e)]));
}

/** Not open. */
function conducts(e: CircuitElement): e is Exclude<CircuitElement, { kind: 'open' | 'capacitor' }> {
  return e.kind !== 'open' && e.kind !== 'capacitor' && (e.kind !== 'contact' || e.closed);
}

/** Gauss with row pivots; null where a pivot vanishes. */
function eliminateDense(matrix: Float64Array[], size: number): Float64Array | null {
  for (let k = 0; k < size; k++) {
    let best = k;
    for (let r = k + 1; r < size; r++) if (Math.abs(matrix[r]?.[k] ?? 0) > Math.abs(matrix[best]?.[k] ?? 0)) best = r;
    const row = matrix[best];
    const other = matrix[k];
    if (row === undefined || other === undefined || Math.abs(row[k] ?? 0) < 1e-14) return null;
    matrix[k] = row;
    matrix[best] = other;
    for (let r = k + 1; r < size; r++) {
      const line = matrix[r];
      const factor = (line?.[k] ?? 0) / (row[k] ?? 1);
      if (line === undefined || factor === 0) continue;
      for (let c = k; c <= size; c++) line[c] = (line[c] ?? 0) - factor * (row[c] ?? 0);
    }
  }
  const x = new Float64Array(size);
  for (let k = size - 1; k >= 0; k--) {
    const row = matrix[k] ?? new Float64Array(size + 1);
    let sum = row[size] ?? 0;
    for (let c = k + 1; c < size; c++) sum -= (row[c] ?? 0) * (x[c] ?? 0);
    x[k] = sum / (row[k] ?? 1);
  }
  return x;
}
