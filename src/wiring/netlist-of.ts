/**
 * The wiring as a network for the solver: every wire, pin, contact, resistor, lamp, drive, fuse and supply is one element that
 * bears its own name, its ends are terminals. A pin has two sides: `A.7` towards the panel and `A.7:layout` under the layout.
 */
import { type CircuitElement, cycleMeans, type Netlist } from '../circuit/index.ts';
import { RESISTOR_BAND, VF_BAND } from '../lamps/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import { type DiodeLaw, type LampPart, lampLaw, lawExists } from '../parts/index.ts';
import type { Volt } from '../units/index.ts';
import { isWay } from './allot-pins.ts';
import { withFaults } from './apply-faults.ts';
import { type CarrierLies, carrierLies } from './carrier-lies.ts';
import { type CircuitParts, NO_PARTS, partsOf, sideOf } from './circuit-parts.ts';
import { hasCoils } from './drives.ts';
import { type Fault, isOff } from './faults.ts';
import { layoutSide } from './layout-side.ts';
import { type Positions, positionIn, standsIn } from './positions.ts';
import { railNames } from './rails.ts';
import { NO_OHMS, PARALLEL_SPREAD, RELAY_HENRIES } from './tolerances.ts';
import type {
  Edge,
  Position,
  Wire,
  WiredCapacitor,
  WiredDiode,
  WiredDrive,
  WiredLamp,
  WiredSupply,
  Wiring,
} from './types.ts';

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
  /** How drives, blades and relays lie; absent: where the levers ask them to be. */
  readonly lies?: CarrierLies;
  /** What is broken; nothing unless said. */
  readonly faults?: readonly Fault[];
  /** Leave supplies and their chains out: the circuits alone. */
  readonly bare?: boolean;
  /** Levers that spring back are held where they were thrown, and capacitors give what they hold: what throws coils. */
  readonly thrown?: boolean;
  /** Lies that buttons were last pressed for, by point: while what is thrown is told, those buttons are closed. */
  readonly pressed?: Lies;
  /** Alternating supplies, diodes and capacitors as they are, for a run through time; else each rail is a source of its own. */
  readonly time?: boolean;
  /** Alternating supplies, their diodes and capacitors as they are, all else at rest: what means over a cycle are taken of. */
  readonly swings?: boolean;
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
  const lies = options.lies ?? carrierLies(wiring, levers);
  const elements: CircuitElement[] = [];
  const supplies = wiring.supplies.filter((supply) => wanted.some((circuit) => circuit.supplies.includes(supply)));
  if (options.bare !== true) for (const supply of supplies) addSupply(supply);
  for (const circuit of wanted) addCircuit(circuit);
  const broken = options.faults ?? [];
  const shown = broken.length === 0 ? elements : withFaults(elements, wiring, levers, broken);
  const netlist = { elements: shown, reference: supplies[0] === undefined ? null : `${supplies[0].id}.m` };
  return options.time === true && supplies.some(({ kind }) => kind === 'ac') ? begunSettled(netlist) : netlist;

  function addSupply(supply: WiredSupply): void {
    const { id, fuse } = supply;
    const inside = parts.chains.get(id) ?? NO_PARTS;
    const still = supply.kind === 'ac' && options.time !== true && options.swings !== true;
    if (still) addRails(supply);
    else if (supply.kind !== 'cdu') addSource(supply);
    if (fuse !== null) addClosed(fuse.id, `${fuse.id}.1`, `${fuse.id}.2`, `fuse ${fuse.id}`);
    // From circuit to circuit, as far as the last that is wanted: what lies behind it carries nothing for it.
    const asked = new Set(wanted.map((circuit) => circuit.id));
    const last = Math.max(...supply.circuits.map((circuit, i) => (asked.has(circuit) ? i : -1)));
    const along = new Set(supply.circuits.slice(0, last + 1));
    for (const wire of inside.wires) if (wire.feeds === null || along.has(wire.feeds)) addWire(wire);
    for (const pin of inside.pins) addClosed(pin.id, pin.id, layoutSide(pin.id), `pin ${pin.id}`);
    for (const { id: name, a, b, ohms } of inside.resistors)
      elements.push({ kind: 'resistor', id: name, a, b, ohms, says: `resistor ${name}` });
    if (still) return;
    addDiodes(inside.diodes);
    addCapacitors(inside.capacitors);
  }

  function addSource(supply: WiredSupply): void {
    const { id } = supply;
    const held = options.held?.get(id);
    const says = held === undefined ? `supply ${id}` : `supply ${id}, held down by its limit`;
    const common = { kind: 'source', id, a: `${id}.p`, b: `${id}.m`, ohms: supply.ohms } as const;
    if (supply.kind !== 'ac') elements.push({ ...common, volts: held ?? openVolts(supply, corner), says });
    else {
      const swing = { peak: supply.volts * Math.SQRT2, hertz: supply.frequency };
      elements.push({ ...common, volts: 0, swing, says: `supply ${id}, alternating` });
    }
  }

  /** The two rails of a half-wave feed at what they hold. */
  function addRails(supply: WiredSupply): void {
    const { id, ohms } = supply;
    const volts = openVolts(supply, corner);
    const minus = railNames.minus(id);
    const [plus, low] = [railNames.rectifiedPlus(id), railNames.rectifiedMinus(id)];
    const at = (rail: string) => options.held?.get(rail) ?? volts;
    elements.push({ kind: 'source', id, a: plus, b: minus, volts: at(plus), ohms, says: `plus rail of ${id}` });
    const says = `minus rail of ${id}`;
    elements.push({ kind: 'source', id: `${id}-`, a: minus, b: low, volts: at(low), ohms, says });
  }

  function addDiodes(diodes: readonly WiredDiode[]): void {
    for (const { id, anode, cathode, part, what } of diodes)
      elements.push({ kind: 'diode', id, a: anode, b: cathode, law: part.law, says: `${what} diode ${id}` });
  }

  function addCapacitors(capacitors: readonly WiredCapacitor[]): void {
    for (const { id, circuit, plus, minus, farads } of capacitors) {
      const common = { id, a: plus, b: minus, says: `capacitor ${id}` };
      if (options.thrown === true) elements.push({ ...common, kind: 'source', volts: chargeOf(circuit), ohms: 0 });
      else elements.push({ ...common, kind: 'capacitor', farads, volts: restOfCapacitor(circuit) });
    }
  }

  /** Volts that a capacitor holds when it throws a coil: a unit's own; of a charge feed those of the throw before. */
  function chargeOf(owner: string): Volt {
    const unit = wiring.supplies.find(({ id }) => id === owner);
    if (unit !== undefined) return unit.railVolts;
    const supply = parts.circuits.get(owner)?.supply;
    return positionIn(levers, owner) === 'reverse' ? (supply?.railVolts ?? 0) : 0;
  }

  /** Volts that a capacitor holds when all has come to rest. */
  function restOfCapacitor(owner: string): Volt {
    const supply = wiring.supplies.find(({ id }) => id === owner);
    if (supply !== undefined) return supply.railVolts * timesOf(supply.from ?? supply.id);
    const own = parts.circuits.get(owner)?.supply;
    return own !== undefined && positionIn(levers, owner) === 'normal' ? own.railVolts * timesOf(own.id) : 0;
  }

  /** How many times its own volts a supply gives that is low or high; none where it is off. */
  function timesOf(supply: string): number {
    const edits = (options.faults ?? []).flatMap((fault) => fault.edits);
    if (isOff(options.faults ?? [], { id: supply })) return 0;
    return edits.reduce(
      (times, edit) => (edit.do === 'volts' && edit.element === supply ? times * edit.times : times),
      1,
    );
  }

  function addCircuit(circuit: CircuitParts): void {
    for (const { lever, pole } of circuit.poles) {
      // A sprung switch is at rest between throws: let go, it touches neither side.
      const position = standsIn(wiring, levers, lever, options.thrown === true);
      for (const throwTo of ['normal', 'reverse'] as const)
        addContact(
          pole.id,
          pole.common,
          pole[throwTo],
          throwTo,
          position,
          `pole ${pole.id} of lever ${lever}, ${throwTo}`,
        );
    }
    for (const { id, carrier, common, normal, reverse } of circuit.contacts) {
      const at = Object.hasOwn(lies, carrier.id) ? lies[carrier.id] : undefined;
      for (const [throwTo, tag] of [
        ['normal', normal],
        ['reverse', reverse],
      ] as const)
        if (tag !== null)
          addContact(id, common, tag, throwTo, at ?? 'normal', `contact ${id} of ${carrier.id}, ${throwTo}`);
    }
    for (const { poles } of circuit.buttons)
      for (const { id, a, b, point, lie } of poles)
        elements.push({
          kind: 'contact',
          id: `${id}=closed`,
          a,
          b,
          closed: isPressed(circuit, point, lie),
          ohms: NO_OHMS,
          says: `button ${id}`,
        });
    for (const wire of circuit.wires) addWire(wire);
    for (const pin of circuit.pins) addClosed(pin.id, pin.id, layoutSide(pin.id), `pin ${pin.id}`);
    for (const { id, group, a: from, b: to, ohms } of circuit.resistors) {
      const edge = 1 - RESISTOR_BAND * SIGN[edgeOf(group)];
      elements.push({ kind: 'resistor', id, a: from, b: to, ohms: ohms * edge, says: `resistor ${id}` });
    }
    addDiodes(circuit.diodes);
    addCapacitors(circuit.capacitors);
    for (const { part, coils } of circuit.relays)
      for (const { id, a, b } of coils)
        elements.push({ kind: 'coil', id, a, b, ohms: part.coilOhms, henries: RELAY_HENRIES, says: `coil ${id}` });
    for (const lamp of circuit.lamps) addLamp(lamp);
    for (const drive of circuit.drives) addDrive(drive);
  }

  /** Is the button pole on a coil pressed: does that coil take its point where the press wants it? */
  function isPressed(circuit: CircuitParts, point: string, coil: Lie): boolean {
    const wanted = options.thrown === true ? options.pressed?.[point] : undefined;
    const ask = circuit.drives.flatMap(({ asks }) => asks).find((each) => each.point === point);
    if (wanted === undefined || ask === undefined) return false;
    return (wanted === ask.goes) === (coil === 'normal');
  }

  function addContact(id: string, a: string, b: string, throwTo: Lie, position: Position, says: string): void {
    elements.push({ kind: 'contact', id: `${id}=${throwTo}`, a, b, closed: position === throwTo, ohms: NO_OHMS, says });
  }

  function addClosed(id: string, from: string, to: string, says: string): void {
    elements.push({ kind: 'contact', id, a: from, b: to, closed: true, ohms: NO_OHMS, says });
  }

  function addWire(wire: Wire): void {
    elements.push({
      kind: 'wire',
      id: wire.id,
      a: wire.side === 'layout' && isWay(wire.from) ? layoutSide(wire.from) : wire.from,
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
    const { part } = drive;
    if (drive.com !== null && hasCoils(part)) {
      const held = part.what === 'twin-coil';
      for (const [coil, tag] of [
        ['n', drive.a],
        ['r', drive.b],
      ] as const) {
        const id = `${drive.id}.${coil}`;
        const says = `coil ${coil.toUpperCase()} of drive ${drive.id} of point ${point}`;
        // The coil that takes the drive to its points' normal is read as N.
        const towards = ((coil === 'n') === (drive.asks[0]?.goes === 'normal')) === drive.plusToA ? 'N' : 'R';
        const probe = { name: `${point}${towards}`, sign: 1 } as const;
        // Behind the second steering diode of a charge feed the current comes from the common: read as positive all the same.
        const back = drive.feed === 'charge' && (tag === drive.b) === drive.plusToA;
        const ends = { id, a: back ? drive.com : tag, b: back ? tag : drive.com, probe, says };
        // One that breaks its own coil at the end of its travel has done so.
        if (held || options.thrown === true)
          elements.push({ ...ends, kind: 'coil', ohms: part.coilOhms ?? 0, henries: part.coilHenries ?? 0 });
        else elements.push({ ...ends, kind: 'open' });
      }
      return;
    }
    if (drive.com !== null && drive.feed === 'contact') {
      // The board's own resistor draws its input up to its volts.
      const ohms = (part.volts?.high ?? 0) / (part.inputAmps ?? 1);
      const probe = { name: point, sign: -1 } as const;
      const says = `input of drive ${drive.id} of point ${point}`;
      elements.push({ kind: 'resistor', id: drive.id, a: drive.com, b: drive.a, ohms, probe, says });
      return;
    }
    const common = {
      id: drive.id,
      a: drive.a,
      b: drive.b,
      probe: { name: point, sign: normalSign(drive) },
      says: `drive ${drive.id} of point ${point}, ${drive.a} to ${drive.b}`,
    };
    if (drive.ohms === null) elements.push({ ...common, kind: 'open' });
    else {
      // What lamps in series carry goes through the drives: most where those draw most.
      const own = parts.circuits.get(drive.circuit ?? '')?.inSeries ?? null;
      const amps = 1 + SIGN[own === null ? corner.draw : edgeOf(own)] * drive.ampsBand;
      // A meter that reads nothing for sure says no more than that the motor may be open.
      if (amps <= 0) elements.push({ ...common, kind: 'open' });
      else elements.push({ ...common, kind: 'resistor', ohms: drive.ohms / amps });
    }
  }

  function edgeOf(group: string): Edge {
    if (corner.group === null || corner.group === group) return corner.lamps;
    // What stands in series carries one current, and is judged together.
    const line = parts.inSeries.get(group);
    return line !== undefined && line === parts.inSeries.get(corner.group) ? corner.lamps : corner.draw;
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

/** Capacitors that begin with what they hold where a settled cycle begins: from what they would hold at rest some take many seconds. */
function begunSettled(netlist: Netlist): Netlist {
  const held = cycleMeans(netlist)?.held;
  if (held === undefined) return netlist;
  const elements = netlist.elements.map((element) =>
    element.kind === 'capacitor' ? { ...element, volts: held.get(element.id) ?? element.volts } : element,
  );
  return { ...netlist, elements };
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
  const volts = corner.supply === 'low' ? supply.low : corner.supply === 'high' ? supply.high : supply.railVolts;
  return volts * corner.dimmed;
}

/** A diode law moved by so many volts along the axis of volts; where that leaves no junction, the typical law stands. */
function shifted(part: LampPart, volts: number): DiodeLaw {
  const vf = part.vf + volts;
  return lampLaw(lawExists(vf, part.at, part.n, part.rs) ? { ...part, vf } : part);
}
