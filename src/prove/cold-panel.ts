/**
 * Stage 2: the panel alone, unplugged, no power, a meter on ohms. Lamps are diodes: below their forward volts they read as nothing,
 * so every reading across them is "at least": a meter that pushes harder sees, at the most, all their resistors side by side.
 */

import { RESISTOR_BAND } from '../lamps/index.ts';
import type { Ohm } from '../units/index.ts';
import {
  METER_BAND,
  type Position,
  relayHolding,
  type WiredButton,
  type WiredContact,
  type WiredDiode,
  type WiredRelay,
  type WiredReturn,
  type WiredSupply,
  type WiredSwitch,
  type Wiring,
} from '../wiring/index.ts';
import { drivesAtPins, pinsByTerminal } from './at-pins.ts';
import { ohmsOnMeter } from './bands.ts';
import { dischargeWords } from './bench-coils.ts';
import { panelNets } from './panel-nets.ts';
import { CONTINUITY, DIODE_HIGH, DIODE_LOW, FUSE_OHMS, LEAK, OHM_DIGITS, OPEN_OHMS, RELAY_BAND } from './tolerances.ts';
import type { BenchTest, Expect } from './types.ts';

type Pole = WiredSwitch['poles'][number];

/** Each supply's rails, returns, diodes and relays; then each lever's positions, buttons, and the wires of contacts. */
export function coldTests(wiring: Wiring): readonly BenchTest[] {
  const nets = panelNets(wiring);
  const drives = drivesAtPins(wiring);
  const pinTo = pinsByTerminal(wiring);
  const kept = dischargeWords(wiring);
  const parted = `Panel unplugged from the layout, its supply unplugged from the panel, no lever in the middle.${kept}`;
  const sums = new Map<string, Ohm>();
  return [
    ...wiring.supplies.map(railTest),
    ...wiring.returns.flatMap(returnTest),
    ...wiring.diodes.flatMap(diodeTest),
    ...wiring.relays.flatMap(relayTest),
    ...wiring.switches.flatMap(leverTests),
    ...wiring.buttons.flatMap(buttonTests),
    ...wiring.contacts.flatMap(contactTest),
  ];

  function railTest(supply: WiredSupply): BenchTest {
    const [plus, minus] = [`${supply.id}.p`, `${supply.id}.m`];
    return {
      id: `cold:${supply.id}`,
      stage: 2,
      lever: null,
      do: `${parted} All levers normal. Meter on ohms between the panel's own ends of the leads ${plus} and ${minus}, both ways round${supply.fuse === null ? '' : `, then across the fuse ${supply.fuse.id}`}.${kept === '' ? '' : ' Where a capacitor is in the way wait until the reading stands still.'}`,
      expect: [
        atLeast(least(supply.circuits), `${plus} to ${minus}, either way round`),
        ...(supply.fuse === null ? [] : [upTo(FUSE_OHMS, `across ${supply.fuse.id}`)]),
      ],
      tells: 'A short across the supply, a solder bridge on a switch, a blown fuse.',
      cannotTell: CANNOT_TELL_LAMPS,
    };
  }

  function returnTest({ id, pins, supply }: WiredReturn): readonly BenchTest[] {
    const on = wiring.supplies.find((each) => each.id === supply);
    if (on === undefined || pins.length === 0) return [];
    return [
      {
        id: `cold:${id}`,
        stage: 2,
        lever: null,
        do: `${parted} All levers normal. Meter on ohms from the rail to every pin of return ${id} on the panel half.`,
        expect: pins.map((pin) => upTo(CONTINUITY, `${nets.ends(on).minus} to ${pin}`)),
        tells: 'A return that was left off, or left off at one of its pins.',
        cannotTell: 'A joint of an ohm or less, which only shows when many drives move at once.',
      },
    ];
  }

  /** Flyback diodes lie across coils, where a meter sees the coil. */
  function diodeTest({ id, what, anode, cathode }: WiredDiode): readonly BenchTest[] {
    if (what === 'flyback') return [];
    return [
      {
        id: `cold:${id}`,
        stage: 2,
        lever: null,
        do: `${parted} All levers normal. Meter on its diode range: red on ${anode}, black on ${cathode}; then the other way round, where it must read nothing once it stands still.`,
        expect: [
          {
            quantity: 'volts',
            unit: 'V',
            low: DIODE_LOW,
            high: DIODE_HIGH,
            at: `${anode} to ${cathode}, on the diode range`,
          },
        ],
        tells:
          'A diode the wrong way round, open or shorted: see that its band is on the side where the drawing has it.',
        cannotTell: 'Whether it stands the amps and the reverse volts of the feed: go by its type number.',
      },
    ];
  }

  function relayTest({ id, part, coils }: WiredRelay): readonly BenchTest[] {
    const ohms = ohmsOnMeter({ low: part.coilOhms * (1 - RELAY_BAND), high: part.coilOhms * (1 + RELAY_BAND) });
    return [
      {
        id: `cold:${id}`,
        stage: 2,
        lever: null,
        do: `${parted} All levers let go. Meter on ohms across each coil of relay ${id}.`,
        expect: coils.map(({ a, b }): Expect => ({ quantity: 'ohms', unit: 'ohm', ...ohms, at: `${a} to ${b}` })),
        tells: 'An open coil or joint, a coil shorted by a bridge or by its diode, a relay for other volts.',
        cannotTell:
          'Which way round the diode across each coil is, for the coil is beside it: look at its band, which is on the side of plus. The wrong way round it shorts the pulse.',
      },
    ];
  }

  /** Each position; of a switch that springs back also what it leaves closed when it is let go. */
  function leverTests(each: WiredSwitch): readonly BenchTest[] {
    const { id, part } = each;
    const circuit = wiring.circuits.find((other) => other.id === id);
    const lights = new Map(
      wiring.contacts.filter(({ carrier }) => carrier.id === id).map((contact) => [contact.id, contact.circuit]),
    );
    const feeds = circuit !== undefined && circuit.feed !== null;
    const poles = each.poles.filter((pole) => (pole.use === 'feed' && feeds) || lights.has(pole.id));
    const positions: readonly Position[] =
      part.sprung || part.centreOff ? ['normal', 'reverse', 'centre'] : ['normal', 'reverse'];
    if (circuit === undefined || poles.length === 0) return [];
    return positions.map((position) => leverTest(position));

    function leverTest(position: Position): BenchTest {
      const across = position === 'centre' ? least([id]) : beside(id);
      const middle = part.sprung ? 'let go' : 'in its middle';
      const so = position === 'centre' ? middle : part.sprung ? `held over to ${position}` : position;
      // Where a relay holds the feed the lever only throws that.
      const latched = relayHolding(wiring, id) !== null;
      const reversing = circuit?.feed === 'reversing' && !latched;
      const pairs = drives.flatMap((drive) =>
        drive.lever === id && drive.kind === 'motor' && !drive.shared ? [[drive.first, drive.second] as const] : [],
      );
      const ends = pairs.length > 0 ? pairs : [[`${id}.t2`, `${id}.t5`] as const];
      const expect = [
        ...poles.flatMap((pole) => poleReads(pole, position, reversing && pole.use === 'feed')),
        ...(reversing ? ends.map(([a, b]) => atLeast(across, `${a} to ${b}, either way round`)) : []),
        ...straightWires(id),
      ];
      return {
        id: `cold:${id}:${position}`,
        stage: 2,
        lever: id,
        do: `${position === 'centre' ? parted.replace(', no lever in the middle', '') : parted} Lever ${id} ${so}, all others normal. Meter on ohms between the spots named.`,
        expect: distinct(expect),
        tells:
          position === 'centre'
            ? `A pole that stays closed ${part.sprung ? 'when the lever is let go, and would burn a coil' : 'in the middle'}, a bridge between its tags.`
            : 'A wire to the wrong tag or pin, a crossed pair on the panel side, an open or dry joint, a switch upside down, a solder bridge between tags or neighbouring pins.',
        cannotTell: `A joint of an ohm or less. A bridge between two pins that lie on the same rail in this position shows when this lever is thrown and the other is not. ${CANNOT_TELL_LAMPS}`,
      };
    }
  }

  /** What a pole joins in a position: each spot of one tag's net to each of its common's. */
  function poleReads(pole: Pole, position: Position, pairs: boolean): readonly Expect[] {
    return ([pole.normal, pole.reverse] as const).flatMap((tag): Expect[] => {
      if (!nets.wired(tag) || !nets.wired(pole.common)) return [];
      const closed = position === (tag === pole.normal ? 'normal' : 'reverse');
      const spots = nets.probes(tag).flatMap((a) => nets.probes(pole.common).map((b) => [a, b] as const));
      return spots.flatMap(([a, b]): Expect[] => {
        // The common is named first where it is the rail.
        const at = nets.rail(pole.common) === null ? `${a} to ${b}` : `${b} to ${a}`;
        if (closed) return [upTo(CONTINUITY, at)];
        if (pairs) return position === 'centre' ? [atLeast(OPEN_OHMS, at)] : [];
        return [atLeast(beside(pole.id.slice(0, pole.id.lastIndexOf('.'))), at)];
      });
    });
  }

  /** Wires that pass no pole: a common of a drive's own, the plus of a driver board, what goes out to the lever of another panel. */
  function straightWires(lever: string): readonly Expect[] {
    const there = wiring.switches.find(({ twinOf }) => twinOf === lever);
    const out = (there?.poles ?? []).flatMap(({ normal, common, reverse }) =>
      [normal, common, reverse].flatMap((tag): Expect[] => {
        const pin = pinTo.get(tag);
        const rail = pin === undefined ? null : nets.rail(pin);
        return pin === undefined || rail === null ? [] : [upTo(CONTINUITY, `${rail} to ${pin}`)];
      }),
    );
    const straight = drives.flatMap((each): Expect[] => {
      if (each.lever !== lever || each.kind === 'motor') return [];
      const own = each.kind === 'board' ? [each.power, each.common] : [each.common];
      return own.flatMap((pin) => {
        const rail = nets.rail(pin);
        return rail === null ? [] : [upTo(CONTINUITY, `${rail} to ${pin}`)];
      });
    });
    return [...straight, ...out];
  }

  /** Pressed, and let go. */
  function buttonTests({ poles, circuit }: WiredButton): readonly BenchTest[] {
    return poles.flatMap(({ id, a, b, lie }) =>
      [lie, 'centre' as const].map((position): BenchTest => {
        const spots = nets.probes(a).flatMap((x) => nets.probes(b).map((y) => `${x} to ${y}`));
        const pressed = position !== 'centre';
        return {
          id: `cold:${id}:${position}`,
          stage: 2,
          lever: null,
          do: `${parted} Button ${id} ${pressed ? 'pressed' : 'let go'}, nothing else touched. Meter on ohms between the spots named.`,
          expect: spots.map((at) => (pressed ? upTo(CONTINUITY, at) : atLeast(least([circuit]), at))),
          tells: pressed
            ? 'A button that does not close, a wire to the wrong tag or pin, an open or dry joint.'
            : 'A button that sticks, or a bridge between its tags: it would burn a coil.',
          cannotTell: 'A joint of an ohm or less, which costs a pulse its force.',
        };
      }),
    );
  }

  /** The panel's half of a contact under the layout: where its common and its throws come from. */
  function contactTest({ id, circuit, carrier, common, normal, reverse }: WiredContact): readonly BenchTest[] {
    if (carrier.kind !== 'drive' && carrier.kind !== 'blades') return [];
    const pin = pinTo.get(common);
    if (pin === undefined) return [];
    const throws = [normal, reverse].flatMap((tag) => (tag === null ? [] : (pinTo.get(tag) ?? [])));
    const rail = nets.rail(pin);
    const joined = [pin, ...throws].flatMap((each) =>
      nets.probes(each).flatMap((other) => (other === each ? [] : [upTo(CONTINUITY, `${other} to ${each}`)])),
    );
    return [
      {
        id: `cold:${id}`,
        stage: 2,
        lever: null,
        do: `${parted} All levers normal. Meter on ohms between the spots named: the pins of contact ${id} on the panel half.`,
        expect: distinct([
          ...joined,
          ...throws.map((each) => atLeast(least([circuit]), `${pin} to ${each}, either way round`)),
        ]),
        tells: `A wire of ${id} to the wrong pin, an open or dry joint, a bridge between neighbouring pins.`,
        cannotTell: `${rail === null ? 'What reaches its common through the contact before it: that shows in stage 3. ' : ''}${CANNOT_TELL_LAMPS}`,
      },
    ];
  }

  /** The least across all that hangs on the supplies of a lever's circuits, or of those that its poles light. */
  function beside(lever: string): Ohm {
    const lit = new Set(wiring.contacts.flatMap((each) => (each.carrier.id === lever ? [each.circuit] : [])));
    const supplies = wiring.circuits.flatMap((each) => (each.id === lever || lit.has(each.id) ? each.supplies : []));
    const key = [...new Set(supplies)].sort().join(' ');
    const known = sums.get(key);
    if (known !== undefined) return known;
    const sum = least([
      ...new Set(wiring.supplies.flatMap(({ id, circuits }) => (supplies.includes(id) ? circuits : []))),
    ]);
    sums.set(key, sum);
    return sum;
  }

  /** The least that a meter may show across what these circuits leave between plus and minus: lamps, relays, capacitors. */
  function least(circuits: readonly string[]): Ohm {
    const own = new Set(circuits);
    const resistors = wiring.resistors.filter((each) => own.has(each.circuit) && each.ohms > 0);
    const relays = wiring.relays.filter((each) => own.has(each.circuit));
    const supplies = wiring.supplies.filter((each) => each.circuits.some((circuit) => own.has(circuit)));
    const capacitors = wiring.capacitors.filter(
      ({ circuit }) => own.has(circuit) || supplies.some(({ id }) => id === circuit),
    );
    const siemens =
      resistors.reduce((sum, { ohms }) => sum + 1 / (ohms * (1 - RESISTOR_BAND)), 0) +
      relays.reduce((sum, { part, coils }) => sum + coils.length / (part.coilOhms * (1 - RELAY_BAND)), 0) +
      capacitors.reduce((sum, { farads }) => sum + LEAK * farads, 0);
    if (siemens === 0) return OPEN_OHMS;
    return Math.min(OPEN_OHMS, Math.max(0, (1 / siemens) * (1 - METER_BAND) - OHM_DIGITS));
  }
}

const CANNOT_TELL_LAMPS =
  'Nothing of the lamps: most meters push less than a lamp needs and then read open, the others may light one faintly; which way round a lamp is shows in stage 3.';

const atLeast = (low: Ohm, at: string): Expect => ({ quantity: 'ohms', unit: 'ohm', low, high: null, at });
const upTo = (high: Ohm, at: string): Expect => ({ quantity: 'ohms', unit: 'ohm', low: 0, high, at });

/** The same reading once. */
function distinct(expect: readonly Expect[]): readonly Expect[] {
  return [...new Map(expect.map((each) => ['at' in each ? each.at : JSON.stringify(each), each])).values()];
}
