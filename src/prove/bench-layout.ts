/** Stage 1: the layout half alone, through the connector, from a 9 V battery. Two-wire drives. */
import type { Lie } from '../panel/index.ts';
import { formatAmps, formatNumber, formatSeconds } from '../units/index.ts';
import type { WiredDrive, Wiring } from '../wiring/index.ts';
import { type DrivePins, drivesAtPins } from './at-pins.ts';
import { ampsOnMeter, bandsOverlap, driveAmps, voltsOnMeter } from './bands.ts';
import { BATTERY_HIGH, BATTERY_LOW, BATTERY_VOLTS, CUT_OFF, DRY_JOINT } from './tolerances.ts';
import type { BenchTest, Expect } from './types.ts';

const LIES: readonly Lie[] = ['normal', 'reverse'];

/** The battery, then every point's two lies. */
export function benchTests(wiring: Wiring): readonly BenchTest[] {
  const drives = drivesAtPins(wiring);
  if (drives.length === 0) return [];
  return [
    {
      id: 'bench:battery',
      stage: 1,
      lever: null,
      do: `Measure the 9 V battery before anything is clipped to it. Every band of amps in this stage is for ${BATTERY_VOLTS} V: multiply it by what you read and divide by ${BATTERY_VOLTS}.`,
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
    },
    ...drives.flatMap((each) =>
      each.drive.asks.flatMap(({ point, whenNormal }) =>
        whenNormal === null ? [] : LIES.map((lie) => benchTest(each, point, lie, lie === whenNormal)),
      ),
    ),
  ];
}

/** One point, one lie; `leverNormal`: it is the lie that the lever's normal asks for. */
function benchTest(at: DrivePins, point: string, lie: Lie, leverNormal: boolean): BenchTest {
  const { drive } = at;
  const [red, black] = leverNormal ? [at.first, at.second] : [at.second, at.first];
  const lies = drive.asks.flatMap(({ point: moved, whenNormal }): Expect[] => {
    if (whenNormal === null) return [];
    const other: Lie = whenNormal === 'normal' ? 'reverse' : 'normal';
    return [{ point: moved, lie: leverNormal ? whenNormal : other }];
  });
  const clips = `Panel parted from the layout. Clip the battery to the layout half: red on ${red}, black on ${black}, the meter on milliamps in the red lead.`;
  const common = { id: `bench:${point}:${lie}`, stage: 1 as const, lever: at.lever };
  if (drive.ohms === null) {
    return {
      ...common,
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
    ...common,
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

const SWAP = 'If it lies the other way, swap its two wires at the drive, never in the connector.';
const LINKAGE = 'Whether the blades follow the drive is for the eye: look at them, not at the motor.';

function running({ part }: WiredDrive): string {
  const { runAmps, runSeconds } = part;
  if (runAmps === null || runSeconds === null) return 'It should run and stop by itself.';
  return `It should run about ${formatSeconds(runSeconds)} at about ${formatAmps(runAmps)} and stop by itself.`;
}
