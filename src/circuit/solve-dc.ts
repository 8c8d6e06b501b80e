/**
 * The operating point of a network.
 *
 * Idea: what has no resistance is merged (`stiff-graph`), the rest hangs between clusters. In every island (a connected
 * part) the cluster with most branches is taken as known; without it the island falls into pieces that know nothing of
 * each other, as the levers of a panel on one good supply do. Each piece is solved (`newton`); then volts are counted
 * from the island's reference, and the currents of merged elements come from Kirchhoff's law.
 * Cost: linear in elements but for the fill of the elimination.
 */
import type { Ampere, Volt } from '../units/index.ts';
import { diodeCurrent, diodeSlope } from './diode-law.ts';
import { solvePiece } from './newton.ts';
import { type ReadNetlist, Role, readNetlist } from './read-netlist.ts';
import { residualOf } from './residual.ts';
import { Sets } from './sets.ts';
import { branchShift, clusterEnds, isBranch, splitPieces } from './split-pieces.ts';
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
  const { island, pieces } = splitPieces(read, graph);
  const close = {
    currentFloor: options.currentFloor ?? CURRENT_FLOOR,
    currentShare: options.currentShare ?? CURRENT_SHARE,
  };
  // Volts of every cluster's zero to the known cluster of its island.
  const x = new Float64Array(graph.clusters);
  const unsettled: (readonly number[])[] = [];
  let iterations = 0;
  for (const { clusters, piece } of pieces) {
    const found = solvePiece(piece, close);
    clusters.forEach((c, k) => {
      x[c] = found.x[k] as number;
    });
    iterations = Math.max(iterations, found.steps);
    if (!found.converged) unsettled.push(clusters);
  }
  const current = branchCurrents(read, graph, x);
  return readPoint(netlist, { read, graph, island, x, current, iterations, unsettled, problems });
}

/** What a solver found: volts of every cluster's zero to the known cluster of its island, amps of every branch. */
export interface Found {
  readonly read: ReadNetlist;
  readonly graph: StiffGraph;
  readonly island: Int32Array;
  readonly x: Float64Array;
  /** By element; 0 for what is absent or stiff. */
  readonly current: Float64Array;
  readonly iterations: number;
  /** Clusters of the pieces that did not settle. */
  readonly unsettled: readonly (readonly number[])[];
  readonly problems: CircuitProblem[];
}

/** The operating point by names: volts from each island's reference, currents of stiff elements, the residual. */
export function readPoint(netlist: Netlist, found: Found): OperatingPoint {
  const { read, graph, island, x, current, iterations, unsettled, problems } = found;
  const { volts, floating, live } = readVolts(netlist, read, graph, x, current, island);

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

  const point = { volts, amps, floating, islands: live, iterations, residual: 0, worst: null, problems };
  const check = residualOf(read, point);
  for (const cluster of unsettled) {
    const nodes = cluster.flatMap((c) => read.nodes.filter((_, node) => graph.cluster[node] === c)).sort(byId);
    problems.push({ code: 'no-convergence', nodes, residual: check.amps });
  }
  return { ...point, residual: check.amps, worst: check.worst };
}

/** Amps of every branch by its own law; 0 for what is absent and, for the time being, for what is stiff. */
function branchCurrents(read: ReadNetlist, graph: StiffGraph, x: Float64Array): Float64Array {
  const amps = new Float64Array(read.elements.length);
  read.elements.forEach((element, m) => {
    const role = read.role[m];
    if (role !== Role.linear && role !== Role.diode) return;
    const [p, q] = clusterEnds(read, graph, m);
    // Clusters first, then the shift, as in the piece, so that rounding is the same.
    const volts = (x[p] as number) - (x[q] as number) + branchShift(read, graph, m);
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
    if (!isBranch(read, graph, m)) return;
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
