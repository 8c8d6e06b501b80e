/**
 * The wiring as a network for the solver: every wire, pin, contact, resistor, lamp, drive, fuse and supply is one element that
 * bears its own name, its ends are terminals. A pin has two sides: `A.7` towards the panel and `A.7:layout` under the layout.
 */
import type { CircuitElement, Netlist } from '../circuit/index.ts';
import { RESISTOR_BAND, VF_BAND } from '../lamps/index.ts';
import type { Lie } from '../panel/index.ts';
import { type DiodeLaw, type LampPart, lampLaw, lawExists } from '../parts/index.ts';
import type { Volt } from '../units/index.ts';
import { withFaults } from './apply-faults.ts';
import { type CircuitParts, partsOf, sideOf } from './circuit-parts.ts';
import type { Fault } from './faults.ts';
import { layoutSide } from './layout-side.ts';
import { type Positions, positionIn } from './positions.ts';
import { NO_OHMS, PARALLEL_SPREAD } from './tolerances.ts';
import type { Edge, Wire, WiredDrive, WiredLamp, WiredSupply, Wiring } from './types.ts';

/** A corner of the bands. `high` is the edge at which most flows: high volts, low forward volts, low ohms. */
export interface Corner {
  readonly supply: Edge;
  /** Share of the supply's volts that a dimmer lets through; 1 without. */
  readonly dimmed: number;
  /** Lamps and resistors that are judged: those of `group`, or all where it is null. */
  readonly lamps: Edge;
  /** Everything else that draws: drives, and the lamps of other groups. */
  readonly draw: Edge;
  readonly group: string | null;
  /** Of a parallel group, the lamp that stands apart from its neighbours. */
  readonly lamp: string | null;
}

export const NOMINAL: Corner = {
  supply: 'nominal',
  dimmed: 1,
  lamps: 'nominal',
  draw: 'nominal',
  group: null,
  lamp: null,
};

export interface NetlistOptions {
  /** Only the circuits of these levers; null: all. */
  readonly circuits: ReadonlySet<string> | null;
  readonly corner?: Corner;
  /** EMF of supplies that their limit holds below their own volts. */
  readonly held?: ReadonlyMap<string, Volt>;
  /** What is broken; nothing unless said. */
  readonly faults?: readonly Fault[];
  /** Leave supplies and their chains out: the levers alone. */
  readonly bare?: boolean;
}

const SIGN: Readonly<Record<Edge, number>> = { low: -1, nominal: 0, high: 1 };

/** The network with the levers so; a lever that is not named lies normal. */
export function netlistOf(wiring: Wiring, levers: Positions, options: NetlistOptions): Netlist {
  const corner = options.corner ?? NOMINAL;
  const parts = partsOf(wiring);
  const wanted =
    options.circuits === null
      ? [...parts.circuits.values()]
      : [...options.circuits].flatMap((id) => parts.circuits.get(id) ?? []).sort((a, b) => a.place - b.place);
  const elements: CircuitElement[] = [];
  const supplies = wiring.supplies.filter((supply) => wanted.some((circuit) => circuit.supply === supply));
  if (options.bare !== true) for (const supply of supplies) addSupply(supply);
  for (const circuit of wanted) addCircuit(circuit);
  const broken = options.faults ?? [];
  const shown = broken.length === 0 ? elements : withFaults(elements, wiring, levers, broken);
  return { elements: shown, reference: supplies[0] === undefined ? null : `${supplies[0].id}.m` };

  function addSupply(supply: WiredSupply): void {
    const { id, fuse } = supply;
    const held = options.held?.get(id);
    const volts = held ?? openVolts(supply, corner);
    const says = held === undefined ? `supply ${id}` : `supply ${id}, held down by its limit`;
    elements.push({ kind: 'source', id, a: `${id}.p`, b: `${id}.m`, volts, ohms: supply.ohms, says });
    if (fuse !== null) addClosed(fuse.id, `${fuse.id}.1`, `${fuse.id}.2`, `fuse ${fuse.id}`);
    // From lever to lever, as far as the last that is wanted: what lies behind it carries nothing for it.
    const asked = new Set(wanted.map((circuit) => circuit.id));
    const last = Math.max(...supply.circuits.map((circuit, i) => (asked.has(circuit) ? i : -1)));
    const along = supply.circuits.slice(0, last + 1);
    const reached = new Set(along.flatMap((circuit) => [`${circuit}.t1`, `${circuit}.t4`]));
    for (const wire of parts.chains.get(id) ?? []) {
      const lever = wire.to.endsWith('.t1') || wire.to.endsWith('.t4');
      if (!lever || reached.has(wire.to)) addWire(wire);
    }
  }

  function addCircuit(circuit: CircuitParts): void {
    const position = positionIn(levers, circuit.id);
    // A sprung switch is at rest between throws: let go, it touches neither side.
    const lies = circuit.switch?.part.sprung === true ? 'centre' : position;
    for (const pole of circuit.switch?.poles ?? []) {
      if (pole.use === 'spare') continue;
      for (const throwTo of ['normal', 'reverse'] as const) {
        elements.push({
          kind: 'contact',
          id: `${pole.id}=${throwTo}`,
          a: pole.common,
          b: pole[throwTo],
          closed: lies === throwTo,
          ohms: NO_OHMS,
          says: `pole ${pole.id} of lever ${circuit.id}, ${throwTo}`,
        });
      }
    }
    for (const wire of circuit.wires) addWire(wire);
    for (const pin of circuit.pins) addClosed(pin.id, pin.id, layoutSide(pin.id), `pin ${pin.id}`);
    for (const { id, group, a: from, b: to, ohms } of circuit.resistors) {
      const edge = 1 - RESISTOR_BAND * SIGN[edgeOf(group)];
      elements.push({ kind: 'resistor', id, a: from, b: to, ohms: ohms * edge, says: `resistor ${id}` });
    }
    for (const lamp of circuit.lamps) addLamp(lamp);
    for (const drive of circuit.drives) addDrive(drive);
  }

  function addClosed(id: string, from: string, to: string, says: string): void {
    elements.push({ kind: 'contact', id, a: from, b: to, closed: true, ohms: NO_OHMS, says });
  }

  function addWire(wire: Wire): void {
    elements.push({
      kind: 'wire',
      id: wire.id,
      a: wire.side === 'layout' ? layoutSide(wire.from) : wire.from,
      b: wire.to,
      ohms: wire.ohms,
      says: `wire ${wire.id}, ${wire.from} to ${wire.to}`,
    });
  }

  function addLamp(lamp: WiredLamp): void {
    elements.push({
      kind: 'diode',
      id: lamp.id,
      a: lamp.anode,
      b: lamp.cathode,
      law: shifted(lamp.part, -lampShift(lamp)),
      probe: { name: lamp.id, sign: 1 },
      says: `lamp ${lamp.id}`,
    });
    if (lamp.guard === null) return;
    const { id, part } = lamp.guard;
    const says = `guard diode ${id} across lamp ${lamp.id}`;
    elements.push({ kind: 'diode', id, a: `${id}.a`, b: `${id}.k`, law: part.law, says });
  }

  function addDrive(drive: WiredDrive): void {
    const point = drive.points[0] ?? drive.id;
    const common = {
      id: drive.id,
      a: drive.a,
      b: drive.b,
      probe: { name: point, sign: normalSign(drive) },
      says: `drive ${drive.id} of point ${point}, ${drive.a} to ${drive.b}`,
    };
    if (drive.ohms === null) elements.push({ ...common, kind: 'open' });
    else {
      const amps = 1 + SIGN[corner.draw] * drive.ampsBand;
      // A meter that reads nothing for sure says no more than that the motor may be open.
      if (amps <= 0) elements.push({ ...common, kind: 'open' });
      else elements.push({ ...common, kind: 'resistor', ohms: drive.ohms / amps });
    }
  }

  function edgeOf(group: string): Edge {
    return corner.group === null || corner.group === group ? corner.lamps : corner.draw;
  }

  /** By how many volts the lamp's forward volts stand below typical. */
  function lampShift(lamp: WiredLamp): number {
    const edge = SIGN[edgeOf(lamp.group)];
    const neighbour =
      corner.lamp !== null &&
      corner.lamp !== lamp.id &&
      corner.group === lamp.group &&
      (parts.sideBySide.get(sideOf(lamp)) ?? 0) > 1;
    return edge * ((lamp.part.vfTolerance ?? VF_BAND) - (neighbour ? PARALLEL_SPREAD : 0));
  }
}

/** +1 where current from tag a to tag b asks the drive's first point to go normal. */
export function normalSign(drive: WiredDrive): 1 | -1 {
  return signOf(drive, drive.whenNormal);
}

/** The same of any of its points, by the lie that the lever's normal asks of it. */
export function signOf(drive: WiredDrive, whenNormal: Lie): 1 | -1 {
  return drive.plusToA === (whenNormal === 'normal') ? 1 : -1;
}

/** A supply's EMF at a corner of the bands, with nothing on it. */
export function openVolts(supply: WiredSupply, corner: Corner): Volt {
  const volts = corner.supply === 'low' ? supply.low : corner.supply === 'high' ? supply.high : supply.volts;
  return volts * corner.dimmed;
}

/** A diode law moved by so many volts along the axis of volts; where that leaves no junction, the typical law stands. */
function shifted(part: LampPart, volts: number): DiodeLaw {
  const vf = part.vf + volts;
  return lampLaw(lawExists(vf, part.at, part.n, part.rs) ? { ...part, vf } : part);
}
