/**
 * Cuts a network into pieces that can be solved one by one.
 *
 * Idea: clusters that any branch joins are one island. In each island the cluster with most branches is taken as known
 * (as a rule both poles of the supply); what still hangs together without it is one piece.
 * Cost: linear in elements but for the plan of the elimination.
 */
import { THERMAL_VOLTAGE } from '../parts/index.ts';
import { planElimination } from './elimination.ts';
import type { Piece } from './piece.ts';
import { type ReadNetlist, Role } from './read-netlist.ts';
import { Sets } from './sets.ts';
import type { StiffGraph } from './stiff-graph.ts';

export interface Pieces {
  /** Island of every cluster, named by its lowest cluster. */
  readonly island: Int32Array;
  /** Each piece with the cluster of each of its nodes. */
  readonly pieces: readonly { readonly clusters: readonly number[]; readonly piece: Piece }[];
}

/** Is it a branch between two different clusters? */
export function isBranch(read: ReadNetlist, graph: StiffGraph, m: number): boolean {
  const role = read.role[m];
  if (role !== Role.linear && role !== Role.diode) return false;
  return graph.cluster[read.from[m] as number] !== graph.cluster[read.to[m] as number];
}

/** The clusters at an element's first and second terminal. */
export function clusterEnds(read: ReadNetlist, graph: StiffGraph, m: number): [number, number] {
  return [graph.cluster[read.from[m] as number] as number, graph.cluster[read.to[m] as number] as number];
}

/** The pieces of a network, by their lowest cluster; clusters that stand alone are in none. */
export function splitPieces(read: ReadNetlist, graph: StiffGraph): Pieces {
  const islands = new Sets(graph.clusters);
  const branches: number[] = [];
  for (let m = 0; m < read.elements.length; m++) if (isBranch(read, graph, m)) branches.push(m);
  const degree = new Int32Array(graph.clusters);
  for (const m of branches) {
    const [p, q] = clusterEnds(read, graph, m);
    islands.join(p, q);
    degree[p] = (degree[p] as number) + 1;
    degree[q] = (degree[q] as number) + 1;
  }
  const island = Int32Array.from({ length: graph.clusters }, (_, c) => islands.find(c));
  // Known: the cluster with most branches, the lowest among equals.
  const known = new Map<number, number>();
  for (let c = 0; c < graph.clusters; c++) {
    const best = known.get(island[c] as number);
    if (best === undefined || (degree[c] as number) > (degree[best] as number)) known.set(island[c] as number, c);
  }
  const isKnown = (c: number): boolean => known.get(island[c] as number) === c;

  const sets = new Sets(graph.clusters);
  for (const m of branches) {
    const [p, q] = clusterEnds(read, graph, m);
    if (!isKnown(p) && !isKnown(q)) sets.join(p, q);
  }
  const members = new Map<number, number[]>();
  const local = new Int32Array(graph.clusters).fill(-1);
  for (let c = 0; c < graph.clusters; c++) {
    if (isKnown(c)) continue;
    const list = members.get(sets.find(c)) ?? [];
    members.set(sets.find(c), list);
    local[c] = list.length;
    list.push(c);
  }
  const linear = new Map<number, number[]>();
  const diodes = new Map<number, number[]>();
  for (const m of branches) {
    const p = graph.cluster[read.from[m] as number] as number;
    const name = sets.find(isKnown(p) ? (graph.cluster[read.to[m] as number] as number) : p);
    const lists = read.role[m] === Role.diode ? diodes : linear;
    const list = lists.get(name);
    if (list === undefined) lists.set(name, [m]);
    else list.push(m);
  }
  const pieces = [...members].flatMap(([name, clusters]) => {
    const lines = linear.get(name) ?? [];
    const junctions = diodes.get(name) ?? [];
    if (lines.length + junctions.length === 0) return [];
    return [{ clusters, piece: packPiece(read, graph, local, clusters.length, lines, junctions) }];
  });
  return { island, pieces };
}

/** One piece in flat arrays, its elimination planned: linear branches first, diodes after them. */
function packPiece(
  read: ReadNetlist,
  graph: StiffGraph,
  local: Int32Array,
  size: number,
  lines: readonly number[],
  junctions: readonly number[],
): Piece {
  const count = lines.length + junctions.length;
  const from = new Int32Array(count);
  const to = new Int32Array(count);
  const shift = new Float64Array(count);
  const siemens = new Float64Array(lines.length);
  const is = new Float64Array(junctions.length);
  const nvt = new Float64Array(junctions.length);
  const rs = new Float64Array(junctions.length);
  for (let k = 0; k < count; k++) {
    const d = k - lines.length;
    const m = (d < 0 ? lines[k] : junctions[d]) as number;
    from[k] = local[graph.cluster[read.from[m] as number] as number] as number;
    to[k] = local[graph.cluster[read.to[m] as number] as number] as number;
    shift[k] = branchShift(read, graph, m);
    if (d < 0) siemens[k] = read.siemens[m] as number;
    const element = read.elements[m];
    if (d < 0 || element?.kind !== 'diode') continue;
    is[d] = element.law.is;
    nvt[d] = element.law.n * THERMAL_VOLTAGE;
    rs[d] = element.law.rs;
  }
  const ends = (first: number, end: number) => ({
    from: from.subarray(first, end),
    to: to.subarray(first, end),
    shift: shift.subarray(first, end),
  });
  return {
    size,
    linear: { ...ends(0, lines.length), siemens },
    diodes: { ...ends(lines.length, count), is, nvt, rs },
    plan: planElimination(size, from, to),
  };
}

/** Volts that a branch has above the difference of its clusters' zeros: offsets of its nodes, less its own emf. */
export function branchShift(read: ReadNetlist, graph: StiffGraph, m: number): number {
  const offset = (graph.offset[read.from[m] as number] as number) - (graph.offset[read.to[m] as number] as number);
  return offset - (read.emf[m] as number);
}
