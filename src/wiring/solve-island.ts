/**
 * One island in one setting of its levers: nominal, and each lamp at the corners of its bands. Behind an ideal supply every lever is an
 * island of its own; levers that share a supply with ohms, or one that may reach its limit, are one network. What is solved once is kept.
 */
import { type Node, type OperatingPoint, solveDc } from '../circuit/index.ts';
import { type CircuitParts, partsOf, sideOf } from './circuit-parts.ts';
import { couples, type Fault, touches } from './faults.ts';
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
}

/** Most reverse volts: high volts, and lit lamps at their greatest forward volts. */
const REVERSED: Corner = { ...NOMINAL, supply: 'high', lamps: 'low', draw: 'low' };

const ISLANDS = new WeakMap<Wiring, readonly (readonly string[])[]>();

/** Levers that must be solved together: one each behind an ideal supply, all of a supply that has ohms or may reach its limit. */
export function islandsOf(wiring: Wiring): readonly (readonly string[])[] {
  const known = ISLANDS.get(wiring);
  if (known !== undefined) return known;
  const islands = wiring.supplies.flatMap((supply) =>
    isShared(wiring, supply) ? [supply.circuits] : supply.circuits.map((circuit) => [circuit]),
  );
  ISLANDS.set(wiring, islands);
  return islands;
}

/** The same with faults: what a fault joins, and every lever of a supply whose limit a fault may reach, is solved together. */
export function islandsWith(wiring: Wiring, faults: readonly Fault[]): readonly (readonly string[])[] {
  let islands = islandsOf(wiring);
  const join = (circuits: readonly string[]): void => {
    const met = islands.filter((island) => touches(circuits, island));
    if (met.length < 2) return;
    const place = new Map(wiring.circuits.map(({ id }, i) => [id, i]));
    const one = met.flat().sort((a, b) => (place.get(a) ?? 0) - (place.get(b) ?? 0));
    islands = islands.flatMap((island) => (island === met[0] ? [one] : met.includes(island) ? [] : [island]));
  };
  for (const fault of faults) {
    if (couples(fault)) join(fault.circuits);
    for (const supply of wiring.supplies)
      if (supply.limit !== 'none' && touches(fault.circuits, supply.circuits)) join(supply.circuits);
  }
  return islands;
}

/** Does what one lever draws change the volts of the others? */
function isShared(wiring: Wiring, supply: WiredSupply): boolean {
  return supply.ohms > 0 || mayLimit(wiring, supply);
}

/** Islands already solved, by wiring: behind an ideal supply a lever has two or three states, whatever the others do. */
const SOLVED = new WeakMap<Wiring, Map<string, IslandReading>>();

/** States kept for one wiring; levers that share a weak supply have more than anyone asks for. */
const STATES_KEPT = 4096;

/** One island in one setting: nominal, and the least and greatest of each lamp of the levers that are judged (all, unless said). */
export function solveIsland(
  wiring: Wiring,
  island: readonly string[],
  levers: Positions,
  judged: readonly string[] = island,
  broken: readonly Fault[] = [],
): IslandReading {
  const faults = broken.filter(({ circuits }) => touches(circuits, island));
  const lies = island.map((lever) => `${lever}=${positionIn(levers, lever)}`).join(',');
  const key = `${lies} ${judged === island ? '' : judged.join(',')} ${faults.map(({ code }) => code).join(' ')}`;
  const states = SOLVED.get(wiring) ?? new Map<string, IslandReading>();
  SOLVED.set(wiring, states);
  const known = states.get(key);
  if (known !== undefined) return known;
  if (states.size >= STATES_KEPT) states.clear();
  const solved = solveState(wiring, island, levers, judged, faults);
  states.set(key, solved);
  return solved;
}

function solveState(
  wiring: Wiring,
  island: readonly string[],
  levers: Positions,
  judged: readonly string[],
  faults: readonly Fault[],
): IslandReading {
  const supply = partsOf(wiring).circuits.get(island[0] ?? '')?.supply;
  if (faults.length === 0 && supply !== undefined) {
    const whole = isShared(wiring, supply) ? island.length === supply.circuits.length : island.length === 1;
    if (whole && leverLoads(wiring).fits(supply, NOMINAL)) return solveLoads(wiring, supply, island, levers, judged);
  }
  const circuits = new Set(island);
  const solveAt = (corner: Corner, near: ReadonlySet<string> = circuits): OperatingPoint =>
    solveDc(
      netlistOf(wiring, levers, { circuits: near, corner, held: heldVolts(wiring, levers, corner, faults), faults }),
    );
  const nominal = solveAt(NOMINAL);
  const parts = partsOf(wiring);
  const solved = new Map<string, OperatingPoint>();

  /** The corner at which this lamp carries least or most. Behind an ideal supply groups do not feel each other: one solve serves all. */
  const worst = (circuit: CircuitParts, lamp: WiredLamp, edge: 'low' | 'high'): OperatingPoint => {
    // In series every lamp carries the same; side by side one takes from another.
    const apart = lamp.series === null && (parts.sideBySide.get(sideOf(lamp)) ?? 0) > 1;
    const group = isShared(wiring, circuit.supply) || apart ? lamp.group : null;
    const dimmed = edge === 'low' ? circuit.dimmed : 1;
    // Without ohms a supply holds its volts, limited or not, and the lamp's own lever is all that matters.
    const near = circuit.supply.ohms > 0 || island.length === 1 ? circuits : new Set([circuit.id]);
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
): IslandReading {
  const parts = partsOf(wiring);
  const loads = leverLoads(wiring);
  const shared = isShared(wiring, supply);
  const held = (corner: Corner) => (shared ? heldVolts(wiring, levers, corner).get(supply.id) : undefined);
  /** A judged lever at a corner, solved. */
  const at = (lever: string, corner: Corner) => {
    const load = loads.at(lever, positionIn(levers, lever), corner);
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
    const reverse = loads.pointAt(lever, positionIn(levers, lever), REVERSED, most.volts);
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
      const near = { circuits: new Set(island), held: heldVolts(wiring, levers, NOMINAL) };
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
  const [from, to] = lamp.lie === 'normal' ? [first.anode, last.cathode] : [last.anode, first.cathode];
  return Math.max(0, -(difference(point.volts, from, to) ?? 0));
}

/** Volts from b up to a; null where either floats or is not there. */
export function difference(volts: ReadonlyMap<Node, number | null>, a: Node, b: Node): number | null {
  const [va, vb] = [volts.get(a), volts.get(b)];
  return va === undefined || va === null || vb === undefined || vb === null ? null : va - vb;
}
