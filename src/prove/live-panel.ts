/** Stages 3 and 4: the panel on a limited feed with dummy loads, then panel and layout together. */
import type { LampGroup } from '../lamps/index.ts';
import {
  type Ampere,
  formatAmps,
  formatNumber,
  formatOhms,
  formatVolts,
  preferred,
  type Watt,
} from '../units/index.ts';
import type { Circuit, LampReading, Position, Reading, WiredLamp, WiredSupply, Wiring } from '../wiring/index.ts';
import { type DrivePins, drivesAtPins } from './at-pins.ts';
import {
  ampsOnMeter,
  type Band,
  bandsOverlap,
  driveAmps,
  driveOhms,
  lampAmps,
  panelVolts,
  sumBands,
  voltsOnMeter,
} from './bands.ts';
import { DERATE, DRY_JOINT, LIMIT_MARGIN, LIMIT_STEP, NOTHING, RATINGS } from './tolerances.ts';
import type { BenchTest, Expect } from './types.ts';

export interface LiveInput {
  readonly wiring: Wiring;
  readonly groups: readonly LampGroup[];
  readonly operate: (levers: Readonly<Record<string, Position>>) => Reading;
}

const EXTRA_LOW =
  'Extra-low voltage only: a plug-in, isolated, certified supply, and nothing of the panel joined to mains, rails or bus.';

/** Stage 3: volts at each drive's pins and which lamps are lit, for each lever in each position. */
export function liveTests({ wiring, groups, operate }: LiveInput): readonly BenchTest[] {
  const drives = drivesAtPins(wiring);
  return wiring.circuits.flatMap((circuit) => {
    const supply = wiring.supplies.find((each) => each.id === circuit.supply);
    if (supply === undefined) return [];
    const mine = drives.filter((each) => each.lever === circuit.id);
    return circuit.positions.map((position): BenchTest => {
      const reading = operate({ [circuit.id]: position });
      const volts = panelVolts(supply, reading);
      const lamps = lampsOf(circuit, reading);
      return {
        id: `live:${circuit.id}:${position}`,
        stage: 3,
        lever: circuit.id,
        do: `${EXTRA_LOW} Panel unplugged from the layout, test plug in: ${dummies(mine, supply)}. Feed of ${formatVolts(supply.volts)} limited to ${formatAmps(limitFor(supply))}. Lever ${circuit.id} ${inWords(position)}, all others normal; red probe first.`,
        expect: [
          ...mine.map(({ first, second }): Expect => voltsExpect(volts, position, first, second)),
          ...lamps.map(asExpect),
        ],
        tells: `A lamp the wrong way round or in the wrong group, a wrong resistor by its brightness, a dead pole, a crossed pair (the sign), a switch upside down.`,
        cannotTell: [dryWords(mine, volts), lampWords(lamps, groups, circuit)].filter((text) => text !== '').join(' '),
      };
    });
  });
}

/** Stage 4: switching on, then each lever in each position. */
export function bothTests({ wiring, operate }: LiveInput): readonly BenchTest[] {
  const drives = drivesAtPins(wiring);
  const atStart = operate({});
  const lampsBy = new Map<string, WiredLamp[]>();
  for (const lamp of wiring.lamps) lampsBy.set(lamp.circuit, [...(lampsBy.get(lamp.circuit) ?? []), lamp]);
  const sprung = new Set(wiring.switches.filter((each) => each.part.sprung).map((each) => each.id));
  return [
    ...wiring.supplies.map((supply): BenchTest => {
      const steady = supplyAmps(supply, atStart);
      return {
        id: `both:${supply.id}`,
        stage: 4,
        lever: null,
        do: `${EXTRA_LOW} Plug the panel in, all levers normal, meter on amps in the plus lead of ${supply.id}, and switch on. At first every drive that is not home moves: up to ${formatAmps(supply.worstAmps)} in all. Read when all is still.`,
        expect: [
          { quantity: 'amps', unit: 'A', ...steady, at: `plus of ${supply.id}, all levers normal and all still` },
        ],
        tells: 'A short, a drive or a lamp that draws far too much, two connectors swapped.',
        cannotTell: oneDriveWords(supply, steady),
      };
    }),
    ...wiring.circuits.flatMap((circuit) => {
      const supply = wiring.supplies.find((each) => each.id === circuit.supply);
      if (supply === undefined) return [];
      const mine = drives.filter((each) => each.lever === circuit.id);
      return circuit.positions.map((position): BenchTest => {
        const reading = operate({ [circuit.id]: position });
        const amps = supplyAmps(supply, reading);
        const lies = reading.drives
          .filter((each) => mine.some(({ drive }) => drive.id === each.drive))
          .flatMap((each): Expect[] => (each.moves === null ? [] : [{ point: each.point, lie: each.moves }]));
        return {
          id: `both:${circuit.id}:${position}`,
          stage: 4,
          lever: circuit.id,
          do: `${EXTRA_LOW} Panel plugged in and on. Throw lever ${circuit.id} to ${inWords(position)}, all others normal. Look at the blades and the lamps; read when all is still.`,
          expect: [
            { quantity: 'amps', unit: 'A', ...amps, at: `plus of ${supply.id}, all still` },
            ...lies,
            ...lampsOf(circuit, reading).map(asExpect),
          ],
          tells:
            'Wires of two levers swapped, two points of a lever working opposite ways, lamps that tell the other lie.',
          cannotTell: oneDriveWords(supply, amps),
        };
      });
    }),
  ];

  function supplyAmps(supply: WiredSupply, reading: Reading): Band {
    const volts = panelVolts(supply, reading);
    const fed = wiring.circuits.filter((circuit) => supply.circuits.includes(circuit.id));
    const motors = drives
      .filter((each) => supply.circuits.includes(each.lever) && !isCentred(each.lever, reading))
      .map(({ drive }) => driveAmps(drive, volts));
    const lamps = fed.map((circuit) => lampAmps(lampsBy.get(circuit.id) ?? [], reading));
    return ampsOnMeter(sumBands([...motors, ...lamps]));
  }

  function isCentred(lever: string, reading: Reading): boolean {
    return reading.levers[lever] === 'centre' || sprung.has(lever);
  }

  function oneDriveWords(supply: WiredSupply, band: Band): string {
    const each = drives.find(({ drive, lever }) => supply.circuits.includes(lever) && drive.ohms !== null);
    if (each === undefined)
      return 'Which drive draws it; the amps of drives that have cut themselves off are as good as none.';
    const ohms = driveOhms(each.drive);
    const one: Ampere = ohms === null ? 0 : supply.volts / (each.drive.ohms ?? ohms.high);
    const without: Band = { low: Math.max(0, band.low - one), high: band.high - one };
    return bandsOverlap(band, without)
      ? `With one drive dead it would read about ${formatAmps(one)} less, which overlaps the good band: this reading cannot tell. The blades do.`
      : 'Which drive draws it: the blades tell.';
  }
}

function inWords(position: Position): string {
  return position === 'centre' ? 'in its middle' : position;
}

function lampsOf(circuit: Circuit, reading: Reading): readonly LampReading[] {
  return reading.lamps.filter((lamp) => circuit.lamps.includes(lamp.id));
}

function asExpect({ id, look }: LampReading): Expect {
  return { lamp: id, look: look === 'unlit' ? 'unlit' : 'lit' };
}

/** Volts from the first pin to the second: plus when the lever is normal. */
function voltsExpect(volts: Band, position: Position, first: string, second: string): Expect {
  const signed: Band =
    position === 'centre'
      ? { low: -NOTHING, high: NOTHING }
      : position === 'normal'
        ? voltsOnMeter(volts)
        : voltsOnMeter({ low: -volts.high, high: -volts.low });
  return { quantity: 'volts', unit: 'V', ...signed, at: `${first} to ${second}` };
}

/** Which resistor stands in for each drive: its ohms, and a rating at which it stays cool enough to touch. */
function dummies(drives: readonly DrivePins[], supply: WiredSupply): string {
  if (drives.length === 0) return 'no drive on this lever';
  return drives
    .map(({ drive, first, second }) => {
      if (drive.ohms === null) return `nothing across ${first} and ${second} (${drive.id} cuts itself off)`;
      const ohms = preferred('E12', drive.ohms, 'nearest');
      const watts: Watt = supply.high ** 2 / ohms;
      const rating = RATINGS.find((each) => each * DERATE >= watts) ?? RATINGS[RATINGS.length - 1] ?? watts;
      return `${formatOhms(ohms)} of ${formatNumber(rating, rating < 1 ? 2 : 0)} W across ${first} and ${second} for ${drive.id} (${formatNumber(watts, 2)} W in it)`;
    })
    .join(', ');
}

/** All drives and lamps at rest, and a margin, to the next step. */
function limitFor(supply: WiredSupply): Ampere {
  return Math.max(1, Math.ceil((supply.steadyAmps * LIMIT_MARGIN) / LIMIT_STEP)) * LIMIT_STEP;
}

/** A dry joint between panel and dummy load lowers the volts at the pins: by enough to be told? */
function dryWords(drives: readonly DrivePins[], volts: Band): string {
  const good = voltsOnMeter(volts);
  const found = drives.find(({ drive }) => drive.ohms !== null);
  if (found?.drive.ohms === undefined || found.drive.ohms === null)
    return 'A dry joint, which loses no volts where nothing flows.';
  const load = preferred('E12', found.drive.ohms, 'nearest');
  const share = load / (load + DRY_JOINT);
  const dry = voltsOnMeter({ low: volts.low * share, high: volts.high * share });
  return bandsOverlap(good, dry)
    ? `A dry joint of ${DRY_JOINT} ohm would show ${formatVolts(dry.low)} to ${formatVolts(dry.high)}, which overlaps the good band: this reading cannot tell unless the feed is measured first and taken as it is.`
    : '';
}

function lampWords(lamps: readonly LampReading[], groups: readonly LampGroup[], circuit: Circuit): string {
  const doubtful = lamps.filter(({ look }) => look === 'faint').map(({ id }) => id);
  const shared = groups.filter(
    ({ id, arrange, normal, reverse }) =>
      circuit.groups.includes(id) && arrange === 'parallel' && Math.max(normal.length, reverse.length) > 1,
  );
  return [
    ...(doubtful.length > 0 ? [`${doubtful.join(', ')} may be too faint to call lit in a bright room.`] : []),
    ...(shared.length > 0
      ? [
          `Lamps of ${shared.map(({ id }) => id).join(', ')} share one resistor: uneven ones are unlike lamps, not bad joints.`,
        ]
      : []),
    'Lamps tell what the lever asks, not how the point lies.',
  ].join(' ');
}
