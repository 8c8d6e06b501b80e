/**
 * Colour, gauge and length of every wire. Colours go by purpose: plus red, minus black, lamps grey and violet, and each drive a
 * colour of its own, plain for one wire of the pair and with white for the other. Green never stands with yellow.
 */
import type { Face } from '../face/index.ts';
import { DEFAULTS } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import type { Terminal, Wire, WiredDrive, Wiring } from '../wiring/index.ts';
import {
  BESIDE,
  CHAIN_GAUGE,
  LINK_LENGTH,
  PANEL_GAUGE,
  PULSE_CHAIN_GAUGE,
  PULSE_GAUGE,
  ROUND_UP,
  SLACK,
} from './tolerances.ts';
import type { CutWire, Loom } from './types.ts';

/** A colour for each drive in turn; its second wire has white beside it. */
const DRIVE_COLOURS = ['BN', 'OG', 'YE', 'GN', 'BU', 'PK', 'TQ'] as const;
const PLUS = 'RD';
const MINUS = 'BK';
/** The lowest of three rails, and what leads to a rail through a diode or a charging resistor. */
const LOWEST = 'BKWH';
const BEFORE_RAIL = 'RDWH';
const LAMPS_NEAR = 'GY';
const LAMPS_FAR = 'VT';
const LAMPS_MIDDLE = 'WH';

/** Cut every wire; in the order of the wiring. What the file fixes is kept. */
export function cutWires(wiring: Wiring, face: Face): Loom {
  const places = terminalPlaces(wiring, face);
  const runs = drivesByTerminal(wiring);
  const pinTo = new Map(
    wiring.connectors.flatMap((connector) => connector.pins.map((pin) => [pin.id, pin.to] as const)),
  );
  const supplies = new Map(wiring.supplies.map((supply) => [supply.id, supply]));
  const circuits = new Map(wiring.circuits.map((circuit) => [circuit.id, circuit]));
  const index = new Map(wiring.drives.map(({ id }, i) => [id, i]));
  /** The first drive of each circuit: its colours are those of the feed's own nets. */
  const firstDrive = new Map(
    wiring.circuits.map(({ id, drives }) => [id, wiring.drives.find((drive) => drives.includes(drive.id))]),
  );
  const throws = new Map(
    wiring.contacts.flatMap(({ normal, reverse }) => [
      ...(normal === null ? [] : [[normal, LAMPS_NEAR] as const]),
      ...(reverse === null ? [] : [[reverse, LAMPS_FAR] as const]),
    ]),
  );
  /** Nets of the panel by the pins that they reach: under the layout a wire goes on in the colour of its pin. */
  const netAt = new Map<Terminal, Wire>();
  for (const wire of wiring.wires)
    if (wire.side === 'panel') for (const end of [wire.from, wire.to]) if (pinTo.has(end)) netAt.set(end, wire);
  const low = lowRails(wiring);
  const overThere = new Set(
    wiring.switches.flatMap(({ twinOf, poles }) =>
      twinOf === undefined ? [] : poles.flatMap(({ normal, common, reverse }) => [normal, common, reverse]),
    ),
  );

  const wires = wiring.wires.map((wire): CutWire => {
    const owner = ownerOf(wire);
    const layout = wire.side === 'layout' ? (owner?.drive.wire ?? cableTo(wire)) : undefined;
    const measured = wire.length === null && wire.side === 'panel' ? panelLength(wire, places) : null;
    const { from, to, circuit, feeds, net, side, ohms, id, colour, gauge, length } = wire;
    return {
      from,
      to,
      circuit,
      feeds,
      net,
      side,
      ohms,
      id,
      colour: colour ?? colourOf(wire, owner),
      gauge: gauge ?? layout?.gauge ?? gaugeOf(wire),
      length: length ?? layout?.length ?? measured?.length ?? LINK_LENGTH,
      guess: length === null && (layout?.guess ?? measured?.guess ?? true),
    };
  });
  return { wires };

  /** The cable to a switch on another panel: from a pin of the plug, of a length that nobody has told. */
  function cableTo({ from, to }: Wire): (typeof DEFAULTS.wire & { readonly guess: true }) | undefined {
    return pinTo.get(from) === to && overThere.has(to) ? { ...DEFAULTS.wire, guess: true } : undefined;
  }

  /** The drive at one end of a wire, directly or through a pin. */
  function ownerOf(wire: Wire): AtDrive | undefined {
    const tag = [wire.to, wire.from].find((end) => runs.has(pinTo.get(end) ?? end));
    return tag === undefined ? undefined : runs.get(pinTo.get(tag) ?? tag);
  }

  function colourOf(wire: Wire, owner: AtDrive | undefined): string {
    // Through the plug the colour stays.
    const pin = [wire.from, wire.to].find((end) => netAt.has(end));
    const near = wire.side === 'layout' && pin !== undefined ? (netAt.get(pin) ?? wire) : wire;
    const { net } = near;
    const rail = railColour(net);
    if (rail !== null) return rail;
    if (owner !== undefined && owner.what !== 'contact') return driveColour(owner);
    const lit = throws.get(net);
    if (lit !== undefined) return lit;
    // What a pulse or charge feed joins before its drives: coil N plain, coil R with white.
    const own = firstDrive.get(near.circuit);
    const feed = circuits.get(near.circuit)?.feed;
    if ((feed === 'pulse' || feed === 'charge') && own !== undefined && isPulseNet(net))
      return driveColour({ drive: own, what: /(t3|r\.a)$/.test(net) ? 'second' : 'first' });
    return net.endsWith('.t2') ? LAMPS_NEAR : net.endsWith('.t5') ? LAMPS_FAR : LAMPS_MIDDLE;
  }

  /** Plus red, minus black; of three rails the lowest black with white; what is not yet a rail, before diode or charging resistor, red with white. */
  function railColour(net: Terminal): string | null {
    const [, rectified, side] = /^SD-(.+)([pm])\.[ka]$/.exec(net) ?? [];
    if (rectified !== undefined && supplies.has(rectified)) return side === 'p' ? PLUS : LOWEST;
    const [, charging] = /^R-(.+)\.2$/.exec(net) ?? [];
    if (charging !== undefined && supplies.has(charging)) return BEFORE_RAIL;
    const [, id, end] = /^(.+)\.([pm])$/.exec(net) ?? [];
    const supply = supplies.get(id ?? '');
    if (supply === undefined) return null;
    if (end === 'p') return supply.kind === 'ac' ? BEFORE_RAIL : PLUS;
    return low.has(net) ? LOWEST : MINUS;
  }

  function driveColour({ drive, what }: AtDrive): string {
    const plain = DRIVE_COLOURS[(index.get(drive.id) ?? 0) % DRIVE_COLOURS.length] ?? DRIVE_COLOURS[0];
    return what === 'second' ? `${plain}WH` : plain;
  }

  /** Pulses of some amps lose volts that a coil needs: thicker wire for all that they pass. */
  function gaugeOf({ circuit, net }: Wire): number {
    const supply = supplies.get(circuit);
    const feeds = supply === undefined ? [circuit] : supply.circuits;
    const gives = wiring.supplies.filter(({ from }) => from === circuit).length === 0;
    const pulsed = feeds.some((id) => {
      const each = circuits.get(id);
      return (each?.feed === 'pulse' || each?.feed === 'charge') && (supply === undefined || each.supply === circuit);
    });
    if (supply !== undefined) return pulsed && gives ? PULSE_CHAIN_GAUGE : CHAIN_GAUGE;
    return pulsed && firstDrive.get(circuit) !== undefined && isPulseNet(net) ? PULSE_GAUGE : PANEL_GAUGE;
  }
}

/** Nets of a lever's or button's own feed: its first pole, its capacitor and its steering diodes. */
function isPulseNet(net: Terminal): boolean {
  return /\.t[123]$/.test(net) || net.startsWith('CAP-') || net.startsWith('SD-');
}

/** What a drive's tag is to it. */
interface AtDrive {
  readonly drive: WiredDrive;
  /** The wire of tag 2 or coil N, the other of the pair, its common or plus, or a contact. */
  readonly what: 'first' | 'second' | 'common' | 'contact';
}

/** Every terminal under the layout that wires run to along a drive's own: its tags, its contacts, those on the blades it moves. */
function drivesByTerminal(wiring: Wiring): ReadonlyMap<Terminal, AtDrive> {
  const found = new Map<Terminal, AtDrive>();
  for (const drive of wiring.drives) {
    found.set(drive.a, { drive, what: drive.plusToA ? 'first' : 'second' });
    found.set(drive.b, { drive, what: drive.plusToA ? 'second' : 'first' });
    if (drive.com !== null) found.set(drive.com, { drive, what: 'common' });
  }
  for (const { carrier, common, normal, reverse } of wiring.contacts) {
    if (carrier.kind !== 'drive' && carrier.kind !== 'blades') continue;
    const [first] = carrier.points;
    const drive = wiring.drives.find(({ points }) => first !== undefined && points.includes(first.point));
    if (drive === undefined) continue;
    for (const tag of [common, normal, reverse]) if (tag !== null) found.set(tag, { drive, what: 'contact' });
  }
  return found;
}

/** The lowest rail of each split feed: the minus of its second supply. */
function lowRails(wiring: Wiring): ReadonlySet<Terminal> {
  return new Set(
    wiring.circuits.flatMap(({ feed, supplies }) =>
      feed === 'split' && supplies[1] !== undefined ? [`${supplies[1]}.m`] : [],
    ),
  );
}

interface TerminalPlace {
  readonly at: Spot;
  /** The file does not say where it is. */
  readonly guess: boolean;
}

/** Along the face, edge to edge, with slack at both ends; rounded up. */
function panelLength(
  wire: Wire,
  places: ReadonlyMap<Terminal, TerminalPlace>,
): { readonly length: number; readonly guess: boolean } | null {
  const [from, to] = [places.get(wire.from), places.get(wire.to)];
  if (from === undefined || to === undefined) return null;
  const along = Math.abs(from.at[0] - to.at[0]) + Math.abs(from.at[1] - to.at[1]);
  const length = along === 0 ? LINK_LENGTH : Math.ceil((along + SLACK) / ROUND_UP) * ROUND_UP;
  return { length, guess: from.guess || to.guess };
}

/** Where each terminal is on the face: lamps and levers where they stand, resistors and diodes at their lamps, shells along the lower edge. */
function terminalPlaces(wiring: Wiring, face: Face): ReadonlyMap<Terminal, TerminalPlace> {
  const places = new Map<Terminal, TerminalPlace>();
  const lampAt = new Map(face.lamps.map((lamp) => [lamp.id, lamp.at]));
  const leverAt = new Map(face.levers.map((lever) => [lever.id, lever.at]));
  for (const each of wiring.switches) {
    const at = leverAt.get(each.id);
    if (at === undefined) continue;
    for (const pole of each.poles)
      for (const tag of [pole.normal, pole.common, pole.reverse]) places.set(tag, { at, guess: false });
  }
  const firstOf = new Map<string, Spot>();
  for (const lamp of wiring.lamps) {
    const at = lampAt.get(lamp.id);
    if (at === undefined) continue;
    for (const end of [lamp.anode, lamp.cathode]) places.set(end, { at, guess: false });
    if (lamp.guard !== null) for (const end of ['a', 'k']) places.set(`${lamp.guard.id}.${end}`, { at, guess: false });
    if (!firstOf.has(lamp.group)) firstOf.set(lamp.group, at);
    firstOf.set(lamp.id, at);
  }
  for (const resistor of wiring.resistors) {
    const at = firstOf.get(resistor.id.slice('R-'.length)) ?? firstOf.get(resistor.group);
    if (at !== undefined) for (const end of [resistor.a, resistor.b]) places.set(end, { at, guess: false });
  }
  const buttonAt = new Map(face.holes.flatMap((hole) => (hole.what === 'button' ? [[hole.id, hole.at] as const] : [])));
  for (const { id, poles } of wiring.buttons) {
    const at = buttonAt.get(id);
    if (at !== undefined) for (const { a, b } of poles) for (const tag of [a, b]) places.set(tag, { at, guess: false });
  }
  /** Beside the switch that works them, where the file does not say. */
  const beside = (circuit: string): TerminalPlace => {
    const button = wiring.buttons.find((each) => each.circuit === circuit);
    const [x, y] = leverAt.get(circuit) ?? buttonAt.get(button?.id ?? '') ?? [face.width / 2, face.height / 2];
    return { at: [x, y + BESIDE], guess: true };
  };
  const relayAt = new Map(face.relays.map(({ id, at }) => [id, { at, guess: false }]));
  for (const { id, circuit, coils } of wiring.relays) {
    const place = relayAt.get(id) ?? beside(circuit);
    const tags = wiring.contacts.flatMap(({ carrier, common, normal, reverse }) =>
      carrier.id === id ? [common, normal, reverse] : [],
    );
    const diodes = coils.flatMap((coil) => [`${coil.diode}.a`, `${coil.diode}.k`]);
    for (const end of [...coils.flatMap(({ a, b }) => [a, b]), ...tags, ...diodes])
      if (end !== null) places.set(end, place);
  }
  const count = wiring.connectors.length + 1;
  const alongEdge = (i: number): TerminalPlace => ({
    at: [(face.width * (i + 1)) / (count + 1), face.height],
    guess: true,
  });
  for (const [i, supply] of wiring.supplies.entries()) {
    const at = i === 0 ? alongEdge(0) : { at: [0, face.height] as Spot, guess: true };
    for (const end of [`${supply.id}.p`, `${supply.id}.m`]) places.set(end, at);
    if (supply.fuse !== null) for (const end of ['1', '2']) places.set(`${supply.fuse.id}.${end}`, at);
  }
  for (const [i, connector] of wiring.connectors.entries())
    for (const pin of connector.pins) places.set(pin.id, alongEdge(i + 1));
  // Capacitors, diodes and charging resistors: at their supply, else beside their lever.
  const byCircuit = (circuit: string) => places.get(`${circuit}.p`) ?? beside(circuit);
  for (const { circuit, anode, cathode, what } of wiring.diodes)
    if (what !== 'flyback') for (const end of [anode, cathode]) places.set(end, byCircuit(circuit));
  for (const { circuit, plus, minus } of wiring.capacitors)
    for (const end of [plus, minus]) if (!places.has(end)) places.set(end, byCircuit(circuit));
  for (const { circuit, a, b } of wiring.resistors)
    for (const end of [a, b]) if (!places.has(end)) places.set(end, byCircuit(circuit));
  return places;
}
