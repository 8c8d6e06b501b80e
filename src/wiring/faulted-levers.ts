/**
 * A few levers with a single fault, made ready once and solved in every position: what lamps carry and what drives get, at the levers'
 * own tags held by an ideal supply.
 *
 * Idea: the network of one lever, or of the few that a fault joins, hangs between the two rails that its supply holds. It is prepared
 * once at each corner of the bands; positions are contacts that are set, faults are edits that are taken back.
 * Cost: a few microseconds a fault and position where the topology is known.
 */
import { type CircuitElement, type Prepared, prepare, TopologyStore } from '../circuit/index.ts';
import type { Ampere, Ohm, Volt } from '../units/index.ts';
import { partsOf, sideOf } from './circuit-parts.ts';
import { circuitEdits, type EditedNetwork } from './fault-edits.ts';
import type { Fault } from './faults.ts';
import { leverLoads } from './lever-loads.ts';
import { mayLimit } from './limit.ts';
import { type Corner, NOMINAL, netlistOf, openVolts } from './netlist-of.ts';
import { type Positions, positionIn } from './positions.ts';
import { LEAST_AMPS, NO_OHMS } from './tolerances.ts';
import type { Position, WiredDrive, WiredLamp, WiredSupply, Wiring } from './types.ts';

/** What a lamp carries, and the least and most over the bands. */
export interface FaultedLamp {
  readonly amps: Ampere;
  readonly low: Ampere;
  readonly high: Ampere;
}

/** What levers with a fault show in one setting. */
export interface Faulted {
  /** True where the supply is shorted dead: then nothing is lit and nothing moves. */
  readonly shorted: boolean;
  readonly lamps: ReadonlyMap<string, FaultedLamp>;
  /** Volts at a drive's tags, a less b. */
  volts(drive: WiredDrive): Volt;
}

interface Network {
  readonly prepared: Prepared;
  /** The contact of each lever's pole and position. */
  readonly contacts: readonly { readonly handle: number; readonly lever: string; readonly at: string }[];
}

/** What a fault leaves of a supply for the levers that it concerns: share of its volts, and ohms that these levers share. */
interface Feed {
  readonly times: number;
  readonly ohms: Ohm;
  readonly held?: Volt;
}

const WHOLE: Feed = { times: 1, ohms: NO_OHMS };

const FAULTED = new WeakMap<Wiring, FaultedLevers>();

/** The faulted levers of a wiring, kept with it. */
export function faultedLevers(wiring: Wiring): FaultedLevers {
  const known = FAULTED.get(wiring);
  if (known !== undefined) return known;
  const made = new FaultedLevers(wiring);
  FAULTED.set(wiring, made);
  return made;
}

export class FaultedLevers {
  private readonly store = new TopologyStore();
  private readonly networks = new Map<string, Network>();
  private readonly chained: ReadonlySet<string>;
  private readonly poles: ReadonlyMap<string, readonly string[]>;
  private readonly steady = new Map<string, boolean>();
  private readonly positionsOf: ReadonlyMap<string, readonly Position[]>;

  constructor(private readonly wiring: Wiring) {
    const supplies = new Set(wiring.supplies.map(({ id }) => id));
    this.chained = new Set(wiring.wires.filter(({ circuit }) => supplies.has(circuit)).map(({ id }) => id));
    this.positionsOf = new Map(wiring.circuits.map(({ id, positions }) => [id, positions]));
    this.poles = new Map(
      wiring.switches.map(({ id, poles }) => [id, poles.filter(({ use }) => use !== 'spare').map((pole) => pole.id)]),
    );
  }

  /** Does a fault leave levers without more to share than the volts of their supply? Then each may be read by itself. */
  isOfChain(fault: Fault): boolean {
    return fault.edits.some((edit) => 'element' in edit && this.chained.has(edit.element));
  }

  /** Does a fault do nothing but take the feed away from the levers that it concerns? */
  cutsOff(fault: Fault): boolean {
    if (fault.kind === 'supply-off' || fault.kind === 'fuse-open') return true;
    return fault.kind === 'wire-open' && this.isOfChain(fault);
  }

  /**
   * The least and the most volts that a fault with ohms in the chain leaves to the levers behind it, over every setting and all bands.
   * Null where it is no such fault, or where a dimmer takes volts besides.
   */
  voltsLeft(fault: Fault): { readonly least: Volt; readonly most: Volt } | null {
    const { circuits } = partsOf(this.wiring);
    const supply = circuits.get(fault.circuits[0] ?? '')?.supply;
    if (supply === undefined || !this.isSteady(supply)) return null;
    const feed = this.feedOf(fault, supply);
    if (feed === null || feed.ohms === 0) return null;
    if (fault.circuits.some((lever) => circuits.get(lever)?.dimmed !== 1)) return null;
    return {
      least: this.settle(
        fault.circuits,
        supply,
        feed.ohms,
        { ...NOMINAL, supply: 'low', lamps: 'high', draw: 'high' },
        1,
      ),
      most: this.settle(
        fault.circuits,
        supply,
        feed.ohms,
        { ...NOMINAL, supply: 'high', lamps: 'low', draw: 'low' },
        -1,
      ),
    };
  }

  /** The volts behind so many ohms where every lever draws most (way 1) or least (-1) at those very volts. */
  private settle(levers: readonly string[], supply: WiredSupply, ohms: Ohm, corner: Corner, way: 1 | -1): Volt {
    const loads = leverLoads(this.wiring);
    const emf = openVolts(supply, corner);
    const behind = new Set(levers);
    const positions: Record<string, Position> = {};
    let volts = emf;
    // Turn and turn about: the positions for the volts, and the volts that these leave. Each turn moves them one way.
    for (let turn = 0; turn <= 3 * levers.length; turn++) {
      const drawn = new Map<number, Ampere>();
      const drawAt = (lever: string, position: Position): Ampere => {
        const load = loads.at(lever, position, corner);
        const amps = drawn.get(load.place) ?? loads.amps(load, volts);
        drawn.set(load.place, amps);
        return way * amps;
      };
      let changed = false;
      for (const lever of levers) {
        const now = positions[lever];
        let best: Position = now ?? 'normal';
        for (const position of this.positionsOf.get(lever) ?? [])
          if (drawAt(lever, position) > drawAt(lever, best) + LEAST_AMPS) best = position;
        if (best === now) continue;
        positions[lever] = best;
        changed = true;
      }
      if (!changed) break;
      volts = loads.voltsBehind(supply, behind, positions, corner, emf, ohms);
    }
    return volts;
  }

  /**
   * These levers in these positions with one fault. Null where they must be solved with all that hangs on their supply: behind a
   * supply that gives way. `positions` names every lever that stands behind the same fault.
   * `held`: so many volts at the levers' tags, whatever the supply gives.
   */
  read(levers: readonly string[], positions: Positions, fault: Fault | null, held?: Volt): Faulted | null {
    const parts = partsOf(this.wiring);
    const supply = parts.circuits.get(levers[0] ?? '')?.supply;
    if (supply === undefined || !this.isSteady(supply)) return null;
    if (levers.some((lever) => parts.circuits.get(lever)?.supply !== supply)) return null;
    const whole = fault === null ? WHOLE : this.feedOf(fault, supply);
    if (whole === null) return null;
    const feed: Feed = held === undefined ? whole : { ...whole, held };
    const near = this.solve(levers, positions, fault, NOMINAL, supply, feed);
    if (near === null) return null;
    if (near === 'shorted') return { shorted: true, lamps: new Map(), volts: () => 0 };
    const ampsOf = (network: Network, lamp: string): Ampere => {
      const amps = network.prepared.amps(network.prepared.handle(lamp));
      return Number.isNaN(amps) || Math.abs(amps) < LEAST_AMPS ? 0 : amps;
    };
    const all = levers.flatMap((lever) => parts.circuits.get(lever)?.lamps ?? []);
    const nominal = new Map(all.map(({ id }) => [id, ampsOf(near, id)]));
    const volts = new Map(
      levers.flatMap((lever) =>
        (parts.circuits.get(lever)?.drives ?? []).map((drive) => {
          const across = near.prepared.across(drive.a, drive.b);
          return [drive.id, Number.isNaN(across) ? 0 : across] as const;
        }),
      ),
    );
    const lamps = new Map<string, FaultedLamp>();
    const ends = new Map<string, ReadonlyMap<string, Ampere> | null>();
    const endOf = (lamp: WiredLamp, edge: 'low' | 'high'): Ampere | null => {
      // In series every lamp carries the same; side by side one takes from another.
      const apart = lamp.series === null && (parts.sideBySide.get(sideOf(lamp)) ?? 0) > 1;
      const dimmed = edge === 'low' ? (parts.circuits.get(lamp.circuit)?.dimmed ?? 1) : 1;
      // What shares ohms before it takes from every other group.
      const judged = apart || feed.ohms > 0;
      const key = `${edge} ${judged ? lamp.group : ''} ${apart ? lamp.id : ''} ${dimmed}`;
      let found = ends.get(key);
      if (found === undefined) {
        const draw = edge === 'low' ? 'high' : 'low';
        const group = judged ? lamp.group : null;
        const corner: Corner = { supply: edge, dimmed, lamps: edge, draw, group, lamp: apart ? lamp.id : null };
        const network = this.solve(levers, positions, fault, corner, supply, feed);
        found =
          network === null || network === 'shorted' ? null : new Map(all.map(({ id }) => [id, ampsOf(network, id)]));
        ends.set(key, found);
      }
      return found?.get(lamp.id) ?? null;
    };
    for (const lamp of all) {
      const amps = nominal.get(lamp.id) ?? 0;
      const [low, high] = [endOf(lamp, 'low'), endOf(lamp, 'high')];
      if (low === null || high === null) return null;
      lamps.set(lamp.id, { amps, low: Math.min(amps, low), high: Math.max(amps, high) });
    }
    return { shorted: false, lamps, volts: (drive) => volts.get(drive.id) ?? 0 };
  }

  /** Does a supply hold its volts whatever its levers draw? */
  private isSteady(supply: WiredSupply): boolean {
    const known = this.steady.get(supply.id);
    if (known !== undefined) return known;
    const steady =
      supply.ohms === 0 &&
      supply.limit === 'none' &&
      !mayLimit(this.wiring, supply) &&
      leverLoads(this.wiring).fits(supply, NOMINAL);
    this.steady.set(supply.id, steady);
    return steady;
  }

  /** What is left of the supply's volts at the levers that the fault concerns; null where it is no single wire of the chain. */
  private feedOf({ kind, edits }: Fault, supply: WiredSupply): Feed | null {
    if (kind === 'supply-off' || kind === 'fuse-open') return { times: 0, ohms: NO_OHMS };
    let [times, ohms] = [1, NO_OHMS];
    for (const edit of edits) {
      if (edit.do === 'volts' && edit.element === supply.id) times = edit.times;
      if (!('element' in edit) || !this.chained.has(edit.element)) continue;
      if (edit.do === 'cut') times = 0;
      else if (edit.do === 'ohms') ohms += edit.ohms;
      else return null;
    }
    return { times, ohms };
  }

  private solve(
    levers: readonly string[],
    positions: Positions,
    fault: Fault | null,
    corner: Corner,
    supply: WiredSupply,
    { times, ohms, held }: Feed,
  ): Network | 'shorted' | null {
    const network = this.networkOf(levers, corner);
    const { prepared, contacts } = network;
    const lies = new Map(levers.map((lever) => [lever, this.liesOf(lever, positions)]));
    for (const { handle, lever, at } of contacts) prepared.setContact(handle, lies.get(lever) === at);
    const edits = times === 0 ? [] : (fault?.edits ?? []);
    const edited: EditedNetwork = {
      hasElement: (id) => prepared.hasElement(id),
      hasNode: (node) => prepared.hasNode(node),
      isClosed: (id) => prepared.isClosed(prepared.handle(id)),
      // The volts are held from outside: what the supply gives is in them.
      voltsOf: () => null,
    };
    prepared.edit(edits.flatMap((edit) => circuitEdits(edit, edited, this.wiring, positions)));
    if (prepared.find() === null) {
      const shorted = isShorted(prepared, levers);
      prepared.edit([]);
      return shorted ? 'shorted' : null;
    }
    const open = times * openVolts(supply, corner);
    const behind = new Set(fault?.circuits);
    const volts =
      held ?? (ohms === 0 ? open : leverLoads(this.wiring).voltsBehind(supply, behind, positions, corner, open, ohms));
    prepared.solve({ ports: [0, volts] });
    return network;
  }

  /** How a lever's switch lies: a sprung one is let go. */
  private liesOf(lever: string, positions: Positions): string {
    const sprung = partsOf(this.wiring).circuits.get(lever)?.switch?.part.sprung === true;
    return sprung ? 'centre' : positionIn(positions, lever);
  }

  private networkOf(levers: readonly string[], corner: Corner): Network {
    const { lamps, draw, group, lamp } = corner;
    const key = `${levers.join(' ')} ${lamps} ${draw} ${group ?? ''} ${lamp ?? ''}`;
    const known = this.networks.get(key);
    if (known !== undefined) return known;
    const netlist = netlistOf(this.wiring, {}, { circuits: new Set(levers), corner, bare: true });
    const [first = '', ...others] = levers;
    // Their rails are those of one supply: what a fault joins may close a ring without ohms.
    const rails = others.flatMap((lever): readonly CircuitElement[] =>
      ['t1', 't4'].map((tag) => ({
        kind: 'wire',
        id: `${first}.${tag}=${lever}.${tag}`,
        a: `${first}.${tag}`,
        b: `${lever}.${tag}`,
        ohms: NO_OHMS,
      })),
    );
    const prepared = prepare(
      { ...netlist, elements: [...netlist.elements, ...rails] },
      { ports: [`${first}.t4`, `${first}.t1`], store: this.store },
    );
    const contacts = levers.flatMap((lever) =>
      (this.poles.get(lever) ?? []).flatMap((pole) =>
        ['normal', 'reverse'].map((at) => ({ handle: prepared.handle(`${pole}=${at}`), lever, at })),
      ),
    );
    const network = { prepared, contacts };
    this.networks.set(key, network);
    return network;
  }
}

/** Do wires and closed contacts join the two rails? Rails of levers on one supply are one. */
function isShorted(prepared: Prepared, levers: readonly string[]): boolean {
  const parent = new Map<string, string>();
  const find = (node: string): string => {
    let top = node;
    for (let next = parent.get(top); next !== undefined && next !== top; next = parent.get(top)) top = next;
    return top;
  };
  const join = (a: string, b: string): void => {
    parent.set(find(a), find(b));
  };
  for (const lever of levers) {
    join(`${lever}.t1`, 'plus');
    join(`${lever}.t4`, 'minus');
  }
  for (const element of prepared.netlistNow().elements) {
    const stiff = element.kind === 'wire' || (element.kind === 'contact' && element.closed);
    if (stiff && element.ohms === NO_OHMS && element.a !== element.b) join(element.a, element.b);
  }
  return find('plus') === find('minus');
}
