/**
 * Networks by seed, for laws that must hold for every network and for measuring speed. The same seed gives the same network for ever.
 */
import type { CircuitElement, Netlist } from './types.ts';

/** A stream of numbers in [0, 1) from a seed (mulberry32), so that every run of a test sees the same circuits. */
export function stream(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export interface RandomOptions {
  /** Parts that mend or break everything: shorts of 1 uohm, diodes of rs 0, ideal sources, 0 ohm wires. Default true. */
  readonly wild?: boolean;
  /** Diodes may occur. Default true. */
  readonly diodes?: boolean;
  /** Every branch that is not of 0 ohm has a probe of its own id. Default false. */
  readonly probes?: boolean;
}

/** Lamps and silicon diodes, typical of the kind: saturation current, emission coefficient. */
const LAWS = [
  { is: 1.9e-18, n: 2 },
  { is: 7e-19, n: 2 },
  { is: 4e-26, n: 2 },
  { is: 2.9e-9, n: 1.8 },
  { is: 1e-14, n: 1 },
] as const;

/**
 * A network of 3 to 12 nodes and up to 24 elements at random: with open and closed contacts, floating parts, lone
 * nodes, sources of 1 to 24 V in any place, opposed and stacked diodes.
 */
export function randomNetwork(seed: number, options: RandomOptions = {}): Netlist {
  const { wild = true, diodes = true, probes = false } = options;
  const next = stream(seed);
  const pick = (count: number): number => Math.floor(next() * count);
  const count = 3 + pick(10);
  const size = 3 + pick(22);
  const elements: CircuitElement[] = [];
  let sources = 0;
  for (let m = 0; m < size; m++) {
    const p = pick(count);
    const q = (p + 1 + pick(count - 1)) % count;
    const a = `N${p}`;
    const b = `N${q}`;
    const roll = next();
    const id = `E${m}`;
    const probe = probes ? { probe: { name: id, sign: next() < 0.5 ? (1 as const) : (-1 as const) } } : {};
    if (roll < 0.38) {
      const ohms = wild && next() < 0.06 ? 1e-6 : 10 ** (next() * 6);
      elements.push({ id, a, b, kind: 'resistor', ohms, ...probe });
    } else if (roll < 0.66) {
      if (!diodes) continue;
      const law = LAWS[pick(LAWS.length)] ?? LAWS[0];
      elements.push({
        id,
        a,
        b,
        kind: 'diode',
        law: { ...law, rs: wild && next() < 0.3 ? 0 : 0.05 + 5 * next() },
        ...probe,
      });
    } else if (roll < 0.78) {
      const closed = next() < 0.5;
      elements.push({ id, a, b, kind: 'contact', closed, ohms: wild ? 0 : 0.02 });
    } else if (roll < 0.84) {
      const ohms = wild && next() < 0.7 ? 0 : 0.1 + next();
      elements.push({ id, a, b, kind: 'wire', ohms });
    } else if (roll < 0.87) {
      elements.push({ id, a, b, kind: 'open' });
    } else if (sources < 3 || m === size - 1) {
      sources++;
      const ohms = wild && next() < 0.5 ? 0 : 0.1 + 10 * next();
      elements.push({ id, a, b, kind: 'source', volts: 1 + Math.floor(next() * 24), ohms, ...probe });
    }
  }
  return { elements, reference: next() < 0.7 ? 'N0' : null };
}
