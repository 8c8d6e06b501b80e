/**
 * A network of blocks that feel each other at few nodes: a shared return, the terminals of a weak supply.
 *
 * Idea: each block is made ready by itself (`prepared`). A step of Newton on the whole takes every block's own clusters out, solves
 * what is left between the ports, and brings the answer back in: exact Newton on everything, at a cost that grows with the blocks.
 * An edit in one block is solved with all others as their tangents at its ports; where its ports move too far, all are solved.
 * What has no such form (a short between ports, sources in a loop) goes to `solveDc`.
 */
import type { Ampere, Volt } from '../units/index.ts';
import { type Edit, editNetlist } from './edits.ts';
import { type EliminationPlan, eliminate, planElimination } from './elimination.ts';
import type { Instance } from './instance.ts';
import { type Prepared, prepare } from './prepared.ts';
import { fault, Role, roleOf } from './read-netlist.ts';
import { Sets } from './sets.ts';
import { solveDc } from './solve-dc.ts';
import { splitBlocks } from './split-blocks.ts';
import { MOVED_VOLTS, NEWTON_STEPS } from './tolerances.ts';
import { joinStiff } from './topology.ts';
import { TopologyStore } from './topology-store.ts';
import type { CircuitElement, Netlist, Node, OperatingPoint } from './types.ts';

export interface BlockOptions {
  /** The block of every element, by number; -1 for links (resistors, wires, sources) between blocks. Found by structure unless told. */
  readonly blockOf?: ArrayLike<number>;
  readonly store?: TopologyStore;
}

/** Makes a network of blocks ready. */
export function prepareBlocks(netlist: Netlist, options: BlockOptions = {}): Blocks {
  return new Blocks(netlist, options.blockOf ?? splitBlocks(netlist), options.store ?? new TopologyStore());
}

interface Block {
  readonly network: Prepared;
  /** Shared nodes that it touches, by number. */
  readonly ports: Int32Array;
  /** Clusters of these. */
  readonly clusters: Int32Array;
  /** Slot of each pair of ports, row by row; -1 where they are one cluster or one of them is known. */
  readonly slots: Int32Array;
  instance: Instance | null;
}

/** How an answer was found. */
export type Found = 'whole' | 'tangent' | 'general';

export class Blocks {
  /** Steps of the last solve. */
  steps = 0;
  /** How the last answer was found; 'tangent': all blocks but the edited one as they looked before the edit. */
  found: Found = 'whole';
  readonly blocks: number;
  private readonly list: readonly Block[];
  /** Element to its block and handle there. */
  private readonly place = new Map<string, readonly [block: number, handle: number]>();
  private readonly shared: readonly Node[];
  private readonly cluster: Int32Array;
  private readonly offset: Float64Array;
  private readonly local: Int32Array;
  private readonly plan: EliminationPlan | null;
  private readonly links: readonly {
    readonly from: number;
    readonly to: number;
    readonly slot: number;
    readonly siemens: number;
    readonly shift: number;
  }[];
  /** Volts of the shared clusters. */
  private readonly volts: Float64Array;
  private readonly known: Float64Array;
  private readonly g: Float64Array;
  private readonly left: Float64Array;
  private readonly step: Float64Array;
  private edits: readonly Edit[] = [];
  private touched: number[] = [];
  private general: OperatingPoint | null = null;
  private good: Good | null = null;
  /** Have blocks been solved since they were last put back to the good state? And which one is edited since. */
  private stirred = false;
  private last = -1;

  constructor(
    private readonly netlist: Netlist,
    blockOf: ArrayLike<number>,
    store: TopologyStore,
  ) {
    const { elements } = netlist;
    // Nodes that several blocks, or a block and a link, touch.
    const user = new Map<Node, number>();
    const several = new Set<Node>();
    elements.forEach((element, m) => {
      for (const node of [element.a, element.b]) {
        const own = blockOf[m] ?? -1;
        const other = user.get(node);
        if (own < 0 || (other !== undefined && other !== own)) several.add(node);
        user.set(node, own);
      }
    });
    this.shared = [...several];
    const index = new Map(this.shared.map((node, k) => [node, k]));

    const own = new Map<number, CircuitElement[]>();
    const links: CircuitElement[] = [];
    elements.forEach((element, m) => {
      const block = blockOf[m] ?? -1;
      if (block < 0) links.push(element);
      else {
        const list = own.get(block);
        if (list === undefined) own.set(block, [element]);
        else list.push(element);
      }
    });
    const from = Int32Array.from(links, ({ a }) => index.get(a) ?? 0);
    const to = Int32Array.from(links, ({ b }) => index.get(b) ?? 0);
    const role = Uint8Array.from(links, (element) => (fault(element) === null ? roleOf(element) : Role.absent));
    const bad = links.some((element) => element.kind === 'diode' || fault(element) !== null);
    const joined = bad ? null : joinStiff({ nodes: this.shared.length, from, to, role });
    this.cluster = joined?.cluster ?? new Int32Array(this.shared.length);
    this.offset = new Float64Array(this.shared.length);
    const tree = joined?.tree ?? new Int32Array();
    const emf = (m: number): number => {
      const element = links[m];
      return element?.kind === 'source' ? element.volts : 0;
    };
    for (let k = 0; k < tree.length; k += 4)
      this.offset[tree[k] as number] =
        (this.offset[tree[k + 1] as number] as number) + (tree[k + 3] as number) * emf(tree[k + 2] as number);
    const clusters = joined?.clusters ?? 0;
    const raw = [...own.values()].map((list) => {
      const touching = [...new Set(list.flatMap(({ a, b }) => [a, b]))].filter((node) => index.has(node));
      const ports = Int32Array.from(touching, (node) => index.get(node) ?? 0);
      const network = prepare({ elements: list, reference: null }, { ports: touching, store });
      return { list, network, ports, clusters: Int32Array.from(ports, (node) => this.cluster[node] as number) };
    });
    raw.forEach(({ list, network }, block) => {
      for (const { id } of list) if (!this.place.has(id)) this.place.set(id, [block, network.handle(id)]);
    });
    this.local = knownOf(clusters, [
      ...links.flatMap((_, m): [number, number][] =>
        role[m] === Role.linear
          ? [[this.cluster[from[m] as number] as number, this.cluster[to[m] as number] as number]]
          : [],
      ),
      ...raw.flatMap(({ clusters: each }) => pairsOf(each)),
    ]);
    // Edges of the plan: linear links, then every two ports of every block.
    const lines = links.flatMap((element, m) => (role[m] === Role.linear && 'ohms' in element ? [{ element, m }] : []));
    const edges: [number, number][] = [
      ...lines.map(({ m }): [number, number] => [
        this.cluster[from[m] as number] as number,
        this.cluster[to[m] as number] as number,
      ]),
      ...raw.flatMap(({ clusters: each }) => pairsOf(each)),
    ];
    const size = this.local.reduce((most, k) => Math.max(most, k + 1), 0);
    const plan = planElimination(
      size,
      Int32Array.from(edges, ([p]) => this.local[p] as number),
      Int32Array.from(edges, ([, q]) => this.local[q] as number),
    );
    this.plan = joined === null ? null : plan;
    this.links = lines.map(({ element, m }, k) => ({
      from: this.cluster[from[m] as number] as number,
      to: this.cluster[to[m] as number] as number,
      slot: plan.slotOf[k] as number,
      siemens: 1 / element.ohms,
      shift: (this.offset[from[m] as number] as number) - (this.offset[to[m] as number] as number) - emf(m),
    }));
    let next = lines.length;
    this.list = raw.map(({ network, ports, clusters: each }) => {
      const count = (each.length * (each.length - 1)) / 2;
      const slots = plan.slotOf.slice(next, next + count);
      next += count;
      return { network, ports, clusters: each, slots, instance: null };
    });
    this.blocks = this.list.length;
    this.volts = new Float64Array(clusters);
    this.known = new Float64Array(size);
    this.g = new Float64Array(plan.slots);
    this.left = new Float64Array(size);
    this.step = new Float64Array(size);
  }

  /** Opens or closes a contact of a block. Throws a RangeError where it is none. */
  setContact(id: string, closed: boolean): void {
    const place = this.place.get(id);
    if (place === undefined) throw new RangeError(`no contact ${id} in a block`);
    this.list[place[0]]?.network.setContact(place[1], closed);
    this.good = null;
  }

  /** Makes these edits in place of those before. They may touch elements of blocks; joins must lie within one block. */
  edit(edits: readonly Edit[]): void {
    for (const block of this.touched) this.list[block]?.network.edit([]);
    const by = new Map<number, Edit[]>();
    for (const edit of edits) {
      const block = this.blockOfEdit(edit);
      if (block === null) throw new RangeError(`an edit that lies in no block: ${JSON.stringify(edit)}`);
      by.set(block, [...(by.get(block) ?? []), edit]);
    }
    this.touched = [...by.keys()];
    this.edits = edits;
    for (const [block, own] of by) this.list[block]?.network.edit(own);
  }

  private blockOfEdit(edit: Edit): number | null {
    if (edit.do !== 'join') return this.place.get(edit.element)?.[0] ?? null;
    const at = this.list.findIndex(({ network }) => network.hasNode(edit.a) && network.hasNode(edit.b));
    return at < 0 ? null : at;
  }

  /**
   * Solves the network as it stands. An edit in one block is solved from the good state of the same contacts (worked out once), the
   * others as their tangents, unless `whole` is asked. Warm: from the last answer of each block in its state.
   */
  solve(options: { readonly warm?: boolean; readonly whole?: boolean } = {}): void {
    this.general = null;
    const [edited] = this.touched;
    if (edited !== undefined && this.touched.length === 1 && options.whole !== true) {
      if (this.solveEdited(edited)) return;
    }
    if (!this.solveWhole(options.warm === true)) {
      this.general = solveDc(editNetlist(this.netlistWithContacts(), this.edits));
      this.found = 'general';
    }
  }

  /** Amps of an element of a block, or null where nothing decides it. Of other blocks than the edited one, after 'tangent', those before. */
  amps(id: string): Ampere | null {
    if (this.general !== null) return this.general.amps.get(id) ?? null;
    const place = this.place.get(id);
    if (place === undefined) return this.point().amps.get(id) ?? null;
    const amps = this.list[place[0]]?.network.amps(place[1]) ?? Number.NaN;
    return Number.isNaN(amps) ? null : amps;
  }

  /** Volts from shared node b up to shared node a. */
  across(a: Node, b: Node): Volt {
    const [p, q] = [this.shared.indexOf(a), this.shared.indexOf(b)];
    if (p < 0 || q < 0) throw new RangeError(`${a} and ${b} are not both shared`);
    const at = (node: number): number =>
      (this.volts[this.cluster[node] as number] as number) + (this.offset[node] as number);
    return at(p) - at(q);
  }

  /** Nodes that blocks share. */
  get ports(): readonly Node[] {
    return this.shared;
  }

  /** The whole answer by names, worked out by `solveDc`. */
  point(): OperatingPoint {
    return this.general ?? solveDc(editNetlist(this.netlistWithContacts(), this.edits));
  }

  private netlistWithContacts(): Netlist {
    const elements = this.netlist.elements.map((element) => {
      const place = this.place.get(element.id);
      if (element.kind !== 'contact' || place === undefined) return element;
      return { ...element, closed: this.list[place[0]]?.network.isClosed(place[1]) === true };
    });
    return { ...this.netlist, elements };
  }

  /** Newton on everything. False where it has no form for it. */
  private solveWhole(warm: boolean): boolean {
    const { plan, list, volts, step } = this;
    if (plan === null) return false;
    this.found = 'whole';
    this.stirred = true;
    const alone = this.touched.length > 1;
    for (const block of list) {
      block.instance = block.network.find(alone);
      if (block.instance === null) return false;
      if (!warm) block.instance.chill();
    }
    if (!warm) volts.fill(0);
    for (let round = 1; round <= NEWTON_STEPS; round++) {
      this.gather();
      for (const block of list) {
        this.place0(block);
        block.instance?.forward();
        this.add(block);
      }
      eliminate(plan, this.known, this.g, this.left, step);
      let settled = true;
      for (const block of list) {
        const { instance, clusters } = block;
        if (instance === null) continue;
        const zero = this.stepOf(clusters[0] as number);
        for (let p = 1; p < clusters.length; p++)
          instance.step[instance.topology.portCluster[p] as number] = this.stepOf(clusters[p] as number) - zero;
        if (!instance.backward(round)) settled = false;
      }
      for (let c = 0; c < volts.length; c++) volts[c] = (volts[c] as number) + this.stepOf(c);
      if (settled && round > 1) {
        this.steps = round;
        for (const block of list) if (block.instance !== null) block.network.adopt(block.instance);
        return true;
      }
    }
    return false;
  }

  private stepOf(c: number): number {
    const at = this.local[c] as number;
    return at < 0 ? 0 : (this.step[at] as number);
  }

  /** Puts a block's ports at the volts of the shared clusters. */
  private place0({ instance, ports, clusters }: Block): void {
    if (instance === null) return;
    const zero = (this.volts[clusters[0] as number] as number) + (this.offset[ports[0] as number] as number);
    for (let p = 1; p < ports.length; p++)
      instance.setPort(
        p,
        (this.volts[clusters[p] as number] as number) + (this.offset[ports[p] as number] as number) - zero,
      );
  }

  /** Starts a step: the links alone. */
  private gather(): void {
    const { known, g, left, volts, local } = this;
    known.fill(0);
    g.fill(0);
    left.fill(0);
    for (const { from, to, slot, siemens, shift } of this.links) {
      const amps = siemens * ((volts[from] as number) - (volts[to] as number) + shift);
      this.branch(local[from] as number, local[to] as number, slot, siemens);
      this.feed(local[from] as number, -amps);
      this.feed(local[to] as number, amps);
    }
  }

  private branch(p: number, q: number, slot: number, siemens: number): void {
    if (slot >= 0) this.g[slot] = (this.g[slot] as number) + siemens;
    else if (p >= 0 && q < 0) this.known[p] = (this.known[p] as number) + siemens;
    else if (q >= 0 && p < 0) this.known[q] = (this.known[q] as number) + siemens;
  }

  private feed(p: number, amps: number): void {
    if (p >= 0) this.left[p] = (this.left[p] as number) + amps;
  }

  /** Adds what a block looks like from its ports. */
  private add({ instance, clusters, slots }: Block): void {
    if (instance === null) return;
    const { portCluster, portPlace } = instance.topology;
    let pair = 0;
    let sum = 0;
    for (let p = 0; p < clusters.length; p++) {
      const at = this.local[clusters[p] as number] as number;
      if (p > 0) {
        const fed = instance.left[portCluster[p] as number] as number;
        sum += fed;
        this.feed(at, fed);
      }
      for (let q = p + 1; q < clusters.length; q++) {
        const place = p === 0 ? (portCluster[q] as number) : (portPlace[p]?.[q] ?? -1);
        if (clusters[p] !== clusters[q])
          this.branch(
            at,
            this.local[clusters[q] as number] as number,
            slots[pair] as number,
            instance.g[place] as number,
          );
        pair++;
      }
    }
    if (clusters.length > 0) this.feed(this.local[clusters[0] as number] as number, -sum);
  }

  /** The good state of the contacts as they stand, with what every cluster moves by an amp fed into every other. */
  private goodState(edited: number): Good | null {
    if (this.good !== null) return this.good;
    const block = this.list[edited];
    if (block === undefined || this.plan === null) return null;
    const own = this.edits;
    block.network.edit([]);
    const settled = this.solveWhole(false);
    if (settled) {
      this.gather();
      for (const each of this.list) {
        this.place0(each);
        each.instance?.forward();
        this.add(each);
      }
      const [known, g] = [Float64Array.from(this.known), Float64Array.from(this.g)];
      const size = this.plan.size;
      const answer = Array.from({ length: size }, (_, k) => {
        const left = new Float64Array(size);
        const moved = new Float64Array(size);
        left[k] = 1;
        eliminate(this.plan as EliminationPlan, Float64Array.from(known), Float64Array.from(g), left, moved);
        return moved;
      });
      const blocks = this.list.map((each) => (each.instance === null ? null : restOf(each, this.local, answer)));
      this.good = {
        volts: Float64Array.from(this.volts),
        blocks,
        answers: this.list.map(({ instance }) => (instance === null ? null : answerOf(instance))),
      };
      this.stirred = true;
    }
    block.network.edit(own);
    return this.good;
  }

  /** Puts all blocks but one back to what they carried in the good state. */
  private restore(good: Good, edited: number): void {
    this.list.forEach((block, k) => {
      const answer = good.answers[k];
      if (k === edited || !answer) return;
      answer.instance.x.set(answer.x);
      answer.instance.amps.set(answer.amps);
      block.network.adopt(answer.instance);
    });
    this.last = edited;
    this.stirred = false;
  }

  /** The edited block with all others as their tangents. False where that does not serve. */
  private solveEdited(edited: number): boolean {
    const good = this.goodState(edited);
    const block = this.list[edited];
    const rest = good?.blocks[edited];
    if (good === null || block === undefined || rest === undefined || rest === null) return false;
    const instance = block.network.find();
    if (instance === null) return false;
    this.volts.set(good.volts);
    block.instance = instance;
    instance.chill();
    this.place0(block);
    const { unknown, siemens } = rest;
    const size = unknown.length;
    const moved = new Float64Array(size);
    for (let round = 1; round <= NEWTON_STEPS; round++) {
      instance.forward();
      const matrix = siemens.map((row) => Float64Array.from(row));
      const right = Float64Array.from({ length: size }, (_, k) => rest.amps[k] as number);
      for (let p = 0; p < size; p++)
        for (let q = 0; q < size; q++)
          right[p] = (right[p] as number) - (siemens[p]?.[q] as number) * (moved[q] as number);
      stampBlock(block, instance, unknown, matrix, right);
      const change = solveSmall(matrix, right);
      if (change === null) return false;
      for (let k = 0; k < size; k++) moved[k] = (moved[k] as number) + (change[k] as number);
      const stepAt = (c: number): number => {
        const at = unknown.indexOf(c);
        return at < 0 ? 0 : (change[at] as number);
      };
      const zero = stepAt(block.clusters[0] as number);
      for (let p = 1; p < block.clusters.length; p++)
        instance.step[instance.topology.portCluster[p] as number] = stepAt(block.clusters[p] as number) - zero;
      if (!instance.backward(round) || round === 1) continue;
      for (let k = 0; k < size; k++) {
        if (Math.abs(moved[k] as number) > MOVED_VOLTS) return false;
        const c = unknown[k] as number;
        this.volts[c] = (this.volts[c] as number) + (moved[k] as number);
      }
      this.steps = round;
      this.found = 'tangent';
      block.network.adopt(instance);
      if (this.stirred || this.last !== edited) this.restore(good, edited);
      return true;
    }
    return false;
  }
}

interface Good {
  readonly volts: Float64Array;
  readonly blocks: readonly (Rest | null)[];
  readonly answers: readonly (Answer | null)[];
}

/** What a block carried in the good state. */
interface Answer {
  readonly instance: Instance;
  readonly x: Float64Array;
  readonly amps: Float64Array;
}

function answerOf(instance: Instance): Answer {
  return { instance, x: Float64Array.from(instance.x), amps: Float64Array.from(instance.amps) };
}

/** The rest of the network, as one block sees it in the good state. */
interface Rest {
  /** Unknown clusters that the block touches. */
  readonly unknown: readonly number[];
  /** Amps by which the rest answers a move of each. */
  readonly siemens: readonly Float64Array[];
  /** Amps that the block took from each in the good state. */
  readonly amps: Float64Array;
}

function restOf(block: Block, local: Int32Array, answer: readonly Float64Array[]): Rest | null {
  const unknown = [...new Set(block.clusters)].filter((c) => (local[c] as number) >= 0);
  const size = unknown.length;
  const inverse = unknown.map((p) =>
    Float64Array.from(unknown, (q) => answer[local[q] as number]?.[local[p] as number] as number),
  );
  const siemens = invert(inverse);
  const { instance } = block;
  if (siemens === null || instance === null) return null;
  // What the block itself adds comes off: its tangent, and the amps that it takes.
  const own = unknown.map(() => new Float64Array(size));
  const amps = new Float64Array(size);
  stampBlock(block, instance, unknown, own, amps);
  const rest = siemens.map((row, p) => Float64Array.from(row, (value, q) => value - (own[p]?.[q] as number)));
  return { unknown, siemens: rest, amps: Float64Array.from(amps, (value) => -value) };
}

/** Adds a block's tangent between its unknown clusters to a matrix, and the amps that it leaves there to a right side. */
function stampBlock(
  { clusters }: Block,
  instance: Instance,
  unknown: readonly number[],
  matrix: readonly Float64Array[],
  right: Float64Array,
): void {
  const { portCluster, portPlace } = instance.topology;
  const add = (p: number, q: number, siemens: number): void => {
    const row = matrix[p];
    if (p >= 0 && q >= 0 && row !== undefined) row[q] = (row[q] as number) + siemens;
  };
  let sum = 0;
  const at = (p: number): number => unknown.indexOf(clusters[p] as number);
  for (let p = 0; p < clusters.length; p++) {
    const i = at(p);
    if (p > 0) {
      const fed = instance.left[portCluster[p] as number] as number;
      sum += fed;
      if (i >= 0) right[i] = (right[i] as number) + fed;
    }
    for (let q = p + 1; q < clusters.length; q++) {
      if (clusters[p] === clusters[q]) continue;
      const siemens = instance.g[p === 0 ? (portCluster[q] as number) : (portPlace[p]?.[q] ?? -1)] as number;
      const j = at(q);
      add(i, i, siemens);
      add(j, j, siemens);
      add(i, j, -siemens);
      add(j, i, -siemens);
    }
  }
  const zero = clusters.length > 0 ? at(0) : -1;
  if (zero >= 0) right[zero] = (right[zero] as number) - sum;
}

/** Every two ports of a block. */
function pairsOf(clusters: Int32Array): [number, number][] {
  const pairs: [number, number][] = [];
  for (let p = 0; p < clusters.length; p++)
    for (let q = p + 1; q < clusters.length; q++) pairs.push([clusters[p] as number, clusters[q] as number]);
  return pairs;
}

/** Unknown clusters numbered from 0; -1 for the one of each island at which most edges meet. */
function knownOf(clusters: number, edges: readonly (readonly [number, number])[]): Int32Array {
  const sets = new Sets(clusters);
  const degree = new Int32Array(clusters);
  for (const [p, q] of edges) {
    sets.join(p, q);
    for (const c of [p, q]) degree[c] = (degree[c] as number) + (p === q ? 0 : 1);
  }
  const best = new Map<number, number>();
  for (let c = 0; c < clusters; c++) {
    const other = best.get(sets.find(c));
    if (other === undefined || (degree[c] as number) > (degree[other] as number)) best.set(sets.find(c), c);
  }
  let next = 0;
  return Int32Array.from({ length: clusters }, (_, c) => (best.get(sets.find(c)) === c ? -1 : next++));
}

/** Gauss with row pivots on a few unknowns, in place; null where there is no answer. */
function solveSmall(matrix: readonly Float64Array[], right: Float64Array): Float64Array | null {
  const rows = matrix.map((row, k) => ({ row, value: right[k] as number }));
  const size = rows.length;
  for (let k = 0; k < size; k++) {
    let best = k;
    for (let r = k + 1; r < size; r++) if (Math.abs(rows[r]?.row[k] ?? 0) > Math.abs(rows[best]?.row[k] ?? 0)) best = r;
    const pivot = rows[best];
    const here = rows[k];
    if (pivot === undefined || here === undefined || !(Math.abs(pivot.row[k] as number) > 0)) return null;
    rows[k] = pivot;
    rows[best] = here;
    for (let r = k + 1; r < size; r++) {
      const low = rows[r];
      if (low === undefined) continue;
      const factor = (low.row[k] as number) / (pivot.row[k] as number);
      for (let c = k; c < size; c++) low.row[c] = (low.row[c] as number) - factor * (pivot.row[c] as number);
      low.value -= factor * pivot.value;
    }
  }
  const x = new Float64Array(size);
  for (let k = size - 1; k >= 0; k--) {
    const here = rows[k];
    let sum = here?.value ?? 0;
    for (let c = k + 1; c < size; c++) sum -= (here?.row[c] as number) * (x[c] as number);
    x[k] = sum / (here?.row[k] as number);
  }
  return x;
}

function invert(matrix: readonly Float64Array[]): Float64Array[] | null {
  const columns = matrix.map((_, k) => {
    const right = new Float64Array(matrix.length);
    right[k] = 1;
    return solveSmall(
      matrix.map((row) => Float64Array.from(row)),
      right,
    );
  });
  if (columns.some((column) => column === null)) return null;
  return matrix.map((_, p) => Float64Array.from(columns, (column) => column?.[p] as number));
}
