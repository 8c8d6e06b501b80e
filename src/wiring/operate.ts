/** What stands everywhere in one setting of the levers, put together from islands: each is solved once in each of its states. */
import { type CircuitProblem, type OperatingPoint, solveDc } from '../circuit/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import { bladesAt, isThrown, isUnlinked, pushOf, sliderCan } from './blades.ts';
import { type CarrierLies, carrierLies, carriersOf, restOf } from './carrier-lies.ts';
import { partsOf } from './circuit-parts.ts';
import { hasCoils, otherLie } from './drives.ts';
import { type Fault, faultByCode, isOff } from './faults.ts';
import { netlistOf, signOf } from './netlist-of.ts';
import { type Positions, positionIn } from './positions.ts';
import { pulseOf } from './pulses.ts';
import { difference, type IslandReading, islandsWith, solveIsland } from './solve-island.ts';
import type { DriveReading, LampReading, Reading, WiredDrive, Wiring } from './types.ts';

type Nodes = Reading['nodes'];

/** What one lever adds to the reading of the panel. */
interface Share {
  readonly drives: ReadonlyMap<string, readonly DriveReading[]>;
  readonly nodes: Nodes;
}

/**
 * Everything in one setting, with what is broken; a lever that is not named lies normal. `history`: how points lie of which nothing is
 * asked, or which a fault stops; normal where it does not say. A supply without ohms that a fault shorts is off for all its levers: its
 * terminals stand at 0 V, as behind the least resistance they would.
 */
export function operate(wiring: Wiring, levers: Positions, faults: readonly Fault[] = [], history: Lies = {}): Reading {
  const reading = operateOnce(wiring, levers, faults, history);
  const shorted = wiring.supplies.filter(
    (supply) =>
      !isOff(faults, supply) &&
      reading.problems.some((problem) => problem.code === 'source-shorted' && problem.source === supply.id),
  );
  if (shorted.length === 0) return reading;
  const off = shorted.flatMap((supply) => faultByCode(wiring, `off:${supply.id}`) ?? []);
  return { ...operateOnce(wiring, levers, [...faults, ...off], history), problems: reading.problems };
}

function operateOnce(wiring: Wiring, levers: Positions, faults: readonly Fault[], history: Lies): Reading {
  const parts = partsOf(wiring);
  const lies = liesNow(wiring, levers, faults, history);
  const lamps = new Map<string, LampReading>();
  const shares = new Map<string, Share>();
  const volts = new Map<string, number>();
  const drawn = new Map<string, number>();
  const problems: CircuitProblem[] = [];
  let residual = 0;

  for (const island of islandsWith(wiring, faults)) {
    const solved = solveIsland(wiring, island, levers, island, faults, lies);
    const { nominal } = solved;
    for (const reading of solved.lamps) lamps.set(reading.id, reading);
    for (const [lever, share] of sharesOf(wiring, island, levers, solved)) shares.set(lever, share);
    const supplies = new Set(island.flatMap((lever) => parts.circuits.get(lever)?.supplies ?? []));
    for (const { id, kind, railVolts } of supplies) {
      // A source's current is positive into its plus: what it delivers is the opposite.
      const amps = (nominal.amps.get(id) ?? 0) + (nominal.amps.get(`${id}-`) ?? 0);
      drawn.set(id, (drawn.get(id) ?? 0) - amps);
      const terminals = difference(nominal.volts, `${id}.p`, `${id}.m`);
      if (kind === 'cdu') volts.set(id, isOff(faults, { id }) ? 0 : railVolts);
      else if (kind !== 'ac' && terminals !== null) volts.set(id, terminals);
    }
    problems.push(...nominal.problems);
    residual = Math.max(residual, nominal.residual);
  }

  return {
    levers: Object.fromEntries(leversOf(wiring).map((id) => [id, positionIn(levers, id)])),
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

/** Levers of all circuits, in their order. */
function leversOf(wiring: Wiring): readonly string[] {
  return [...new Set(wiring.circuits.flatMap((circuit) => circuit.levers))];
}

/** How drives, blades and relays lie in one setting once faults have had their way; where they may lie either way, as they lay before. */
export function liesNow(
  wiring: Wiring,
  levers: Positions,
  faults: readonly Fault[] = [],
  history: Lies = {},
): CarrierLies {
  const asked = carrierLies(wiring, levers, history);
  if (faults.length === 0 || Object.keys(asked).length === 0) return asked;
  const islands = islandsWith(wiring, faults);
  const lies: Record<string, Lie> = { ...asked };
  for (const carrier of carriersOf(wiring).values()) {
    const [first] = carrier.points;
    const drive = wiring.drives.find(({ points }) => points.includes(first?.point ?? ''));
    if (first === undefined || drive === undefined) continue;
    const kept = faults.flatMap(({ edits }) =>
      edits.flatMap((edit) => (edit.do === 'keep' && edit.carrier === carrier.id ? [edit.at] : [])),
    );
    if (carrier.kind === 'relay') {
      lies[carrier.id] = kept[0] ?? asked[carrier.id] ?? 'normal';
      continue;
    }
    const island = islands.find((each) => each.includes(drive.circuit ?? ''));
    const push = island === undefined ? 0 : pushIn(wiring, island, levers, asked, faults, drive);
    let can: readonly Lie[] = ['normal', 'reverse'];
    // Each fault that says more leaves less.
    for (const fault of faults) can = can.filter((lie) => sliderCan(drive, push, fault).includes(lie));
    const before = history[drive.points[0] ?? ''] ?? 'normal';
    const slider = can.length === 1 ? (can[0] ?? before) : before;
    const unlinked = carrier.kind === 'blades' && faults.some((fault) => isUnlinked(fault, first.point));
    const lie = unlinked ? (history[first.point] ?? 'normal') : bladesAt(drive, first.point, slider);
    lies[carrier.id] = lie === first.whenNormal ? 'normal' : 'reverse';
  }
  return lies;
}

/** What pushes a drive in one setting, contacts as they are told to lie. */
export function pushIn(
  wiring: Wiring,
  island: readonly string[],
  levers: Positions,
  lies: CarrierLies,
  faults: readonly Fault[],
  drive: WiredDrive,
): number {
  const point = isThrown(drive)
    ? solveDc(netlistOf(wiring, levers, { circuits: new Set(island), lies, faults, thrown: true }))
    : solveIsland(wiring, island, levers, island, faults, lies).nominal;
  return pushOf(drive, {
    across: (a, b) => difference(point.volts, a, b) ?? 0,
    amps: (element) => point.amps.get(element) ?? 0,
  });
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
    shares.set(lever, {
      drives: new Map(circuit.asked.map((drive) => [drive.id, driveReadings(wiring, drive, levers, solved)])),
      // Every terminal of the circuit with its volts, in the order of its wires.
      nodes: circuit.terminals.map((node) => ({ circuit: lever, node, volts: solved.nominal.volts.get(node) ?? null })),
    });
  }
  SHARES.set(solved, shares);
  return shares;
}

function driveReadings(
  wiring: Wiring,
  drive: WiredDrive,
  levers: Positions,
  { nominal }: IslandReading,
): readonly DriveReading[] {
  const { volts, amps } = atDrive(drive, nominal);
  const pulse = pulseOf(wiring, drive);
  const lever = drive.circuit ?? '';
  // A lever that has sprung back holds no drive where it was thrown; a coil stays there by itself.
  const lies =
    drive.feed !== 'pulse' && restOf(wiring, lever, levers) === 'centre' ? 'centre' : positionIn(levers, lever);
  return drive.asks.map(({ point, whenNormal, goes }): DriveReading => {
    const sign = signOf(drive, whenNormal ?? goes);
    const asked = lies === 'centre' || whenNormal === null ? null : whenNormal;
    return {
      point,
      drive: drive.id,
      volts: unsigned(sign * volts),
      amps: unsigned(sign * amps),
      moves: asked === null || lies === 'normal' ? asked : otherLie(asked),
      pulse,
    };
  });
}

/** What stands at a drive's tags, a above b: of two coils that of coil a less that of coil b, of a driver board its input's. */
function atDrive(drive: WiredDrive, nominal: OperatingPoint): { readonly volts: number; readonly amps: number } {
  const amps = (id: string) => nominal.amps.get(id) ?? 0;
  if (hasCoils(drive.part)) {
    const com = drive.com ?? '';
    const [n, r] = [drive.a, drive.b].map((tag) => difference(nominal.volts, tag, com) ?? 0);
    const [ampsN, ampsR] = [amps(`${drive.id}.n`), amps(`${drive.id}.r`)];
    // Coils that carry nothing stand at rest, whatever their open ends read.
    return ampsN === 0 && ampsR === 0 ? { volts: 0, amps: 0 } : { volts: (n ?? 0) - (r ?? 0), amps: ampsN - ampsR };
  }
  if (drive.feed === 'contact') {
    const sign = drive.plusToA ? -1 : 1;
    return { volts: sign * (difference(nominal.volts, drive.com ?? '', drive.a) ?? 0), amps: sign * amps(drive.id) };
  }
  return { volts: difference(nominal.volts, drive.a, drive.b) ?? 0, amps: amps(drive.id) };
}

/** A drive whose lever has no circuit: nothing reaches it and nothing is asked of it. */
function stillReadings(drive: WiredDrive): readonly DriveReading[] {
  return drive.points.map((point) => ({ point, drive: drive.id, volts: 0, amps: 0, moves: null, pulse: null }));
}

/** No minus zero in answers. */
function unsigned(value: number): number {
  return value === 0 ? 0 : value;
}

function darkReading(id: string): LampReading {
  return { id, amps: 0, low: 0, high: 0, look: 'unlit', reverseVolts: 0 };
}
