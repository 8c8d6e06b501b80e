/**
 * A few circuits with a single fault, made ready once and solved in every state: what lamps carry and what pushes drives, at rails that
 * steady supplies hold.
 *
 * Idea: the network of one circuit, or of the few that a fault joins, hangs between the rails that its supplies hold. It is prepared
 * once at each corner of the bands; states are contacts that are set, faults are edits that are taken back.
 * Cost: a few microseconds a fault and state where the topology is known.
 */
import { type CircuitElement, type Prepared, prepare, TopologyStore } from '../circuit/index.ts';
import type { Ampere, Ohm, Volt } from '../units/index.ts';
import { isThrown, pushOf } from './blades.ts';
import { type CarrierLies, carrierLies } from './carrier-lies.ts';
import { type CircuitParts, partsOf, sideOf } from './circuit-parts.ts';
import { circuitEdits, type EditedNetwork } from './fault-edits.ts';
import type { Fault } from './faults.ts';
import { layoutSide } from './layout-side.ts';
import { type Load, leverLoads } from './lever-loads.ts';
import { mayLimit } from './limit.ts';
import { type Corner, NOMINAL, netlistOf, openVolts } from './netlist-of.ts';
import { type Positions, positionIn, standsIn } from './positions.ts';
import { pulls } from './pulses.ts';
import { ownerOf, railNames } from './rails.ts';
import { statesOf } from './states.ts';
import { ALIKE_SHARE, LEAST_AMPS, LEAST_VOLTS, NO_OHMS } from './tolerances.ts';
import type { FaultEdit, WiredDrive, WiredLamp, WiredSupply, Wiring } from './types.ts';

/** What a lamp carries, and the least and most over the bands. */
export interface FaultedLamp {
  readonly amps: Ampere;
  readonly low: Ampere;
  readonly high: Ampere;
}

/** What circuits with a fault show in one state. */
export interface Faulted {
  /** True where a supply is shorted dead: then nothing is lit and nothing moves. */
  readonly shorted: boolean;
  readonly lamps: ReadonlyMap<string, FaultedLamp>;
  /** What pushes a drive: volts of tag a above tag b, or for sure one way. */
  push(drive: WiredDrive): Volt;
}

interface Network {
  /** The circuit that it is, where it is one. */
  readonly alone: string | null;
  readonly prepared: Prepared;
  readonly elements: readonly CircuitElement[];
  /** The contact of each pole and position, by the lever that decides it. */
  readonly poles: readonly { readonly handle: number; readonly lever: string; readonly at: string }[];
  /** The same of contacts on drives, blades and relays, by carrier. */
  readonly contacts: readonly { readonly handle: number; readonly carrier: string; readonly at: string }[];
  /** Rails that hold the volts, in the order of the ports, and where they come in. */
  readonly nets: readonly string[];
  readonly terminals: readonly string[];
  /** What they were last held at. */
  held: readonly { readonly terminal: string; readonly volts: Volt }[];
}

/** What a fault leaves of the supplies for the circuits that it concerns: shares of their volts, dead rails, and ohms that they share. */
interface Feed {
  readonly times: number;
  readonly of: string | null;
  readonly dead: ReadonlySet<string>;
  readonly ohms: Ohm;
  readonly held?: Volt;
  /** Where the fault stands within a circuit's own part of the chain, and how much of what that draws is taken to pass it. */
  readonly split?: Split;
  readonly part?: 'all' | 'none';
}

/** A place in a supply's chain between two terminals of one circuit. */
interface Split {
  readonly circuit: string;
  readonly net: string;
  /** The circuit's terminals on that rail in the order of the chain; those from `from` on are behind the place. */
  readonly terminals: readonly string[];
  readonly from: number;
}

/** The corner at which most flows. */
const HEAVIEST: Corner = { ...NOMINAL, supply: 'high', lamps: 'high', draw: 'high' };

/** The corners at which most and least is drawn of what is fed least and most. */
const LEAST_FED: Corner = { ...NOMINAL, supply: 'low', lamps: 'high', draw: 'high' };
const MOST_FED: Corner = { ...NOMINAL, supply: 'high', lamps: 'low', draw: 'low' };

const NONE: ReadonlySet<string> = new Set();
const WHOLE: Feed = { times: 1, of: null, dead: NONE, ohms: NO_OHMS };

const FAULTED = new WeakMap<Wiring, FaultedCircuits>();

/** Makes circuits that are as they were serve in the wiring after an edit, as they were made ready before it. */
export function takeOverCircuits(before: Wiring, now: Wiring, unchanged: ReadonlySet<string>): void {
  const circuits = FAULTED.get(before);
  if (circuits !== undefined && !FAULTED.has(now)) FAULTED.set(now, new FaultedCircuits(now, { circuits, unchanged }));
}

/** The faulted circuits of a wiring, kept with it. */
export function faultedCircuits(wiring: Wiring): FaultedCircuits {
  const known = FAULTED.get(wiring);
  if (known !== undefined) return known;
  const made = new FaultedCircuits(wiring);
  FAULTED.set(wiring, made);
  return made;
}

/** What is left of the volts of a feed. */
export interface VoltsLeft {
  isAtLeast(volts: Volt): boolean;
  isAtMost(volts: Volt): boolean;
}

export class FaultedCircuits {
  private readonly store: TopologyStore;
  private readonly networks = new Map<string, Network>();
  /** Those of one circuit with its rails whole, by circuit and by edges of lamps and of what else draws. */
  private readonly corners = new Map<string, Map<string, Network>>();
  /** Elements that stand between a supply and its circuits: the rail that each is on. */
  private readonly chained: ReadonlyMap<string, string>;
  private readonly steady = new Map<string, boolean>();
  /** Supplies whose plus is the middle of a split feed. */
  private readonly turned: ReadonlySet<string>;
  /** Wires of a chain that bring a circuit a rail which it has already: without them it is not without the rail. */
  private readonly later: ReadonlyMap<string, Split>;
  /** What several drives share on their way back: elements whose loss is seen by all of them together. */
  private readonly shared: ReadonlySet<string>;

  constructor(
    private readonly wiring: Wiring,
    before: { readonly circuits: FaultedCircuits; readonly unchanged: ReadonlySet<string> } | null = null,
  ) {
    this.store = before?.circuits.store ?? new TopologyStore();
    for (const [key, network] of before?.circuits.networks ?? [])
      if (network.alone !== null && before?.unchanged.has(network.alone) === true) this.networks.set(key, network);
    const chained = new Map<string, string>();
    const shared = new Set<string>();
    const supplies = new Map(wiring.supplies.map((supply) => [supply.id, supply]));
    for (const { id, circuit, net } of wiring.wires) if (supplies.has(circuit)) chained.set(id, net);
    for (const { id, fuse, kind } of wiring.supplies) {
      if (fuse !== null) chained.set(fuse.id, railNames.plus(id));
      if (kind === 'cdu') for (const part of [`R-${id}`, `SD-${id}`]) chained.set(part, railNames.plus(id));
    }
    for (const { id, circuit, cathode, anode } of wiring.diodes)
      if (supplies.get(circuit)?.kind === 'ac') chained.set(id, id.endsWith('p') ? cathode : anode);
    for (const { pins, terminals } of wiring.returns) {
      const ends = new Set([...pins, ...terminals]);
      for (const { id, from, to } of wiring.wires)
        if (chained.has(id) && (ends.has(from) || ends.has(to))) shared.add(id);
      for (const pin of pins) shared.add(pin);
    }
    const later = new Map<string, Split>();
    const entered = new Map<string, string[]>();
    for (const { id, feeds, net, to } of wiring.wires) {
      if (feeds === null) continue;
      const terminals = entered.get(`${feeds} ${net}`) ?? [];
      entered.set(`${feeds} ${net}`, terminals);
      if (terminals.length > 0) later.set(id, { circuit: feeds, net, terminals, from: terminals.length });
      terminals.push(to);
    }
    this.later = later;
    this.chained = chained;
    this.shared = shared;
    this.turned = new Set(
      wiring.circuits.flatMap(({ feed, supplies: on }) => (feed === 'split' ? on.slice(1, 2) : [])),
    );
  }

  /** Does a fault leave circuits without more to share than the volts of their rails? Then each may be read by itself. */
  isOfChain(fault: Fault): boolean {
    if (fault.middle) return false;
    return fault.edits.some(
      (edit) => 'element' in edit && this.chained.has(edit.element) && !this.shared.has(edit.element),
    );
  }

  /** Are there two among these supplies that nothing ties: neither as the halves of a split feed nor as a unit and what charges it? */
  private areIsolated(supplies: readonly WiredSupply[]): boolean {
    const apart = supplies.filter(
      ({ id, from }) => !this.turned.has(id) && !supplies.some((other) => other.id === from),
    );
    return apart.length > 1;
  }

  /** Does an edit concern what several drives share on their way back: is it one of its parts, or does it join or move something to it? */
  private isShared(edit: FaultEdit): boolean {
    if ('element' in edit && this.shared.has(edit.element)) return true;
    const ends = edit.do === 'join' ? [edit.a, edit.b] : edit.do === 'move' ? [edit.b] : [];
    return ends.some((end) => this.shared.has(end) || [...this.shared].some((pin) => layoutSide(pin) === end));
  }

  /** The circuit of which a fault in a supply's chain leaves one part before it and has the other behind it. */
  splitBy(fault: Fault): string | null {
    return this.splitOf(fault)?.circuit ?? null;
  }

  private splitOf({ edits }: Fault): Split | null {
    for (const edit of edits) {
      const split = 'element' in edit ? this.later.get(edit.element) : undefined;
      if (split !== undefined) return split;
    }
    return null;
  }

  /** Does a fault do nothing but take the whole feed away from the circuits that it concerns, but for one that it splits? */
  cutsOff(fault: Fault): boolean {
    const { circuits } = partsOf(this.wiring);
    if (!fault.circuits.every((id) => circuits.get(id)?.circuit.load === true)) return false;
    if (fault.kind === 'supply-off' || fault.kind === 'fuse-open') return true;
    return fault.kind === 'wire-open' && this.isOfChain(fault);
  }

  /**
   * What a fault with ohms in the chain leaves to the circuits behind it: surely so many volts or more, and surely no more than so many, over
   * every setting and all bands. Null where it is no such fault, or where a dimmer takes volts besides.
   */
  voltsLeft(fault: Fault): VoltsLeft | null {
    const { circuits } = partsOf(this.wiring);
    const supply = circuits.get(fault.circuits[0] ?? '')?.supply;
    if (supply === undefined || !this.areLoads(fault.circuits, supply)) return null;
    const feed = this.feedOf(fault);
    if (feed === null || feed.ohms === 0) return null;
    if (fault.circuits.some((lever) => circuits.get(lever)?.dimmed !== 1)) return null;
    // Of a circuit that is split all is behind the joint, or nothing.
    const split = this.splitBy(fault);
    const behind = split === null ? fault.circuits : fault.circuits.filter((id) => id !== split);
    const isLeft = this.leftAt(fault.circuits, supply, feed.ohms, LEAST_FED, 1);
    const mayBeLeft = this.leftAt(behind, supply, feed.ohms, MOST_FED, -1);
    return { isAtLeast: isLeft, isAtMost: (volts) => !mayBeLeft(volts) };
  }

  /** Are these circuits loads of two terminals on one steady supply? */
  private areLoads(ids: readonly string[], supply: WiredSupply): boolean {
    const { circuits } = partsOf(this.wiring);
    if (!this.isSteady(supply) || !leverLoads(this.wiring).fits(supply, NOMINAL)) return false;
    return ids.every((id) => circuits.get(id)?.supply === supply && circuits.get(id)?.circuit.load === true);
  }

  /**
   * Do so many ohms leave so many volts or more, where every circuit draws most (way 1) or least (-1) at those very volts? What is drawn
   * grows with the volts and what the ohms let through shrinks: they do while less is drawn than is let through.
   */
  private leftAt(
    ids: readonly string[],
    supply: WiredSupply,
    ohms: Ohm,
    corner: Corner,
    way: 1 | -1,
  ): (volts: Volt) => boolean {
    const all = leverLoads(this.wiring);
    const emf = openVolts(supply, corner);
    // Circuits that draw alike in every state draw alike.
    const kinds = new Map<readonly Load[], number>();
    const lists = this.loadsAt(corner);
    for (const id of ids) {
      const loads = lists.get(id) ?? this.loadsOf(id, corner);
      if (loads.length > 0) kinds.set(loads, (kinds.get(loads) ?? 0) + 1);
    }
    // Known to be left, and known not to be.
    let [low, high] = [0, Number.POSITIVE_INFINITY];
    return (volts) => {
      if (volts <= low) return true;
      if (volts >= high || volts > emf) return false;
      // Circuits that share a lever may stand in states that no setting has: what they draw bounds what they can draw.
      let drawn = 0;
      for (const [loads, count] of kinds) {
        let own = Number.NEGATIVE_INFINITY;
        for (const load of loads) own = Math.max(own, way * all.ampsKept(load, volts));
        drawn += count * way * own;
      }
      const left = drawn <= (emf - volts) / ohms;
      if (left) low = volts;
      else high = volts;
      return left;
    };
  }

  private readonly stateLoads = new Map<string, Map<string, readonly Load[]>>();
  private readonly likeLoads = new Map<string, readonly Load[]>();

  private loadsAt({ lamps, draw }: Corner): Map<string, readonly Load[]> {
    const edges = `${lamps} ${draw}`;
    const lists = this.stateLoads.get(edges) ?? new Map<string, readonly Load[]>();
    this.stateLoads.set(edges, lists);
    return lists;
  }

  /** Loads that the states of a circuit are, each once; the very same list for circuits that are alike. */
  private loadsOf(id: string, corner: Corner): readonly Load[] {
    const lists = this.loadsAt(corner);
    const known = lists.get(id);
    if (known !== undefined) return known;
    const own = partsOf(this.wiring).circuits.get(id)?.circuit;
    const found = new Set<Load>();
    for (const { levers, history } of own === undefined ? [] : statesOf(this.wiring, own))
      found.add(leverLoads(this.wiring).at(id, levers, corner, carrierLies(this.wiring, levers, history)));
    const likeKey = [...found].map(({ place }) => place).join(' ');
    const list = this.likeLoads.get(likeKey) ?? [...found];
    this.likeLoads.set(likeKey, list);
    lists.set(id, list);
    return list;
  }

  /**
   * These circuits in one setting with one fault. Null where they must be solved with all that hangs on their supplies: behind one that
   * gives way. `levers` names every lever that decides in circuits behind the same fault.
   * `held`: so many volts at the circuits' rails, whatever the supply gives. `part`: of a circuit that the fault splits, how much of what it
   * draws is taken to pass the fault, all or none of it, which bounds what is left behind it.
   */
  read(
    ids: readonly string[],
    levers: Positions,
    fault: Fault | null,
    options: {
      readonly held?: Volt;
      readonly lies?: CarrierLies;
      readonly well?: Faulted | null;
      readonly part?: 'all' | 'none';
    } = {},
  ): Faulted | null {
    const parts = partsOf(this.wiring);
    const own = ids.flatMap((id) => parts.circuits.get(id) ?? []);
    const supplies = [...new Set(own.flatMap((circuit) => circuit.supplies))];
    if (supplies.length === 0 || !supplies.every((supply) => this.isSteady(supply))) return null;
    // Circuits of different supplies that a fault joins have no common 0 V.
    if (own.length > 1 && own.some((circuit) => !circuit.supplies.some((supply) => own[0]?.supplies.includes(supply))))
      return null;
    if (fault?.middle === true) return null;
    // What joins two isolated supplies at one place makes no circuit: rails that are held to one 0 V would.
    const joins = fault?.edits.some((edit) => edit.do === 'join' || edit.do === 'move') === true;
    if (joins && this.areIsolated(supplies)) return null;
    if (fault?.edits.some((edit) => this.isShared(edit)) === true) return null;
    const told = fault === null ? WHOLE : this.feedOf(fault);
    if (told === null) return null;
    const split = fault === null ? null : this.splitOf(fault);
    const whole = split === null ? told : this.splitFeed(told, split, ids, options.part ?? 'all');
    if (whole === null) return null;
    if (whole.ohms > 0 && !own.every(({ circuit }) => circuit.load)) return null;
    const feed: Feed = options.held === undefined ? whole : { ...whole, held: options.held };
    const lies = options.lies ?? carrierLies(this.wiring, levers);
    const solveAt = (corner: Corner, thrown = false) => this.solve(own, levers, lies, fault, corner, feed, thrown);
    const near = solveAt(NOMINAL);
    if (near === null) return null;
    if (near === 'shorted') return { shorted: true, lamps: new Map(), push: () => 0 };
    const ampsOf = ({ prepared }: Network, element: string): Ampere => {
      if (!prepared.hasElement(element)) return 0;
      const amps = prepared.amps(prepared.handle(element));
      return Number.isNaN(amps) || Math.abs(amps) < LEAST_AMPS ? 0 : amps;
    };
    const all = own.length === 1 ? (own[0]?.lamps ?? []) : own.flatMap((circuit) => circuit.lamps);
    const nominal = all.map(({ id }) => ampsOf(near, id));
    // What ends nowhere carries nothing at any edge of the bands.
    const dead = all.map(({ id }) => isDeadIn(near, id));
    const drives = own.flatMap((circuit) => circuit.drives);
    const pushes = new Map<string, Volt>();
    const tell = (network: Network, wanted: readonly WiredDrive[]): void => {
      // What hangs on different rails alone, as the two ends of a drive that has cut itself off, is told rail by rail.
      const across = (one: string, other: string): Volt => {
        const volts = network.prepared.across(one, other);
        const apart = Number.isNaN(volts) ? levelOf(network, one) - levelOf(network, other) : volts;
        return Number.isNaN(apart) ? 0 : apart;
      };
      for (const drive of wanted)
        pushes.set(
          drive.id,
          pushOf(drive, {
            across,
            amps: (element) => ampsOf(network, element),
            pulls: (coil, amps) => pulls(this.wiring, drive, coil, amps, fault === null ? [] : [fault]),
          }),
        );
    };
    tell(
      near,
      drives.filter((drive) => !isThrown(drive)),
    );
    const lamps = new Map<string, FaultedLamp>();
    const ends = new Map<string, readonly Ampere[] | null>();
    const endOf = (lamp: WiredLamp, at: number, edge: 'low' | 'high'): Ampere | null => {
      // In series every lamp carries the same; side by side one takes from another.
      const apart = lamp.series === null && (parts.sideBySide.get(sideOf(lamp)) ?? 0) > 1;
      const dimmed = edge === 'low' ? (parts.circuits.get(lamp.circuit)?.dimmed ?? 1) : 1;
      // What shares ohms before it takes from every other group.
      const judged = apart || feed.ohms > 0;
      const key =
        judged || dimmed !== 1 ? `${edge} ${judged ? lamp.group : ''} ${apart ? lamp.id : ''} ${dimmed}` : edge;
      let found = ends.get(key);
      if (found === undefined) {
        const draw = edge === 'low' ? 'high' : 'low';
        const group = judged ? lamp.group : null;
        const network = solveAt({ supply: edge, dimmed, lamps: edge, draw, group, lamp: apart ? lamp.id : null });
        found = network === null || network === 'shorted' ? null : all.map(({ id }) => ampsOf(network, id));
        ends.set(key, found);
      }
      return found?.[at] ?? null;
    };
    for (const [at, lamp] of all.entries()) {
      const amps = nominal[at] ?? 0;
      const well = options.well?.lamps.get(lamp.id);
      if (well !== undefined && Math.abs(amps - well.amps) <= ALIKE_SHARE * well.amps) {
        lamps.set(lamp.id, well);
        continue;
      }
      if (dead[at] === true) {
        lamps.set(lamp.id, NOTHING);
        continue;
      }
      const [low, high] = [endOf(lamp, at, 'low'), endOf(lamp, at, 'high')];
      if (low === null || high === null) return null;
      lamps.set(lamp.id, { amps, low: Math.min(amps, low), high: Math.max(amps, high) });
    }
    const thrown = drives.filter(isThrown);
    if (thrown.length > 0) {
      const network = solveAt(NOMINAL, true);
      if (network === null) return null;
      if (network !== 'shorted') tell(network, thrown);
    }
    return { shorted: false, lamps, push: (drive) => pushes.get(drive.id) ?? 0 };
  }

  /** What is left of the rails of these circuits where one circuit has a part before the fault; null where that is not told. */
  private splitFeed(feed: Feed, split: Split, ids: readonly string[], part: 'all' | 'none'): Feed | null {
    if (feed.times !== 1 || (feed.dead.size > 0 && feed.ohms > 0)) return null;
    if (feed.ohms > 0) return { ...feed, split, part };
    // Of a wire that is cut: what hangs beyond it in its own circuit is loose, others are without the rail.
    if (!ids.includes(split.circuit)) return feed;
    return ids.length > 1 ? null : { ...feed, dead: NONE, split };
  }

  private readonly carrying = new Map<string, Alive | null>();

  /**
   * The elements of a circuit that carry anything in one state, nominally or where most flows, and those of which an end stands at any
   * volts; null where that cannot be told of the circuit alone. What carries nothing may be cut, or have other ohms, and nothing changes.
   * What stands at no volts at either end, at 0 V or cut off from every supply, may be shorted, turned or joined to its like as well.
   * `loss` names what a cut, or ohms in a wire, takes away: of one name, one is as good as the other.
   */
  aliveIn(id: string, levers: Positions, lies: CarrierLies): Alive | null {
    const own = partsOf(this.wiring).circuits.get(id);
    if (own === undefined || !own.supplies.every((supply) => this.isSteady(supply))) return null;
    const at = own.circuit.levers.map((lever) => positionIn(levers, lever));
    const key = [id, ...at, ...own.circuit.follows.map((carrier) => lies[carrier] ?? 'normal')].join(' ');
    const known = this.carrying.get(key);
    if (known !== undefined) return known;
    const carrying = new Set<string>();
    const standing = new Set<string>();
    let told = true;
    let loss: Alive['loss'] = () => null;
    for (const corner of [NOMINAL, HEAVIEST]) {
      const network = this.solve([own], levers, lies, null, corner, WHOLE, false);
      if (network === null || network === 'shorted') {
        told = false;
        break;
      }
      for (const { id: element, a, b } of network.elements) {
        const amps = network.prepared.amps(network.prepared.handle(element));
        // What zero-ohm loops leave undetermined may carry anything.
        if (!(Math.abs(amps) < LEAST_AMPS)) carrying.add(element);
        if (Math.abs(levelOf(network, a)) > LEAST_VOLTS || Math.abs(levelOf(network, b)) > LEAST_VOLTS)
          standing.add(element);
      }
      if (corner === NOMINAL) loss = this.lossIn(own, network);
    }
    const answer = told ? { carrying, standing, loss } : null;
    this.carrying.set(key, answer);
    return answer;
  }

  /** Losses of one state by name. What a drive, a coil or a relay gets in a pulse is worked out with other contacts: there none is named. */
  private lossIn({ id, drives }: CircuitParts, { prepared, elements }: Network): Alive['loss'] {
    if (drives.some((drive) => isThrown(drive) || drive.ohms === null)) return () => null;
    if (this.wiring.relays.some(({ circuit }) => circuit === id)) return () => null;
    const losses = prepared.lossesNow();
    const stiff = new Set(elements.flatMap((each) => ('ohms' in each && each.ohms === NO_OHMS ? [each.id] : [])));
    return (edit) => {
      if (edit.do !== 'cut' && (edit.do !== 'ohms' || !stiff.has(edit.element))) return null;
      const name = prepared.hasElement(edit.element) ? losses(prepared.handle(edit.element)) : null;
      return name === null ? null : `${edit.do === 'cut' ? 'cut' : edit.ohms} ${name}`;
    };
  }

  /** Is an element one of a circuit's own? */
  holds(id: string, element: string): boolean {
    const own = partsOf(this.wiring).circuits.get(id);
    return own !== undefined && this.networkOf([own], NOMINAL, NONE, false, {}).prepared.hasElement(element);
  }

  /** Does a supply hold its volts whatever hangs on it draws? */
  private isSteady(supply: WiredSupply): boolean {
    const known = this.steady.get(supply.id);
    if (known !== undefined) return known;
    const steady = supply.ohms === 0 && supply.limit === 'none' && !mayLimit(this.wiring, supply);
    this.steady.set(supply.id, steady);
    return steady;
  }

  /** What is left of the rails at the circuits that the fault concerns; null where it is no single part of a chain. */
  private feedOf({ kind, edits, code }: Fault): Feed | null {
    const dead = new Set<string>();
    let [times, ohms] = [1, NO_OHMS];
    let of: string | null = null;
    // The capacitor of a supply gives its throws and smooths its rails: both are told by the whole network.
    const capacitor = kind.startsWith('capacitor') ? code.split(/[:=]/)[1] : null;
    const holder = this.wiring.capacitors.find(({ id }) => id === capacitor)?.circuit;
    if (this.wiring.supplies.some(({ id }) => id === holder)) return null;
    for (const edit of edits) {
      if (edit.do === 'rail') {
        // What stands before a rail is broken: the rail is dead, or holds something between.
        if (edit.times > 0) return null;
        dead.add(this.railOf(edit.element));
        continue;
      }
      if (edit.do === 'volts') {
        times = edit.times;
        of = edit.element.replace(/-$/, '');
        continue;
      }
      if (!('element' in edit)) continue;
      const supply = this.wiring.supplies.find(({ id }) => edit.element === id || edit.element === `${id}-`);
      if (kind === 'supply-off' && supply !== undefined) for (const net of this.hotOf(supply)) dead.add(net);
      const net = this.chained.get(edit.element);
      if (net === undefined) continue;
      // A capacitor unit that is not charged, or a rail whose diode no longer rectifies, gives nothing.
      if (kind !== 'wire-open' && edits.some((other) => other.do === 'rail')) continue;
      // A unit whose diode is shorted is charged all the same.
      if (edit.do === 'short') continue;
      if (edit.do === 'cut') {
        const owner = this.wiring.supplies.find(({ id }) => id === ownerOf(net));
        const hot = owner !== undefined && kind === 'fuse-open' ? this.hotOf(owner) : [net];
        for (const each of hot) dead.add(each);
      } else if (edit.do === 'ohms') ohms += edit.ohms;
      else return null;
    }
    return { times, of, dead, ohms };
  }

  /** The rail that a source of the settled network holds. */
  private railOf(source: string): string {
    const alternates = (id: string) => this.wiring.supplies.some((each) => each.id === id && each.kind === 'ac');
    if (alternates(source)) return railNames.rectifiedPlus(source);
    const id = source.replace(/-$/, '');
    return id !== source && alternates(id) ? railNames.rectifiedMinus(id) : railNames.plus(source);
  }

  /** The rails that are dead when a supply gives nothing, those of a unit that it charges among them. */
  private hotOf({ id, kind }: WiredSupply): readonly string[] {
    if (kind === 'ac') return [railNames.rectifiedPlus(id), railNames.rectifiedMinus(id)];
    const units = this.wiring.supplies.filter(({ from }) => from === id).map((unit) => railNames.plus(unit.id));
    return [this.turned.has(id) ? railNames.minus(id) : railNames.plus(id), ...units];
  }

  /** Volts of a rail: minus at 0, or plus where it is the middle of a split feed. */
  private voltsOf(net: string, corner: Corner, { times, of, held }: Feed): Volt {
    const id = ownerOf(net);
    const supply = this.wiring.supplies.find((each) => each.id === id);
    if (supply === undefined) throw new RangeError(`no supply for the rail ${net}`);
    const full = held ?? openVolts(supply, corner) * (of === id || of === supply.from ? times : 1);
    if (net === railNames.rectifiedPlus(id)) return full;
    if (net === railNames.rectifiedMinus(id)) return -full;
    const plus = net === railNames.plus(id);
    if (this.turned.has(id)) return plus ? 0 : -full;
    return plus ? full : 0;
  }

  private solve(
    own: readonly CircuitParts[],
    levers: Positions,
    lies: CarrierLies,
    fault: Fault | null,
    corner: Corner,
    feed: Feed,
    thrown: boolean,
  ): Network | 'shorted' | null {
    const network = this.networkOf(own, corner, feed.dead, thrown, levers, feed.split ?? null, feed.ohms > 0);
    const { prepared, poles, contacts, nets } = network;
    for (const { handle, lever, at } of poles)
      prepared.setContact(handle, standsIn(this.wiring, levers, lever, thrown) === at);
    for (const { handle, carrier, at } of contacts) prepared.setContact(handle, (lies[carrier] ?? 'normal') === at);
    const edits = feed.dead.size > 0 && nets.length < 2 ? [] : (fault?.edits ?? []);
    const edited: EditedNetwork = {
      hasElement: (id) => prepared.hasElement(id),
      hasNode: (node) => prepared.hasNode(node),
      isClosed: (id) => prepared.isClosed(prepared.handle(id)),
      // The volts are held from outside: what the supply gives is in them.
      voltsOf: () => null,
    };
    prepared.edit(edits.flatMap((edit) => circuitEdits(edit, edited, this.wiring, levers)));
    if (prepared.find() === null) {
      const shorted = isShorted(prepared, own);
      prepared.edit([]);
      return shorted ? 'shorted' : null;
    }
    const volts = nets.map((net) => this.voltsOf(net.replace(BEHIND, ''), corner, feed));
    if (feed.ohms > 0 && feed.held === undefined) {
      const supply = own[0]?.supply;
      if (supply === undefined || fault === null) return null;
      const open = openVolts(supply, corner) * feed.times;
      const behind = new Set(fault.circuits);
      if (feed.split !== undefined && feed.part === 'none') behind.delete(feed.split.circuit);
      const left = leverLoads(this.wiring).voltsBehind(supply, behind, levers, corner, open, feed.ohms);
      for (const [i, net] of nets.entries()) {
        if (feed.split === undefined) {
          if (net.endsWith('.p')) volts[i] = left;
        } else if (net.endsWith(BEHIND)) volts[i] = net.startsWith(railNames.plus(supply.id)) ? left : open - left;
      }
    }
    prepared.solve({ ports: volts });
    network.held = network.terminals.map((terminal, i) => ({ terminal, volts: volts[i] ?? 0 }));
    return network;
  }

  private networkOf(
    own: readonly CircuitParts[],
    corner: Corner,
    dead: ReadonlySet<string>,
    thrown: boolean,
    levers: Positions,
    split: Split | null = null,
    held = false,
  ): Network {
    const { lamps, draw, group, lamp } = corner;
    const [only] = own;
    // Most are one circuit with its rails whole.
    const usual = own.length === 1 && group === null && lamp === null && dead.size === 0 && !thrown && split === null;
    const corners = usual && only !== undefined ? (this.corners.get(only.id) ?? new Map<string, Network>()) : null;
    const edges = `${lamps} ${draw}`;
    const made = corners?.get(edges);
    if (made !== undefined) return made;
    const ids = own.map(({ id }) => id);
    // What a charge feed's capacitor holds follows from where its lever was.
    const charged = thrown ? ids.map((id) => positionIn(levers, id)).join() : '';
    const key = `${ids.join(' ')} ${lamps} ${draw} ${group ?? ''} ${lamp ?? ''} ${[...dead].join()} ${thrown} ${charged} ${split === null ? '' : `${split.circuit} ${split.net} ${split.from} ${held}`}`;
    const known = this.networks.get(key);
    if (corners !== null && only !== undefined) this.corners.set(only.id, corners);
    if (known !== undefined) {
      corners?.set(edges, known);
      return known;
    }
    const options = { circuits: new Set(ids), corner, bare: true, lies: {}, thrown };
    const netlist = netlistOf(this.wiring, thrown ? levers : {}, options);
    // Each rail is one port; where it comes in elsewhere it is joined to that, so that a fault may close a ring without ohms.
    const first = new Map<string, string>();
    const rails: CircuitElement[] = [];
    const far = new Set(split?.terminals.slice(split.from));
    for (const { of, net: rail, terminal } of own.flatMap(({ id: of, circuit }) =>
      circuit.rails.map((each) => ({ ...each, of })),
    )) {
      // Behind the fault: a rail of its own that hangs on ohms, or nothing at all where the wire is cut.
      const isFar = split !== null && rail === split.net && (of !== split.circuit || far.has(terminal));
      if (isFar && !held) {
        const loose = first.get(`${rail}${BEHIND}`);
        if (loose === undefined) first.set(`${rail}${BEHIND}`, terminal);
        else rails.push({ kind: 'wire', id: `${loose}=${terminal}`, a: loose, b: terminal, ohms: NO_OHMS });
        continue;
      }
      const net = isFar ? `${rail}${BEHIND}` : rail;
      const port = first.get(net);
      if (port === undefined) first.set(net, terminal);
      else if (port !== terminal)
        rails.push({ kind: 'wire', id: `${port}=${terminal}`, a: port, b: terminal, ohms: NO_OHMS });
    }
    const live = [...first]
      .filter(([net]) => !dead.has(net) && (held || !net.endsWith(BEHIND)))
      .sort(([a], [b]) => Number(a.endsWith('.p')) - Number(b.endsWith('.p')));
    const unique = [...new Map(rails.map((rail) => [rail.id, rail])).values()];
    const prepared = prepare(
      { ...netlist, elements: [...netlist.elements, ...unique] },
      { ports: live.map(([, terminal]) => terminal), store: this.store },
    );
    const network: Network = {
      alone: ids.length === 1 ? (ids[0] ?? null) : null,
      prepared,
      elements: netlist.elements,
      nets: live.map(([net]) => net),
      terminals: live.map(([, terminal]) => terminal),
      held: [],
      poles: own.flatMap(({ poles }) =>
        poles.flatMap(({ lever, pole }) =>
          AT.map((at) => ({ handle: prepared.handle(`${pole.id}=${at}`), lever, at })),
        ),
      ),
      contacts: own.flatMap(({ contacts }) =>
        contacts.flatMap(({ id, carrier }) =>
          AT.flatMap((at) =>
            prepared.hasElement(`${id}=${at}`)
              ? [{ handle: prepared.handle(`${id}=${at}`), carrier: carrier.id, at }]
              : [],
          ),
        ),
      ),
    };
    this.networks.set(key, network);
    corners?.set(edges, network);
    return network;
  }
}

/** What is alive in a circuit: elements that carry anything, and those of which an end stands at any volts. */
export interface Alive {
  readonly carrying: ReadonlySet<string>;
  readonly standing: ReadonlySet<string>;
  /** Names what an edit takes away; null where nothing else is sure to take away the same. */
  readonly loss: (edit: FaultEdit) => string | null;
}

/** Volts of a node by the rail that it hangs together with; NaN where it hangs on none. */
function levelOf({ prepared, held }: Network, node: string): Volt {
  for (const { terminal, volts } of held) {
    const above = prepared.across(node, terminal);
    if (!Number.isNaN(above)) return volts + above;
  }
  return Number.NaN;
}

const NOTHING: FaultedLamp = { amps: 0, low: 0, high: 0 };

/** Can an element carry nothing as a network was solved last? */
function isDeadIn({ prepared }: Network, element: string): boolean {
  return !prepared.hasElement(element) || prepared.isDead(prepared.handle(element));
}

/** Added to the name of a rail: what is left of it behind a fault. */
const BEHIND = ' behind';

const AT = ['normal', 'reverse'] as const;

/** Do wires and closed contacts join two rails? Rails of circuits on one supply are one. */
function isShorted(prepared: Prepared, own: readonly CircuitParts[]): boolean {
  const parent = new Map<string, string>();
  const find = (node: string): string => {
    let top = node;
    for (let next = parent.get(top); next !== undefined && next !== top; next = parent.get(top)) top = next;
    return top;
  };
  const join = (a: string, b: string): void => {
    parent.set(find(a), find(b));
  };
  const nets = new Set<string>();
  for (const { circuit } of own)
    for (const { terminal, net } of circuit.rails) {
      join(terminal, `rail ${net}`);
      nets.add(`rail ${net}`);
    }
  for (const element of prepared.netlistNow().elements) {
    const stiff = element.kind === 'wire' || (element.kind === 'contact' && element.closed);
    if (stiff && element.ohms === NO_OHMS && element.a !== element.b) join(element.a, element.b);
  }
  return new Set([...nets].map(find)).size < nets.size;
}
