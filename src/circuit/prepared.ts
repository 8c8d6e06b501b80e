/**
 * A network made ready to be solved many times: with its contacts otherwise, with other values, with single elements edited.
 *
 * Idea: what hangs on the state of the contacts alone (clusters, chains, the order of elimination) is worked out once for each
 * state and shared by networks of the same shape (`topology`); what is left to do is a few steps of Newton on what remains.
 * What the quick way does not cover (a bad value, a short across a source, sources in a loop, a piece that does not settle) goes
 * to `solveDc`, so that every network has its answer.
 */
import { THERMAL_VOLTAGE } from '../parts/index.ts';
import type { Ampere, Volt } from '../units/index.ts';
import { forwardDrop } from './diode-law.ts';
import { type Edit, editElement } from './edits.ts';
import { Instance, type Values } from './instance.ts';
import { lossName, sideOf } from './losses.ts';
import { fault, Role, roleOf } from './read-netlist.ts';
import { readPoint, solveDc } from './solve-dc.ts';
import { CURRENT_FLOOR, CURRENT_SHARE, LAST_DIGITS, MERGED_SATURATION, MOST_VOLTS, NO_OHMS } from './tolerances.ts';
import { compileTopology, type Topology } from './topology.ts';
import { type ShapeStates, type Stored, TopologyStore } from './topology-store.ts';
import type { CircuitElement, Netlist, Node, OperatingPoint } from './types.ts';

export interface PrepareOptions {
  /** Nodes whose volts are given from outside; the first of them is zero. None: the network stands alone. */
  readonly ports?: readonly Node[];
  /**
   * Checks every answer by Kirchhoff's law with the exact laws of all elements and takes that of `solveDc` where it fails; `checksFailed`
   * counts. Costs as much as reading everything out. Default false.
   */
  readonly selfCheck?: boolean;
  /** Shares topologies with other networks of the same shape. */
  readonly store?: TopologyStore;
}

/** Joins that edits may add at one time: a mated connector joins no more than its ways at once in one lever. */
const JOINS_MOST = 64;

/** Contacts up to this many are kept as bits of one number. */
const BITS = 30;

/** Makes a netlist ready. Throws a RangeError for a port that is no node of it. */
export function prepare(netlist: Netlist, options: PrepareOptions = {}): Prepared {
  return new Prepared(netlist, options.ports ?? [], options.store ?? new TopologyStore(), options.selfCheck === true);
}

export class Prepared {
  /** Steps of the last solve. */
  steps = 0;
  /** Answers that did not pass the self-check. */
  checksFailed = 0;
  /** Handles of the contacts, in the order of the netlist. */
  readonly contacts: readonly number[];
  private readonly elements: CircuitElement[];
  private readonly base: readonly CircuitElement[];
  private readonly handles = new Map<string, number>();
  private readonly nodes: Node[] = [];
  private readonly index = new Map<Node, number>();
  private readonly ports: readonly number[];
  private readonly from: Int32Array;
  private readonly to: Int32Array;
  private readonly role: Uint8Array;
  private readonly law: Int32Array;
  private readonly bad: Uint8Array;
  private badCount = 0;
  private readonly values: Values;
  private readonly states: ShapeStates;
  /** Own instances of states without edits, which keep their last answer. */
  private readonly own = new Map<number | string, Instance | null>();
  /** Every contact open, and closed. */
  private readonly ways = new Map<number, readonly [CircuitElement, CircuitElement]>();
  private readonly bitOf = new Map<number, number>();
  private bits = 0;
  private edited: number[] = [];
  private joins: Extract<Edit, { do: 'join' }>[] = [];
  /** Names the edits that change the topology. */
  private editKey = '';
  /** The topology with the edits, until a contact is set or something else is edited. */
  private withEdits: { readonly stored: Stored | null } | null = null;
  private baseVersion: number;
  private version: number;
  private voltsVersion = 0;
  private instance: Instance | null = null;
  private recovered = false;
  private general: OperatingPoint | null = null;

  constructor(
    private readonly netlist: Netlist,
    ports: readonly Node[],
    private readonly store: TopologyStore,
    private readonly selfCheck = false,
  ) {
    const size = netlist.elements.length + JOINS_MOST;
    this.base = netlist.elements;
    this.elements = [...netlist.elements];
    this.from = new Int32Array(size);
    this.to = new Int32Array(size);
    this.role = new Uint8Array(size);
    this.law = new Int32Array(size);
    this.bad = new Uint8Array(size);
    const array = (): Float64Array => new Float64Array(size);
    this.values = { emf: array(), ohms: array(), is: array(), lnIs: array(), nvt: array() };
    const contacts: number[] = [];
    this.elements.forEach((element, m) => {
      if (this.handles.has(element.id)) this.markBad(m);
      else this.handles.set(element.id, m);
      for (const node of [element.a, element.b]) {
        if (this.index.has(node)) continue;
        this.index.set(node, this.nodes.length);
        this.nodes.push(node);
      }
      if (element.kind !== 'contact') return;
      if (contacts.length < BITS) this.bitOf.set(m, 1 << contacts.length);
      contacts.push(m);
      const open = { ...element, closed: false };
      const closed = { ...element, closed: true };
      this.ways.set(m, [open, closed]);
      this.elements[m] = element.closed ? closed : open;
    });
    this.contacts = contacts;
    this.elements.forEach((element, m) => {
      this.write(m, element);
    });
    this.ports = ports.map((node) => this.nodeOf(node));
    this.states = store.statesOf(this.shapeKey());
    this.baseVersion = store.stamp();
    this.version = this.baseVersion;
  }

  /** The number of an element, by which it is read and set quickly. Throws a RangeError where there is none. */
  handle(id: string): number {
    const m = this.handles.get(id);
    if (m === undefined) throw new RangeError(`no element ${id}`);
    return m;
  }

  /** Opens or closes a contact. */
  setContact(handle: number, closed: boolean): void {
    const ways = this.ways.get(handle);
    if (ways === undefined) throw new RangeError(`element ${handle} is no contact`);
    const element = ways[closed ? 1 : 0];
    if (this.untouched.has(handle)) this.untouched.set(handle, element);
    else if (this.elements[handle] !== element) this.write(handle, element);
  }

  /** Sets the volts of a source; stays until set again. */
  setVolts(handle: number, volts: Volt): void {
    const element = this.untouched.get(handle) ?? this.elements[handle];
    if (element?.kind !== 'source') throw new RangeError(`element ${handle} is no source`);
    if (this.bad[handle] === 0 && !this.untouched.has(handle) && Math.abs(volts) <= MOST_VOLTS) {
      // The element itself follows when somebody asks for it.
      this.values.emf[handle] = volts;
      this.voltsVersion = this.store.stamp();
      return;
    }
    if (this.untouched.has(handle)) this.untouched.set(handle, { ...element, volts });
    else this.write(handle, { ...element, volts });
    this.baseVersion = this.store.stamp();
    if (!this.isEdited) this.version = this.baseVersion;
  }

  /** An element as it stands. */
  private elementAt(m: number): CircuitElement {
    const element = this.elements[m] as CircuitElement;
    if (element.kind !== 'source' || this.bad[m] === 1 || element.volts === this.values.emf[m]) return element;
    const now = { ...element, volts: this.values.emf[m] as number };
    this.elements[m] = now;
    return now;
  }

  /** Makes these edits in place of those before; none takes all back. Contacts and volts that were set stay. */
  edit(edits: readonly Edit[]): void {
    for (const m of this.edited) {
      const element = this.base[m] as CircuitElement;
      const now = this.untouched.get(m) ?? element;
      this.write(m, now);
    }
    this.untouched.clear();
    for (let k = 0; k < this.joins.length; k++) this.role[this.base.length + k] = Role.absent;
    this.joins = [];
    this.edited = [];
    this.editKey = '';
    this.version = this.baseVersion;
    this.withEdits = null;
    if (edits.length === 0) return;
    this.version = this.store.stamp();
    for (const edit of edits) {
      if (edit.do === 'join') this.addJoin(edit);
      else {
        const m = this.handle(edit.element);
        if (!this.untouched.has(m)) {
          this.untouched.set(m, this.elementAt(m));
          this.edited.push(m);
        }
        this.write(m, editElement(this.elements[m] as CircuitElement, edit));
      }
    }
    this.editKey = this.keyOfEdits();
  }

  /** Elements as they were before they were edited. */
  private readonly untouched = new Map<number, CircuitElement>();

  /**
   * Solves the network as it stands, from 0 V or from the last answer in the same state. With ports: at these volts of each port
   * to the first.
   */
  solve(options: { readonly warm?: boolean; readonly ports?: readonly Volt[] } = {}): void {
    this.general = null;
    this.recovered = false;
    const instance = this.find();
    this.instance = instance;
    if (instance === null) {
      this.solveGenerally(options.ports);
      return;
    }
    if (options.warm !== true) instance.chill();
    options.ports?.forEach((volts, port) => {
      instance.setPort(port, volts);
    });
    if (!instance.solve()) this.solveGenerally(options.ports);
    else if (this.selfCheck && !this.holds()) {
      this.checksFailed++;
      this.solveGenerally(options.ports);
    }
    this.steps = instance.steps;
  }

  /** Does the answer obey Kirchhoff's law, as near as the tolerances and the last digits of its volts allow? Of a block always: its ports feed it. */
  private holds(): boolean {
    if (this.ports.length > 0) return true;
    const point = this.point();
    let room = CURRENT_FLOOR * this.base.length;
    for (const element of this.netlistNow().elements) {
      room += CURRENT_SHARE * Math.abs(point.amps.get(element.id) ?? 0);
      const ohms = 'ohms' in element ? element.ohms : element.kind === 'diode' ? element.law.rs : 0;
      const volts = Math.abs(point.volts.get(element.a) ?? 0) + Math.abs(point.volts.get(element.b) ?? 0);
      if (ohms >= NO_OHMS) room += (LAST_DIGITS * (volts + this.most)) / ohms;
    }
    return point.residual <= room;
  }

  /** Sum of the volts of all sources: no volts in the network are beyond it. */
  private get most(): Volt {
    return this.values.emf.reduce((sum, volts) => sum + Math.abs(volts), 0);
  }

  /** Amps of an element, positive into its first terminal; NaN where a loop of 0 ohm leaves it undecided. */
  amps(handle: number): Ampere {
    if (this.general !== null) return this.general.amps.get(this.elements[handle]?.id ?? '') ?? Number.NaN;
    const instance = this.instance;
    if (instance === null) throw new RangeError('not solved yet');
    const { topology } = instance;
    const e = topology.edgeOf[handle] as number;
    if (e >= 0) return (topology.signOf[handle] as number) * (instance.amps[e] as number) + 0;
    const role = topology.shape.role[handle];
    return role === Role.joined || role === Role.ideal ? stiffAmps(instance, handle) : 0;
  }

  /** Can an element carry nothing in the state that was solved last, whatever the values are? False where that is not known. */
  isDead(handle: number): boolean {
    if (this.general !== null || this.instance === null) return false;
    const { edgeOf, shape } = this.instance.topology;
    const role = shape.role[handle];
    return (edgeOf[handle] as number) < 0 && role !== Role.joined && role !== Role.ideal;
  }

  /** Names what is lost with an element in the state that was solved last, and goes on naming it when others are solved: see `lossName`. */
  lossesNow(): (handle: number) => string | null {
    const topology = this.general === null ? this.instance?.topology : undefined;
    return (handle) => (topology === undefined ? null : lossName(topology, handle));
  }

  /** Volts from node b up to node a; NaN where they do not hang together. */
  across(a: Node, b: Node): Volt {
    if (this.general !== null) {
      const p = this.general.volts.get(a) ?? null;
      const q = this.general.volts.get(b) ?? null;
      return p === null || q === null ? Number.NaN : p - q;
    }
    const instance = this.instance;
    if (instance === null) throw new RangeError('not solved yet');
    this.recover(instance);
    const { cluster, island } = instance.topology;
    const [p, q] = [this.nodeOf(a), this.nodeOf(b)];
    const [c, d] = [cluster[p] as number, cluster[q] as number];
    if (island[c] !== island[d]) return Number.NaN;
    const apart = (instance.x[c] as number) - (instance.x[d] as number);
    return apart + (instance.offset[p] as number) - (instance.offset[q] as number);
  }

  /** Takes an instance that was solved as a part of a whole for its answer. */
  adopt(instance: Instance): void {
    this.general = null;
    this.recovered = false;
    this.instance = instance;
  }

  /** Amps that flow into the network by a port (1 or more) as it was last solved. */
  portAmps(port: number): Ampere {
    if (this.general !== null) return -(this.general.amps.get(this.portId(port)) ?? Number.NaN);
    if (this.instance === null) throw new RangeError('not solved yet');
    return this.instance.portAmps(port);
  }

  /** Siemens of the network between a port (1 or more) and the first, all others held, as it was last solved; NaN where not known. */
  portSiemens(port: number): number {
    if (this.general !== null || this.instance === null) return Number.NaN;
    const { topology, g } = this.instance;
    let sum = g[topology.portCluster[port] as number] as number;
    for (const at of topology.portPlace[port] ?? []) if (at >= 0) sum += g[at] as number;
    return sum;
  }

  private portId(port: number): string {
    return `port ${this.nodes[this.ports[port] ?? -1] ?? ''}`;
  }

  /** The whole answer by names, as `solveDc` gives it. Not for a network with ports. */
  point(): OperatingPoint {
    if (this.general !== null) return this.general;
    const instance = this.instance;
    if (instance === null) throw new RangeError('not solved yet');
    this.recover(instance);
    const { topology, offset, x } = instance;
    const now = this.netlistNow();
    const count = now.elements.length;
    const current = new Float64Array(count);
    const siemens = new Float64Array(count);
    for (let m = 0; m < count; m++) {
      const e = topology.edgeOf[m] as number;
      if (e >= 0) current[m] = (topology.signOf[m] as number) * (instance.amps[e] as number) + 0;
      if (topology.shape.role[m] === Role.linear) siemens[m] = 1 / (this.values.ohms[m] as number);
    }
    const read = {
      elements: now.elements,
      nodes: this.nodes,
      index: this.index,
      from: topology.shape.from.subarray(0, count),
      to: topology.shape.to.subarray(0, count),
      role: topology.shape.role.subarray(0, count),
      siemens,
      emf: this.values.emf.subarray(0, count),
      problems: [],
    };
    const { cluster, clusters, island, stiff } = topology;
    const point = readPoint(now, {
      read,
      graph: { cluster, clusters, offset, stiff, problems: [] },
      island,
      x,
      current,
      iterations: this.steps,
      unsettled: [],
      problems: [],
    });
    return this.isEdited ? withoutOrphans(point, now) : point;
  }

  /** The netlist as it stands: contacts set, edits made. */
  netlistNow(): Netlist {
    const joins = this.joins.map((edit): CircuitElement => wireOf(edit));
    return { ...this.netlist, elements: [...this.elements.map((_, m) => this.elementAt(m)), ...joins] };
  }

  hasElement(id: string): boolean {
    return this.handles.has(id);
  }

  hasNode(node: Node): boolean {
    return this.index.has(node);
  }

  /** Is this contact closed, edits left aside? */
  isClosed(handle: number): boolean {
    const element = this.untouched.get(handle) ?? this.elements[handle];
    return element?.kind === 'contact' && element.closed;
  }

  /** Is anything edited? */
  get isEdited(): boolean {
    return this.edited.length + this.joins.length > 0;
  }

  /**
   * The instance of the network as it stands, its values loaded; null where only the general solver serves. With edits it is one that
   * all networks of the shape share, unless one of its own is asked for.
   */
  find(alone = false): Instance | null {
    if (this.badCount > 0) return null;
    const plain = this.edited.length === 0 && this.joins.length === 0;
    let instance: Instance | null | undefined;
    if (plain) {
      const key = this.contacts.length <= BITS ? this.bits : this.longKey();
      instance = this.own.get(key);
      if (instance === undefined) {
        const stored = this.stored(this.stateKey(), true);
        instance = stored === null ? null : new Instance(stored.topology);
        this.own.set(key, instance);
      }
    } else {
      this.withEdits ??= { stored: this.stored(`${this.stateKey()} ${this.editKey}`, this.editKey === '') };
      const { stored } = this.withEdits;
      instance = stored === null ? null : alone ? new Instance(stored.topology) : stored.scratch;
    }
    if (instance !== null && instance.version !== this.version) {
      instance.load(this.values);
      instance.version = this.version;
      instance.voltsVersion = this.voltsVersion;
    } else if (instance !== null && instance.voltsVersion !== this.voltsVersion) {
      instance.loadVolts(this.values);
      instance.voltsVersion = this.voltsVersion;
    }
    return instance;
  }

  /** Names the state of the contacts. */
  private stateKey(): string {
    return this.contacts.length <= BITS ? String(this.bits) : this.longKey();
  }

  private stored(key: string, often: boolean): Stored | null {
    return this.states.get(key, often, () => {
      const count = this.base.length + this.joins.length;
      const topology = compileTopology({
        nodes: this.nodes.length,
        from: this.from.slice(0, count),
        to: this.to.slice(0, count),
        role: this.role.slice(0, count),
        law: this.law.slice(0, count),
        ports: this.ports,
      });
      return topology === null ? null : { topology, scratch: new Instance(topology) };
    });
  }

  private solveGenerally(ports: readonly Volt[] | undefined): void {
    const now = this.netlistNow();
    const sources = (ports ?? []).flatMap((volts, k): CircuitElement[] => {
      const [a, b] = [this.nodes[this.ports[k] ?? -1], this.nodes[this.ports[0] ?? -1]];
      return k === 0 || a === undefined || b === undefined
        ? []
        : [{ id: this.portId(k), kind: 'source', a, b, volts, ohms: 0 }];
    });
    this.general = solveDc({ ...now, elements: [...now.elements, ...sources] });
    this.steps = this.general.iterations;
  }

  private recover(instance: Instance): void {
    if (this.recovered) return;
    this.recovered = true;
    recoverVolts(instance, this.values);
  }

  private nodeOf(node: Node): number {
    const at = this.index.get(node);
    if (at === undefined) throw new RangeError(`no node ${node}`);
    return at;
  }

  private markBad(m: number): void {
    if (this.bad[m] === 1) return;
    this.bad[m] = 1;
    this.badCount++;
  }

  /** Puts an element into the arrays. */
  private write(m: number, element: CircuitElement): void {
    this.withEdits = null;
    this.elements[m] = element;
    this.put(m, element);
    const bit = this.bitOf.get(m);
    if (bit === undefined || element.kind !== 'contact') return;
    this.bits = element.closed ? this.bits | bit : this.bits & ~bit;
  }

  private put(m: number, element: CircuitElement): void {
    const twice = this.handles.get(element.id) !== m && m < this.base.length;
    const fits = !twice && fault(element) === null;
    if (fits && this.bad[m] === 1) {
      this.bad[m] = 0;
      this.badCount--;
    }
    if (!fits) this.markBad(m);
    this.from[m] = this.nodeOf(element.a);
    this.to[m] = this.nodeOf(element.b);
    const role = fits ? roleOf(element) : Role.absent;
    this.role[m] = role;
    this.values.emf[m] = element.kind === 'source' ? element.volts : 0;
    if (role === Role.diode && element.kind === 'diode') {
      const { is, n, rs } = element.law;
      this.values.is[m] = is;
      this.values.lnIs[m] = Math.log(is);
      this.values.nvt[m] = n * THERMAL_VOLTAGE;
      this.values.ohms[m] = rs;
      this.law[m] = is <= MERGED_SATURATION ? 0 : this.store.lawClass(is, n);
    } else if ('ohms' in element) this.values.ohms[m] = element.ohms;
  }

  private addJoin(edit: Extract<Edit, { do: 'join' }>): void {
    if (this.joins.length >= JOINS_MOST) throw new RangeError(`more than ${JOINS_MOST} joins at one time`);
    const m = this.base.length + this.joins.length;
    this.joins.push(edit);
    this.put(m, wireOf(edit));
  }

  private keyOfEdits(): string {
    const parts: string[] = [];
    for (const m of this.edited) {
      const was = this.untouched.get(m);
      if (was === undefined) continue;
      const same =
        fault(was) === null &&
        roleOf(was) === this.role[m] &&
        this.nodeOf(was.a) === this.from[m] &&
        this.nodeOf(was.b) === this.to[m] &&
        (was.kind !== 'diode' || this.lawOf(was) === this.law[m]);
      if (!same) parts.push(`${m}:${this.role[m]}:${this.law[m]}:${this.from[m]}:${this.to[m]}`);
    }
    for (let k = 0; k < this.joins.length; k++) {
      const m = this.base.length + k;
      parts.push(`+${this.role[m]}:${this.from[m]}:${this.to[m]}`);
    }
    return parts.sort().join(' ');
  }

  private lawOf(element: Extract<CircuitElement, { kind: 'diode' }>): number {
    const { is, n } = element.law;
    return is <= MERGED_SATURATION ? 0 : this.store.lawClass(is, n);
  }

  private longKey(): string {
    let key = '';
    for (const m of this.contacts) {
      const element = this.elements[m];
      key += element?.kind === 'contact' && element.closed ? '1' : '0';
    }
    return key;
  }

  /** Everything of the netlist that topologies hang on, but for the state of its contacts. */
  private shapeKey(): string {
    const parts = this.base.map((element, m) => {
      const what =
        element.kind === 'contact'
          ? element.ohms >= NO_OHMS
            ? 'c'
            : 'C'
          : element.kind === 'diode'
            ? `d${this.law[m]}`
            : String(this.role[m]);
      return `${what}${this.from[m]}-${this.to[m]}`;
    });
    return `${parts.join(' ')} ${this.nodes.length} ${this.ports.join(',')}`;
  }
}

/** Without the nodes that no element touches any more. */
function withoutOrphans(point: OperatingPoint, { elements }: Netlist): OperatingPoint {
  const nodes = new Set(elements.flatMap(({ a, b }) => [a, b]));
  if (nodes.size === point.volts.size) return point;
  return {
    ...point,
    volts: new Map([...point.volts].filter(([node]) => nodes.has(node))),
    floating: point.floating.filter(([first]) => first !== undefined && nodes.has(first)),
  };
}

function wireOf(edit: Extract<Edit, { do: 'join' }>): CircuitElement {
  return { id: edit.id, a: edit.a, b: edit.b, kind: 'wire', ohms: edit.ohms };
}

/** Volts of the clusters inside chains and at loose ends, from those of the others. */
function recoverVolts(instance: Instance, values: Values): void {
  const { topology, x, amps, offset } = instance;
  const { from, to, role } = topology.shape;
  /** Volts from a cluster to the next along member m, passed in the direction of `sign`, when `i` amps flow that way. */
  const pass = (c: number, m: number, sign: number, i: number): number => {
    const apart = (offset[from[m] as number] as number) - (offset[to[m] as number] as number);
    const shift = sign * (apart - (values.emf[m] as number));
    const along = sign * i;
    const drop =
      role[m] === Role.diode
        ? forwardDrop(values.is[m] as number, values.nvt[m] as number, values.ohms[m] as number, along)
        : (values.ohms[m] as number) * along;
    return (x[c] as number) + shift - sign * drop;
  };
  const recover = ({ from: begin, to: end, inner, members, signs }: Path, i: number): void => {
    let c = begin;
    inner.forEach((next, k) => {
      x[next] = pass(c, members[k] as number, signs[k] as number, i);
      c = next;
    });
    // Back from the far end as long as no diode lies between: there its volts are nearer than those of dark diodes.
    c = end;
    for (let k = inner.length - 1; k >= 0; k--) {
      const m = members[k + 1] as number;
      if (role[m] === Role.diode) return;
      const next = inner[k] as number;
      x[next] = pass(c, m, -(signs[k + 1] as number), -i);
      c = next;
    }
  };
  for (let e = 0; e < topology.edges; e++) {
    const ends = { from: topology.edgeFrom[e] as number, to: topology.edgeTo[e] as number };
    const range = [topology.start[e] as number, topology.start[e + 1] as number] as const;
    const members = topology.member.subarray(...range);
    const signs = topology.sign.subarray(...range);
    if (ends.from !== ends.to) recover({ ...ends, inner: topology.inner[e] ?? [], members, signs }, amps[e] as number);
  }
  for (const chain of topology.loose) {
    const m = chain.members[0] as number;
    const e = topology.edgeOf[m] as number;
    if (e >= 0) {
      recover(chain, (chain.signs[0] as number) * (topology.signOf[m] as number) * (amps[e] as number));
      continue;
    }
    let c = chain.from;
    [...chain.inner, chain.to].forEach((next, k) => {
      x[next] = pass(c, chain.members[k] as number, chain.signs[k] as number, 0);
      c = next;
    });
  }
}

/** Branches in a row between two clusters. */
interface Path {
  readonly from: number;
  readonly to: number;
  readonly inner: readonly number[];
  readonly members: ArrayLike<number>;
  readonly signs: ArrayLike<number>;
}

/** By topology, then element: the edges that a stiff element's amps are the sum of, each with its share; null where undecided. */
const TERMS = new WeakMap<Topology, Map<number, readonly (readonly [number, number])[] | null>>();

function stiffAmps(instance: Instance, m: number): number {
  const { topology } = instance;
  const known = TERMS.get(topology) ?? new Map<number, readonly (readonly [number, number])[] | null>();
  TERMS.set(topology, known);
  let terms = known.get(m);
  if (terms === undefined) {
    terms = termsOf(topology, m);
    known.set(m, terms);
  }
  if (terms === null) return Number.NaN;
  let sum = 0;
  for (let k = 0; k < terms.length; k++) {
    const term = terms[k] as readonly [number, number];
    sum += term[1] * (instance.amps[term[0]] as number);
  }
  return sum;
}

/**
 * What leaves the far side of a stiff element through all others has come to it through the element. Of a block's two sides it is
 * the one without a port, where nothing comes in from outside.
 */
function termsOf(topology: Topology, m: number): readonly (readonly [number, number])[] | null {
  const { from, to, ports } = topology.shape;
  const second = sideOf(topology, m, to[m] as number);
  if (second[from[m] as number] === 1) return null;
  const turned = ports.some((port) => second[port] === 1);
  const side = turned ? sideOf(topology, m, from[m] as number) : second;
  const sums = new Map<number, number>();
  for (let k = 0; k < topology.edgeOf.length; k++) {
    const e = topology.edgeOf[k] as number;
    const leaves = (side[from[k] as number] as number) - (side[to[k] as number] as number);
    if (e < 0 || leaves === 0) continue;
    sums.set(e, (sums.get(e) ?? 0) + leaves * (topology.signOf[k] as number));
  }
  return [...sums].filter(([, share]) => share !== 0).map(([e, share]) => [e, turned ? -share : share] as const);
}
