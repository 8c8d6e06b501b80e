/**
 * What stands everywhere in one setting of the levers. Behind an ideal supply every lever is a network of its own and is solved as
 * one; levers that share a supply with resistance are solved together. Nominal first, then the corners of the bands.
 */
import { type CircuitProblem, type Node, type OperatingPoint, solveDc } from '../circuit/index.ts';
import { partsOf, sideOf } from './circuit-parts.ts';
import { otherLie } from './drives.ts';
import { lookOf } from './look.ts';
import { type Corner, NOMINAL, netlistOf, normalSign } from './netlist-of.ts';
import type { DriveReading, LampReading, Position, Reading, WiredLamp, Wiring } from './types.ts';

/** The solver's tolerance for a current. */
const LEAST_AMPS = 1e-12;

type Positions = Readonly<Record<string, Position>>;

/** Levers that must be solved together: one each behind an ideal supply, all of a supply that has ohms. */
export function islandsOf(wiring: Wiring): readonly (readonly string[])[] {
  return wiring.supplies.flatMap((supply) =>
    supply.ohms > 0 ? [supply.circuits] : supply.circuits.map((circuit) => [circuit]),
  );
}

/** Everything in one setting; a lever that is not named lies normal. */
export function operate(wiring: Wiring, levers: Positions): Reading {
  const lamps = new Map<string, LampReading>();
  const amps = new Map<string, number>();
  const volts = new Map<Node, number | null>();
  const drawn = new Map<string, number>();
  const problems: CircuitProblem[] = [];
  let residual = 0;

  for (const island of islandsOf(wiring)) {
    const solved = solveIsland(wiring, island, levers);
    for (const reading of solved.lamps) lamps.set(reading.id, reading);
    for (const [node, value] of solved.nominal.volts) volts.set(node, value);
    for (const [id, value] of solved.nominal.amps) amps.set(id, value ?? 0);
    for (const supply of wiring.supplies) {
      const given = solved.nominal.amps.get(supply.id);
      // A source's current is positive into its plus: what it delivers is the opposite.
      if (given !== undefined && given !== null) drawn.set(supply.id, (drawn.get(supply.id) ?? 0) - given);
    }
    problems.push(...solved.nominal.problems);
    residual = Math.max(residual, solved.nominal.residual);
  }

  return {
    levers: Object.fromEntries(wiring.circuits.map((circuit) => [circuit.id, levers[circuit.id] ?? 'normal'])),
    supplies: wiring.supplies.map((supply) => ({
      id: supply.id,
      volts: difference(volts, `${supply.id}.p`, `${supply.id}.m`) ?? supply.volts,
      amps: drawn.get(supply.id) ?? 0,
    })),
    drives: driveReadings(wiring, levers, volts, amps),
    lamps: wiring.lampOrder.map((id) => lamps.get(id) ?? darkReading(id)),
    nodes: wiring.circuits.flatMap((circuit) => nodesOf(wiring, circuit.id, volts)),
    residual,
    problems,
  };
}

interface IslandReading {
  readonly nominal: OperatingPoint;
  readonly lamps: readonly LampReading[];
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
): IslandReading {
  const key = `${island.map((lever) => `${lever}=${levers[lever] ?? 'normal'}`).join(',')} ${judged.join(',')}`;
  const states = SOLVED.get(wiring) ?? new Map<string, IslandReading>();
  SOLVED.set(wiring, states);
  const known = states.get(key);
  if (known !== undefined) return known;
  if (states.size >= STATES_KEPT) states.clear();
  const solved = solveState(wiring, island, levers, judged);
  states.set(key, solved);
  return solved;
}

function solveState(
  wiring: Wiring,
  island: readonly string[],
  levers: Positions,
  judged: readonly string[],
): IslandReading {
  const circuits = new Set(island);
  const solveAt = (corner: Corner): OperatingPoint => solveDc(netlistOf(wiring, levers, { circuits, corner }));
  const nominal = solveAt(NOMINAL);
  const parts = partsOf(wiring);
  const mine = judged.flatMap((lever) => parts.circuits.get(lever)?.lamps ?? []);
  const coupled = wiring.supplies.some(
    (supply) => supply.ohms > 0 && supply.circuits.some((circuit) => circuits.has(circuit)),
  );
  const cornerOf = new Map<string, OperatingPoint>();

  /** The corner at which this lamp carries least or most. Behind an ideal supply groups do not feel each other: one solve serves all. */
  const worst = (lamp: WiredLamp, edge: 'low' | 'high'): OperatingPoint => {
    // In series every lamp carries the same; side by side one takes from another.
    const apart = lamp.series === null && (parts.sideBySide.get(sideOf(lamp)) ?? 0) > 1;
    const group = coupled || apart ? lamp.group : null;
    const key = `${edge} ${group ?? ''} ${apart ? lamp.id : ''}`;
    const known = cornerOf.get(key);
    if (known !== undefined) return known;
    const draw = edge === 'low' ? 'high' : 'low';
    const point = solveAt({ supply: edge, lamps: edge, draw, group, lamp: apart ? lamp.id : null });
    cornerOf.set(key, point);
    return point;
  };
  // Most reverse volts: high volts, and lit lamps at their greatest forward volts.
  const reverse = solveAt({ supply: 'high', lamps: 'low', draw: 'low', group: null, lamp: null });

  const lamps = mine.map((lamp): LampReading => {
    const amps = conducted(nominal.amps.get(lamp.id));
    return {
      id: lamp.id,
      amps,
      low: Math.min(amps, conducted(worst(lamp, 'low').amps.get(lamp.id))),
      high: Math.max(amps, conducted(worst(lamp, 'high').amps.get(lamp.id))),
      look: lookOf(lamp.part, amps),
      reverseVolts: stringReverse(mine, lamp, reverse),
    };
  });
  return { nominal, lamps };
}

/** A lamp's amps; what is below the solver's own tolerance, leakage of a dark lamp among it, reads 0. */
function conducted(amps: number | null | undefined): number {
  return amps === undefined || amps === null || Math.abs(amps) < LEAST_AMPS ? 0 : amps;
}

/** Volts across the dark string that a lamp stands in, the wrong way round; 0 where it is not reversed. */
function stringReverse(lamps: readonly WiredLamp[], lamp: WiredLamp, point: OperatingPoint): number {
  const string = lamp.series === null ? [lamp] : lamps.filter((other) => other.series === lamp.series);
  const first = string[0];
  const last = string[string.length - 1];
  if (first === undefined || last === undefined) return 0;
  const [from, to] = lamp.lie === 'normal' ? [first.anode, last.cathode] : [last.anode, first.cathode];
  return Math.max(0, -(difference(point.volts, from, to) ?? 0));
}

function difference(volts: ReadonlyMap<Node, number | null>, a: Node, b: Node): number | null {
  const [va, vb] = [volts.get(a), volts.get(b)];
  return va === undefined || va === null || vb === undefined || vb === null ? null : va - vb;
}

function driveReadings(
  wiring: Wiring,
  levers: Positions,
  volts: ReadonlyMap<Node, number | null>,
  amps: ReadonlyMap<string, number>,
): readonly DriveReading[] {
  return wiring.drives.flatMap((drive) => {
    const position = drive.circuit === null ? null : positionOf(wiring, drive.circuit, levers);
    return drive.asks.map(({ point, whenNormal }): DriveReading => {
      const sign = normalSign(drive) * (whenNormal === null || whenNormal === drive.whenNormal ? 1 : -1);
      const asked = position !== null && position !== 'centre' && whenNormal !== null;
      return {
        point,
        drive: drive.id,
        volts: unsigned(sign * (difference(volts, drive.a, drive.b) ?? 0)),
        amps: unsigned(sign * (amps.get(drive.id) ?? 0)),
        moves: !asked ? null : position === 'normal' ? whenNormal : otherLie(whenNormal),
      };
    });
  });
}

/** How a lever's switch lies at rest, or null where the lever has no circuit. */
function positionOf(wiring: Wiring, lever: string, levers: Positions): Position | null {
  const circuit = partsOf(wiring).circuits.get(lever);
  if (circuit === undefined) return null;
  return circuit.switch?.part.sprung === true ? 'centre' : (levers[lever] ?? 'normal');
}

/** No minus zero in answers. */
function unsigned(value: number): number {
  return value === 0 ? 0 : value;
}

function darkReading(id: string): LampReading {
  return { id, amps: 0, low: 0, high: 0, look: 'unlit', reverseVolts: 0 };
}

/** Every terminal of a circuit with its volts, in the order of its wires. */
function nodesOf(wiring: Wiring, circuit: string, volts: ReadonlyMap<Node, number | null>): Reading['nodes'] {
  const terminals = partsOf(wiring).circuits.get(circuit)?.terminals ?? [];
  return terminals.map((node) => ({ circuit, node, volts: volts.get(node) ?? null }));
}
