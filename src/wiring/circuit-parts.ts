/** The parts of a wiring by circuit, so that one lever is found without walking all of them. */
import type { SwitchPart } from '../parts/index.ts';
import { grouped } from './grouped.ts';
import type {
  Circuit,
  Pin,
  Wire,
  WiredButton,
  WiredCapacitor,
  WiredContact,
  WiredDiode,
  WiredDrive,
  WiredLamp,
  WiredRelay,
  WiredResistor,
  WiredSupply,
  WiredSwitch,
  Wiring,
} from './types.ts';

type Pole = WiredSwitch['poles'][number];

/** What belongs to one circuit. */
export interface CircuitParts {
  readonly id: string;
  readonly place: number;
  readonly circuit: Circuit;
  readonly supply: WiredSupply;
  readonly supplies: readonly WiredSupply[];
  /** Share of the volts that a dimmer leaves its lamps at its lowest. */
  readonly dimmed: number;
  /** Its own lever's switch. */
  readonly switch: WiredSwitch | null;
  /** Poles that stand in it, its own lever's for the feed first. */
  readonly poles: readonly { readonly lever: string; readonly sprung: boolean; readonly pole: Pole }[];
  readonly contacts: readonly WiredContact[];
  readonly relays: readonly WiredRelay[];
  readonly buttons: readonly WiredButton[];
  readonly diodes: readonly WiredDiode[];
  readonly capacitors: readonly WiredCapacitor[];
  readonly wires: readonly Wire[];
  readonly pins: readonly Pin[];
  readonly resistors: readonly WiredResistor[];
  readonly lamps: readonly WiredLamp[];
  /** The group of lamps that stand in series with its drives: they stand at one edge of their bands. */
  readonly inSeries: string | null;
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
  /** What stands between a supply and its circuits: wires in order, feeder first, then from lever to lever; pins of returns; parts. */
  readonly chains: ReadonlyMap<string, SupplyParts>;
  /** The switch of each lever that has one, wired or not. */
  readonly parts: ReadonlyMap<string, SwitchPart>;
  /** Levers whose switch springs back. */
  readonly sprung: ReadonlySet<string>;
  /** The switch on another panel that works the same, by lever, and the other way about. */
  readonly twins: ReadonlyMap<string, string>;
  readonly twinOf: ReadonlyMap<string, string>;
  /** Circuits whose feed a relay holds, with that. */
  readonly latched: ReadonlyMap<string, WiredRelay>;
  /** The circuit of each group of lamps that stand in series with its drives. */
  readonly inSeries: ReadonlyMap<string, string>;
  /** How many lamps share a resistor side by side, by group and lie; lamps one behind the other are not counted. */
  readonly sideBySide: ReadonlyMap<string, number>;
}

/** What belongs to a supply and to no circuit alone. */
export interface SupplyParts {
  readonly wires: readonly Wire[];
  readonly pins: readonly Pin[];
  readonly resistors: readonly WiredResistor[];
  readonly diodes: readonly WiredDiode[];
  readonly capacitors: readonly WiredCapacitor[];
}

export const NO_PARTS: SupplyParts = { wires: [], pins: [], resistors: [], diodes: [], capacitors: [] };

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
  const diodes = grouped(wiring.diodes, (diode) => diode.circuit);
  const capacitors = grouped(wiring.capacitors, (capacitor) => capacitor.circuit);
  const contacts = grouped(wiring.contacts, (contact) => contact.circuit);
  const relays = grouped(wiring.relays, (relay) => relay.circuit);
  const buttons = grouped(wiring.buttons, (button) => button.circuit);
  const led = new Set(wiring.connectors.flatMap((connector) => connector.pins.map((pin) => pin.to)));
  const asked = grouped(wiring.drives, (drive) => drive.circuit ?? '');
  const switches = new Map(wiring.switches.map((each) => [each.id, each]));
  const twins = new Map(wiring.switches.flatMap(({ id, twinOf }) => (twinOf === undefined ? [] : [[twinOf, id]])));
  const supplies = new Map(wiring.supplies.map((supply) => [supply.id, supply]));
  const circuits = new Map<string, CircuitParts>();
  for (const [place, circuit] of wiring.circuits.entries()) {
    const supply = supplies.get(circuit.supply);
    if (supply === undefined)
      throw new RangeError(`circuit ${circuit.id} hangs on ${circuit.supply}, which is not wired`);
    const own = wires.get(circuit.id) ?? [];
    const each = switches.get(circuit.id) ?? null;
    const twin = switches.get(twins.get(circuit.id) ?? '') ?? null;
    const feeding = [each, twin].flatMap((at) =>
      (at?.poles ?? []).flatMap((pole) =>
        at === null || pole.use !== 'feed' || circuit.feed === null
          ? []
          : [{ lever: at.id, sprung: at.part.sprung, pole }],
      ),
    );
    const lighting = (contacts.get(circuit.id) ?? []).flatMap(({ id, carrier }) => {
      const at = carrier.kind === 'lever' ? switches.get(carrier.id) : undefined;
      const pole = at?.poles.find((other) => other.id === id);
      return at === undefined || pole === undefined ? [] : [{ lever: at.id, sprung: at.part.sprung, pole }];
    });
    circuits.set(circuit.id, {
      id: circuit.id,
      place,
      circuit,
      supply,
      supplies: circuit.supplies.flatMap((id) => supplies.get(id) ?? []),
      switch: each,
      poles: [...feeding, ...lighting],
      contacts: (contacts.get(circuit.id) ?? []).filter(({ carrier }) => carrier.kind !== 'lever'),
      relays: relays.get(circuit.id) ?? [],
      buttons: buttons.get(circuit.id) ?? [],
      diodes: diodes.get(circuit.id) ?? [],
      capacitors: capacitors.get(circuit.id) ?? [],
      wires: own,
      pins: pins.get(circuit.id) ?? [],
      resistors: resistors.get(circuit.id) ?? [],
      lamps: lamps.get(circuit.id) ?? [],
      inSeries: (lamps.get(circuit.id) ?? []).find(({ by }) => by === 'series')?.group ?? null,
      dimmed: circuit.dimmed,
      drives: (asked.get(circuit.id) ?? []).filter(
        (drive) => drive.feed !== null && (led.has(drive.a) || led.has(drive.b)),
      ),
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
    chains: new Map(
      wiring.supplies.map(({ id }) => [
        id,
        {
          wires: wires.get(id) ?? [],
          pins: pins.get(id) ?? [],
          resistors: resistors.get(id) ?? [],
          diodes: diodes.get(id) ?? [],
          capacitors: capacitors.get(id) ?? [],
        },
      ]),
    ),
    parts: new Map(wiring.switches.map(({ id, part }) => [id, part])),
    sprung: new Set(wiring.switches.filter(({ part }) => part.sprung).map(({ id }) => id)),
    twins,
    twinOf: new Map([...twins].map(([lever, twin]) => [twin, lever])),
    latched: new Map(wiring.relays.flatMap((relay) => (relay.holds === true ? [[relay.circuit, relay]] : []))),
    inSeries: new Map(wiring.lamps.flatMap(({ by, group, circuit }) => (by === 'series' ? [[group, circuit]] : []))),
    sideBySide,
  };
}
