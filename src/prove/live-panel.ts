/** Stage 3: the panel unplugged, on a feed that limits itself, with a test plug of dummy loads. */
import { type LampGroup, RESISTOR_BAND } from '../lamps/index.ts';
import {
  type Ampere,
  formatAmps,
  formatNumber,
  formatOhms,
  formatVolts,
  type Ohm,
  preferred,
  type Watt,
} from '../units/index.ts';
import {
  type Circuit,
  difference,
  type LampReading,
  type Position,
  type Reading,
  relayHolding,
  type WiredCapacitor,
  type WiredDrive,
  type WiredSupply,
  type Wiring,
} from '../wiring/index.ts';
import { contactsAtPins, type DrivePins, drivesAtPins, type MotorPins } from './at-pins.ts';
import { type Band, bandsOverlap, panelVolts, voltsOnMeter } from './bands.ts';
import { dischargeWords } from './bench-coils.ts';
import { twinLinkWords } from './bench-twins.ts';
import { atCorners } from './corners.ts';
import { linkWords, type Operate, type PanelState, setWords, statesOfCircuit } from './panel-states.ts';
import {
  COIL_LOAD,
  DERATE,
  DIODE_HIGH,
  DRY_JOINT,
  LIMIT_MARGIN,
  LIMIT_STEP,
  NOTHING,
  RATINGS,
  RELAY_BAND,
  STEERING_LEFT,
} from './tolerances.ts';
import type { BenchTest, Expect } from './types.ts';

export interface LiveInput {
  readonly wiring: Wiring;
  readonly groups: readonly LampGroup[];
  readonly operate: Operate;
}

export const EXTRA_LOW =
  'Extra-low voltage only: a plug-in, isolated, certified supply, and nothing of the panel joined to mains, rails or bus.';

/** Volts at each drive's pins and which lamps are lit, for each setting of each circuit. */
export function liveTests({ wiring, groups, operate }: LiveInput): readonly BenchTest[] {
  const drives = drivesAtPins(wiring);
  const contacts = contactsAtPins(wiring);
  const sprung = sprungLevers(wiring);
  const loaded = withDummies(wiring);
  const kept = dischargeWords(wiring);
  return wiring.circuits.flatMap((circuit) => {
    const supply = wiring.supplies.find((each) => each.id === circuit.supply);
    if (supply === undefined) return [];
    const mine = drives.filter((each) => each.circuit === circuit.id);
    return statesOfCircuit(wiring, circuit).map((state): BenchTest => {
      const { lever } = state;
      const reading = operate(state.levers, [], state.history);
      const volts = panelVolts(supply, reading);
      const lamps = reading.lamps.filter(({ id }) => circuit.lamps.includes(id));
      const first = mine.find((at) => at.kind === 'motor');
      const holds = circuit.feed === 'pulse';
      const latched = relayHolding(wiring, circuit.id) !== null;
      const plug = mine.length === 0 ? '' : `, test plug in: ${dummies(mine, supply)}`;
      const set = holds
        ? heldWords(state)
        : lever === null || latched
          ? setWords({ ...state, history: {} }, latched)
          : leverWords(state);
      return {
        id: `live:${state.name}`,
        stage: 3,
        lever,
        do: `${EXTRA_LOW}${kept} Panel unplugged from the layout${plug}.${linkWords(wiring, contacts, state)}${twinLinkWords(wiring, lever, twinAt(state))} ${feedWords(wiring, circuit, supply, mine)} ${set}; red probe first.${circuit.feed === 'charge' ? ' Read when the capacitor has settled, about ten seconds later.' : ''}`,
        expect: [
          ...mine.flatMap((at) => voltsAt(at, state, supply, volts, reading)),
          ...(circuit.feed === 'charge' ? chargeReads(circuit, state, supply) : []),
          ...lamps.map(asExpect),
        ],
        tells: TELLS,
        cannotTell: [
          dryWords(mine, isSeries(circuit) && first !== undefined ? pinVolts(first, state) : volts),
          coilWords(circuit, mine),
          lampWords(wiring, lamps, groups, circuit),
        ]
          .filter((text) => text !== '')
          .join(' '),
      };
    });
  });

  function voltsAt(
    at: DrivePins,
    state: PanelState,
    supply: WiredSupply,
    volts: Band,
    reading: Reading,
  ): readonly Expect[] {
    const { circuit } = state;
    const thrown = state.button === null ? state.position : state.button.lie;
    switch (at.kind) {
      case 'motor': {
        // Of a split feed the other supply gives the other way.
        const other = wiring.supplies.find(({ id }) => id === circuit.supplies[1]);
        const reverse = circuit.feed === 'split' && other !== undefined ? panelVolts(other, reading) : volts;
        const band = signed(thrown, volts, reverse);
        return [
          voltsExpect(
            isSeries(circuit) && thrown !== 'centre' ? pinVolts(at, state) : band,
            `${at.first} to ${at.second}`,
          ),
        ];
      }
      case 'coils': {
        // What is charged is read at its capacitor.
        if (circuit.feed === 'charge') return [];
        const held = heldPulse(circuit, supply);
        return (['normal', 'reverse'] as const).map((lie) =>
          voltsExpect(thrown === lie ? held : NONE, `${lie === 'normal' ? at.first : at.second} to ${at.common}`),
        );
      }
      case 'board':
        return [
          voltsExpect(volts, `${at.power} to ${at.common}`),
          voltsExpect(
            thrown === 'reverse' ? NONE : { low: volts.low * OPEN_INPUT, high: volts.high },
            `${at.input} to ${at.common}`,
          ),
        ];
    }
  }

  function isSeries(circuit: Circuit): boolean {
    return groups.some(({ id, scheme }) => scheme === 'in-series' && circuit.groups.includes(id));
  }

  /** Lamps in series take their share. */
  function pinVolts({ first, second }: MotorPins, { circuit, levers, history }: PanelState): Band {
    return atCorners(loaded, circuit.id, levers, history, ({ volts }) => difference(volts, first, second) ?? 0);
  }

  function chargeReads(circuit: Circuit, state: PanelState, supply: WiredSupply): readonly Expect[] {
    return wiring.capacitors.flatMap((capacitor: WiredCapacitor): Expect[] => {
      if (capacitor.circuit !== circuit.id || state.position === 'centre') return [];
      const full = { low: Math.max(0, supply.low - STEERING_LEFT), high: supply.high };
      const band = state.position === 'normal' ? full : { low: 0, high: STEERING_LEFT };
      return [voltsExpect(band, `${capacitor.plus} to ${capacitor.minus}`)];
    });
  }

  /** While a lever is held its supply gives through what stands before it: a unit through its charging resistor. */
  function heldPulse(circuit: Circuit, supply: WiredSupply): Band {
    const load =
      1 /
      heldSiemens(
        wiring,
        circuit,
        drives.filter((each) => each.circuit === circuit.id),
      );
    const before = supply.kind === 'cdu' ? (supply.chargeOhms ?? 0) * (1 + RESISTOR_BAND) : supply.ohms;
    const lost = supply.kind === 'cdu' ? DIODE_HIGH : 0;
    return { low: (Math.max(0, supply.low - lost) * load) / (load + before), high: supply.high };
  }

  /** How the switch of another panel lies: normal where a state does not say and it stays. */
  function twinAt({ lever, twin }: PanelState): Position | null {
    const own = wiring.switches.find(({ twinOf }) => twinOf !== undefined && twinOf === lever);
    return own === undefined ? null : (twin ?? (own.part.sprung ? 'centre' : 'normal'));
  }

  function leverWords({ lever, stands }: PanelState): string {
    const how = stands === 'centre' ? 'in its middle' : stands;
    return `Lever ${lever} ${how}, all others normal`;
  }

  function heldWords({ circuit, lever, position, twin, button }: PanelState): string {
    const relay = wiring.relays.some((each) => each.circuit === circuit.id);
    const brief = relay
      ? 'no longer than it takes to read, for the coil of a relay that latches is made for pulses; then '
      : '';
    const lamps = `${brief}let go, and look at the lamps then`;
    if (button !== null) return `Button ${button.id} held down while you read, all levers normal; ${lamps}`;
    if (lever === null) return 'All levers normal';
    if (twin !== null) return `Those pins joined, all levers let go or normal, only while you read; ${lamps}`;
    if (!sprung.has(lever)) return `Lever ${lever} ${position}, all others normal`;
    return `Lever ${lever} held over to ${position} while you read, all others normal; ${lamps}`;
  }
}

const TELLS =
  'A lamp the wrong way round or in the wrong group, a wrong resistor by its brightness, a dead pole, a crossed pair (the sign), a switch upside down.';
const NONE: Band = { low: 0, high: 0 };
/** Share of a board's volts that an open input shows through a dummy load of some kilohms on a meter of 10 Mohm. */
const OPEN_INPUT = 0.999;

/** Levers whose switch springs back. */
export function sprungLevers(wiring: Wiring): ReadonlySet<string> {
  return new Set(wiring.switches.filter(({ part }) => part.sprung).map(({ id }) => id));
}

export function asExpect({ id, look }: LampReading): Expect {
  return { lamp: id, look: look === 'unlit' ? 'unlit' : 'lit' };
}

/** Plus when the lever is normal, minus when it is reverse, nothing in the middle. */
function signed(position: Position | null, normal: Band, reverse: Band): Band {
  if (position === 'centre') return NONE;
  return position === 'reverse' ? { low: -reverse.high, high: -reverse.low } : normal;
}

/** Volts as the meter may show them; where nothing should be, what a meter shows of leakage. */
export function voltsExpect(volts: Band, at: string): Expect {
  const band = volts.low === 0 && volts.high === 0 ? { low: -NOTHING, high: NOTHING } : voltsOnMeter(volts);
  return { quantity: 'volts', unit: 'V', ...band, at };
}

/** The E12 value that stands in for a motor, or for the input of a board; null where nothing does. */
function dummyOf({ ohms, part, feed }: WiredDrive): Ohm | null {
  if (ohms !== null && ohms > 0) return preferred('E12', ohms, 'nearest');
  const volts = part.volts?.high ?? 0;
  if (feed === 'contact' && (part.inputAmps ?? 0) > 0 && volts > 0)
    return preferred('E12', volts / (part.inputAmps ?? 1), 'nearest');
  return null;
}

/** The same wiring with every motor replaced by its dummy load. */
function withDummies(wiring: Wiring): Wiring {
  return {
    ...wiring,
    drives: wiring.drives.map((drive) => {
      const ohms = drive.ohms === null ? null : dummyOf(drive);
      return { ...drive, ohms, ampsBand: RESISTOR_BAND, wire: { ...drive.wire, length: 0 } };
    }),
    wires: wiring.wires.map((wire) => (wire.side === 'layout' ? { ...wire, ohms: 0 } : wire)),
  };
}

/** Which resistor stands in for each drive: its ohms, and a rating at which it stays cool enough to touch. */
function dummies(drives: readonly DrivePins[], supply: WiredSupply): string {
  return drives
    .map((at) => {
      const { drive } = at;
      const own = dummyOf(drive);
      switch (at.kind) {
        case 'coils':
          return [at.first, at.second].map((pin) => load(COIL_LOAD, supply, pin, at.common, drive)).join(', ');
        case 'board':
          return own === null
            ? `nothing for ${drive.id}, whose input takes what its figures do not say`
            : load(own, supply, at.power, at.input, drive);
        case 'motor':
          return own === null
            ? `nothing across ${at.first} and ${at.second} (${drive.id} cuts itself off)`
            : load(own, supply, at.first, at.second, drive);
      }
    })
    .join(', ');
}

function load(ohms: Ohm, supply: WiredSupply, first: string, second: string, drive: WiredDrive): string {
  const watts: Watt = supply.high ** 2 / ohms;
  const rating = RATINGS.find((each) => each * DERATE >= watts) ?? RATINGS[RATINGS.length - 1] ?? watts;
  return `${formatOhms(ohms)} of ${formatNumber(rating, rating < 1 ? 2 : 0)} W across ${first} and ${second} for ${drive.id} (${formatNumber(watts, 2)} W in it)`;
}

/** What the panel is fed from while it is alone. */
function feedWords(wiring: Wiring, circuit: Circuit, supply: WiredSupply, drives: readonly DrivePins[]): string {
  const held = circuit.feed === 'pulse' || circuit.feed === 'charge' ? heldSiemens(wiring, circuit, drives) : 0;
  return circuit.supplies
    .flatMap((id): string[] => {
      const on = wiring.supplies.find((each) => each.id === id);
      if (on === undefined || on.kind === 'cdu') return [];
      if (on.kind === 'ac')
        return [`${on.id}, ${formatVolts(on.volts)} alternating, from its own supply through its fuse.`];
      const limit = limitFor(on, on.id === supply.id || on.id === supply.from ? held : 0);
      const name = circuit.supplies.length > 1 ? ` for ${on.id}` : '';
      return [`Feed of ${formatVolts(on.volts)}${name} limited to ${formatAmps(limit)}.`];
    })
    .join(' ');
}

/** What a held lever or button joins to its supply while the test plug is in: a dummy load a drive, and the coil of a relay. */
function heldSiemens(wiring: Wiring, circuit: Circuit, drives: readonly DrivePins[]): number {
  const coils = drives.filter(({ kind }) => kind === 'coils').length / COIL_LOAD;
  const relays = wiring.relays.filter((each) => each.circuit === circuit.id);
  return relays.reduce((sum, { part }) => sum + 1 / (part.coilOhms * (1 - RELAY_BAND)), coils);
}

/** All drives and lamps at rest, what a held lever draws, and a margin, to the next step. */
function limitFor(supply: WiredSupply, heldAtOnce: number): Ampere {
  const steady = supply.steadyAmps + heldAtOnce * supply.high;
  return Math.max(1, Math.ceil((steady * LIMIT_MARGIN) / LIMIT_STEP)) * LIMIT_STEP;
}

/** A dry joint between panel and dummy load lowers the volts at the pins: by enough to be told? */
function dryWords(drives: readonly DrivePins[], volts: Band): string {
  const motors = drives.filter(({ kind }) => kind === 'motor');
  if (motors.length === 0) return '';
  const good = voltsOnMeter(volts);
  const found = motors.find(({ drive }) => drive.ohms !== null);
  const ohms = found === undefined ? null : dummyOf(found.drive);
  if (ohms === null) return 'A dry joint, which loses no volts where nothing flows.';
  const share = ohms / (ohms + DRY_JOINT);
  const dry = voltsOnMeter({ low: volts.low * share, high: volts.high * share });
  return bandsOverlap(good, dry)
    ? `A dry joint of ${DRY_JOINT} ohm would show ${formatVolts(dry.low)} to ${formatVolts(dry.high)}, which overlaps the good band: this reading cannot tell unless the feed is measured first and taken as it is.`
    : '';
}

function coilWords(circuit: Circuit, drives: readonly DrivePins[]): string {
  if (circuit.feed === 'contact')
    return 'A dry joint in the wire of the input, which carries next to nothing: this reading cannot tell.';
  if (!drives.some(({ kind }) => kind === 'coils')) return '';
  return circuit.feed === 'charge'
    ? 'What a throw gives a coil: the pulse is too short for a meter. Stage 4 tells.'
    : 'What a pulse gives a coil: a dry joint passes the dummy load\u2019s milliamps and not a coil\u2019s amps. This reading cannot tell; stage 4 does.';
}

/** What a lamp tells, by what lights it. */
function lampWords(
  wiring: Wiring,
  lamps: readonly LampReading[],
  groups: readonly LampGroup[],
  circuit: Circuit,
): string {
  if (lamps.length === 0) return '';
  const doubtful = lamps.filter(({ look }) => look === 'faint').map(({ id }) => id);
  const shared = groups.filter(
    ({ id, arrange, normal, reverse }) =>
      circuit.groups.includes(id) && arrange === 'parallel' && Math.max(normal.length, reverse.length) > 1,
  );
  const kinds = new Set(
    wiring.contacts.filter((each) => each.circuit === circuit.id).map(({ carrier }) => carrier.kind),
  );
  return [
    ...(doubtful.length > 0 ? [`${doubtful.join(', ')} may be too faint to call lit in a bright room.`] : []),
    ...(shared.length > 0
      ? [
          `Lamps of ${shared.map(({ id }) => id).join(', ')} share one resistor: uneven ones are unlike lamps, not bad joints.`,
        ]
      : []),
    kinds.has('drive') || kinds.has('blades')
      ? 'Lamps tell what the links on the test plug say, not how the point lies.'
      : 'Lamps tell what the lever asks, not how the point lies.',
  ].join(' ');
}
