/** Stage 4: panel and layout together: switching on, each setting of each circuit, and every return with all its levers one way. */
import { type LampUse, RESISTOR_BAND } from '../lamps/index.ts';
import { type Ampere, formatAmps, formatSeconds } from '../units/index.ts';
import {
  askIn,
  type Circuit,
  otherLie,
  type Position,
  positionIn,
  type Reading,
  relayHolding,
  STALL_BAND,
  type WiredLamp,
  type WiredRelay,
  type WiredReturn,
  type WiredSupply,
} from '../wiring/index.ts';
import { type DrivePins, drivesAtPins } from './at-pins.ts';
import {
  ampsOnMeter,
  type Band,
  bandsOverlap,
  driveAmps,
  driveOhms,
  lampAmps,
  leakAmps,
  panelVolts,
  sumBands,
  unitVolts,
} from './bands.ts';
import { DISCHARGE } from './bench-coils.ts';
import { atCorners } from './corners.ts';
import { asExpect, EXTRA_LOW, type LiveInput, sprungLevers, voltsExpect } from './live-panel.ts';
import { type PanelState, setWords, statesOfCircuit } from './panel-states.ts';
import { DIODE_HIGH, RELAY_BAND } from './tolerances.ts';
import type { BenchTest, Expect } from './types.ts';

export interface BothInput extends LiveInput {
  readonly lamps: readonly LampUse[];
}

export function bothTests({ wiring, groups, operate, lamps: uses }: BothInput): readonly BenchTest[] {
  const drives = drivesAtPins(wiring);
  const atStart = operate({});
  const useOf = new Map(uses.map((use) => [use.id, use]));
  const lampsBy = new Map<string, WiredLamp[]>();
  for (const lamp of wiring.lamps) lampsBy.set(lamp.circuit, [...(lampsBy.get(lamp.circuit) ?? []), lamp]);
  const sprung = sprungLevers(wiring);
  const circuitOf = new Map(wiring.circuits.map((circuit) => [circuit.id, circuit]));
  /** Circuits whose lamps stand in the way of their drives. */
  const inSeries = new Set(groups.flatMap(({ scheme, circuit }) => (scheme === 'in-series' ? [circuit] : [])));
  const series = new Map<string, Band>();
  return [
    ...wiring.supplies.map(startTest),
    ...wiring.circuits.flatMap((circuit) => {
      const supply = wiring.supplies.find((each) => each.id === circuit.supply);
      return supply === undefined
        ? []
        : statesOfCircuit(wiring, circuit).map((state) => stateTest(circuit, state, supply));
    }),
    ...wiring.returns.flatMap(returnTests),
  ];

  function startTest(supply: WiredSupply): BenchTest {
    const { id } = supply;
    const common = { id: `both:${id}`, stage: 4 as const, lever: null };
    const on = `${EXTRA_LOW} Plug the panel in, all levers normal`;
    const moves = startWords(supply);
    if (supply.kind === 'cdu') {
      const seconds = FULL_AFTER * (supply.farads ?? 0) * (supply.chargeOhms ?? 0);
      return {
        ...common,
        do: `${on}, meter on volts across ${id}, and switch on. Read after ${formatSeconds(Math.max(1, seconds))}. It holds its charge after it is switched off: ${DISCHARGE}, before you touch it.`,
        expect: [{ quantity: 'volts', unit: 'V', ...unitVolts(supply), at: `${id}.p to ${id}.m, charged` }],
        tells: 'A unit that does not charge, a lever or button that stays closed and empties it through a coil.',
        cannotTell: `How much ${id} holds: a dried-out capacitor shows the same volts, and then points at the far end stay as they were.`,
      };
    }
    if (supply.kind === 'ac') {
      const rails = wiring.diodes.filter(({ circuit, what }) => circuit === id && what === 'rectifier');
      return {
        ...common,
        do: `${on}, meter on direct volts from each rail to ${id}.m, and switch on.${moves} Read when all is still.`,
        expect: rails.map(({ id: diode, anode, cathode }) => {
          const plus = diode.endsWith('p');
          const band = plus ? { low: supply.low, high: supply.high } : { low: -supply.high, high: -supply.low };
          return voltsExpect(band, `${plus ? cathode : anode} to ${id}.m`);
        }),
        tells: 'A diode open, shorted or the wrong way round, a capacitor the wrong way round, a short.',
        cannotTell:
          'What each drive draws: amps of an alternating feed come in short gulps, and a meter shows them wrongly. This reading cannot tell; the blades do.',
      };
    }
    const steady = supplyAmps(supply, atStart, {});
    return {
      ...common,
      do: `${on}, meter on amps in the plus lead of ${id}, and switch on.${moves} Read when all is still.`,
      expect: [{ quantity: 'amps', unit: 'A', ...steady, at: `plus of ${id}, all levers normal and all still` }],
      tells: 'A short, a drive or a lamp that draws far too much, two connectors swapped.',
      cannotTell: oneDriveWords(supply, steady),
    };
  }

  /** What the first moment draws, and why. */
  function startWords({ id, worstAmps, steadyAmps, circuits }: WiredSupply): string {
    if (worstAmps <= steadyAmps) return '';
    const most = `up to ${formatAmps(worstAmps)} in all`;
    const charged = wiring.supplies.filter(({ from }) => from === id).map((unit) => unit.id);
    if (charged.length > 0) return ` At first ${charged.join(', ')} charges: ${most}.`;
    const feeds = new Set(circuits.map((circuit) => circuitOf.get(circuit)?.feed));
    if (feeds.has('charge')) return ` At first every capacitor charges through its coil, all at once: ${most}.`;
    return feeds.has('pulse') ? '' : ` At first every drive that is not home moves: ${most}.`;
  }

  function stateTest(circuit: Circuit, state: PanelState, supply: WiredSupply): BenchTest {
    const { lever } = state;
    const reading = operate(state.levers, [], state.history);
    const own = lever !== null && sprung.has(lever);
    const meter = ampsOf(circuit, supply, reading, state.levers);
    const coils = drives.some(({ kind, circuit: id }) => kind === 'coils' && id === circuit.id);
    return {
      id: `both:${state.name}`,
      stage: 4,
      lever,
      do: `${EXTRA_LOW} Panel plugged in and on. ${setWords(state, own)}. Look at the blades and the lamps; read when all is still.${coils ? ' A coil that hums or grows warm is held: switch off at once.' : ''}`,
      expect: [...meter.expect, ...liesOf(circuit, state, reading), ...lampsIn(circuit, reading)],
      tells: coils
        ? 'A coil that gets too little, coils of two points swapped, a lever or button that does not let go, lamps that tell the other lie.'
        : 'Wires of two levers swapped, two points of a lever working opposite ways, lamps that tell the other lie.',
      cannotTell: meter.cannotTell,
    };
  }

  /** Where drives are asked to go, and where points lie that are set without the panel. */
  function liesOf(circuit: Circuit, { history }: PanelState, reading: Reading): readonly Expect[] {
    const asked = reading.drives.flatMap((each): Expect[] =>
      circuit.drives.includes(each.drive) && each.moves !== null && drives.some(({ drive }) => drive.id === each.drive)
        ? [{ point: each.point, lie: each.moves }]
        : [],
    );
    return [...asked, ...Object.entries(history).map(([point, lie]): Expect => ({ point, lie }))];
  }

  /** All levers of a split return one way, so that nothing but the return brings the amps home: with it lost all are dead. */
  function returnTests(back: WiredReturn): readonly BenchTest[] {
    const on = drives.filter(({ circuit, kind }) => kind === 'motor' && back.circuits.includes(circuit));
    const feed = circuitOf.get(on[0]?.circuit ?? '')?.feed;
    // A single drive has no other to feed it: its own tests tell.
    if (on.length < 2 || (feed !== 'split' && feed !== 'half-wave')) return [];
    return (['normal', 'reverse'] as const).map((position): BenchTest => {
      const levers = Object.fromEntries(on.map(({ circuit }) => [circuit, position]));
      const reading = operate(levers);
      const supply = wiring.supplies.find(
        ({ id }) => id === suppliesNow(circuitOf.get(on[0]?.circuit ?? ''), position),
      );
      const amps = supply === undefined || supply.kind === 'ac' ? null : supplyAmps(supply, reading, levers);
      const lies = on.flatMap(({ drive }) =>
        drive.asks.map(({ point, goes }): Expect => ({ point, lie: position === 'normal' ? goes : otherLie(goes) })),
      );
      return {
        id: `both:${back.id}:${position}`,
        stage: 4,
        lever: null,
        do: `${EXTRA_LOW} Panel plugged in and on. Set every lever that return ${back.id} serves one way: ${[...new Set(on.map(({ circuit }) => circuit))].join(', ')} all ${position}. Look at the blades; read when all is still.`,
        expect: [
          ...(amps === null || supply === undefined
            ? []
            : [
                {
                  quantity: 'amps' as const,
                  unit: 'A' as const,
                  ...amps,
                  at: `plus of ${supply.id}, all of ${back.id} ${position}`,
                },
              ]),
          ...lies,
        ],
        tells: `A lost common: with ${back.id} off all of these are dead when all lie one way. With some each way they feed each other, most of them move, and nothing shows.`,
        cannotTell: `Which joint of ${back.id} it is: go along it with the meter from its pins.`,
      };
    });
  }

  /** The supply that gives a circuit's drives their amps with its lever so. */
  function suppliesNow(circuit: Circuit | undefined, position: Position): string | null {
    if (circuit === undefined) return null;
    return (circuit.feed === 'split' && position === 'reverse' ? circuit.supplies[1] : circuit.supplies[0]) ?? null;
  }

  function ampsOf(
    circuit: Circuit,
    supply: WiredSupply,
    reading: Reading,
    levers: Readonly<Record<string, Position>>,
  ): { readonly expect: readonly Expect[]; readonly cannotTell: string } {
    if (supply.kind === 'ac')
      return {
        expect: [],
        cannotTell:
          'What each drive draws: amps of an alternating feed come in short gulps, and a meter shows them wrongly. This reading cannot tell; the blades do.',
      };
    // Of a unit the meter stands before it, in the lead of what charges it.
    const on = supply.kind === 'cdu' ? wiring.supplies.find(({ id }) => id === supply.from) : supply;
    const id = circuit.feed === 'split' ? suppliesNow(circuit, askIn(wiring, levers, circuit.id)) : on?.id;
    const read = wiring.supplies.find((each) => each.id === id) ?? supply;
    const amps = supplyAmps(read, reading, levers);
    const pulsed = circuit.feed === 'pulse' || circuit.feed === 'charge';
    return {
      expect: [{ quantity: 'amps', unit: 'A', ...amps, at: `plus of ${read.id}, all still` }],
      cannotTell: pulsed
        ? 'What the pulse gives a coil, which is too short for a meter: this reading cannot tell, only whether it has ended. The blades tell the rest: throw it ten times.'
        : oneDriveWords(read, amps),
    };
  }

  function supplyAmps(supply: WiredSupply, reading: Reading, levers: Readonly<Record<string, Position>>): Band {
    const volts = panelVolts(supply, reading);
    const fed = wiring.circuits.filter((circuit) => supply.circuits.includes(circuit.id));
    const motors = drives.flatMap((each): Band[] => {
      const circuit = circuitOf.get(each.circuit);
      if (circuit === undefined || inSeries.has(circuit.id) || suppliesOf(each, levers) !== supply.id) return [];
      if (each.kind === 'motor') return isCentred(each.circuit, reading) ? [] : [driveAmps(each.drive, volts)];
      if (each.kind === 'coils' || askIn(wiring, levers, circuit.id) !== 'reverse') return [];
      const amps = each.drive.part.inputAmps ?? 0;
      return [{ low: amps * (1 - STALL_BAND), high: amps * (1 + STALL_BAND) }];
    });
    const lamps = fed.map((circuit): Band => {
      if (inSeries.has(circuit.id)) return seriesAmps(circuit, supply, askIn(wiring, levers, circuit.id));
      const mine = (lampsBy.get(circuit.id) ?? []).filter((lamp) => lampSupply(circuit, lamp, levers) === supply.id);
      return mine.length === 0 ? NOTHING_DRAWN : lampAmps(mine, reading);
    });
    const relays = wiring.relays.flatMap((each) => heldRelay(each, supply, volts, levers));
    const held = wiring.capacitors.filter(
      ({ circuit }) =>
        wiring.supplies.some(({ id, from }) => id === circuit && from === supply.id) ||
        fed.some(({ id }) => id === circuit),
    );
    const leak = { low: 0, high: leakAmps(held, supply.high) };
    const drawn = ampsOnMeter(sumBands([...motors, ...lamps, ...relays, leak]));
    const boards = drives.some(({ kind, circuit }) => kind === 'board' && circuitOf.get(circuit)?.supply === supply.id);
    // What a board takes for itself is in no figure: at rest it is less than while it moves.
    return boards
      ? { low: drawn.low, high: Math.max(drawn.high, ampsOnMeter({ low: 0, high: supply.worstAmps }).high) }
      : drawn;
  }

  /** The coil of a relay that a lever without a spring holds: of a unit through its charging resistor. */
  function heldRelay(
    { circuit: id, part }: WiredRelay,
    supply: WiredSupply,
    volts: Band,
    levers: Readonly<Record<string, Position>>,
  ): readonly Band[] {
    const circuit = circuitOf.get(id);
    const lets = circuit === undefined || circuit.positions.length === 0 || sprung.has(id);
    if (lets || positionIn(levers, id) === 'centre') return [];
    const unit = wiring.supplies.find((each) => each.id === circuit.supply && each.kind === 'cdu');
    if ((unit?.from ?? circuit.supply) !== supply.id) return [];
    const [lost, before] = unit === undefined ? [0, 0] : [DIODE_HIGH, unit.chargeOhms ?? 0];
    return [
      {
        low: Math.max(0, volts.low - lost) / (part.coilOhms * (1 + RELAY_BAND) + before * (1 + RESISTOR_BAND)),
        high: volts.high / (part.coilOhms * (1 - RELAY_BAND) + before * (1 - RESISTOR_BAND)),
      },
    ];
  }

  /** What a supply gives to lamps and drives one behind the other. */
  function seriesAmps(circuit: Circuit, { id }: WiredSupply, position: Position): Band {
    const key = `${id} ${circuit.id} ${position}`;
    const known = series.get(key);
    if (known !== undefined) return known;
    const drawn = atCorners(wiring, circuit.id, { [circuit.id]: position }, {}, ({ amps }) =>
      Math.max(0, -(amps.get(id) ?? 0)),
    );
    series.set(key, drawn);
    return drawn;
  }

  /** The supply of a drive with the levers so. */
  function suppliesOf({ circuit }: DrivePins, levers: Readonly<Record<string, Position>>): string | null {
    return suppliesNow(circuitOf.get(circuit), askIn(wiring, levers, circuit));
  }

  /** What gives a lamp its amps: of a unit what charges it. */
  function lampSupply(circuit: Circuit, lamp: WiredLamp, levers: Readonly<Record<string, Position>>): string | null {
    const id =
      lamp.by === 'contacts'
        ? (useOf.get(lamp.id)?.supply ?? null)
        : suppliesNow(circuit, askIn(wiring, levers, circuit.id));
    return wiring.supplies.find((each) => each.id === id && each.kind === 'cdu')?.from ?? id;
  }

  function lampsIn(circuit: Circuit, reading: Reading): readonly Expect[] {
    return reading.lamps.filter(({ id }) => circuit.lamps.includes(id)).map(asExpect);
  }

  function isCentred(lever: string, reading: Reading): boolean {
    const latched = relayHolding(wiring, lever) !== null;
    return askIn(wiring, reading.levers, lever) === 'centre' || (sprung.has(lever) && !latched);
  }

  function oneDriveWords(supply: WiredSupply, band: Band): string {
    const fed = drives.filter(({ circuit: id }) => {
      const on =
        (circuitOf.get(id)?.feed === 'split' ? circuitOf.get(id)?.supplies.slice(0, 2) : [circuitOf.get(id)?.supply]) ??
        [];
      return on.includes(supply.id) || wiring.supplies.some((unit) => on.includes(unit.id) && unit.from === supply.id);
    });
    if (fed.some(({ kind }) => kind === 'board'))
      return 'What the boards take for themselves, which their figures do not say: take it off, measured once with no lever reverse. This reading cannot tell one board from another.';
    if (fed.some(({ kind }) => kind === 'coils')) return 'Which drive draws it: with all still none should.';
    const each = fed.find(({ drive }) => drive.ohms !== null);
    if (each === undefined)
      return fed.length === 0
        ? 'Which lamp draws it: look at them.'
        : 'Which drive draws it; the amps of drives that have cut themselves off are as good as none.';
    const ohms = driveOhms(each.drive);
    const one: Ampere = ohms === null ? 0 : supply.volts / (each.drive.ohms ?? ohms.high);
    const without: Band = { low: Math.max(0, band.low - one), high: band.high - one };
    return bandsOverlap(band, without)
      ? `With one drive dead it would read about ${formatAmps(one)} less, which overlaps the good band: this reading cannot tell. The blades do.`
      : 'Which drive draws it: the blades tell.';
  }
}

const NOTHING_DRAWN: Band = { low: 0, high: 0 };
/** A capacitor is as good as full after so many times R C: 0.7 % are left. */
const FULL_AFTER = 5;
