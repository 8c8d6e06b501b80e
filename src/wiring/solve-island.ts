/**
 * One island in one setting of its levers: nominal, and each lamp at the corners of its bands. Behind an ideal supply every lever is an
 * island of its own; levers that share a supply with ohms, or one that may reach its limit, are one network. What is solved once is kept.
 */
import { type Node, type OperatingPoint, solveDc } from '../circuit/index.ts';
import type { Ampere } from '../units/index.ts';
import { type CarrierLies, carrierLies } from './carrier-lies.ts';
import { type CircuitParts, partsOf, sideOf } from './circuit-parts.ts';
import { couples, type Fault, touches } from './faults.ts';
import { layoutSide } from './layout-side.ts';
import { leverLoads } from './lever-loads.ts';
import { heldVolts, mayLimit } from './limit.ts';
import { lookOf } from './look.ts';
import { type Corner, NOMINAL, netlistOf, openVolts } from './netlist-of.ts';
import { type Positions, positionIn } from './positions.ts';
import { LEAST_AMPS } from './tolerances.ts';
import type { LampReading, WiredLamp, WiredSupply, Wiring } from './types.ts';

export interface IslandReading {
  readonly nominal: OperatingPoint;
  /** Of the levers that are judged. */
  readonly lamps: readonly LampReading[];
  /** Of means over a cycle, what supplies deliver to all islands that were taken together; named by the first of these alone. */
  readonly delivered?: ReadonlyMap<string, Ampere>;
}

/** Most reverse volts: high volts, and lit lamps at their greatest forward volts. */
const REVERSED: Corner = { ...NOMINAL, supply: 'high', lamps: 'low', draw: 'low' };

const ISLANDS = new WeakMap<Wiring, readonly (readonly string[])[]>();

/** Circuits that must be solved together: one each behind ideal supplies, all of a supply that has ohms or may reach its limit. */
export function islandsOf(wiring: Wiring): readonly (readonly string[])[] {
  const known = ISLANDS.get(wiring);
  if (known !== undefined) return known;
  let islands: readonly (readonly string[])[] = wiring.circuits.map(({ id }) => [id]);
  for (const supply of wiring.supplies)
    if (isShared(wiring, supply)) islands = joined(wiring, islands, supply.circuits);
  ISLANDS.set(wiring, islands);
  return islands;
}

/** Islands with those that hold any of these circuits made one, in the order of the wiring. */
function joined(
  wiring: Wiring,
  islands: readonly (readonly string[])[],
  circuits: readonly string[],
): readonly (readonly string[])[] {
  const touched = new Set(circuits);
  const met = new Set(islands.filter((island) => island.some((id) => touched.has(id))));
  if (met.size < 2) return islands;
  const { circuits: place } = partsOf(wiring);
  const one = [...met].flat().sort((a, b) => (place.get(a)?.place ?? 0) - (place.get(b)?.place ?? 0));
  const [first] = met;
  return islands.flatMap((island) => (island === first ? [one] : met.has(island) ? [] : [island]));
}

const ISLAND_OF = new WeakMap<Wiring, ReadonlyMap<string, readonly string[]>>();

/** The island of a circuit while all is well; a circuit that is not wired stands alone. */
export function islandOf(wiring: Wiring, circuit: string): readonly string[] {
  let of = ISLAND_OF.get(wiring);
  if (of === undefined) {
    of = new Map(islandsOf(wiring).flatMap((island) => island.map((id) => [id, island] as const)));
    ISLAND_OF.set(wiring, of);
  }
  return of.get(circuit) ?? [circuit];
}

/** The islands that one fault touches, in its order; behind supplies that may reach their limit, all of them. */
export function islandsTouched(wiring: Wiring, fault: Fault): readonly (readonly string[])[] {
  if (wiring.supplies.some(({ limit }) => limit !== 'none')) return islandsWith(wiring, [fault]);
  let touched: readonly (readonly string[])[] = [...new Set(fault.circuits.map((id) => islandOf(wiring, id)))];
  if (couples(fault)) for (const met of metBy(wiring, fault)) touched = joined(wiring, touched, met);
  return touched;
}

/** The same with faults: what a fault joins, and every lever of a supply whose limit a fault may reach, is solved together. */
export function islandsWith(wiring: Wiring, faults: readonly Fault[]): readonly (readonly string[])[] {
  let islands = islandsOf(wiring);
  for (const fault of faults) {
    if (couples(fault)) for (const met of metBy(wiring, fault)) islands = joined(wiring, islands, met);
    for (const supply of wiring.supplies)
      if (supply.limit !== 'none' && touches(fault.circuits, supply.circuits))
        islands = joined(wiring, islands, supply.circuits);
  }
  return islands;
}

/** Pins of circuits by either half, and the layout halves of all that carry anything. */
interface Pins {
  readonly circuits: ReadonlyMap<string, string>;
  readonly every: ReadonlySet<string>;
}

const PINS = new WeakMap<Wiring, Pins>();

function pinsOf(wiring: Wiring): Pins {
  const known = PINS.get(wiring);
  if (known !== undefined) return known;
  const circuits = new Map<string, string>();
  for (const circuit of partsOf(wiring).circuits.values())
    for (const { id } of circuit.pins) for (const half of [id, layoutSide(id)]) circuits.set(half, circuit.id);
  const every = new Set(wiring.connectors.flatMap((connector) => connector.pins.map(({ id }) => layoutSide(id))));
  const pins = { circuits, every };
  PINS.set(wiring, pins);
  return pins;
}

/**
 * Circuits that a fault brings together, those of each joint by themselves: two connectors mated crosswise join circuit to circuit, not all
 * to all. What is not a pin of one circuit alone joins all that the fault touches.
 */
function metBy(wiring: Wiring, { circuits, edits, middle }: Fault): readonly (readonly string[])[] {
  if (middle || circuits.length < 3) return [circuits];
  const pins = pinsOf(wiring);
  const met: (readonly string[])[] = [];
  for (const edit of edits) {
    if (edit.do !== 'move') return [circuits];
    const [one, other] = [pins.circuits.get(edit.element), pins.circuits.get(edit.b)];
    if (one === undefined || (other === undefined && pins.every.has(edit.b))) return [circuits];
    // A way that nothing is soldered to.
    met.push(other === undefined ? [one] : [one, other]);
  }
  return met;
}

/** Does what one lever draws change the volts of the others? */
function isShared(wiring: Wiring, supply: WiredSupply): boolean {
  return supply.ohms > 0 || mayLimit(wiring, supply);
}

/** Islands already solved, by wiring: behind an ideal supply a lever has two or three states, whatever the others do. */
const SOLVED = new WeakMap<Wiring, Map<string, IslandReading>>();

/** States kept for one wiring; levers that share a weak supply have more than anyone asks for. */
const STATES_KEPT = 4096;

/**
 * One island in one setting: nominal, and the least and greatest of each lamp of the circuits that are judged (all, unless said). `lies`:
 * how drives, blades and relays lie; absent: where the levers ask them to be.
 */
export function solveIsland(
  wiring: Wiring,
  island: readonly string[],
  levers: Positions,
  judged: readonly string[] = island,
  broken: readonly Fault[] = [],
  lies: CarrierLies = carrierLies(wiring, levers),
): IslandReading {
  const faults = broken.filter(({ circuits }) => touches(circuits, island));
  const { circuits } = partsOf(wiring);
  const own = island.map((id) => circuits.get(id)?.circuit);
  const at = own.flatMap((each) => each?.levers.map((lever) => `${lever}=${positionIn(levers, lever)}`) ?? []);
  const told = own.flatMap((each) => each?.follows.map((carrier) => `${carrier}=${lies[carrier] ?? 'normal'}`) ?? []);
  const key = `${island.join(' ')} ${at.join(',')} ${told.join(',')} ${judged === island ? '' : judged.join(',')} ${faults.map(({ code }) => code).join(' ')}`;
  const states = SOLVED.get(wiring) ?? new Map<string, IslandReading>();
  SOLVED.set(wiring, states);
  const known = states.get(key);
  if (known !== undefined) return known;
  if (states.size >= STATES_KEPT) states.clear();
  const solved = solveState(wiring, island, levers, judged, faults, lies);
  states.set(key, solved);
  return solved;
}

function solveState(
  wiring: Wiring,
  island: readonly string[],
  levers: Positions,
  judged: readonly string[],
  faults: readonly Fault[],
  lies: CarrierLies,
): IslandReading {
  const supply = partsOf(wiring).circuits.get(island[0] ?? '')?.supply;
  if (faults.length === 0 && supply !== undefined) {
    const whole = isShared(wiring, supply) ? island.length === supply.circuits.length : island.length === 1;
    if (whole && leverLoads(wiring).fits(supply, NOMINAL))
      return solveLoads(wiring, supply, island, levers, judged, lies);
  }
  const circuits = new Set(island);
  const solveAt = (corner: Corner, near: ReadonlySet<string> = circuits): OperatingPoint =>
    solveDc(
      netlistOf(wiring, levers, {
        circuits: near,
        corner,
        held: heldVolts(wiring, levers, corner, faults),
        lies,
        faults,
      }),
    );
  const nominal = solveAt(NOMINAL);
  // What a fault joins carries each other's currents, whatever holds the volts.
  const joined = faults.some(couples);
  const parts = partsOf(wiring);
  const solved = new Map<string, OperatingPoint>();

  /** The corner at which this lamp carries least or most. Behind an ideal supply groups do not feel each other: one solve serves all. */
  const worst = (circuit: CircuitParts, lamp: WiredLamp, edge: 'low' | 'high'): OperatingPoint => {
    // In series every lamp carries the same; side by side one takes from another.
    const apart = lamp.series === null && (parts.sideBySide.get(sideOf(lamp)) ?? 0) > 1;
    const group = circuit.supplies.some((each) => isShared(wiring, each)) || apart ? lamp.group : null;
    const dimmed = edge === 'low' ? circuit.dimmed : 1;
    // Without ohms a supply holds its volts, limited or not, and the lamp's own lever is all that matters.
    const soft = circuit.supplies.some(({ ohms }) => ohms > 0);
    const near = soft || joined || island.length === 1 ? circuits : new Set([circuit.id]);
    const key = `${edge} ${group ?? ''} ${apart ? lamp.id : ''} ${dimmed} ${near === circuits ? '' : circuit.id}`;
    const known = solved.get(key);
    if (known !== undefined) return known;
    const draw = edge === 'low' ? 'high' : 'low';
    const point = solveAt({ supply: edge, dimmed, lamps: edge, draw, group, lamp: apart ? lamp.id : null }, near);
    solved.set(key, point);
    return point;
  };
  const reverse = solveAt(REVERSED);

  const broken = new Set(faults.map(({ code }) => code));
  const lamps = judged.flatMap((lever) => {
    const circuit = parts.circuits.get(lever);
    if (circuit === undefined) return [];
    return circuit.lamps.map((lamp): LampReading => {
      const amps = conducted(nominal.amps.get(lamp.id));
      return {
        id: lamp.id,
        amps,
        low: Math.min(amps, conducted(worst(circuit, lamp, 'low').amps.get(lamp.id))),
        high: Math.max(amps, conducted(worst(circuit, lamp, 'high').amps.get(lamp.id))),
        // What is shorted carries its current past the crystal.
        look: broken.has(`short:${lamp.id}`) ? 'unlit' : lookOf(lamp.part, amps),
        reverseVolts: stringReverse(circuit.lamps, lamp, reverse, broken.has(`backwards:${lamp.id}`)),
      };
    });
  });
  return { nominal, lamps };
}

/** Levers without a fault, each as a load at the volts that all leave of their supply; the whole network only where someone asks for it. */
function solveLoads(
  wiring: Wiring,
  supply: WiredSupply,
  island: readonly string[],
  levers: Positions,
  judged: readonly string[],
  lies: CarrierLies,
): IslandReading {
  const parts = partsOf(wiring);
  const loads = leverLoads(wiring);
  const shared = isShared(wiring, supply);
  const held = (corner: Corner) => (shared ? heldVolts(wiring, levers, corner).get(supply.id) : undefined);
  /** A judged lever at a corner, solved. */
  const at = (lever: string, corner: Corner) => {
    const load = loads.at(lever, levers, corner, lies);
    const volts = loads.voltsOf(supply, levers, corner, held(corner) ?? openVolts(supply, corner));
    load.network.solve({ ports: [0, volts] });
    return { load, volts };
  };
  const lamps = judged.flatMap((lever) => {
    const circuit = parts.circuits.get(lever);
    if (circuit === undefined) return [];
    const numbers = loads.numbersOf(lever);
    const ampsAt = (lamp: WiredLamp, corner: Corner) =>
      conducted(at(lever, corner).load.network.amps(numbers.get(lamp.id) ?? -1));
    const most = at(lever, REVERSED);
    const reverse = loads.pointAt(lever, levers, REVERSED, most.volts, lies);
    return circuit.lamps.map((lamp): LampReading => {
      const apart = lamp.series === null && (parts.sideBySide.get(sideOf(lamp)) ?? 0) > 1;
      const worst = (edge: 'low' | 'high'): Corner => ({
        supply: edge,
        dimmed: edge === 'low' ? circuit.dimmed : 1,
        lamps: edge,
        draw: edge === 'low' ? 'high' : 'low',
        group: lamp.group,
        lamp: apart ? lamp.id : null,
      });
      const amps = ampsAt(lamp, NOMINAL);
      return {
        id: lamp.id,
        amps,
        low: Math.min(amps, ampsAt(lamp, worst('low'))),
        high: Math.max(amps, ampsAt(lamp, worst('high'))),
        look: lookOf(lamp.part, amps),
        reverseVolts: stringReverse(circuit.lamps, lamp, reverse, false),
      };
    });
  });
  let whole: OperatingPoint | null = null;
  return {
    get nominal() {
      const near = { circuits: new Set(island), held: heldVolts(wiring, levers, NOMINAL), lies };
      whole ??= solveDc(netlistOf(wiring, levers, near));
      return whole;
    },
    lamps,
  };
}

/** A lamp's amps; what is below the solver's own tolerance, leakage of a dark lamp among it, reads 0. */
function conducted(amps: number | null | undefined): number {
  return amps === undefined || amps === null || Math.abs(amps) < LEAST_AMPS ? 0 : amps;
}

/** Volts across the dark string that a lamp stands in, the wrong way round; 0 where it is not reversed. A lamp put in backwards is judged alone. */
function stringReverse(
  lamps: readonly WiredLamp[],
  lamp: WiredLamp,
  point: Pick<OperatingPoint, 'volts'>,
  backwards: boolean,
): number {
  if (backwards) return Math.max(0, difference(point.volts, lamp.anode, lamp.cathode) ?? 0);
  const string = lamp.series === null ? [lamp] : lamps.filter((other) => other.series === lamp.series);
  const first = string[0];
  const last = string[string.length - 1];
  if (first === undefined || last === undefined) return 0;
  // Strings across a feed are listed from its near side, where those of the reverse lie have their cathode.
  const turned = lamp.by !== 'contacts' && lamp.lie === 'reverse';
  const [from, to] = turned ? [last.anode, first.cathode] : [first.anode, last.cathode];
  return Math.max(0, -(difference(point.volts, from, to) ?? 0));
}

/** Volts from b up to a; null where either floats or is not there. */
export function difference(volts: ReadonlyMap<Node, number | null>, a: Node, b: Node): number | null {
  const [va, vb] = [volts.get(a), volts.get(b)];
  return va === undefined || va === null || vb === undefined || vb === null ? null : va - vb;
}
