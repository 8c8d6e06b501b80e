/**
 * Colour, gauge and length of every wire. Colours go by purpose: plus red, minus black, lamps grey and violet, and each drive a
 * colour of its own, plain for one wire of the pair and with white for the other. Green never stands with yellow.
 */
import type { Face } from '../face/index.ts';
import type { Spot } from '../units/index.ts';
import type { Terminal, Wire, WiredDrive, Wiring } from '../wiring/index.ts';
import { CHAIN_GAUGE, LINK_LENGTH, PANEL_GAUGE, ROUND_UP, SLACK } from './tolerances.ts';
import type { CutWire, Loom } from './types.ts';

/** A colour for each drive in turn; its second wire has white beside it. */
const DRIVE_COLOURS = ['BN', 'OG', 'YE', 'GN', 'BU', 'PK', 'TQ'] as const;
const PLUS = 'RD';
const MINUS = 'BK';
const LAMPS_NEAR = 'GY';
const LAMPS_FAR = 'VT';
const LAMPS_MIDDLE = 'WH';

/** Cut every wire; in the order of the wiring. What the file fixes is kept. */
export function cutWires(wiring: Wiring, face: Face): Loom {
  const places = terminalPlaces(wiring, face);
  const driveOf = new Map<string, { readonly drive: WiredDrive; readonly index: number }>();
  for (const [index, drive] of wiring.drives.entries()) {
    driveOf.set(drive.a, { drive, index });
    driveOf.set(drive.b, { drive, index });
  }
  const pinTo = new Map(
    wiring.connectors.flatMap((connector) => connector.pins.map((pin) => [pin.id, pin.to] as const)),
  );
  const supplies = new Set(wiring.supplies.map((supply) => supply.id));

  const wires = wiring.wires.map((wire): CutWire => {
    const tag = [wire.to, wire.from].find((end) => driveOf.has(pinTo.get(end) ?? end));
    const owner = tag === undefined ? undefined : driveOf.get(pinTo.get(tag) ?? tag);
    const layout = wire.side === 'layout' ? owner?.drive.wire : undefined;
    const measured = wire.length === null && wire.side === 'panel' ? panelLength(wire, places) : null;
    const { colour, gauge, length, ...rest } = wire;
    return {
      ...rest,
      colour: colour ?? colourOf(wire, owner?.index),
      gauge: gauge ?? layout?.gauge ?? (supplies.has(wire.circuit) ? CHAIN_GAUGE : PANEL_GAUGE),
      length: length ?? layout?.length ?? measured?.length ?? LINK_LENGTH,
      guess: length === null && (layout?.guess ?? measured?.guess ?? true),
    };
  });
  return { wires };

  function colourOf(wire: Wire, driveIndex: number | undefined): string {
    if (wire.net.endsWith('.p')) return PLUS;
    if (wire.net.endsWith('.m')) return MINUS;
    const first = wire.net.endsWith('.t2');
    if (driveIndex !== undefined) {
      const plain = DRIVE_COLOURS[driveIndex % DRIVE_COLOURS.length] ?? DRIVE_COLOURS[0];
      return first ? plain : `${plain}WH`;
    }
    return first ? LAMPS_NEAR : wire.net.endsWith('.t5') ? LAMPS_FAR : LAMPS_MIDDLE;
  }
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
  return places;
}
