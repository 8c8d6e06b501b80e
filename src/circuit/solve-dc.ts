/**
 * The operating point of a network.
 *
 * Idea: what has no resistance is merged (`stiff-graph`), the rest hangs between clusters. In every island (a connected
 * part) the cluster with most branches is taken as known; without it the island falls into pieces that know nothing of
 * each other, as the levers of a panel on one good supply do. Each piece is solved (`newton`); then volts are counted
 * from the island's reference, and the currents of merged elements come from Kirchhoff's law.
 * Cost: linear in elements but for the fill of the elimination.
 */
import { THERMAL_VOLTAGE } from '../parts/index.ts';
import type { Ampere, Volt } from '../units/index.ts';
import { diodeCurrent, diodeSlope } from './diode-law.ts';
import { solvePiece } from './newton.ts';
import { type PieceDraft, packPiece } from './piece.ts';
import { type ReadNetlist, Role, readNetlist } from './read-netlist.ts';
import { residual } from './residual.ts';
import { Sets } from './sets.ts';
import { byId, type StiffGraph, stiffCurrents, stiffGraph } from './stiff-graph.ts';
import { CURRENT_FLOOR, CURRENT_SHARE, HOLDING_SIEMENS } from './tolerances.ts';
import type { CircuitProblem, Netlist, Node, OperatingPoint } from './types.ts';

/** How closely every diode's law is met; by default 1e-12 A and 1e-9 of its current. */
export interface SolveOptions {
  readonly currentFloor?: Ampere;
  readonly currentShare?: number;
}

/**
 * Volts of every node and amps of every element at rest, for any netlist whatever: problems are returned, nothing is
 * thrown, no value is NaN or infinite.
 *
 * @example
 * solveDc(netlistOf('S1 p m 12V; R1 p x 1k; R2 x m 3k', 'm')).volts.get('x') // 9
 */
export function solveDc(netlist: Netlist, options: SolveOptions = {}): OperatingPoint {
  const read = readNetlist(netlist);
  const graph = stiffGraph(read);
  const problems: CircuitProblem[] = [...read.problems, ...graph.problems];
  const solved = solveClusters(read, graph, {
    currentFloor: options.currentFloor ?? CURRENT_FLOOR,
    currentShare: options.currentShare ?? CURRENT_SHARE,
  });

  const current = branchCurrents(read, graph, solved.x);
  const islands = splitIslands(read, graph);
  const { volts, floating, live } = readVolts(netlist, read, graph, solved.x, current, islands);

  const leaving = new Float64Array(read.nodes.length);
  read.elements.forEach((_, m) => {
    const a = read.from[m] as number;
    const b = read.to[m] as number;
    leaving[a] = (leaving[a] as number) + (current[m] as number);
    leaving[b] = (leaving[b] as number) - (current[m] as number);
  });
  const stiff = stiffCurrents(read, graph, leaving);
  const amps = new Map<string, Ampere | null>();
  const stiffAt = new Map(graph.stiff.map((m, edge) => [m, stiff[edge] as number]));
  read.elements.forEach((element, m) => {
    // The first element of an id is the one that counts; a second of the same id was left out.
    if (amps.has(element.id)) return;
    const value = stiffAt.get(m) ?? (current[m] as number);
    amps.set(element.id, Number.isNaN(value) ? null : value);
  });

  const point = { volts, amps, floating, islands: live, iterations: solved.steps, residual: 0, worst: null, problems };
  const check = residual(netlist, point);
  for (const cluster of solved.unsettled) {
    const nodes = cluster.flatMap((c) => read.nodes.filter((_, node) => graph.cluster[node] === c)).sort(byId);
    problems.push({ code: 'no-convergence', nodes, residual: check.amps });
  }
  return { ...point, residual: check.amps, worst: check.worst };
}

/** Is it a branch between two different clusters? */
function parts(read: ReadNetlist, graph: StiffGraph, m: number): boolean {
  const role = read.role[m];
  if (role !== Role.linear && role !== Role.diode) return false;
  return graph.cluster[read.from[m] as number] !== graph.cluster[read.to[m] as number];
}

function clusterEnds(read: ReadNetlist, graph: StiffGraph, m: number): [number, number] {
  return [graph.cluster[read.from[m] as number] as number, graph.cluster[read.to[m] as number] as number];
}

/** Island of every cluster: named by its lowest cluster. */
function splitIslands(read: ReadNetlist, graph: StiffGraph): Int32Array {
  const sets = new Sets(graph.clusters);
  read.elements.forEach((_, m) => {
    if (parts(read, graph, m)) sets.join(...clusterEnds(read, graph, m));
  });
  return Int32Array.from({ length: graph.clusters }, (_, c) => sets.find(c));
}

interface Solved {
  /** Volts of every cluster's zero to its island's known cluster. */
  readonly x: Float64Array;
  readonly steps: number;
  /** Clusters of every piece that did not settle. */
  readonly unsettled: readonly (readonly number[])[];
}

function solveClusters(
  read: ReadNetlist,
  graph: StiffGraph,
  options: { currentFloor: Ampere; currentShare: number },
): Solved {
  const island = splitIslands(read, graph);
  const branches = new Int32Array(graph.clusters);
  read.elements.forEach((_, m) => {
    if (!parts(read, graph, m)) return;
    for (const c of clusterEnds(read, graph, m)) branches[c] = (branches[c] as number) + 1;
  });
  // Known: the cluster with most branches, the lowest first among equals.
  const known = new Map<number, number>();
  for (let c = 0; c < graph.clusters; c++) {
    const best = known.get(island[c] as number);
    if (best === undefined || (branches[c] as number) > (branches[best] as number)) known.set(island[c] as number, c);
  }
  const isKnown = (c: number): boolean => known.get(island[c] as number) === c;

  const sets = new Sets(graph.clusters);
  read.elements.forEach((_, m) => {
    if (!parts(read, graph, m)) return;
    const [p, q] = clusterEnds(read, graph, m);
    if (!isKnown(p) && !isKnown(q)) sets.join(p, q);
  });
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
  read.elements.forEach((element, m) => {
    if (!parts(read, graph, m)) return;
    const [p, q] = clusterEnds(read, graph, m);
    const piece = sets.find(isKnown(p) ? q : p);
    const draft = drafts.get(piece) ?? { linear: [], diodes: [] };
    drafts.set(piece, draft);
    const ends = { from: local[p] as number, to: local[q] as number };
    const shift = (graph.offset[read.from[m] as number] as number) - (graph.offset[read.to[m] as number] as number);
    if (element.kind === 'diode') {
      const { is, n, rs } = element.law;
      draft.diodes.push({ ...ends, shift, is, nvt: n * THERMAL_VOLTAGE, rs });
    } else {
      draft.linear.push({ ...ends, shift: shift - (read.emf[m] as number), siemens: read.siemens[m] as number });
    }
  });

  const x = new Float64Array(graph.clusters);
  const unsettled: number[][] = [];
  let steps = 0;
  for (const [piece, clusters] of members) {
    const draft = drafts.get(piece);
    if (draft === undefined) continue;
    const point = solvePiece(packPiece(clusters.length, draft), options);
    clusters.forEach((c, k) => {
      x[c] = point.x[k] as number;
    });
    steps = Math.max(steps, point.steps);
    if (!point.converged) unsettled.push(clusters);
  }
  return { x, steps, unsettled };
}

/** Amps of every branch by its own law; 0 for what is absent and, for the time being, for what is stiff. */
function branchCurrents(read: ReadNetlist, graph: StiffGraph, x: Float64Array): Float64Array {
  const amps = new Float64Array(read.elements.length);
  read.elements.forEach((element, m) => {
    const role = read.role[m];
    if (role !== Role.linear && role !== Role.diode) return;
    const a = read.from[m] as number;
    const b = read.to[m] as number;
    const clusters = (x[graph.cluster[a] as number] as number) - (x[graph.cluster[b] as number] as number);
    // Clusters first, then offsets: the same order as in the piece, so that rounding is the same.
    const volts = clusters + ((graph.offset[a] as number) - (graph.offset[b] as number) - (read.emf[m] as number));
    amps[m] = element.kind === 'diode' ? diodeCurrent(element.law, volts) : (read.siemens[m] as number) * volts + 0;
  });
  return amps;
}

/** Counts volts from each island's reference, and leaves null what floats or is held by dark diodes alone. */
function readVolts(
  netlist: Netlist,
  read: ReadNetlist,
  graph: StiffGraph,
  x: Float64Array,
  current: Float64Array,
  island: Int32Array,
): { volts: Map<Node, Volt | null>; floating: Node[][]; live: number } {
  const { nodes, elements, from, to, role, index } = read;
  // Clusters that hold each other: by resistance, or by a diode that conducts.
  const held = new Sets(graph.clusters);
  elements.forEach((element, m) => {
    if (!parts(read, graph, m)) return;
    if (element.kind === 'diode' && diodeSlope(element.law, current[m] as number) < HOLDING_SIEMENS) return;
    held.join(...clusterEnds(read, graph, m));
  });
  // The first source by id of each island, and of each held part.
  const sources = elements
    .flatMap((element, m) => (element.kind === 'source' && role[m] !== Role.absent ? [m] : []))
    .sort((p, q) => byId(elements[p]?.id ?? '', elements[q]?.id ?? ''));
  const minus = new Map<number, number>();
  const powered = new Set<number>();
  for (const m of sources) {
    const cluster = graph.cluster[to[m] as number] as number;
    powered.add(held.find(cluster)).add(held.find(graph.cluster[from[m] as number] as number));
    const at = island[cluster] as number;
    if (!minus.has(at)) minus.set(at, to[m] as number);
  }
  const reference = netlist.reference === null ? undefined : index.get(netlist.reference);
  if (reference !== undefined) {
    const cluster = graph.cluster[reference] as number;
    // A reference behind dark diodes alone would leave everything else without volts; the source's own minus serves then.
    if (powered.has(held.find(cluster))) minus.set(island[cluster] as number, reference);
  }

  const at = (node: number): number => (x[graph.cluster[node] as number] as number) + (graph.offset[node] as number);
  const volts = new Map<Node, Volt | null>();
  const floating = new Map<number, Node[]>();
  nodes.forEach((name, node) => {
    const cluster = graph.cluster[node] as number;
    const zero = minus.get(island[cluster] as number);
    if (zero === undefined) {
      const list = floating.get(island[cluster] as number) ?? [];
      floating.set(island[cluster] as number, list);
      list.push(name);
      volts.set(name, null);
    } else {
      const same = held.find(cluster) === held.find(graph.cluster[zero] as number);
      volts.set(name, same ? at(node) - at(zero) : null);
    }
  });
  const lists = [...floating.values()].map((list) => list.sort(byId)).sort((p, q) => byId(p[0] ?? '', q[0] ?? ''));
  return { volts, floating: lists, live: minus.size };
}
