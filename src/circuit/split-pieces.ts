/**
 * Cuts a network into pieces that can be solved one by one.
 *
 * Idea: clusters that any branch joins are one island. In each island the cluster with most branches is taken as known
 * (as a rule both poles of the supply); what still hangs together without it is one piece.
 * Cost: linear in elements but for the plan of the elimination.
 */
import { THERMAL_VOLTAGE } from '../parts/index.ts';
import { type Piece, type PieceDraft, packPiece } from './piece.ts';
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
  const branches = read.elements.flatMap((_, m) => (isBranch(read, graph, m) ? [m] : []));
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
  const drafts = new Map<number, PieceDraft>();
  for (const m of branches) {
    const [p, q] = clusterEnds(read, graph, m);
    const name = sets.find(isKnown(p) ? q : p);
    const draft = drafts.get(name) ?? { linear: [], diodes: [] };
    drafts.set(name, draft);
    const ends = { from: local[p] as number, to: local[q] as number };
    const shift = branchShift(read, graph, m);
    const element = read.elements[m];
    if (element?.kind === 'diode') {
      const { is, n, rs } = element.law;
      draft.diodes.push({ ...ends, shift, is, nvt: n * THERMAL_VOLTAGE, rs });
    } else draft.linear.push({ ...ends, shift, siemens: read.siemens[m] as number });
  }
  const pieces = [...members].flatMap(([name, clusters]) => {
    const draft = drafts.get(name);
    return draft === undefined ? [] : [{ clusters, piece: packPiece(clusters.length, draft) }];
  });
  return { island, pieces };
}

/** Volts that a branch has above the difference of its clusters' zeros: offsets of its nodes, less its own emf. */
export function branchShift(read: ReadNetlist, graph: StiffGraph, m: number): number {
  const offset = (graph.offset[read.from[m] as number] as number) - (graph.offset[read.to[m] as number] as number);
  return offset - (read.emf[m] as number);
}
