/**
 * Sparse elimination of a network of conductances by star-mesh steps.
 *
 * Idea: taking node k out of a network puts a conductance g_ki g_kj / s between every two of its neighbours, where s is
 * the sum of all its conductances, the one to the known node included. Nothing is ever subtracted, so a network of 1 uohm
 * and 1 Gohm side by side keeps its digits. Nodes go in the order of least degree; the order and all slots are found
 * once (`planElimination`) and the numbers run through flat arrays (`eliminate`) as often as Newton asks.
 * Cost: time and space of the fill; a tree or a star of trees has none.
 * Source: Rosen 1924 (star-mesh); Tinney and Walker 1967 (least degree); Grassmann, Taksar and Heyman 1985 (no subtraction).
 */

/** Where everything lies when a network of `size` unknown nodes is taken apart. */
export interface EliminationPlan {
  readonly size: number;
  readonly slots: number;
  /** Slot of each edge asked for, -1 where it joins a node to itself. */
  readonly slotOf: Int32Array;
  readonly order: Int32Array;
  /** Neighbours left at step s: `neighbours[start[s] .. start[s + 1]]`, each by way of the edge in `edges`. */
  readonly start: Int32Array;
  readonly neighbours: Int32Array;
  readonly edges: Int32Array;
  /** Slots between the neighbours, pair by pair in the order (0,1) (0,2) ... (1,2) ... */
  readonly pairs: Int32Array;
  /** The slots that are left between nodes that are kept: the two nodes, the lower first, and the slot. */
  readonly left: readonly (readonly [number, number, number])[];
}

/**
 * The plan for `size` nodes and the edges `from[m]`-`to[m]`; an end of -1 is the known node and needs no slot. Nodes from `size` on,
 * `kept` of them, are never taken out: what stands between them in the end is all that the others look like from there.
 */
export function planElimination(size: number, from: Int32Array, to: Int32Array, kept = 0): EliminationPlan {
  const near = Array.from({ length: size + kept }, (): Near => ({ nodes: [], slots: [] }));
  const slotOf = new Int32Array(from.length).fill(-1);
  let slots = 0;
  const join = (p: number, q: number): number => {
    const [one, other] = [near[p] as Near, near[q] as Near];
    const at = one.nodes.indexOf(q);
    if (at >= 0) return one.slots[at] as number;
    one.nodes.push(q);
    one.slots.push(slots);
    other.nodes.push(p);
    other.slots.push(slots);
    return slots++;
  };
  for (let m = 0; m < from.length; m++) {
    const p = from[m] ?? -1;
    const q = to[m] ?? -1;
    if (p >= 0 && q >= 0 && p !== q) slotOf[m] = join(p, q);
  }

  const order = new Int32Array(size);
  const start = new Int32Array(size + 1);
  const neighbours: number[] = [];
  const edges: number[] = [];
  const pairs: number[] = [];
  const queue = degreeQueue(near, size);
  for (let step = 0; step < size; step++) {
    const k = queue.least();
    order[step] = k;
    const around = inOrder(near[k] as Near);
    const first = neighbours.length;
    for (let p = 0; p < around.nodes.length; p++) {
      const node = around.nodes[p] as number;
      neighbours.push(node);
      edges.push(around.slots[p] as number);
      forget(near[node] as Near, k);
    }
    for (let p = first; p < neighbours.length; p++)
      for (let q = p + 1; q < neighbours.length; q++)
        pairs.push(join(neighbours[p] as number, neighbours[q] as number));
    for (let p = first; p < neighbours.length; p++)
      if ((neighbours[p] as number) < size) queue.moved(neighbours[p] as number);
    start[step + 1] = neighbours.length;
  }
  const left: [number, number, number][] = [];
  for (let k = size; k < size + kept; k++)
    near[k]?.nodes.forEach((node, at) => {
      if (node > k) left.push([k, node, near[k]?.slots[at] ?? -1]);
    });
  return {
    size,
    slots,
    slotOf,
    order,
    start,
    neighbours: new Int32Array(neighbours),
    edges: new Int32Array(edges),
    pairs: new Int32Array(pairs),
    left,
  };
}

/** Neighbours of a node that are left, and the slot of the way to each. Few: they are searched through. */
interface Near {
  readonly nodes: number[];
  readonly slots: number[];
}

/** Neighbours from the lowest number on. */
function inOrder({ nodes, slots }: Near): Near {
  for (let k = 1; k < nodes.length; k++) {
    const [node, slot] = [nodes[k] as number, slots[k] as number];
    let at = k;
    for (; at > 0 && (nodes[at - 1] as number) > node; at--) {
      nodes[at] = nodes[at - 1] as number;
      slots[at] = slots[at - 1] as number;
    }
    nodes[at] = node;
    slots[at] = slot;
  }
  return { nodes, slots };
}

function forget({ nodes, slots }: Near, node: number): void {
  const at = nodes.indexOf(node);
  if (at < 0) return;
  nodes.splice(at, 1);
  slots.splice(at, 1);
}

/** Hands out the node of least degree, the lowest number first among equals as far as the buckets remember. */
function degreeQueue(near: readonly Near[], size: number) {
  const gone = new Uint8Array(size);
  const buckets: number[][] = [];
  const put = (node: number): void => {
    const degree = near[node]?.nodes.length ?? 0;
    while (buckets.length <= degree) buckets.push([]);
    buckets[degree]?.push(node);
  };
  for (let node = size - 1; node >= 0; node--) put(node);
  return {
    least(): number {
      for (let degree = 0; degree < buckets.length; degree++) {
        const bucket = buckets[degree] ?? [];
        for (let node = bucket.pop(); node !== undefined; node = bucket.pop()) {
          // A node stands in a bucket for every degree it has had; only its present one counts.
          if (gone[node] === 1 || (near[node]?.nodes.length ?? 0) !== degree) continue;
          gone[node] = 1;
          return node;
        }
      }
      throw new RangeError(`no node left to eliminate of ${size}`);
    },
    moved: put,
  };
}

/**
 * Solves the network in place: `known[k]` siemens to the known node, `g[slot]` siemens of each edge, `amps[k]` fed into
 * node k; gives volts to the known node in `volts`. A node that nothing holds reads 0. All three inputs are used up.
 */
export function eliminate(
  plan: EliminationPlan,
  known: Float64Array,
  g: Float64Array,
  amps: Float64Array,
  volts: Float64Array,
): void {
  const { size, order, start, neighbours, edges, pairs } = plan;
  let pair = 0;
  for (let step = 0; step < size; step++) {
    const k = order[step] as number;
    const first = start[step] as number;
    const end = start[step + 1] as number;
    const ground = known[k] as number;
    const fed = amps[k] as number;
    let sum = ground;
    for (let m = first; m < end; m++) sum += g[edges[m] as number] as number;
    // The sum is kept in the place of the conductance to the known node, for the way back.
    known[k] = sum;
    if (!(sum > 0)) {
      pair += ((end - first) * (end - first - 1)) / 2;
      continue;
    }
    for (let m = first; m < end; m++) {
      const share = (g[edges[m] as number] as number) / sum;
      const at = neighbours[m] as number;
      known[at] = (known[at] as number) + share * ground;
      amps[at] = (amps[at] as number) + share * fed;
      for (let q = m + 1; q < end; q++) {
        const slot = pairs[pair++] as number;
        g[slot] = (g[slot] as number) + share * (g[edges[q] as number] as number);
      }
    }
  }
  for (let step = size - 1; step >= 0; step--) {
    const k = order[step] as number;
    const end = start[step + 1] as number;
    const sum = known[k] as number;
    let drive = amps[k] as number;
    for (let m = start[step] as number; m < end; m++) {
      drive += (g[edges[m] as number] as number) * (volts[neighbours[m] as number] as number);
    }
    volts[k] = sum > 0 ? drive / sum : 0;
  }
}
