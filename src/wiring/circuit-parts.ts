/** The parts of a wiring by circuit, so that one lever is found without walking all of them. */
import { grouped } from './grouped.ts';
import type { Pin, Wire, WiredDrive, WiredLamp, WiredResistor, WiredSupply, WiredSwitch, Wiring } from './types.ts';

/** What belongs to one lever. */
export interface CircuitParts {
  readonly id: string;
  readonly place: number;
  readonly supply: WiredSupply;
  /** Share of the volts that a dimmer leaves its lamps at its lowest. */
  readonly dimmed: number;
  readonly switch: WiredSwitch | null;
  readonly wires: readonly Wire[];
  readonly pins: readonly Pin[];
  readonly resistors: readonly WiredResistor[];
  readonly lamps: readonly WiredLamp[];
  /** Those that pins lead to. */
  readonly drives: readonly WiredDrive[];
  /** All that its lever asks, pins or not. */
  readonly asked: readonly WiredDrive[];
  /** Terminals of its own wires, each once, in order. */
  readonly terminals: readonly string[];
}

export interface WiringParts {
  /** In the order of the wiring. */
  readonly circuits: ReadonlyMap<string, CircuitParts>;
  /** The wires of a supply that serve several levers, in order: feeder first, then from lever to lever. */
  readonly chains: ReadonlyMap<string, readonly Wire[]>;
  /** How many lamps share a resistor side by side, by group and lie; lamps one behind the other are not counted. */
  readonly sideBySide: ReadonlyMap<string, number>;
}

const PARTS = new WeakMap<Wiring, WiringParts>();

/** The parts by circuit, gathered once for each wiring. */
export function partsOf(wiring: Wiring): WiringParts {
  const known = PARTS.get(wiring);
  if (known !== undefined) return known;
  const parts = gather(wiring);
  PARTS.set(wiring, parts);
  return parts;
}

/** The group and lie of a lamp: those that share both, and stand in no string, share one resistor's current. */
export function sideOf(lamp: WiredLamp): string {
  return `${lamp.group} ${lamp.lie}`;
}

function gather(wiring: Wiring): WiringParts {
  const wires = grouped(wiring.wires, (wire) => wire.circuit);
  const pins = grouped(
    wiring.connectors.flatMap((connector) => connector.pins),
    (pin) => pin.circuit,
  );
  const resistors = grouped(wiring.resistors, (resistor) => resistor.circuit);
  const lamps = grouped(wiring.lamps, (lamp) => lamp.circuit);
  const led = new Set(wiring.connectors.flatMap((connector) => connector.pins.map((pin) => pin.to)));
  const asked = grouped(wiring.drives, (drive) => drive.circuit ?? '');
  const switches = new Map(wiring.switches.map((each) => [each.id, each]));
  const supplies = new Map(wiring.supplies.map((supply) => [supply.id, supply]));
  const circuits = new Map<string, CircuitParts>();
  for (const [place, circuit] of wiring.circuits.entries()) {
    const supply = supplies.get(circuit.supply);
    if (supply === undefined)
      throw new RangeError(`circuit ${circuit.id} hangs on ${circuit.supply}, which is not wired`);
    const own = wires.get(circuit.id) ?? [];
    circuits.set(circuit.id, {
      id: circuit.id,
      place,
      supply,
      switch: switches.get(circuit.id) ?? null,
      wires: own,
      pins: pins.get(circuit.id) ?? [],
      resistors: resistors.get(circuit.id) ?? [],
      lamps: lamps.get(circuit.id) ?? [],
      dimmed: circuit.dimmed,
      drives: (asked.get(circuit.id) ?? []).filter((drive) => led.has(drive.a) || led.has(drive.b)),
      asked: asked.get(circuit.id) ?? [],
      terminals: [...new Set(own.flatMap((wire) => [wire.from, wire.to]))],
    });
  }
  const owned = new Set(wiring.resistors.map((resistor) => resistor.id));
  const sideBySide = new Map<string, number>();
  for (const lamp of wiring.lamps) {
    // A lamp with a resistor of its own shares with none.
    if (lamp.series === null && !owned.has(`R-${lamp.id}`))
      sideBySide.set(sideOf(lamp), (sideBySide.get(sideOf(lamp)) ?? 0) + 1);
  }
  return {
    circuits,
    chains: new Map(wiring.supplies.map((supply) => [supply.id, wires.get(supply.id) ?? []])),
    sideBySide,
  };
}
