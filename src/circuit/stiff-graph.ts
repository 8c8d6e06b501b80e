/**
 * What is held together without any resistance: nodes joined by 0 ohm, and nodes a known number of volts apart.
 *
 * Idea: union-find with an offset at every node merges 0 ohm elements first and ideal sources after them, so each
 * cluster is one unknown. A source whose ends are in one cluster already either agrees (a loop), is shorted, or
 * disagrees with other sources; then it is left out. Currents of these elements follow from Kirchhoff's law once
 * all others are known: an element whose removal parts the cluster (a bridge) carries what its far side feeds;
 * an element on a loop carries an amount that nothing decides.
 * Cost: linear in elements. Source: Tarjan 1975 (union-find), Tarjan 1974 (bridges).
 */
import { type ReadNetlist, Role } from './read-netlist.ts';
import { AGREE_SHARE } from './tolerances.ts';
import type { CircuitProblem } from './types.ts';

export interface StiffGraph {
  /** Cluster of every node, numbered from 0 by first node. */
  readonly cluster: Int32Array;
  readonly clusters: number;
  /** Volts of a node above its cluster's own zero. */
  readonly offset: Float64Array;
  /** Joined or ideal elements, those left out included, in the order of the netlist. */
  readonly stiff: readonly number[];
  readonly problems: readonly CircuitProblem[];
}

/** Merges what has no resistance. Sources are taken in the order of their ids, so the order of the netlist decides nothing. */
export function stiffGraph(read: ReadNetlist): StiffGraph {
  const { nodes, from, to, role, emf, elements } = read;
  const parent = Int32Array.from(nodes.keys());
  /** Volts of a node above its parent. */
  const above = new Float64Array(nodes.length);
  const find = (node: number): number => {
    const path: number[] = [];
    let top = node;
    while (parent[top] !== top) {
      path.push(top);
      top = parent[top] as number;
    }
    // From the top down, so that each parent's volts are to the root already.
    let sum = 0;
    for (let at = path.length - 1; at >= 0; at--) {
      const p = path[at] as number;
      sum += above[p] as number;
      above[p] = sum;
      parent[p] = top;
    }
    return top;
  };
  const stiff: number[] = [];
  const ideal: number[] = [];
  elements.forEach((_, m) => {
    if (role[m] === Role.joined || role[m] === Role.ideal) stiff.push(m);
    if (role[m] === Role.ideal) ideal.push(m);
    if (role[m] !== Role.joined) return;
    const a = find(from[m] as number);
    const b = find(to[m] as number);
    if (a !== b) parent[a] = b;
  });

  ideal.sort((p, q) => byId(elements[p]?.id ?? '', elements[q]?.id ?? ''));
  const problems: CircuitProblem[] = [];
  const kept: number[] = [];
  for (const m of ideal) {
    const p = from[m] as number;
    const q = to[m] as number;
    const a = find(p);
    const b = find(q);
    const volts = emf[m] as number;
    const pAbove = p === a ? 0 : (above[p] as number);
    const qAbove = q === b ? 0 : (above[q] as number);
    if (a !== b) {
      // V(p) - V(q) = volts, V(p) = V(a) + pAbove, V(q) = V(b) + qAbove.
      parent[a] = b;
      above[a] = volts + qAbove - pAbove;
      kept.push(m);
      continue;
    }
    const stands = pAbove - qAbove;
    const scale = Math.abs(volts) + Math.abs(pAbove) + Math.abs(qAbove);
    if (Math.abs(stands - volts) > AGREE_SHARE * scale) problems.push(clash(read, kept, m));
    else kept.push(m);
  }

  const cluster = new Int32Array(nodes.length).fill(-1);
  const offset = new Float64Array(nodes.length);
  const names = new Map<number, number>();
  nodes.forEach((_, node) => {
    const root = find(node);
    const name = names.get(root) ?? names.size;
    names.set(root, name);
    cluster[node] = name;
    offset[node] = node === root ? 0 : (above[node] as number);
  });
  return { cluster, clusters: names.size, offset, stiff, problems };
}

/** Names the way of 0 ohm between a source's ends, or the sources on it that say otherwise. */
function clash(read: ReadNetlist, kept: readonly number[], m: number): CircuitProblem {
  const { nodes, elements, from, to, role } = read;
  const ways: [number, number][][] = nodes.map(() => []);
  const open = (e: number): void => {
    ways[from[e] as number]?.push([e, to[e] as number]);
    ways[to[e] as number]?.push([e, from[e] as number]);
  };
  const joined = elements.flatMap((_, e) => (role[e] === Role.joined ? [e] : []));
  for (const e of [...joined, ...kept].sort((p, q) => byId(elements[p]?.id ?? '', elements[q]?.id ?? ''))) open(e);
  const source = elements[m]?.id ?? '';
  const start = from[m] as number;
  const end = to[m] as number;
  // Ways over 0 ohm alone come first, so a short is named as a short even where sources lie on another way.
  const found = walk(ways, start, end, (e) => role[e] === Role.joined) ?? walk(ways, start, end, () => true) ?? [];
  const sources = found.flatMap(([e]) => (role[e] === Role.ideal ? [elements[e]?.id ?? ''] : []));
  if (sources.length > 0) return { code: 'sources-disagree', sources: [...sources, source].sort(byId) };
  return {
    code: 'source-shorted',
    source,
    nodes: [start, ...found.map(([, node]) => node)].map((n) => nodes[n] ?? ''),
  };
}

/** The shortest way from `start` to `end` by allowed elements: each element with the node it leads to. */
function walk(
  ways: readonly (readonly [number, number])[][],
  start: number,
  end: number,
  allowed: (element: number) => boolean,
): [number, number][] | null {
  const came = new Map<number, [element: number, node: number]>();
  const queue = [start];
  const seen = new Set(queue);
  for (let at = 0; at < queue.length; at++) {
    const node = queue[at] as number;
    if (node === end) {
      const steps: [number, number][] = [];
      for (let back = end; back !== start; ) {
        const step = came.get(back);
        if (step === undefined) throw new RangeError(`way to node ${back} is broken`);
        steps.unshift([step[0], back]);
        back = step[1];
      }
      return steps;
    }
    for (const [element, next] of ways[node] ?? []) {
      if (seen.has(next) || !allowed(element)) continue;
      seen.add(next);
      came.set(next, [element, node]);
      queue.push(next);
    }
  }
  return null;
}

/**
 * Amps of every stiff element, in the order of `stiff`, when `leaving[node]` amps leave each node through all others;
 * NaN where a loop leaves it undecided (never shown to a caller). Loops of one element count: a 0 ohm wire from a node to itself.
 */
export function stiffCurrents(read: ReadNetlist, graph: StiffGraph, leaving: Float64Array): Float64Array {
  const { nodes, from, to } = read;
  const { stiff } = graph;
  const amps = new Float64Array(stiff.length).fill(Number.NaN);
  const ways: [edge: number, node: number][][] = nodes.map(() => []);
  stiff.forEach((m, edge) => {
    const a = from[m] as number;
    const b = to[m] as number;
    if (a === b) return;
    ways[a]?.push([edge, b]);
    ways[b]?.push([edge, a]);
  });
  // Depth first without recursion; low[node] is the earliest node that its far side reaches by another way.
  const order = new Int32Array(nodes.length).fill(-1);
  const low = new Int32Array(nodes.length);
  const sum = Float64Array.from(leaving);
  const next = new Int32Array(nodes.length);
  let clock = 0;
  for (let root = 0; root < nodes.length; root++) {
    if (order[root] !== -1 || ways[root]?.length === 0) continue;
    const path: [node: number, by: number][] = [[root, -1]];
    order[root] = low[root] = clock++;
    while (path.length > 0) {
      const [node, by] = path[path.length - 1] as [number, number];
      const way = ways[node]?.[next[node] as number];
      if (way !== undefined) {
        next[node] = (next[node] as number) + 1;
        const [edge, far] = way;
        if (edge === by) continue;
        if (order[far] === -1) {
          order[far] = low[far] = clock++;
          path.push([far, edge]);
        } else low[node] = Math.min(low[node] as number, order[far] as number);
        continue;
      }
      path.pop();
      const back = path[path.length - 1];
      if (back === undefined) continue;
      const near = back[0];
      low[near] = Math.min(low[near] as number, low[node] as number);
      sum[near] = (sum[near] as number) + (sum[node] as number);
      if ((low[node] as number) > (order[near] as number)) {
        // What leaves the far side must come to it through this element alone.
        const out = sum[node] as number;
        amps[by] = (from[stiff[by] as number] as number) === node ? 0 - out : out + 0;
      }
    }
  }
  return amps;
}

/** Plain order of ids, the same on every machine. */
export function byId(p: string, q: string): number {
  return p < q ? -1 : p > q ? 1 : 0;
}
