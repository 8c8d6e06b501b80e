/**
 * Means over a whole cycle of a network with alternating sources, once it has settled: diodes, lamps and whatever smooths them.
 *
 * Idea: without a capacitor every instant is a network at rest, and means are sums over a cycle. With some, their volts are the only
 * state. A step turns each into a source behind ohms, so every instant is a network at rest again: TR-BDF2, two solves a step, both behind
 * the same ohms, so the network is made ready once. The settled cycle is the one that ends where it began, found by false position for
 * each capacitor at a time, all together: rails behind their own diodes hardly feel each other.
 * Cost: some ten cycles of 128 solves. Reference: Bank et al., "Transient simulation of silicon devices and circuits", IEEE Trans. CAD 4
 * (1985), for TR-BDF2; shooting after Aprille and Trick 1972. Coils are taken at rest: as their ohms.
 */
import type { Ampere, Second, Volt } from '../units/index.ts';
import { type Prepared, prepare } from './prepared.ts';
import { fault } from './read-netlist.ts';
import { Sets } from './sets.ts';
import {
  CYCLE_NEWTON,
  CYCLE_TURN_STEPS,
  CYCLE_TURNS,
  FIRST_TURN,
  HALF_CYCLE_SAMPLES,
  LEAST_NEWTON,
  STILL_SHARE,
  STILL_VOLTS,
} from './time-tolerances.ts';
import type { CircuitElement, Netlist, Node } from './types.ts';

export interface CycleMeans {
  /** Of every element but wires and contacts that nobody reads, positive into its first terminal. */
  readonly amps: ReadonlyMap<string, Ampere>;
  /** Of every node above the reference, or above the first node; null where they do not hang together. */
  readonly volts: ReadonlyMap<Node, Volt | null>;
  /** Of alternating sources, what they deliver, whichever way it flows. */
  readonly delivered: ReadonlyMap<string, Ampere>;
  /** What each capacitor holds where the cycle begins, its sources at nought and rising. */
  readonly held: ReadonlyMap<string, Volt>;
  /** False where the turns ran out: the means are then of a cycle that ends apart from where it began. */
  readonly settled: boolean;
}

type Capacitor = Extract<CircuitElement, { kind: 'capacitor' }>;
type Source = Extract<CircuitElement, { kind: 'source' }>;

/** Of TR-BDF2: where in a step the first solve stands, and the weights of what a step begins with, of its middle and of its end. */
const GAMMA = 2 - Math.SQRT2;
const [W_OUTER, W_END] = [Math.SQRT2 / 4, GAMMA / 2];
const MIDDLE = 1 / (GAMMA * (2 - GAMMA));
const BEGIN = (1 - GAMMA) ** 2 / (GAMMA * (2 - GAMMA));

/**
 * The means of a network with alternating sources, over a cycle of the slowest; null where it has none, or where a source is shorted dead and
 * nothing can be told. Elements with values that cannot be are left out as anywhere. Where no cycle ends as it begins, the means of the last
 * one that was tried, `settled` false. A capacitor of no farads, or of fewer, counts as open.
 */
export function cycleMeans(netlist: Netlist): CycleMeans | null {
  const sane = netlist.elements.filter((element) => fault(element) === null);
  const swings = sane.filter((element): element is Source => element.kind === 'source' && element.swing !== undefined);
  if (swings.length === 0) return null;
  const period = Math.max(...swings.map(({ swing }) => 1 / (swing?.hertz ?? 1)));
  const bundles = bundled(sane);
  const run = new Cycle(netlist, swings, bundles, period);
  if (run.dead()) return null;
  return bundles.length === 0 ? run.bare() : run.smoothed();
}

/** Capacitors that lie side by side with nothing between them, as a fault may put them: one state, or their volts would be told twice. */
interface Bundle {
  /** The one that stands in for all of them. */
  readonly lead: Capacitor;
  readonly farads: number;
  readonly volts: Volt;
  /** -1: it lies the other way round than the lead. */
  readonly members: readonly { readonly id: string; readonly sign: 1 | -1 }[];
}

function bundled(elements: readonly CircuitElement[]): readonly Bundle[] {
  const names = [...new Set(elements.flatMap(({ a, b }) => [a, b]))];
  const place = new Map(names.map((name, k) => [name, k]));
  const met = new Sets(names.length);
  const at = (node: Node): number => met.find(place.get(node) ?? 0);
  for (const { kind, a, b, ...rest } of elements)
    if (
      (kind === 'wire' || kind === 'contact') &&
      'ohms' in rest &&
      rest.ohms === 0 &&
      !('closed' in rest && !rest.closed)
    )
      met.join(at(a), at(b));
  const found = new Map<string, Bundle>();
  for (const element of elements) {
    if (element.kind !== 'capacitor' || element.farads <= 0) continue;
    const [a, b] = [at(element.a), at(element.b)];
    const key = a < b ? `${a} ${b}` : `${b} ${a}`;
    const known = found.get(key);
    if (known === undefined || a === b) {
      const own = { lead: element, farads: element.farads, volts: element.volts };
      // Shorted it holds nothing, and no two of those are one.
      found.set(a === b ? element.id : key, { ...own, members: [{ id: element.id, sign: 1 }] });
      continue;
    }
    const sign = at(known.lead.a) === a ? 1 : -1;
    const farads = known.farads + element.farads;
    const volts = (known.farads * known.volts + sign * element.farads * element.volts) / farads;
    found.set(key, { ...known, farads, volts, members: [...known.members, { id: element.id, sign }] });
  }
  return [...found.values()];
}

class Cycle {
  private readonly network: Prepared;
  private readonly drivers: readonly { readonly handle: number; readonly at: (t: Second) => Volt }[];
  private readonly stores: readonly { readonly handle: number; readonly ohms: number; readonly perAmp: number }[];
  private readonly step: Second;
  private readonly handles: readonly (readonly [id: string, handle: number])[];
  private readonly nodes: readonly Node[];
  private readonly zero: Node;
  private readonly alike: boolean;

  constructor(
    netlist: Netlist,
    private readonly swings: readonly Source[],
    private readonly bundles: readonly Bundle[],
    private readonly period: Second,
  ) {
    this.step = period / CYCLE_TURN_STEPS;
    const ohmsOf = ({ farads }: Bundle): number => (GAMMA * this.step) / (2 * farads);
    const elements = netlist.elements.map((element): CircuitElement => {
      const { id, a, b } = element;
      if (element.kind === 'capacitor') {
        const own = bundles.find(({ lead }) => lead === element);
        return own === undefined
          ? { kind: 'open', id, a, b }
          : { kind: 'source', id, a, b, volts: own.volts, ohms: ohmsOf(own) };
      }
      if (element.kind !== 'source' || element.swing === undefined) return element;
      return { kind: 'source', id, a, b, volts: element.volts, ohms: element.ohms };
    });
    this.network = prepare({ ...netlist, elements });
    this.drivers = swings.map(({ id, volts, swing }) => ({
      handle: this.network.handle(id),
      at: (t) => volts + (swing?.peak ?? 0) * Math.sin(2 * Math.PI * (swing?.hertz ?? 0) * t),
    }));
    this.stores = bundles.map((each) => ({
      handle: this.network.handle(each.lead.id),
      ohms: ohmsOf(each),
      perAmp: this.step / each.farads,
    }));
    // What joins without ohms carries what its neighbours do, and takes longest to tell.
    const told = elements.filter(({ kind, probe }) => probe !== undefined || (kind !== 'wire' && kind !== 'contact'));
    this.handles = [...new Set(told.map(({ id }) => id))].map((id) => [id, this.network.handle(id)] as const);
    this.nodes = [...new Set(elements.flatMap(({ a, b }) => [a, b]))];
    const { reference } = netlist;
    this.zero = reference !== null && this.network.hasNode(reference) ? reference : (this.nodes[0] ?? '');
    this.alike = new Set(swings.map(({ swing }) => swing?.hertz)).size === 1;
  }

  /** Is a source shorted, at a crest? */
  dead(): boolean {
    this.solve(this.period / 4);
    return this.network.point().problems.some(({ code }) => code === 'source-shorted' || code === 'sources-disagree');
  }

  /** Without a capacitor. A sine passes every value twice: half a cycle from trough to crest tells all where there is one frequency. */
  bare(): CycleMeans {
    const means = new Means(this.network, this.handles, this.nodes, this.zero, this.swings);
    const [from, span] = this.alike ? [-this.period / 4, this.period / 2] : [0, this.period];
    const count = this.alike ? HALF_CYCLE_SAMPLES : 2 * HALF_CYCLE_SAMPLES;
    for (let k = 0; k < count; k++) {
      this.solve(from + ((k + 0.5) * span) / count);
      means.add(1 / count);
    }
    return { ...means.told(), held: new Map(), settled: true };
  }

  smoothed(): CycleMeans {
    const start = this.bundles.map(({ volts }) => volts);
    const turns = start.map(() => new Turn());
    let settled = false;
    for (let turn = 0; turn < CYCLE_TURNS && !settled; turn++) {
      const { end, moved } = this.turn(start, null);
      settled = isStill(start, end, moved);
      if (!settled)
        turns.forEach((each, k) => {
          start[k] = each.next(start[k] ?? 0, (end[k] ?? 0) - (start[k] ?? 0));
        });
    }
    if (!settled) settled = this.together(start);
    const means = new Means(this.network, this.handles, this.nodes, this.zero, this.swings);
    this.turn(start, means);
    const held = this.bundles.flatMap(({ members }, k) =>
      members.map(({ id, sign }) => [id, sign * (start[k] ?? 0)] as const),
    );
    return { ...means.told(), held: new Map(held), settled };
  }

  /**
   * The same search where capacitors feel each other, as faults may make them: Newton's, with slopes from a cycle for each of them. Moves
   * `start`; answers whether a cycle ends where it begins.
   */
  private together(start: Volt[]): boolean {
    const offOf = (from: readonly Volt[]) => {
      const { end, moved } = this.turn(from, null);
      const off = end.map((volts, k) => volts - (from[k] ?? 0));
      return { off, still: isStill(from, end, moved), worst: Math.max(...off.map(Math.abs)) };
    };
    let now = offOf(start);
    for (let turn = 0; turn < CYCLE_NEWTON && !now.still; turn++) {
      const columns = start.map((_, k) => {
        const { off } = offOf(start.map((volts, c) => (c === k ? volts + FIRST_TURN : volts)));
        return off.map((volts, c) => (volts - (now.off[c] ?? 0)) / FIRST_TURN);
      });
      const step = solveSmall(columns, now.off);
      if (step === null) return false;
      let share = 1;
      let next = start.map((volts, k) => volts - (step[k] ?? 0));
      let then = offOf(next);
      for (; !(then.worst < now.worst) && share > LEAST_NEWTON; then = offOf(next)) {
        share /= 2;
        next = start.map((volts, k) => volts - share * (step[k] ?? 0));
      }
      if (!(then.worst < now.worst)) return false;
      start.splice(0, start.length, ...next);
      now = then;
    }
    return now.still;
  }

  /** One cycle from what the capacitors hold: what they end with, and by how much their volts went up and down together. */
  private turn(
    start: readonly Volt[],
    means: Means | null,
  ): { readonly end: readonly Volt[]; readonly moved: readonly Volt[] } {
    const now = [...start];
    const amps = this.beginAmps(start);
    const moved = start.map(() => 0);
    for (let k = 0; k < CYCLE_TURN_STEPS; k++) {
      const before = [...now];
      const first = [...amps];
      if (means !== null && k === 0) means.add(W_OUTER / CYCLE_TURN_STEPS);
      this.advance(
        (k + GAMMA) * this.step,
        now,
        amps,
        (c) => (before[c] ?? 0) + (this.stores[c]?.ohms ?? 0) * (amps[c] ?? 0),
      );
      means?.add(W_OUTER / CYCLE_TURN_STEPS);
      const middle = [...now];
      const between = [...amps];
      this.advance((k + 1) * this.step, now, amps, (c) => MIDDLE * (middle[c] ?? 0) - BEGIN * (before[c] ?? 0));
      // The end of a step is the beginning of the next.
      means?.add((W_END + (k + 1 < CYCLE_TURN_STEPS ? W_OUTER : 0)) / CYCLE_TURN_STEPS);
      this.stores.forEach(({ perAmp }, c) => {
        const sum =
          W_OUTER * Math.abs(first[c] ?? 0) + W_OUTER * Math.abs(between[c] ?? 0) + W_END * Math.abs(amps[c] ?? 0);
        moved[c] = (moved[c] ?? 0) + sum * perAmp;
      });
    }
    return { end: now, moved };
  }

  /** Solve at an instant, each capacitor as a source of so many volts behind its ohms; what it holds and carries then is written down. */
  private advance(t: Second, now: Volt[], amps: Ampere[], emf: (c: number) => Volt): void {
    const behind = this.stores.map((_, c) => emf(c));
    this.stores.forEach(({ handle }, c) => {
      this.network.setVolts(handle, behind[c] ?? 0);
    });
    this.solve(t);
    this.stores.forEach(({ handle, ohms }, c) => {
      const into = this.network.amps(handle);
      amps[c] = Number.isNaN(into) ? 0 : into;
      now[c] = (behind[c] ?? 0) + ohms * (amps[c] ?? 0);
    });
  }

  /** Amps of the capacitors where the cycle begins: what flows grows evenly with volts there, since rectifiers are dark. */
  private beginAmps(start: readonly Volt[]): Ampere[] {
    const [now, amps] = [[...start], start.map(() => 0)];
    this.advance(0, now, amps, (c) => start[c] ?? 0);
    const one = [...amps];
    this.advance(0, now, amps, (c) => (start[c] ?? 0) - (this.stores[c]?.ohms ?? 0) * (one[c] ?? 0));
    const two = [...amps];
    const emfs = start.map((volts, c) => {
      const { ohms = 0 } = this.stores[c] ?? {};
      const [i1, i2] = [one[c] ?? 0, two[c] ?? 0];
      const slope = i1 === 0 || ohms === 0 ? 0 : (i2 - i1) / (-ohms * i1);
      const room = 1 + ohms * slope;
      return room > 0 ? volts - (ohms * i1) / room : volts;
    });
    this.advance(0, now, amps, (c) => emfs[c] ?? 0);
    return amps;
  }

  private solve(t: Second): void {
    for (const { handle, at } of this.drivers) this.network.setVolts(handle, at(t));
    this.network.solve({ warm: true });
  }
}

/** Does a cycle end where it began, beside how far volts moved in it? */
function isStill(start: readonly Volt[], end: readonly Volt[], moved: readonly Volt[]): boolean {
  return start.every((from, k) => {
    const off = (end[k] ?? 0) - from;
    return Math.abs(off) <= Math.max(STILL_VOLTS, STILL_SHARE * (moved[k] ?? 0));
  });
}

/** x of the few equations whose columns these are: Gauss, with the greatest left as pivot; null where they do not tell it. */
function solveSmall(columns: readonly (readonly number[])[], right: readonly number[]): readonly number[] | null {
  const rows = right.map((value, r) => [...columns.map((column) => column[r] ?? 0), value]);
  const size = right.length;
  for (let k = 0; k < size; k++) {
    let best = k;
    for (let r = k + 1; r < size; r++) if (Math.abs(rows[r]?.[k] ?? 0) > Math.abs(rows[best]?.[k] ?? 0)) best = r;
    const [pivot, other] = [rows[best], rows[k]];
    if (pivot === undefined || other === undefined || !(Math.abs(pivot[k] ?? 0) > 0)) return null;
    rows[best] = other;
    rows[k] = pivot;
    rows.forEach((row, r) => {
      const times = (row[k] ?? 0) / (pivot[k] ?? 1);
      if (r !== k) for (let c = k; c <= size; c++) row[c] = (row[c] ?? 0) - times * (pivot[c] ?? 0);
    });
  }
  return rows.map((row, k) => (row[size] ?? 0) / (row[k] ?? 1));
}

/** The search for the volts of one capacitor with which a cycle ends as it begins. */
class Turn {
  private low: { readonly at: Volt; off: Volt } | null = null;
  private high: { readonly at: Volt; off: Volt } | null = null;
  private side = 0;
  private stride = FIRST_TURN;

  /** Where to begin next, having ended `off` above `at`. */
  next(at: Volt, off: Volt): Volt {
    if (off === 0) return at;
    if (off > 0) this.low = { at, off };
    else this.high = { at, off };
    const { low, high } = this;
    if (low !== null && high !== null && low.at < high.at) {
      // The same end twice: halve the weight of the other, or it would never move.
      const now = Math.sign(off);
      if (now === this.side) {
        if (now > 0) high.off /= 2;
        else low.off /= 2;
      }
      this.side = now;
      return (low.at * high.off - high.at * low.off) / (high.off - low.off);
    }
    // Volts that were taken for a bound are none any more where others moved.
    if (off > 0) this.high = null;
    else this.low = null;
    this.stride *= 2;
    return at + (off > 0 ? Math.max(2 * off, this.stride) : Math.min(2 * off, -this.stride));
  }
}

/** Sums of what elements carry and nodes stand at. */
class Means {
  private readonly amps: Float64Array;
  private readonly volts: Float64Array;
  private readonly delivered: Float64Array;
  private readonly swings: readonly (readonly [id: string, handle: number])[];

  constructor(
    private readonly network: Prepared,
    private readonly handles: readonly (readonly [id: string, handle: number])[],
    private readonly nodes: readonly Node[],
    private readonly zero: Node,
    swings: readonly Source[],
  ) {
    this.amps = new Float64Array(handles.length);
    this.volts = new Float64Array(nodes.length);
    this.swings = swings.map(({ id }) => [id, network.handle(id)] as const);
    this.delivered = new Float64Array(swings.length);
  }

  add(weight: number): void {
    this.handles.forEach(([, handle], k) => {
      this.amps[k] = (this.amps[k] ?? 0) + weight * this.network.amps(handle);
    });
    this.swings.forEach(([, handle], k) => {
      this.delivered[k] = (this.delivered[k] ?? 0) + weight * Math.abs(this.network.amps(handle));
    });
    this.nodes.forEach((node, k) => {
      this.volts[k] = (this.volts[k] ?? 0) + weight * this.network.across(node, this.zero);
    });
  }

  told(): Pick<CycleMeans, 'amps' | 'volts' | 'delivered'> {
    return {
      amps: new Map(this.handles.map(([id], k) => [id, this.amps[k] ?? 0])),
      volts: new Map(this.nodes.map((node, k) => [node, Number.isNaN(this.volts[k]) ? null : (this.volts[k] ?? 0)])),
      delivered: new Map(this.swings.map(([id], k) => [id, this.delivered[k] ?? 0])),
    };
  }
}
