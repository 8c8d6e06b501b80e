/**
 * Levers that share a weak supply, each as a load of two terminals.
 *
 * Idea: such levers feel each other through the supply's volts alone, and what each draws grows with them. So one unknown is left:
 * the volts at the supply's terminals at which what it gives is what all draw together. Levers of the same make in the same state
 * draw the same and are worked out once.
 * Cost: a few turns, each a solve of every different lever.
 */
import {
  type CircuitElement,
  type Netlist,
  type OperatingPoint,
  type Prepared,
  prepare,
  solveDc,
  TopologyStore,
} from '../circuit/index.ts';
import { keptFor } from '../panel/index.ts';
import type { Ampere, Ohm, Volt } from '../units/index.ts';
import { type CarrierLies, carrierLies } from './carrier-lies.ts';
import { NO_PARTS, partsOf } from './circuit-parts.ts';
import { type Corner, NOMINAL, netlistOf } from './netlist-of.ts';
import { type Positions, positionIn } from './positions.ts';
import { CLOSE_VOLTS, DRAWN_KEPT, FEW_KINDS, HELD_KEPT, RUNG_VOLTS, RUNGS_KEPT, SHARED_TURNS } from './tolerances.ts';
import type { Edge, Position, WiredSupply, Wiring } from './types.ts';

/** One lever in one state, and every other that is its like. */
export interface Load {
  readonly place: number;
  readonly network: Prepared;
  /** The same for all that are alike. */
  readonly signature: string;
}

/** How many of each load draw together, in the order in which they are met. */
interface Draws {
  readonly loads: readonly Load[];
  readonly counts: readonly number[];
  readonly key: string;
}

const POSITIONS: readonly Position[] = ['normal', 'reverse', 'centre'];

const drawnBy = keptFor((_network: Prepared) => new Map<number, Ampere>());

const LOADS = new WeakMap<Wiring, LeverLoads>();

/** Makes loads of circuits that are as they were serve in the wiring after an edit. */
export function takeOverLoads(before: Wiring, now: Wiring, unchanged: ReadonlySet<string>): void {
  const loads = LOADS.get(before);
  if (loads !== undefined && !LOADS.has(now)) LOADS.set(now, new LeverLoads(now, { loads, unchanged }));
}

/** The loads of a wiring, kept with it. */
export function leverLoads(wiring: Wiring): LeverLoads {
  const known = LOADS.get(wiring);
  if (known !== undefined) return known;
  const loads = new LeverLoads(wiring);
  LOADS.set(wiring, loads);
  return loads;
}

export class LeverLoads {
  private readonly store: TopologyStore;
  private readonly loads: Load[] = [];
  private readonly alike = new Map<string, Load>();
  /** By circuit, then by its state and the edge of all bands. */
  private readonly plain = new Map<string, Map<string, Load>>();
  private readonly numbers = new Map<string, ReadonlyMap<string, number>>();
  private readonly tables = new Map<string, Int32Array>();
  private readonly fitting = new Map<string, boolean>();
  /** The lever of each group of lamps; groups of several levers are named apart. */
  private readonly leverOf = new Map<string, string>();
  private readonly spread = new Set<string>();

  constructor(
    private readonly wiring: Wiring,
    /** Those of a wiring before an edit, and circuits that are as they were in it. */
    before: { readonly loads: LeverLoads; readonly unchanged: ReadonlySet<string> } | null = null,
  ) {
    this.store = before?.loads.store ?? new TopologyStore();
    for (const [id, known] of before?.loads.plain ?? []) {
      if (before?.unchanged.has(id) !== true) continue;
      const own = [...known].map(
        ([key, { signature, network }]) => [key, this.loadOf(signature, () => network)] as const,
      );
      this.plain.set(id, new Map(own));
    }
    for (const [id, fits] of before?.loads.fittingAlone ?? [])
      if (before?.unchanged.has(id) === true) this.fittingAlone.set(id, fits);
    for (const { group, circuit } of [...wiring.lamps, ...wiring.resistors]) {
      if ((this.leverOf.get(group) ?? circuit) !== circuit) this.spread.add(group);
      this.leverOf.set(group, circuit);
    }
  }

  /** The load that a circuit is in one state at one corner of the bands. Its elements stand in the order of `netlistOf`. */
  at(circuit: string, levers: Positions, corner: Corner, lies?: CarrierLies): Load {
    const { lamps, draw, group, lamp } = corner;
    const key = `${this.stateOf(circuit, levers, lies)} ${lamps} ${draw} ${group ?? ''} ${lamp ?? ''}`;
    let own = this.plain.get(circuit);
    if (own === undefined) {
      own = new Map();
      this.plain.set(circuit, own);
    }
    const known = own.get(key);
    if (known !== undefined) return known;
    const options = { circuits: new Set([circuit]), corner, bare: true, ...(lies === undefined ? {} : { lies }) };
    const netlist = this.withRails(circuit, netlistOf(this.wiring, levers, options));
    const [plus, minus] = this.portsOf(circuit);
    const load = this.loadOf(signatureOf(netlist, [plus, minus]), () =>
      prepare(netlist, { ports: [minus, plus], store: this.store }),
    );
    own.set(key, load);
    return load;
  }

  private loadOf(signature: string, network: () => Prepared): Load {
    const known = this.alike.get(signature);
    if (known !== undefined) return known;
    const load: Load = { place: this.loads.length, network: network(), signature };
    this.loads.push(load);
    this.alike.set(signature, load);
    return load;
  }

  private stateOf(circuit: string, levers: Positions, lies?: CarrierLies): string {
    const own = partsOf(this.wiring).circuits.get(circuit)?.circuit;
    if (own === undefined) return circuit;
    if (own.levers.length === 1 && own.follows.length === 0) return `${circuit} ${positionIn(levers, circuit)}`;
    const told = own.follows.length === 0 ? {} : (lies ?? carrierLies(this.wiring, levers));
    const at = own.levers.map((lever) => positionIn(levers, lever));
    return [circuit, ...at, ...own.follows.map((carrier) => told[carrier] ?? 'normal')].join(' ');
  }

  /** The two terminals of a circuit: where plus and where minus comes into it. */
  portsOf(circuit: string): readonly [plus: string, minus: string] {
    const known = this.ports.get(circuit);
    if (known !== undefined) return known;
    const rails = partsOf(this.wiring).circuits.get(circuit)?.circuit.rails ?? [];
    const first = (side: string) => rails.find(({ net }) => net.endsWith(side))?.terminal ?? `${circuit}${side}`;
    const found = [first('.p'), first('.m')] as const;
    this.ports.set(circuit, found);
    return found;
  }

  private readonly ports = new Map<string, readonly [string, string]>();

  /** A circuit that its rails come into at several places has one terminal for each. */
  private withRails(circuit: string, netlist: Netlist): Netlist {
    const rails = partsOf(this.wiring).circuits.get(circuit)?.circuit.rails ?? [];
    const [plus, minus] = this.portsOf(circuit);
    const joints = rails.flatMap(({ terminal, net }): CircuitElement[] => {
      const port = net.endsWith('.p') ? plus : minus;
      return terminal === port ? [] : [{ kind: 'wire', id: `${port}=${terminal}`, a: port, b: terminal, ohms: 0 }];
    });
    return joints.length === 0 ? netlist : { ...netlist, elements: [...netlist.elements, ...joints] };
  }

  /** What a lever draws at so many volts. */
  amps(load: Load, volts: Volt): Ampere {
    load.network.solve({ ports: [0, volts] });
    return load.network.portAmps(1);
  }

  /** The same at volts that are asked for again and again, as marks of circuits; it is kept with the load. */
  ampsKept(load: Load, volts: Volt): Ampere {
    const drawn = drawnBy(load.network);
    let amps = drawn.get(volts);
    if (amps === undefined) {
      amps = this.amps(load, volts);
      if (drawn.size >= DRAWN_KEPT) drawn.clear();
      drawn.set(volts, amps);
    }
    return amps;
  }

  /** What a lever draws alone on its supply. */
  ampsAlone(supply: WiredSupply, load: Load, emf: Volt): Ampere {
    return this.amps(load, supply.ohms === 0 ? emf : this.settle(drawsOf([load]), emf, supply.ohms));
  }

  /** Volts at the terminals of a supply of so many volts behind its ohms, its levers so. */
  voltsOf(supply: WiredSupply, levers: Positions, corner: Corner, emf: Volt): Volt {
    return supply.ohms === 0 ? emf : this.settle(this.drawOf(supply, levers, corner), emf, supply.ohms);
  }

  /** The same for some of its levers alone, behind ohms that they share. */
  voltsBehind(
    supply: WiredSupply,
    behind: ReadonlySet<string>,
    levers: Positions,
    corner: Corner,
    emf: Volt,
    ohms: Ohm,
  ): Volt {
    return this.settle(this.drawOf(supply, levers, corner, behind), emf, ohms);
  }

  /** EMF in volts to which its limit holds a supply that would give `full`; null where it gives all that is asked. */
  heldVolts(supply: WiredSupply, levers: Positions, corner: Corner, full: Volt): Volt | null {
    const draw = this.drawOf(supply, levers, corner);
    const open = supply.ohms === 0 ? full : this.settle(draw, full, supply.ohms);
    if (this.total(draw, open, false).amps <= supply.amps) return null;
    if (supply.limit !== 'constant') return 0;
    const volts = search(full, (at, first) => {
      const { amps, siemens } = this.total(draw, at, !first);
      return { excess: amps - supply.amps, slope: siemens };
    });
    return volts + supply.ohms * supply.amps;
  }

  /** Volts already found for so many of each load, by supply's volts and ohms. */
  private readonly settled = new Map<string, Volt>();

  private settle(draw: Draws, emf: Volt, ohms: Ohm): Volt {
    const key = `${draw.key} ${emf} ${ohms}`;
    const known = this.settled.get(key);
    if (known !== undefined) return known;
    const kinds = draw.loads.length;
    const volts = search(emf, (at, first) => {
      const { amps, siemens } = kinds > FEW_KINDS ? this.between(draw, at) : this.total(draw, at, !first);
      return { excess: amps - (emf - at) / ohms, slope: siemens + 1 / ohms };
    });
    if (this.settled.size >= HELD_KEPT) this.settled.clear();
    this.settled.set(key, volts);
    return volts;
  }

  /** What the loads draw at rungs of the ladder of volts, by rung; NaN where not worked out yet. */
  private readonly rungs = new Map<number, { amps: Float64Array; siemens: Float64Array }>();

  /**
   * The same of many kinds of loads, without solving all of them at every turn: each is worked out once at rungs a few millivolts
   * apart, and between two rungs the sum runs as the cubic that has its amps and siemens at both.
   */
  private between(draw: Draws, volts: Volt): { amps: Ampere; siemens: number } {
    const rung = Math.floor(volts / RUNG_VOLTS);
    const low = this.totalAt(draw, rung);
    const high = this.totalAt(draw, rung + 1);
    const t = volts / RUNG_VOLTS - rung;
    const h = RUNG_VOLTS;
    const rise = high.amps - low.amps;
    // Hermite's cubic, and its slope.
    const a = h * (low.siemens + high.siemens) - 2 * rise;
    const b = 3 * rise - h * (2 * low.siemens + high.siemens);
    return {
      amps: low.amps + t * (h * low.siemens + t * (b + t * a)),
      siemens: low.siemens + (t * (2 * b + 3 * t * a)) / h,
    };
  }

  private totalAt({ loads, counts }: Draws, rung: number): { amps: Ampere; siemens: number } {
    let kept = this.rungs.get(rung);
    if (kept === undefined || kept.amps.length < this.loads.length) {
      const size = 2 * this.loads.length;
      const fresh = { amps: new Float64Array(size).fill(Number.NaN), siemens: new Float64Array(size) };
      if (kept !== undefined) {
        fresh.amps.set(kept.amps);
        fresh.siemens.set(kept.siemens);
      } else if (this.rungs.size >= RUNGS_KEPT) this.rungs.clear();
      kept = fresh;
      this.rungs.set(rung, kept);
    }
    let amps = 0;
    let siemens = 0;
    for (let i = 0; i < loads.length; i++) {
      const { place: k, network } = loads[i] as Load;
      const count = counts[i] as number;
      if (Number.isNaN(kept.amps[k])) {
        network.solve({ ports: [0, rung * RUNG_VOLTS] });
        kept.amps[k] = network.portAmps(1);
        kept.siemens[k] = network.portSiemens(1);
      }
      amps += count * (kept.amps[k] as number);
      siemens += count * (kept.siemens[k] as number);
    }
    return { amps, siemens };
  }

  /** What so many of each load draw together. */
  private total({ loads, counts }: Draws, volts: Volt, warm: boolean): { amps: Ampere; siemens: number } {
    let amps = 0;
    let siemens = 0;
    for (let i = 0; i < loads.length; i++) {
      const { network } = loads[i] as Load;
      const count = counts[i] as number;
      network.solve({ ports: [0, volts], warm });
      amps += count * network.portAmps(1);
      siemens += count * network.portSiemens(1);
    }
    return { amps, siemens };
  }

  /** How many of each load draw on a supply: all bands at the corner's `draw`, but for the lever whose group is judged. */
  private drawOf(
    supply: WiredSupply,
    levers: Positions,
    corner: Corner,
    behind: ReadonlySet<string> | null = null,
  ): Draws {
    const table = this.tableOf(supply, corner.group === null ? corner.lamps : corner.draw);
    const judged = corner.group === null ? undefined : this.leverOf.get(corner.group);
    const own = judged === undefined ? null : this.at(judged, levers, corner);
    const edge = corner.group === null ? corner.lamps : corner.draw;
    const plain = { lamps: edge, draw: edge, group: null, lamp: null };
    const loads: Load[] = [];
    supply.circuits.forEach((lever, k) => {
      if (lever === judged || behind?.has(lever) === false || !this.isFed(lever)) return;
      const at = table[k * POSITIONS.length + POSITIONS.indexOf(positionIn(levers, lever))] as number;
      loads.push(this.loads[at] ?? this.at(lever, levers, { ...corner, ...plain }));
    });
    if (own !== null) loads.push(own);
    return drawsOf(loads);
  }

  /** The place of every lever's load in every position, all bands at one edge. */
  private tableOf(supply: WiredSupply, edge: Edge): Int32Array {
    const key = `${edge} ${supply.id}`;
    const known = this.tables.get(key);
    if (known !== undefined) return known;
    const corner: Corner = { ...NOMINAL, lamps: edge, draw: edge };
    const table = Int32Array.from(
      supply.circuits.flatMap((lever) =>
        POSITIONS.map((position) =>
          this.isPlain(lever) && this.isFed(lever) ? this.at(lever, { [lever]: position }, corner).place : -1,
        ),
      ),
    );
    this.tables.set(key, table);
    return table;
  }

  /** Does one lever's position say all of its state? */
  private isPlain(id: string): boolean {
    const own = partsOf(this.wiring).circuits.get(id)?.circuit;
    return own?.levers.length === 1 && own.levers[0] === id && own.follows.length === 0;
  }

  /** Does a circuit hang between two rails? One that has a single one, its drive being a misfit, draws nothing. */
  private isFed(id: string): boolean {
    const rails = partsOf(this.wiring).circuits.get(id)?.circuit.rails ?? [];
    return rails.some(({ net }) => net.endsWith('.p')) && rails.some(({ net }) => net.endsWith('.m'));
  }

  private readonly fittingAlone = new Map<string, boolean>();

  /** Is a circuit no short across its feed, in any position? */
  private fitsAlone(id: string): boolean {
    const known = this.fittingAlone.get(id);
    if (known !== undefined) return known;
    const own = partsOf(this.wiring).circuits.get(id)?.circuit;
    const states = own === undefined ? [] : this.isPlain(id) ? POSITIONS.map((at) => ({ [id]: at })) : [{}];
    const fits = states.every((levers) => this.at(id, levers, NOMINAL).network.find() !== null);
    this.fittingAlone.set(id, fits);
    return fits;
  }

  /** One circuit alone at so many volts: the volts of its nodes by name. */
  pointAt(
    circuit: string,
    levers: Positions,
    corner: Corner,
    volts: Volt,
    lies?: CarrierLies,
  ): Pick<OperatingPoint, 'volts'> {
    const options = { circuits: new Set([circuit]), corner, bare: true, ...(lies === undefined ? {} : { lies }) };
    const { elements } = this.withRails(circuit, netlistOf(this.wiring, levers, options));
    const [a, b] = this.portsOf(circuit);
    return solveDc({ elements: [{ kind: 'source', id: 'feed', a, b, volts, ohms: 0 }, ...elements], reference: b });
  }

  /** The number of each of a lever's elements in its load, by id. */
  numbersOf(lever: string): ReadonlyMap<string, number> {
    const known = this.numbers.get(lever);
    if (known !== undefined) return known;
    const netlist = this.withRails(lever, netlistOf(this.wiring, {}, { circuits: new Set([lever]), bare: true }));
    const numbers = new Map(netlist.elements.map(({ id }, m) => [id, m]));
    this.numbers.set(lever, numbers);
    return numbers;
  }

  /**
   * Can the levers of this supply be taken one by one at this corner? Its chain must have no resistance, no lever a short across its
   * feed, and all but one lever must stand at one edge.
   */
  fits(supply: WiredSupply, corner: Corner): boolean {
    if (corner.group === null && corner.lamps !== corner.draw) return false;
    const known = this.fitting.get(supply.id);
    if (known !== undefined) return known;
    const { chains, circuits } = partsOf(this.wiring);
    const inside = chains.get(supply.id) ?? NO_PARTS;
    const fits =
      this.spread.size === 0 &&
      supply.circuits.every((id) => circuits.get(id)?.circuit.load === true) &&
      inside.wires.every((wire) => wire.ohms === 0) &&
      supply.circuits.every((id) => this.fitsAlone(id));
    this.fitting.set(supply.id, fits);
    return fits;
  }
}

/** How many there are of each load, in the order in which they are met. */
function drawsOf(all: readonly Load[]): Draws {
  const counts = new Map<Load, number>();
  for (const load of all) counts.set(load, (counts.get(load) ?? 0) + 1);
  const key = [...counts].map(([{ place }, count]) => `${place}x${count}`).join(' ');
  return { loads: [...counts.keys()], counts: [...counts.values()], key };
}

/**
 * The volts at which nothing is in excess, which grows with the volts: Newton from the top, where what levers draw bends upwards,
 * kept within the ends that are known.
 */
function search(
  most: Volt,
  at: (volts: Volt, first: boolean) => { readonly excess: Ampere; readonly slope: number },
): Volt {
  let [low, high] = [Math.min(0, most), Math.max(0, most)];
  let volts = most;
  for (let turn = 0; turn < SHARED_TURNS; turn++) {
    const { excess, slope } = at(volts, turn === 0);
    if (excess > 0) high = volts;
    else low = volts;
    let next = volts - excess / slope;
    if (!(next >= low && next <= high)) next = (low + high) / 2;
    const moved = Math.abs(next - volts);
    volts = next;
    // The next turn would move it by no more than the square of this.
    if (moved <= CLOSE_VOLTS) return volts;
  }
  return volts;
}

/** The same for networks that are alike but for the names of their nodes and elements. */
function signatureOf({ elements }: Netlist, ports: readonly string[]): string {
  const numbers = new Map<string, number>();
  const number = (node: string): number => {
    const known = numbers.get(node);
    if (known !== undefined) return known;
    numbers.set(node, numbers.size);
    return numbers.size - 1;
  };
  const parts = elements.map((element) => `${number(element.a)} ${number(element.b)} ${figuresOf(element)}`);
  // The feed is told by where it comes in, not by the order of elements alone.
  return `${ports.map((port) => numbers.get(port) ?? -1).join(' ')};${parts.join(';')}`;
}

function figuresOf(element: CircuitElement): string {
  switch (element.kind) {
    case 'contact':
      return `c${element.closed ? 1 : 0} ${element.ohms}`;
    case 'diode':
      return `d${element.law.is} ${element.law.n} ${element.law.rs}`;
    case 'source':
      return `s${element.volts} ${element.ohms}`;
    case 'open':
    case 'capacitor':
      return 'o';
    default:
      return `${element.kind[0]}${element.ohms}`;
  }
}
