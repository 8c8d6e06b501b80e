/**
 * What a network loses with one of its elements, by name: two elements of the same name may be lost, or given ohms, one for the other.
 *
 * Idea: elements in one chain carry the same. A stiff element parts its cluster in two; two that leave the same branches on the same side
 * do the same, and one that leaves a single branch there is as good as one more member of that branch's chain.
 */
import { Role } from './read-netlist.ts';
import type { Topology } from './topology.ts';

const NAMES = new WeakMap<Topology, Map<number, string | null>>();

/**
 * The name of what is lost with element `m`, by its place among the elements, where it is cut, or gets ohms in its way (more than it has, where it has any). Null where
 * it carries nothing for sure, is no part of the network, or lies in a ring without ohms, and for two ends of one branch.
 */
export function lossName(topology: Topology, m: number): string | null {
  const known = NAMES.get(topology) ?? new Map<number, string | null>();
  NAMES.set(topology, known);
  const found = known.get(m);
  if (found !== undefined) return found;
  const name = nameOf(topology, m);
  known.set(m, name);
  return name;
}

function nameOf(topology: Topology, m: number): string | null {
  const e = topology.edgeOf[m] as number;
  if (e >= 0) return `chain ${e}`;
  const { from, to, role, ports } = topology.shape;
  if (role[m] !== Role.joined && role[m] !== Role.ideal) return null;
  const second = sideOf(topology, m, to[m] as number);
  if (second[from[m] as number] === 1) return null;
  const first = sideOf(topology, m, from[m] as number);
  const there = (side: Uint8Array): readonly string[] | null => {
    const ends = ports.flatMap((port, k) => (side[port] === 1 ? [`port ${k}`] : []));
    for (let k = 0; k < role.length; k++) {
      if (role[k] !== Role.linear && role[k] !== Role.diode) continue;
      const [a, b] = [side[from[k] as number] === 1, side[to[k] as number] === 1];
      // A branch from one side to the other, or back to the same, is none while the cluster is whole and may be one when it is not.
      if (topology.cluster[from[k] as number] === topology.cluster[to[k] as number]) {
        if (a || b) return null;
        continue;
      }
      if (a) ends.push(`from ${k}`);
      if (b) ends.push(`to ${k}`);
    }
    return ends;
  };
  const [a, b] = [there(first), there(second)];
  if (a === null || b === null || a.length === 0 || b.length === 0) return null;
  const less = a.length < b.length || (a.length === b.length && a.join() < b.join()) ? a : b;
  const [only] = less;
  const k = Number(only?.split(' ')[1]);
  if (less.length === 1 && only?.startsWith('port') === false) {
    const chain = topology.edgeOf[k] as number;
    return chain >= 0 ? `chain ${chain}` : null;
  }
  return less.join();
}

/**
 * The nodes on one side of stiff element `m`, by its place among the elements: 1 for those that other stiff elements join to `start`, which
 * is one of its two ends, and for that; 0 for all others. In a ring without ohms its other end is among them.
 */
export function sideOf({ shape, stiff }: Topology, m: number, start: number): Uint8Array {
  const { from, to, nodes } = shape;
  const side = new Uint8Array(nodes);
  side[start] = 1;
  for (let grown = true; grown; ) {
    grown = false;
    for (const k of stiff) {
      const [a, b] = [from[k] as number, to[k] as number];
      if (k === m || side[a] === side[b]) continue;
      side[a] = 1;
      side[b] = 1;
      grown = true;
    }
  }
  return side;
}
