/**
 * The wiring as a network for the solver: every wire, pin, contact, resistor, lamp, drive, fuse and supply is one element that
 * bears its own name, its ends are terminals. A pin has two sides: `A.7` towards the panel and `A.7:layout` under the layout.
 */
import type { CircuitElement, Netlist } from '../circuit/index.ts';
import { RESISTOR_BAND, VF_BAND } from '../lamps/index.ts';
import { type DiodeLaw, type LampPart, lampLaw } from '../parts/index.ts';
import { METER_BAND, METER_DIGITS, NO_OHMS, PARALLEL_SPREAD, STALL_BAND } from './tolerances.ts';
import type { Edge, Position, WiredDrive, WiredLamp, WiredSupply, Wiring } from './types.ts';

/** A corner of the bands. `high` is the edge at which most flows: high volts, low forward volts, low ohms. */
export interface Corner {
  readonly supply: Edge;
  /** Lamps and resistors that are judged: those of `group`, or all where it is null. */
  readonly lamps: Edge;
  /** Everything else that draws: drives, and the lamps of other groups. */
  readonly draw: Edge;
  readonly group: string | null;
  /** Of a parallel group, the lamp that stands apart from its neighbours. */
  readonly lamp: string | null;
}

export const NOMINAL: Corner = { supply: 'nominal', lamps: 'nominal', draw: 'nominal', group: null, lamp: null };

export interface NetlistOptions {
  /** Only the circuits of these levers; null: all. */
  readonly circuits: ReadonlySet<string> | null;
  readonly corner?: Corner;
}

const SIGN: Readonly<Record<Edge, number>> = { low: -1, nominal: 0, high: 1 };

/** The node of a pin's layout half. */
export function layoutSide(pin: string): string {
  return `${pin}:layout`;
}

/** The network with the levers so; a lever that is not named lies normal. */
export function netlistOf(
  wiring: Wiring,
  levers: Readonly<Record<string, Position>>,
  options: NetlistOptions,
): Netlist {
  const corner = options.corner ?? NOMINAL;
  const wanted = (circuit: string | null) =>
    circuit !== null && (options.circuits === null || options.circuits.has(circuit));
  const supplies = wiring.supplies.filter((supply) => supply.circuits.some(wanted));
  const supplyIds = new Set(supplies.map((supply) => supply.id));
  const elements: CircuitElement[] = [];

  for (const supply of supplies) {
    elements.push({
      kind: 'source',
      id: supply.id,
      a: `${supply.id}.p`,
      b: `${supply.id}.m`,
      volts: edgeVolts(supply, corner.supply),
      ohms: supply.ohms,
      says: `supply ${supply.id}`,
    });
    if (supply.fuse !== null) {
      const id = supply.fuse.id;
      elements.push({
        kind: 'contact',
        id,
        a: `${id}.1`,
        b: `${id}.2`,
        closed: true,
        ohms: NO_OHMS,
        says: `fuse ${id}`,
      });
    }
  }
  for (const each of wiring.switches) {
    if (!wanted(each.id)) continue;
    const position = levers[each.id] ?? 'normal';
    // A sprung switch is at rest between throws: let go, it touches neither side.
    const lies = each.part.sprung ? 'centre' : position;
    for (const pole of each.poles) {
      if (pole.use === 'spare') continue;
      for (const throwTo of ['normal', 'reverse'] as const) {
        elements.push({
          kind: 'contact',
          id: `${pole.id}=${throwTo}`,
          a: pole.common,
          b: pole[throwTo],
          closed: lies === throwTo,
          ohms: NO_OHMS,
          says: `pole ${pole.id} of lever ${each.id}, ${throwTo}`,
        });
      }
    }
  }
  for (const wire of wiring.wires) {
    if (!wanted(wire.circuit) && !supplyIds.has(wire.circuit)) continue;
    const end = (terminal: string, pin: boolean) => (wire.side === 'layout' && pin ? layoutSide(terminal) : terminal);
    elements.push({
      kind: 'wire',
      id: wire.id,
      a: end(wire.from, true),
      b: end(wire.to, false),
      ohms: wire.ohms,
      says: `wire ${wire.id}, ${wire.from} to ${wire.to}`,
    });
  }
  for (const connector of wiring.connectors) {
    for (const pin of connector.pins) {
      if (!wanted(pin.circuit)) continue;
      elements.push({
        kind: 'contact',
        id: pin.id,
        a: pin.id,
        b: layoutSide(pin.id),
        closed: true,
        ohms: NO_OHMS,
        says: `pin ${pin.id}`,
      });
    }
  }
  const parallel = new Map<string, number>();
  for (const lamp of wiring.lamps) parallel.set(sideOf(lamp), (parallel.get(sideOf(lamp)) ?? 0) + 1);
  for (const resistor of wiring.resistors) {
    if (!wanted(resistor.circuit)) continue;
    const ohms = resistor.ohms * (1 - RESISTOR_BAND * SIGN[edgeOf(resistor.group)]);
    elements.push({
      kind: 'resistor',
      id: resistor.id,
      a: resistor.a,
      b: resistor.b,
      ohms,
      says: `resistor ${resistor.id}`,
    });
  }
  for (const lamp of wiring.lamps) {
    if (!wanted(lamp.circuit)) continue;
    elements.push({
      kind: 'diode',
      id: lamp.id,
      a: lamp.anode,
      b: lamp.cathode,
      law: shifted(lamp.part, -lampShift(lamp)),
      probe: { name: lamp.id, sign: 1 },
      says: `lamp ${lamp.id}`,
    });
    if (lamp.guard !== null) {
      const { id, part } = lamp.guard;
      elements.push({
        kind: 'diode',
        id,
        a: `${id}.a`,
        b: `${id}.k`,
        law: part.law,
        says: `guard diode ${id} across lamp ${lamp.id}`,
      });
    }
  }
  for (const drive of wiring.drives) {
    if (!wanted(drive.circuit) || !isJoined(wiring, drive)) continue;
    const point = drive.points[0] ?? drive.id;
    const common = {
      id: drive.id,
      a: drive.a,
      b: drive.b,
      probe: { name: point, sign: normalSign(drive) },
      says: `drive ${drive.id} of point ${point}, ${drive.a} to ${drive.b}`,
    };
    if (drive.ohms === null) elements.push({ ...common, kind: 'open' });
    else elements.push({ ...common, kind: 'resistor', ohms: drive.ohms / (1 + drawShift(drive)) });
  }
  return { elements, reference: supplies[0] === undefined ? null : `${supplies[0].id}.m` };

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
      (parallel.get(sideOf(lamp)) ?? 1) > 1;
    return edge * ((lamp.part.vfTolerance ?? VF_BAND) - (neighbour ? PARALLEL_SPREAD : 0));
  }

  function drawShift(drive: WiredDrive): number {
    const edge = SIGN[corner.draw];
    if (!drive.measured) return edge * (drive.part.stallTolerance ?? STALL_BAND);
    const amps = drive.ohms === null || drive.part.stallVolts === null ? 0 : drive.part.stallVolts / drive.ohms;
    return amps > 0 ? edge * (METER_BAND + METER_DIGITS / amps) : 0;
  }
}

/** Lamps that share a resistor side by side, facing the same way. */
function sideOf(lamp: WiredLamp): string {
  return `${lamp.group} ${lamp.lie}`;
}

/** A drive for which no pin was left is joined to nothing. */
function isJoined(wiring: Wiring, drive: WiredDrive): boolean {
  return wiring.connectors.some((connector) => connector.pins.some((pin) => pin.to === drive.a || pin.to === drive.b));
}

/** +1 where current from tag a to tag b asks the drive's first point to go normal. */
export function normalSign(drive: WiredDrive): 1 | -1 {
  return drive.plusToA === (drive.whenNormal === 'normal') ? 1 : -1;
}

function edgeVolts(supply: WiredSupply, edge: Edge): number {
  return edge === 'low' ? supply.low : edge === 'high' ? supply.high : supply.volts;
}

/** A diode law moved by so many volts: the whole curve shifts along the axis of volts. */
function shifted(part: LampPart, volts: number): DiodeLaw {
  return lampLaw({ ...part, vf: part.vf + volts });
}
