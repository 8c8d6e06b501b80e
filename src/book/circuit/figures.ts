/**
 * Everything that stands in one circuit in one setting, with a single thing broken or nothing: volts of each terminal, amps of each element,
 * the look of each lamp with its band, the sum of each string step by step, and which lamps lie.
 *
 * Idea: volts, amps and bands are those of the circuit's own island, solved for it alone where something is broken; whether a lamp
 * lies is told as the proof of single faults tells it: by where the drive's slider can be with what then stands at its tags.
 * Cost: one island for each position of the lever; while all is well the panel keeps them.
 */
import type { Derived, LeverPositions } from '../../derive.ts';
import type { LampUse } from '../../lamps/index.ts';
import type { Lie, Lies } from '../../panel/index.ts';
import { darkBelow, forwardVolts, lampLaw } from '../../parts/index.ts';
import { holds, verdictOf } from '../../truth/index.ts';
import type { Volt } from '../../units/index.ts';
import {
  bladesAt,
  type CarrierLies,
  type Circuit,
  carrierLies,
  difference,
  drivesByPoint,
  type Fault,
  faultByCode,
  type IslandReading,
  islandsWith,
  isThrown,
  isUnlinked,
  type LampReading,
  layoutSide,
  liesNow,
  netlistOf,
  otherLie,
  type Position,
  positionIn,
  pushIn,
  type Reading,
  sliderCan,
  solveIsland,
  type WiredDrive,
  type WiredLamp,
  type Wiring,
} from '../../wiring/index.ts';
import { under } from '../circuit-parts.ts';
import { placesOf } from './fault-places.ts';
import type { CircuitFigures, DriveFigures, LampFigures, PositionSum, Says, StringSum } from './figure-types.ts';

/** What figures need of what is derived. */
export type Solvable = Pick<Derived, 'wiring' | 'lamps' | 'operate'>;

export interface FiguresAsked {
  readonly levers: LeverPositions;
  readonly fault: Fault | null;
  /** How points lay of which nothing is asked, or which a fault stops. */
  readonly history: Lies;
}

interface Point {
  readonly lamps: readonly LampReading[];
  readonly drives: Reading['drives'];
  readonly problems: number;
  readonly volts: ReadonlyMap<string, Volt | null>;
  readonly amps: ReadonlyMap<string, number>;
  readonly closed: CircuitFigures['closed'];
}

/** Figures of a circuit of the panel. */
export function circuitFigures(derived: Solvable, circuit: Circuit, asked: FiguresAsked): CircuitFigures {
  const { wiring } = derived;
  const own = circuit.positions.length > 0;
  const now = pointAt(derived, circuit, asked);
  const position = own ? positionIn(asked.levers, circuit.id) : null;
  const sums: readonly PositionSum[] = own
    ? circuit.positions
        .filter((each) => each !== 'centre')
        .map((each) => {
          const levers = { ...asked.levers, [circuit.id]: each };
          const there = each === position ? now : pointAt(derived, circuit, { ...asked, levers });
          return { position: each, strings: sumsOf(derived, circuit, there, each, levers, asked.history) };
        })
    : [{ position: null, strings: sumsOf(derived, circuit, now, null, asked.levers, asked.history) }];
  const volts: Record<string, Volt | null> = {};
  for (const [node, at] of now.volts) volts[node] = at;
  for (const { pins } of wiring.connectors)
    for (const { id } of pins) {
      const side = now.volts.get(layoutSide(id));
      if (side !== undefined) volts[under(id)] = side;
    }
  return {
    circuit: circuit.id,
    position,
    volts,
    amps: Object.fromEntries(now.amps),
    closed: now.closed,
    lamps: lampsOf(derived, circuit, now, asked),
    drives: drivesOf(derived, circuit, now),
    sums,
    broken: asked.fault === null ? [] : placesOf(derived.wiring, asked.fault),
    unsolved: now.problems > 0,
  };
}

function pointAt(derived: Solvable, circuit: Circuit, { levers, fault, history }: FiguresAsked): Point {
  const { wiring } = derived;
  const faults = fault === null ? [] : [fault];
  const lies = liesNow(wiring, levers, faults, history);
  const solved = solveAt(wiring, circuit, levers, faults, lies);
  const volts = new Map(solved.nominal.volts);
  const amps = new Map<string, number>();
  const closed: Record<string, 'normal' | 'reverse' | 'both' | 'none'> = {};
  for (const [element, through] of solved.nominal.amps) {
    // A contact is two elements, one for each throw.
    const [id = element] = element.split('=');
    amps.set(id, (amps.get(id) ?? 0) + (through ?? 0));
  }
  for (const element of netlistOf(wiring, levers, { circuits: new Set([circuit.id]), faults, lies }).elements) {
    if (element.kind !== 'contact') continue;
    const [contact = '', side] = element.id.split('=');
    if (side !== 'normal' && side !== 'reverse') continue;
    const before = closed[contact] ?? 'none';
    if (element.closed) closed[contact] = before === 'none' ? side : 'both';
    else closed[contact] = before;
  }
  const asked = derived.operate(levers, [], history);
  if (circuit.feed !== 'half-wave')
    return { volts, amps, closed, lamps: solved.lamps, problems: solved.nominal.problems.length, drives: asked.drives };
  // Means over a cycle, where the panel's reading takes an alternating supply as it is.
  const reading = fault === null ? asked : derived.operate(levers, faults, history);
  for (const { circuit: of, node, volts: at } of reading.nodes) if (of === circuit.id) volts.set(node, at);
  for (const { id, amps: through } of reading.lamps) amps.set(id, through);
  return { volts, amps, closed, lamps: reading.lamps, problems: reading.problems.length, drives: asked.drives };
}

/** The circuit's island; with a supply that a fault shorts dead it is off, as the panel's reading has it. */
function solveAt(
  wiring: Wiring,
  circuit: Circuit,
  levers: LeverPositions,
  faults: readonly Fault[],
  lies: CarrierLies,
): IslandReading {
  const island = islandsWith(wiring, faults).find((each) => each.includes(circuit.id)) ?? [circuit.id];
  // While all is well the whole island is judged: the panel has solved and kept that already.
  const judged = faults.length === 0 ? island : [circuit.id];
  const solved = solveIsland(wiring, island, levers, judged, faults, lies);
  const shorted = solved.nominal.problems.flatMap((problem) =>
    problem.code === 'source-shorted' ? (faultByCode(wiring, `off:${problem.source}`) ?? []) : [],
  );
  return shorted.length === 0 ? solved : solveIsland(wiring, island, levers, judged, [...faults, ...shorted], lies);
}

function drivesOf({ wiring }: Solvable, circuit: Circuit, { volts, amps, drives }: Point): readonly DriveFigures[] {
  return wiring.drives
    .filter((drive) => drive.circuit === circuit.id)
    .map((drive) => ({
      id: drive.id,
      points: drive.points,
      volts: difference(volts, drive.a, drive.b),
      amps: amps.get(drive.id) ?? 0,
      moves: drives.find((each) => each.drive === drive.id)?.moves ?? null,
    }));
}

function lampsOf(derived: Solvable, circuit: Circuit, point: Point, asked: FiguresAsked): readonly LampFigures[] {
  const uses = new Map(derived.lamps.map((lamp) => [lamp.id, lamp]));
  const bladesOf = bladesCan(derived, circuit, point, asked);
  return derived.wiring.lamps
    .filter((lamp) => lamp.circuit === circuit.id)
    .flatMap((lamp): LampFigures[] => {
      const use = uses.get(lamp.id);
      const read = point.lamps.find(({ id }) => id === lamp.id);
      if (use === undefined || read === undefined) return [];
      const seen = verdictOf(use, { low: read.low, high: read.high, least: read.amps, most: read.amps });
      const { says, blades } = saysOf(use, seen, bladesOf);
      const { amps, low, high, look, reverseVolts } = read;
      return [
        {
          id: lamp.id,
          amps,
          low,
          high,
          look,
          seen,
          reverse: reverseVolts,
          limit: lamp.part.reverse,
          claim: use.claim,
          kind: use.kind,
          basis: use.basis,
          says,
          blades,
        },
      ];
    });
}

/** How the blades of a point can lie in the setting. */
type Blades = (point: string) => readonly Lie[];

function bladesCan(
  { wiring }: Solvable,
  circuit: Circuit,
  solved: Point,
  { levers, fault, history }: FiguresAsked,
): Blades {
  const drives = drivesByPoint(wiring);
  const faults = fault === null ? [] : [fault];
  const known = new Map<string, readonly Lie[]>();
  return (point) => {
    const before = known.get(point);
    if (before !== undefined) return before;
    const found = findOf(point);
    known.set(point, found);
    return found;
  };

  function findOf(point: string): readonly Lie[] {
    const drive = drives.get(point);
    const told = history[point];
    if (drive === undefined) return told === undefined ? ['normal', 'reverse'] : [told];
    const ask = drive.asks.find((each) => each.point === point);
    if (fault === null) {
      const position = drive.circuit === null ? 'centre' : positionIn(levers, drive.circuit);
      if (ask?.whenNormal == null || position === 'centre') return told === undefined ? ['normal', 'reverse'] : [told];
      return [position === 'normal' ? ask.whenNormal : otherLie(ask.whenNormal)];
    }
    if (isUnlinked(fault, point)) return ['normal', 'reverse'];
    const can = sliderCan(drive, pushAt(drive), fault);
    return [...new Set(can.map((slider) => bladesAt(drive, point, slider)))];
  }

  /** A motor of this circuit is pushed by what stands at its tags there; what throws coils and boards is told by the throw. */
  function pushAt(drive: WiredDrive): number {
    if (drive.circuit === circuit.id && !isThrown(drive) && drive.feed !== 'contact' && drive.feed !== null)
      return drive.ohms === null
        ? (difference(solved.volts, drive.a, drive.b) ?? 0)
        : (solved.amps.get(drive.id) ?? 0) * drive.ohms;
    const island = islandsWith(wiring, faults).find((each) => each.includes(drive.circuit ?? ''));
    if (island === undefined) return 0;
    return pushIn(wiring, island, levers, liesNow(wiring, levers, faults, history), faults, drive);
  }
}

function saysOf(use: LampUse, seen: LampFigures['seen'], bladesOf: Blades): { says: Says; blades: Lies } {
  const points = [...new Set(use.claim.flatMap((claim) => Object.keys(claim)))];
  if (points.length === 0 || points.length > MOST_POINTS) return { says: 'nothing', blades: {} };
  let lies: Lies[] = [{}];
  for (const point of points) lies = lies.flatMap((each) => bladesOf(point).map((lie) => ({ ...each, [point]: lie })));
  const lit = seen === 'lit';
  const tells = (blades: Lies): boolean => {
    const should = use.claim.some((claim) => holds(claim, blades));
    return lit ? should : !should || !use.speaksWhenDark;
  };
  const untrue = lies.filter((blades) => !tells(blades));
  const [first] = untrue;
  if (seen === 'doubtful') return { says: 'may lie', blades: first ?? {} };
  if (first === undefined) {
    const said = lit || use.speaksWhenDark;
    return { says: said ? 'true' : 'nothing', blades: {} };
  }
  return { says: untrue.length === lies.length ? 'lies' : 'may lie', blades: first };
}

/** A claim on more points than these is not gone through blade by blade: 2 to this many lies. */
const MOST_POINTS = 8;

function sumsOf(
  derived: Solvable,
  circuit: Circuit,
  { lamps: read, volts, amps }: Point,
  position: Position | null,
  levers: LeverPositions,
  history: Lies,
): readonly StringSum[] {
  const { wiring } = derived;
  const uses = new Map(derived.lamps.map((lamp) => [lamp.id, lamp]));
  const reads = new Map(read.map((lamp) => [lamp.id, lamp]));
  const lies = carrierLies(wiring, levers, history);
  const isMeant = (lamp: WiredLamp): boolean => {
    if (lamp.by !== 'contacts') return position === null || lamp.lie === position;
    if (lamp.cube === null) return true;
    // What is no drive, blade or relay that carries contacts is a lever.
    return Object.entries(lamp.cube).every(([id, lie]) => (lies[id] ?? positionIn(levers, id)) === lie);
  };
  const own = wiring.lamps.filter((lamp) => lamp.circuit === circuit.id);
  const sums: StringSum[] = [];
  for (const group of circuit.groups) {
    const lamps = own.filter((lamp) => lamp.group === group);
    const strings = stringsOf(lamps.filter(isMeant));
    const dark = stringsOf(lamps.filter((lamp) => !isMeant(lamp)));
    const resistors = wiring.resistors.filter((each) => each.group === group && each.circuit === circuit.id);
    const shared = resistors.length === 1 && strings.length > 0;
    const alike = shared ? strings.slice(0, 1) : strings;
    for (const string of alike) {
      const [first] = string;
      const use = first === undefined ? undefined : uses.get(first.id);
      if (first === undefined || use === undefined) continue;
      const resistor =
        resistors.find(({ id }) => id === `R-${first.of}` || id === `R-${first.id}`) ?? resistors[0] ?? null;
      const each = string.map((lamp) => difference(volts, lamp.anode, lamp.cathode) ?? 0);
      const lampVolts = each.reduce((sum, at) => sum + at, 0);
      const drop = resistor === null || resistor.ohms === 0 ? 0 : Math.abs(amps.get(resistor.id) ?? 0) * resistor.ohms;
      const drive = first.by === 'series' ? (wiring.drives.find(({ circuit: of }) => of === circuit.id) ?? null) : null;
      const driveDrop = drive === null ? 0 : Math.abs(difference(volts, drive.a, drive.b) ?? 0);
      const reversed = dark.find((other) => other.some((lamp) => (reads.get(lamp.id)?.reverseVolts ?? 0) > 0));
      const parts = string.map((lamp) => lamp.part);
      const figures = string.flatMap((lamp) => reads.get(lamp.id) ?? []);
      const low = Math.min(...figures.map((read) => read.low));
      const high = Math.max(...figures.map((read) => read.high));
      const through = figures[0]?.amps ?? 0;
      sums.push({
        group,
        lamps: string.map(({ id }) => id),
        resistor:
          resistor === null || resistor.ohms === 0
            ? null
            : { id: resistor.id, ohms: resistor.ohms, from: resistor.ohmsFrom },
        drive: drive?.id ?? null,
        across: lampVolts + drop + driveDrop,
        volts: each,
        left: drop + driveDrop,
        amps: through,
        strings: shared ? strings.length : 1,
        low,
        high,
        wants: parts.reduce((sum, part) => sum + forwardVolts(lampLaw(part), use.current), 0),
        wanted: use.current,
        seenFrom: use.part.seen,
        darkTo: darkBelow(use.part),
        most: Math.min(...parts.map((part) => part.max)),
        seen: verdictOf(use, { low, high, least: through, most: through }),
        look: figures[0]?.look ?? 'unlit',
        dark:
          reversed === undefined
            ? null
            : {
                lamps: reversed.map(({ id }) => id),
                volts: Math.max(...reversed.map((lamp) => reads.get(lamp.id)?.reverseVolts ?? 0)),
                limit: Math.min(...reversed.map((lamp) => lamp.part.reverse)),
              },
      });
    }
  }
  return sums;
}

/** Lamps one behind the other, each string in the order of the wiring. */
function stringsOf(lamps: readonly WiredLamp[]): readonly (readonly WiredLamp[])[] {
  const strings = new Map<string, WiredLamp[]>();
  for (const lamp of lamps) {
    const key = lamp.series ?? `lamp ${lamp.id}`;
    strings.set(key, [...(strings.get(key) ?? []), lamp]);
  }
  return [...strings.values()];
}
