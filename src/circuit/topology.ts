/**
 * What a network in one state of its contacts looks like to the solver, worked out once and used for any values.
 *
 * Idea: nodes without resistance between them are one cluster. Ports, or the best connected cluster of an island, are known.
 * Of the rest, what ends nowhere carries nothing and is taken off; two branches that meet alone in a cluster are one chain
 * (`chains`). A chain between known clusters stands alone; what then still hangs together is a piece, with a tape that takes
 * its clusters out by star-mesh steps in the order of least degree.
 * Cost: linear in elements but for the fill.
 */
import { ALONG, type Chain, mergeChains, NONE } from './chains.ts';
import { planElimination } from './elimination.ts';
import { Role } from './read-netlist.ts';
import { Sets } from './sets.ts';

/** A network without its values: ends and role of every element, and for diodes which laws may be merged. */
export interface Shape {
  readonly nodes: number;
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly role: Uint8Array;
  /** Diodes of class 0 may be merged with each other, those of another class with their like. */
  readonly law: Int32Array;
  /** Nodes whose volts are given from outside; the first is zero. */
  readonly ports: readonly number[];
}

/** A piece: edges `lines` are linear, edges `junctions` diodes; each a range of the topology's edges. */
export interface PieceTape {
  readonly clusters: Int32Array;
  readonly lines: readonly [number, number];
  readonly junctions: readonly [number, number];
  readonly slots: readonly [number, number];
  /** For each cluster in order: its number, how many neighbours, (slot, neighbour) of each, slot of each pair of them. */
  readonly tape: Int32Array;
  /** Where each cluster's entry begins. */
  readonly at: Int32Array;
}

export interface Topology {
  readonly shape: Shape;
  readonly cluster: Int32Array;
  readonly clusters: number;
  readonly island: Int32Array;
  /** Nodes after the one that their offset is counted from: node, that one, element between, +1 where it adds its emf, -1, or 0. */
  readonly tree: Int32Array;
  readonly stiff: readonly number[];
  readonly edges: number;
  readonly edgeFrom: Int32Array;
  readonly edgeTo: Int32Array;
  /** Members of edge e: `member[start[e] .. start[e + 1]]`, passed from first to second terminal where the sign is 1. */
  readonly start: Int32Array;
  readonly member: Int32Array;
  readonly sign: Int8Array;
  /** Clusters between the members of an edge, in order. */
  readonly inner: readonly (readonly number[])[];
  /** Where each edge's siemens go: a cluster, a slot, or the last place, which nobody reads. */
  readonly place: Int32Array;
  readonly pieces: readonly PieceTape[];
  /** Edges between known clusters: linear ones, then diodes. */
  readonly directLines: readonly [number, number];
  readonly directJunctions: readonly [number, number];
  /** Edge of each element and its sign in it; -1 where it carries nothing or is stiff. */
  readonly edgeOf: Int32Array;
  readonly signOf: Int8Array;
  /** Chains that end nowhere, and rings, in the order in which their volts are found: each from a cluster that has them by then. */
  readonly loose: readonly Chain[];
  /** Clusters of the ports, and the places between every two of those after the first. */
  readonly portCluster: Int32Array;
  readonly portPlace: readonly Int32Array[];
  readonly places: number;
}

/** The topology; null where ports are one cluster or sources of 0 ohm form a loop, which only the general solver tells apart. */
export function compileTopology(shape: Shape): Topology | null {
  const { from, to, role } = shape;
  const joined = joinStiff(shape);
  if (joined === null) return null;
  const { cluster, clusters, tree, stiff } = joined;
  const portCluster = gather(shape.ports, (node) => cluster[node] as number);
  for (let p = 1; p < portCluster.length; p++) if (portCluster.indexOf(portCluster[p] as number) < p) return null;

  const chains: Chain[] = [];
  for (let m = 0; m < role.length; m++) {
    if (role[m] !== Role.linear && role[m] !== Role.diode) continue;
    const diode = role[m] === Role.diode;
    chains.push({
      from: cluster[from[m] as number] as number,
      to: cluster[to[m] as number] as number,
      members: [m],
      signs: ALONG,
      inner: NONE,
      facing: diode ? 1 : 0,
      law: diode ? (shape.law[m] as number) : -1,
    });
  }
  const { island, known } = findKnown(clusters, chains, portCluster);
  const { kept, loose } = mergeChains(clusters, chains, known);
  return lay(shape, { cluster, clusters, island, tree, stiff, portCluster }, kept, loose, known);
}

export interface Joined {
  readonly cluster: Int32Array;
  readonly clusters: number;
  readonly tree: Int32Array;
  readonly stiff: readonly number[];
}

/** Clusters, and a tree over each by which its nodes' offsets are counted from its lowest node; null where ideal sources form a loop. */
export function joinStiff({ nodes, from, to, role }: Pick<Shape, 'nodes' | 'from' | 'to' | 'role'>): Joined | null {
  const sets = new Sets(nodes);
  const stiff: number[] = [];
  const treeElements: number[] = [];
  let ideal = false;
  for (const kind of [Role.joined, Role.ideal]) {
    for (let m = 0; m < role.length; m++) {
      if (role[m] !== kind) continue;
      stiff.push(m);
      if (sets.join(from[m] as number, to[m] as number)) treeElements.push(m);
      else if (kind === Role.ideal) return null;
      if (kind === Role.ideal) ideal = true;
    }
  }
  if (ideal) stiff.sort((p, q) => p - q);
  const cluster = new Int32Array(nodes);
  let clusters = 0;
  for (let node = 0; node < nodes; node++) {
    const root = sets.find(node);
    cluster[node] = root === node ? clusters++ : (cluster[root] as number);
  }
  // Without a source nothing in a cluster stands above anything else.
  return { cluster, clusters, tree: ideal ? growTrees({ nodes, from, to, role }, treeElements, sets) : NO_TREE, stiff };
}

const NO_TREE = new Int32Array(0);

/** A tree over each cluster from its lowest node, by elements that close no ring. */
function growTrees(
  { nodes, from, to, role }: Pick<Shape, 'nodes' | 'from' | 'to' | 'role'>,
  elements: readonly number[],
  sets: Sets,
): Int32Array {
  const ways: number[][] = [];
  for (const m of elements) {
    for (const node of [from[m] as number, to[m] as number]) {
      const list = ways[node];
      if (list === undefined) ways[node] = [m];
      else list.push(m);
    }
  }
  const tree: number[] = [];
  const queue: number[] = [];
  for (let node = 0; node < nodes; node++) if (sets.find(node) === node && ways[node] !== undefined) queue.push(node);
  const seen = new Uint8Array(nodes);
  for (const node of queue) seen[node] = 1;
  for (let at = 0; at < queue.length; at++) {
    const node = queue[at] as number;
    for (const m of ways[node] ?? []) {
      const far = from[m] === node ? (to[m] as number) : (from[m] as number);
      if (seen[far] === 1) continue;
      seen[far] = 1;
      // V(from) - V(to) = emf: from the second terminal to the first the emf is added.
      tree.push(far, node, m, role[m] === Role.joined ? 0 : from[m] === far ? 1 : -1);
      queue.push(far);
    }
  }
  return new Int32Array(tree);
}

/** A number of every item. (`Int32Array.from` takes ten times as long.) */
function gather<T>(list: readonly T[], read: (item: T) => number): Int32Array {
  const made = new Int32Array(list.length);
  for (let k = 0; k < list.length; k++) made[k] = read(list[k] as T);
  return made;
}

/** Known clusters: the ports, and of every island without one the cluster with most branches (the lowest among equals). */
function findKnown(clusters: number, chains: readonly Chain[], ports: Int32Array) {
  const sets = new Sets(clusters);
  const degree = new Int32Array(clusters);
  for (const { from, to } of chains) {
    if (!sets.join(from, to) && from === to) continue;
    degree[from] = (degree[from] as number) + 1;
    degree[to] = (degree[to] as number) + 1;
  }
  const island = new Int32Array(clusters);
  for (let c = 0; c < clusters; c++) island[c] = sets.find(c);
  const known = new Uint8Array(clusters);
  const best = new Int32Array(clusters).fill(-1);
  for (const c of ports) {
    known[c] = 1;
    best[island[c] as number] = clusters;
  }
  for (let c = 0; c < clusters; c++) {
    const at = island[c] as number;
    const other = best[at] as number;
    if (other === -1 || (other < clusters && (degree[c] as number) > (degree[other] as number))) best[at] = c;
  }
  for (let c = 0; c < clusters; c++) {
    const at = best[c] as number;
    if (at >= 0 && at < clusters) known[at] = 1;
  }
  return { island, known };
}

interface Clusters {
  readonly cluster: Int32Array;
  readonly clusters: number;
  readonly island: Int32Array;
  readonly tree: Int32Array;
  readonly stiff: readonly number[];
  readonly portCluster: Int32Array;
}

/** Puts edges and pieces into flat arrays. */
function lay(
  shape: Shape,
  base: Clusters,
  chains: readonly Chain[],
  loose: readonly Chain[],
  known: Uint8Array,
): Topology {
  const { clusters, portCluster } = base;
  const sets = new Sets(clusters);
  for (const { from, to } of chains) if (known[from] === 0 && known[to] === 0) sets.join(from, to);
  const pieceOf = new Map<number, { clusters: number[]; lines: Chain[]; junctions: Chain[] }>();
  const direct: { lines: Chain[]; junctions: Chain[] } = { lines: [], junctions: [] };
  for (const chain of chains) {
    const { from, to } = chain;
    let list: { lines: Chain[]; junctions: Chain[] } = direct;
    if (from !== to && (known[from] === 0 || known[to] === 0)) {
      const name = sets.find(known[from] === 0 ? from : to);
      const piece = pieceOf.get(name) ?? { clusters: [], lines: [], junctions: [] };
      pieceOf.set(name, piece);
      list = piece;
    }
    (chain.facing === 0 ? list.lines : list.junctions).push(chain);
  }
  for (let c = 0; c < clusters; c++) if (known[c] === 0) pieceOf.get(sets.find(c))?.clusters.push(c);

  const order: Chain[] = [];
  const range = (list: readonly Chain[]): readonly [number, number] => {
    order.push(...list);
    return [order.length - list.length, order.length];
  };
  // Places: a cluster each, then every two ports after the first, then the slots of the pieces, then the one that nobody reads.
  const ports = Math.max(0, portCluster.length - 1);
  const portPlace = Array.from({ length: ports + 1 }, () => new Int32Array(ports + 1).fill(-1));
  let places = clusters;
  for (let p = 1; p <= ports; p++) {
    for (let q = p + 1; q <= ports; q++) {
      (portPlace[p] as Int32Array)[q] = places;
      (portPlace[q] as Int32Array)[p] = places++;
    }
  }
  const portOf = new Int32Array(clusters).fill(-1);
  portCluster.forEach((c, port) => {
    portOf[c] = port;
  });
  const place: number[] = [];
  const pieces = [...pieceOf.values()].map((piece): PieceTape => {
    const lines = range(piece.lines);
    const junctions = range(piece.junctions);
    const size = piece.clusters.length;
    const local = new Map(piece.clusters.map((c, k) => [c, k]));
    const end = (c: number): number => {
      const port = portOf[c] as number;
      return local.get(c) ?? (port > 0 ? size + port - 1 : -1);
    };
    const edges = [...piece.lines, ...piece.junctions];
    const plan = planElimination(
      size,
      gather(edges, (chain) => end(chain.from)),
      gather(edges, (chain) => end(chain.to)),
      ports,
    );
    const first = places;
    const slotAt = new Int32Array(plan.slots);
    for (let slot = 0; slot < plan.slots; slot++) slotAt[slot] = first + slot;
    for (const [p, q, slot] of plan.left) slotAt[slot] = portPlace[p - size + 1]?.[q - size + 1] as number;
    places += plan.slots;
    const name = (node: number): number =>
      (node < size ? piece.clusters[node] : portCluster[node - size + 1]) as number;
    edges.forEach((chain, e) => {
      const slot = plan.slotOf[e] as number;
      place.push(slot >= 0 ? (slotAt[slot] as number) : known[chain.from] === 0 ? chain.from : chain.to);
    });
    const tape: number[] = [];
    const at = new Int32Array(size);
    let pair = 0;
    for (let step = 0; step < size; step++) {
      at[step] = tape.length;
      const begin = plan.start[step] as number;
      const count = (plan.start[step + 1] as number) - begin;
      tape.push(name(plan.order[step] as number), count);
      for (let k = begin; k < begin + count; k++)
        tape.push(slotAt[plan.edges[k] as number] as number, name(plan.neighbours[k] as number));
      for (let k = 0; k < (count * (count - 1)) / 2; k++) tape.push(slotAt[plan.pairs[pair++] as number] as number);
    }
    return {
      clusters: new Int32Array(piece.clusters),
      lines,
      junctions,
      slots: [first, places],
      tape: new Int32Array(tape),
      at,
    };
  });
  const directLines = range(direct.lines);
  const directJunctions = range(direct.junctions);
  for (const { from, to } of [...direct.lines, ...direct.junctions]) {
    const p = portOf[from] as number;
    const q = portOf[to] as number;
    if (p > 0 && q > 0 && p !== q) place.push(portPlace[p]?.[q] as number);
    else if (p >= 0 && q >= 0 && p !== q) place.push(p === 0 ? to : from);
    else place.push(-1);
  }
  places++;

  const count = shape.role.length;
  const edgeOf = new Int32Array(count).fill(-1);
  const signOf = new Int8Array(count);
  const start = new Int32Array(order.length + 1);
  order.forEach((chain, e) => {
    start[e + 1] = (start[e] as number) + chain.members.length;
    chain.members.forEach((m, k) => {
      edgeOf[m] = e;
      signOf[m] = chain.signs[k] as number;
    });
  });
  const member = new Int32Array(start[order.length] as number);
  const sign = new Int8Array(member.length);
  order.forEach(({ members, signs }, e) => {
    member.set(members, start[e]);
    sign.set(signs, start[e]);
  });
  return {
    shape,
    ...base,
    edges: order.length,
    edgeFrom: gather(order, (chain) => chain.from),
    edgeTo: gather(order, (chain) => chain.to),
    start,
    member,
    sign,
    inner: order.map((chain) => chain.inner),
    place: gather(place, (at) => (at < 0 ? places - 1 : at)),
    pieces,
    directLines,
    directJunctions,
    edgeOf,
    signOf,
    loose,
    portPlace,
    places,
  };
}
