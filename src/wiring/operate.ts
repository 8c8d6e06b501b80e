/** What stands everywhere in one setting of the levers, put together from islands: each is solved once in each of its states. */
import type { CircuitProblem } from '../circuit/index.ts';
import { type CircuitParts, partsOf } from './circuit-parts.ts';
import { otherLie } from './drives.ts';
import { type Fault, faultByCode, isOff } from './faults.ts';
import { signOf } from './netlist-of.ts';
import { type Positions, positionIn } from './positions.ts';
import { difference, type IslandReading, islandsWith, solveIsland } from './solve-island.ts';
import type { DriveReading, LampReading, Position, Reading, WiredDrive, Wiring } from './types.ts';

type Nodes = Reading['nodes'];

/** What one lever adds to the reading of the panel. */
interface Share {
  readonly drives: ReadonlyMap<string, readonly DriveReading[]>;
  readonly nodes: Nodes;
}

/**
 * Everything in one setting, with what is broken; a lever that is not named lies normal. A supply without ohms that a fault shorts is
 * off for all its levers: its terminals stand at 0 V, as behind the least resistance they would.
 */
export function operate(wiring: Wiring, levers: Positions, faults: readonly Fault[] = []): Reading {
  const reading = operateOnce(wiring, levers, faults);
  const shorted = wiring.supplies.filter(
    (supply) =>
      !isOff(faults, supply) &&
      reading.problems.some((problem) => problem.code === 'source-shorted' && problem.source === supply.id),
  );
  if (shorted.length === 0) return reading;
  const off = shorted.flatMap((supply) => faultByCode(wiring, `off:${supply.id}`) ?? []);
  return { ...operateOnce(wiring, levers, [...faults, ...off]), problems: reading.problems };
}

function operateOnce(wiring: Wiring, levers: Positions, faults: readonly Fault[]): Reading {
  const parts = partsOf(wiring);
  const lamps = new Map<string, LampReading>();
  const shares = new Map<string, Share>();
  const volts = new Map<string, number>();
  const drawn = new Map<string, number>();
  const problems: CircuitProblem[] = [];
  let residual = 0;

  for (const island of islandsWith(wiring, faults)) {
    const solved = solveIsland(wiring, island, levers, island, faults);
    const { nominal } = solved;
    for (const reading of solved.lamps) lamps.set(reading.id, reading);
    for (const [lever, share] of sharesOf(wiring, island, levers, solved)) shares.set(lever, share);
    const supplies = new Set(island.flatMap((lever) => parts.circuits.get(lever)?.supply.id ?? []));
    for (const supply of supplies) {
      // A source's current is positive into its plus: what it delivers is the opposite.
      drawn.set(supply, (drawn.get(supply) ?? 0) - (nominal.amps.get(supply) ?? 0));
      const terminals = difference(nominal.volts, `${supply}.p`, `${supply}.m`);
      if (terminals !== null) volts.set(supply, terminals);
    }
    problems.push(...nominal.problems);
    residual = Math.max(residual, nominal.residual);
  }

  return {
    levers: Object.fromEntries(wiring.circuits.map(({ id }) => [id, positionIn(levers, id)])),
    supplies: wiring.supplies.map((supply) => ({
      id: supply.id,
      volts: isOff(faults, supply) ? 0 : (volts.get(supply.id) ?? supply.volts),
      amps: unsigned(drawn.get(supply.id) ?? 0),
    })),
    drives: wiring.drives.flatMap(
      (drive) => shares.get(drive.circuit ?? '')?.drives.get(drive.id) ?? stillReadings(drive),
    ),
    lamps: wiring.lampOrder.map((id) => lamps.get(id) ?? darkReading(id)),
    nodes: wiring.circuits.flatMap(({ id }) => shares.get(id)?.nodes ?? []),
    residual,
    problems,
  };
}

/** Shares already read off, by the solved state that they come from. */
const SHARES = new WeakMap<IslandReading, ReadonlyMap<string, Share>>();

function sharesOf(
  wiring: Wiring,
  island: readonly string[],
  levers: Positions,
  solved: IslandReading,
): ReadonlyMap<string, Share> {
  const known = SHARES.get(solved);
  if (known !== undefined) return known;
  const shares = new Map<string, Share>();
  const parts = partsOf(wiring);
  for (const lever of island) {
    const circuit = parts.circuits.get(lever);
    if (circuit === undefined) continue;
    const lies = restOf(circuit, levers);
    shares.set(lever, {
      drives: new Map(circuit.asked.map((drive) => [drive.id, driveReadings(drive, lies, solved)])),
      // Every terminal of the circuit with its volts, in the order of its wires.
      nodes: circuit.terminals.map((node) => ({ circuit: lever, node, volts: solved.nominal.volts.get(node) ?? null })),
    });
  }
  SHARES.set(solved, shares);
  return shares;
}

/** How a lever's switch lies at rest: a sprung one is let go. */
function restOf(circuit: CircuitParts, levers: Positions): Position {
  return circuit.switch?.part.sprung === true ? 'centre' : positionIn(levers, circuit.id);
}

function driveReadings(drive: WiredDrive, lies: Position, { nominal }: IslandReading): readonly DriveReading[] {
  const volts = difference(nominal.volts, drive.a, drive.b) ?? 0;
  const amps = nominal.amps.get(drive.id) ?? 0;
  return drive.asks.map((ask): DriveReading => {
    const sign = signOf(drive, ask.whenNormal ?? ask.goes);
    return {
      point: ask.point,
      drive: drive.id,
      volts: unsigned(sign * volts),
      amps: unsigned(sign * amps),
      moves:
        lies === 'centre' || ask.whenNormal === null
          ? null
          : lies === 'normal'
            ? ask.whenNormal
            : otherLie(ask.whenNormal),
    };
  });
}

/** A drive whose lever has no circuit: nothing reaches it and nothing is asked of it. */
function stillReadings(drive: WiredDrive): readonly DriveReading[] {
  return drive.points.map((point) => ({ point, drive: drive.id, volts: 0, amps: 0, moves: null }));
}

/** No minus zero in answers. */
function unsigned(value: number): number {
  return value === 0 ? 0 : value;
}

function darkReading(id: string): LampReading {
  return { id, amps: 0, low: 0, high: 0, look: 'unlit', reverseVolts: 0 };
}
