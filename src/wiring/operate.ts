/** What stands everywhere in one setting of the levers, put together from islands: each is solved once in each of its states. */
import { type CircuitProblem, type OperatingPoint, solveDc } from '../circuit/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import { bladesAt, isThrown, isUnlinked, pushOf, sliderCan } from './blades.ts';
import { type CarrierLies, carrierLies, carriersOf, restOf } from './carrier-lies.ts';
import { partsOf } from './circuit-parts.ts';
import { hasCoils, otherLie } from './drives.ts';
import { type Fault, faultByCode, isOff } from './faults.ts';
import { swungIslands } from './half-wave.ts';
import { netlistOf, signOf } from './netlist-of.ts';
import { askIn, type Positions, standsIn } from './positions.ts';
import { pulls, pulseOf } from './pulses.ts';
import { relayHolding } from './relays.ts';
import { difference, type IslandReading, islandsWith, solveIsland } from './solve-island.ts';
import { MOVES_FROM } from './tolerances.ts';
import type { DriveReading, LampReading, Reading, WiredDrive, WiredRelay, Wiring } from './types.ts';

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

  const islands = islandsWith(wiring, faults);
  const swung = swungIslands(wiring, islands, levers, faults, lies);
  for (const island of islands) {
    const solved = swung.get(island) ?? solveIsland(wiring, island, levers, island, faults, lies);
    const { nominal } = solved;
    for (const reading of solved.lamps) lamps.set(reading.id, reading);
    for (const [lever, share] of sharesOf(wiring, island, levers, solved)) shares.set(lever, share);
    const supplies = new Set(island.flatMap((lever) => parts.circuits.get(lever)?.supplies ?? []));
    for (const { id, kind, railVolts } of supplies) {
      // A source's current is positive into its plus: what it delivers is the opposite.
      const amps = (nominal.amps.get(id) ?? 0) + (nominal.amps.get(`${id}-`) ?? 0);
      drawn.set(id, (drawn.get(id) ?? 0) + (solved.delivered === undefined ? -amps : (solved.delivered.get(id) ?? 0)));
      const terminals = difference(nominal.volts, `${id}.p`, `${id}.m`);
      if (kind === 'cdu') volts.set(id, isOff(faults, { id }) ? 0 : railVolts);
      else if (kind !== 'ac' && terminals !== null) volts.set(id, terminals);
    }
    problems.push(...nominal.problems);
    residual = Math.max(residual, nominal.residual);
  }

  return {
    // One that springs back by its last throw, in its middle where its twin was thrown last.
    levers: Object.fromEntries(leversOf(wiring).map((id) => [id, standsIn(wiring, levers, id, true)])),
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

/**
 * How drives, blades and relays lie in one setting once faults have had their way; where they may lie either way, as they lay before:
 * `history`. Of a point that buttons throw it says how it lay before the last press where that press did not take all of it along, drive,
 * blades and relay, else how it lies now. Of a drive of which nothing is asked and whose link is off it says how the blades lie: the drive
 * has been worked since.
 */
export function liesNow(
  wiring: Wiring,
  levers: Positions,
  faults: readonly Fault[] = [],
  history: Lies = {},
): CarrierLies {
  const asked = carrierLies(wiring, levers, history);
  if (faults.length === 0 || Object.keys(asked).length === 0) return asked;
  const islands = islandsWith(wiring, faults);
  // First the relays that hold feeds: what they feed goes where they lie.
  const holding = holders(wiring, levers, asked, faults, history, islands);
  const held = { ...asked, ...holding };
  const lies: Record<string, Lie> = { ...held };
  const settled = new Map<string, Settled>();
  for (const carrier of carriersOf(wiring).values()) {
    const [first] = carrier.points;
    const drive = wiring.drives.find(({ points }) => points.includes(first?.point ?? ''));
    if (first === undefined || drive === undefined || Object.hasOwn(holding, carrier.id)) continue;
    const now = settled.get(drive.id) ?? settle(drive);
    settled.set(drive.id, now);
    if (carrier.kind === 'relay') {
      const relay = wiring.relays.find(({ id }) => id === carrier.id);
      const goes =
        relay === undefined || now.island === null
          ? null
          : relayGoes(wiring, now.island, levers, asked, faults, relay, now.pressed);
      const before = history[first.point] ?? asked[carrier.id] ?? 'normal';
      lies[carrier.id] = keptAt(faults, carrier.id) ?? goes ?? before;
      continue;
    }
    const unlinked = carrier.kind === 'blades' && faults.some((fault) => isUnlinked(fault, first.point));
    const lie = unlinked ? (history[first.point] ?? 'normal') : bladesAt(drive, first.point, now.slider);
    lies[carrier.id] = lie === first.whenNormal ? 'normal' : 'reverse';
  }
  return lies;

  function settle(drive: WiredDrive): Settled {
    const point = drive.points[0] ?? '';
    const before = history[point] ?? 'normal';
    const island = islands.find((each) => each.includes(drive.circuit ?? '')) ?? null;
    const at = (pressed: Lies): Lie => {
      const push = island === null ? 0 : pushIn(wiring, island, levers, held, faults, drive, pressed);
      let can: readonly Lie[] = ['normal', 'reverse'];
      // Each fault that says more leaves less.
      for (const fault of faults) can = can.filter((lie) => sliderCan(drive, push, fault).includes(lie));
      const only = can.length === 1 ? can[0] : undefined;
      if (only !== undefined) return only;
      const unlinked = drive.points.filter((each) => faults.some((fault) => isUnlinked(fault, each)));
      const linked = drive.points.find((each) => !unlinked.includes(each) && Object.hasOwn(history, each));
      if (unlinked.length === 0 || isAsked(wiring, levers, drive)) return before;
      return linked === undefined ? otherLie(before) : bladesAt(drive, linked, history[linked] ?? 'normal');
    };
    if (!isPressed(wiring, drive)) return { island, slider: at({}), pressed: {} };
    const press = otherLie(before);
    const pressed = pressOf(drive, press);
    const slider = at(pressed);
    const whole =
      slider === press &&
      !faults.some((fault) => drive.points.some((each) => isUnlinked(fault, each))) &&
      wiring.relays.every(
        (relay) =>
          !drive.points.includes(relay.point) ||
          (keptAt(faults, relay.id) === undefined &&
            island !== null &&
            relayGoes(wiring, island, levers, asked, faults, relay, pressed) === pressed[relay.point]),
      );
    if (!whole) return { island, slider, pressed };
    const last = pressOf(drive, before);
    return { island, slider: at(last), pressed: last };
  }
}

/** Where relays that hold feeds lie: where the throw takes them; where it takes them nowhere, as their point lay. */
function holders(
  wiring: Wiring,
  levers: Positions,
  asked: CarrierLies,
  faults: readonly Fault[],
  history: Lies,
  islands: readonly (readonly string[])[],
): CarrierLies {
  return Object.fromEntries(
    wiring.relays.flatMap((relay) => {
      if (relay.holds !== true) return [];
      const island = islands.find((each) => each.includes(relay.circuit)) ?? [relay.circuit];
      const goes = relayGoes(wiring, island, levers, asked, faults, relay);
      const lies = keptAt(faults, relay.id) ?? goes ?? history[relay.point] ?? asked[relay.id] ?? 'normal';
      return [[relay.id, lies] as const];
    }),
  );
}

interface Settled {
  readonly island: readonly string[] | null;
  /** As a lie of the drive's first point. */
  readonly slider: Lie;
  readonly pressed: Lies;
}

/** Where a fault keeps a relay. */
function keptAt(faults: readonly Fault[], relay: string): Lie | undefined {
  return faults.flatMap(({ edits }) =>
    edits.flatMap((edit) => (edit.do === 'keep' && edit.carrier === relay ? [edit.at] : [])),
  )[0];
}

/** Is something asked of a drive with the levers so, or was it last thrown by a lever that sprang back? */
export function isAsked(wiring: Wiring, levers: Positions, drive: WiredDrive): boolean {
  if (isPressed(wiring, drive)) return true;
  const asked = drive.asks.some(({ whenNormal }) => whenNormal !== null);
  return asked && drive.circuit !== null && askIn(wiring, levers, drive.circuit) !== 'centre';
}

/** Do buttons alone throw a drive? */
export function isPressed(wiring: Wiring, drive: WiredDrive): boolean {
  return (
    drive.asks.every(({ whenNormal }) => whenNormal === null) &&
    wiring.buttons.some(({ poles }) => poles.some(({ point }) => drive.points.includes(point)))
  );
}

/** A press that takes the first point of a drive to a lie, told for all its points. */
export function pressOf(drive: WiredDrive, slider: Lie): Lies {
  return Object.fromEntries(drive.points.map((point) => [point, bladesAt(drive, point, slider)]));
}

/** What pushes a drive in one setting, contacts as they are told to lie. */
export function pushIn(
  wiring: Wiring,
  island: readonly string[],
  levers: Positions,
  lies: CarrierLies,
  faults: readonly Fault[],
  drive: WiredDrive,
  pressed: Lies = {},
): number {
  const point = isThrown(drive)
    ? solveDc(netlistOf(wiring, levers, { circuits: new Set(island), lies, faults, thrown: true, pressed }))
    : solveIsland(wiring, island, levers, island, faults, lies).nominal;
  return pushOf(drive, {
    across: (a, b) => difference(point.volts, a, b) ?? 0,
    amps: (element) => point.amps.get(element) ?? 0,
    pulls: (coil, amps) => pulls(wiring, drive, coil, amps, faults),
  });
}

/** Where the throw takes a relay, as a lie of its point; null where neither coil, or both, get half of what they are made for. */
export function relayGoes(
  wiring: Wiring,
  island: readonly string[],
  levers: Positions,
  lies: CarrierLies,
  faults: readonly Fault[],
  relay: WiredRelay,
  pressed: Lies = {},
): Lie | null {
  const point = solveDc(netlistOf(wiring, levers, { circuits: new Set(island), lies, faults, thrown: true, pressed }));
  const least = (MOVES_FROM * relay.part.coilVolts) / relay.part.coilOhms;
  const [sets, resets] = relay.coils.map(({ id }) => Math.abs(point.amps.get(id) ?? 0) >= least);
  // One that does not latch falls back by itself.
  if (!relay.part.latching) return sets === true ? 'reverse' : 'normal';
  return sets === resets ? null : sets === true ? 'reverse' : 'normal';
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
  // A lever that has sprung back holds no drive where it was thrown; a coil stays there by itself, and a relay holds it.
  const stays = drive.feed === 'pulse' || relayHolding(wiring, lever) !== null;
  const lies = !stays && restOf(wiring, lever, levers) === 'centre' ? 'centre' : askIn(wiring, levers, lever);
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
  const own = amps(drive.id);
  return { volts: difference(nominal.volts, drive.a, drive.b) ?? ownVolts(drive, own), amps: own };
}

/**
 * Volts at a drive that carries current while no volt can be told from where all volts are counted: a fault has cut its supplies from there,
 * and only a dark lamp still leads to it.
 */
function ownVolts({ ohms }: WiredDrive, amps: number): number {
  return ohms === null ? 0 : amps * ohms;
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
