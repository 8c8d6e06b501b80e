/**
 * Stage 1: the layout half alone, through the connector, from the bench feed that suits the kind of drive: a 9 V battery for motors, a charged
 * unit and a tap of the lead for coils, 5 V and a bridge for driver boards, an address for decoders; hand points are moved by hand.
 */
import type { DecoderList } from '../decoders/index.ts';
import type { Lie } from '../panel/index.ts';
import { formatAmps, formatNumber, formatSeconds } from '../units/index.ts';
import { otherLie, type WiredDrive, type Wiring } from '../wiring/index.ts';
import { type ContactPins, contactsAtPins, type DrivePins, drivesAtPins, type MotorPins } from './at-pins.ts';
import { ampsOnMeter, bandsOverlap, driveAmps, voltsOnMeter } from './bands.ts';
import { boardFeedTest, boardTest } from './bench-boards.ts';
import { coilTest, unitTest } from './bench-coils.ts';
import { contactTest, handTest, returnTests } from './bench-contacts.ts';
import { twinTests } from './bench-twins.ts';
import { BATTERY_HIGH, BATTERY_LOW, BATTERY_VOLTS, CUT_OFF, DRY_JOINT } from './tolerances.ts';
import type { BenchTest, Expect, KindOfTest } from './types.ts';

const LIES: readonly Lie[] = ['normal', 'reverse'];

/**
 * What each kind of bench feed should show, then both lies of every point: drives with wires in the order of the circuits, each followed by
 * its contacts; then decoders and hand points; then returns. Where one drive moves two points each has its own test.
 */
export function benchTests(wiring: Wiring, decoders: DecoderList): readonly BenchTest[] {
  const drives = drivesAtPins(wiring);
  const contacts = contactsAtPins(wiring);
  const fed = new Set(drives.map(({ drive }) => drive.id));
  const has = (kind: DrivePins['kind']) => drives.some((each) => each.kind === kind);
  return [
    ...(has('motor') ? [batteryTest()] : []),
    ...(has('coils') ? [unitTest(wiring)] : []),
    ...(has('board') ? [boardFeedTest()] : []),
    ...drives.flatMap((each) => [
      ...each.drive.asks.flatMap(({ point, goes }) => LIES.map((lie) => driveTest(each, point, lie, lie === goes))),
      ...ofDrive(each.drive.id),
    ]),
    ...wiring.drives
      .filter(({ id }) => !fed.has(id))
      .flatMap((drive) => [...unfedTests(drive), ...(drive.part.what === 'hand' ? [] : ofDrive(drive.id))]),
    ...returnTests(wiring),
    ...twinTests(wiring),
  ];

  function ofDrive(id: string): readonly BenchTest[] {
    return contacts
      .filter(({ drive }) => drive?.id === id)
      .flatMap((each) => LIES.map((lie) => contactTest(each, lie)));
  }

  function unfedTests(drive: WiredDrive): readonly BenchTest[] {
    if (drive.part.what === 'decoder') return decoderTests(drive);
    if (drive.part.what !== 'hand') return [];
    const mine: readonly ContactPins[] = contacts.filter((each) => each.drive?.id === drive.id);
    if (mine.length === 0) return [];
    return drive.points.flatMap((point) => LIES.map((lie) => handTest(drive, point, lie, mine)));
  }

  /** A decoder without an address cannot be told anything. */
  function decoderTests(drive: WiredDrive): readonly BenchTest[] {
    const told = decoders.decoders.find(({ id }) => id === drive.id);
    if (told === undefined || told.address === null) return [];
    const { address } = told;
    return told.points.flatMap(({ point, whenNormal }) =>
      LIES.map((lie): BenchTest => {
        const command = lie === whenNormal ? 'normal' : 'reverse';
        return {
          id: `bench:${point}:${lie}`,
          stage: 1,
          lever: null,
          do: `Panel parted from the layout, the bus on. Send address ${address} the command for ${command}, from a throttle, and look at the blades.`,
          expect: told.points.map(
            (each): Expect => ({
              point: each.point,
              lie: command === 'normal' ? each.whenNormal : otherLie(each.whenNormal),
            }),
          ),
          tells: 'A decoder with another address, a bus that does not reach it, one that throws the wrong way round.',
          cannotTell: `Whether another decoder listens to address ${address} as well: see that nothing else has moved. ${LINKAGE}`,
        };
      }),
    );
  }
}

function batteryTest(): BenchTest {
  return {
    id: 'bench:battery',
    stage: 1,
    lever: null,
    do: `Measure the 9 V battery before anything is clipped to it. Every band of amps from the battery in this stage is for ${BATTERY_VOLTS} V: multiply it by what you read and divide by ${BATTERY_VOLTS}.`,
    expect: [
      {
        quantity: 'volts',
        unit: 'V',
        low: BATTERY_LOW,
        high: BATTERY_HIGH,
        at: 'the battery, nothing clipped to it',
      },
    ],
    tells: 'A battery too tired to move a drive.',
    cannotTell: 'How it holds up under load: measure again with a drive on it when a reading is low.',
  };
}

/** One point, one lie; `leverNormal`: it is the lie that the lever's normal asks for. */
function driveTest(at: DrivePins, point: string, lie: Lie, leverNormal: boolean): BenchTest {
  const lies = at.drive.asks.map(
    ({ point: moved, goes }): Expect => ({ point: moved, lie: leverNormal ? goes : otherLie(goes) }),
  );
  const common = { id: `bench:${point}:${lie}`, stage: 1 as const, lever: at.lever };
  switch (at.kind) {
    case 'motor':
      return { ...common, ...motorTest(at, leverNormal, lies) };
    case 'coils':
      return { ...common, ...coilTest(at, leverNormal, lies) };
    case 'board':
      return { ...common, ...boardTest(at, leverNormal, lies) };
  }
}

function motorTest(at: MotorPins, leverNormal: boolean, lies: readonly Expect[]): KindOfTest {
  const { drive } = at;
  const [red, black] = leverNormal ? [at.first, at.second] : [at.second, at.first];
  const clips = `Panel parted from the layout. Clip the battery to the layout half: red on ${red}, black on ${black}, the meter on milliamps in the red lead.`;
  if (drive.ohms === null) {
    return {
      do: `${clips} ${running(drive)} Read when it has stopped, on the microamp range. ${SWAP}`,
      expect: [
        { quantity: 'amps', unit: 'A', low: 0, high: CUT_OFF, at: `the red lead at ${red}, once it has stopped` },
        ...lies,
      ],
      tells: `That both wires reach this drive and no other, the right way round, and that its limit switch opens.`,
      cannotTell: `What it draws while it runs, which lasts too short a time for most meters; a reading of nothing is sound only if the blades have moved across. ${LINKAGE}`,
    };
  }
  const battery = voltsOnMeter({ low: BATTERY_VOLTS, high: BATTERY_VOLTS });
  const good = ampsOnMeter(driveAmps(drive, battery));
  const dry = ampsOnMeter(driveAmps(drive, battery, DRY_JOINT));
  const typical = BATTERY_VOLTS / drive.ohms;
  return {
    do: `${clips} Read when the blades have come to rest. ${SWAP}`,
    expect: [
      {
        quantity: 'amps',
        unit: 'A',
        ...good,
        at: `the red lead at ${red}, battery ${formatNumber(BATTERY_VOLTS, 1)} V`,
      },
      ...lies,
    ],
    tells: `A crossed pair, an open wire or joint, a pin counted from the wrong side, a short, another drive on these pins, a motor that does not turn.`,
    cannotTell: `${
      bandsOverlap(good, dry)
        ? `A dry joint of ${DRY_JOINT} ohm would show ${formatAmps(dry.low)} to ${formatAmps(dry.high)}, which overlaps the good band: this reading cannot tell unless this drive's own ${formatAmps(typical)} or so has been measured before.`
        : `A joint that is only a few ohms too much.`
    } ${LINKAGE}`,
  };
}

/** Why the wires are put right where they end: at the connector every other pin would be wrong. */
const SWAP = 'If it lies the other way, swap its two wires at the drive, never in the connector.';
const LINKAGE = 'Whether the blades follow the drive is for the eye: look at them, not at the motor.';

function running({ part }: WiredDrive): string {
  const { runAmps, runSeconds } = part;
  if (runAmps === null || runSeconds === null) return 'It should run and stop by itself.';
  return `It should run about ${formatSeconds(runSeconds)} at about ${formatAmps(runAmps)} and stop by itself.`;
}
