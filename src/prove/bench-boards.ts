/** Stage 1 for driver boards: 5 V on, and the input bridged to the common. */
import { formatAmps, formatSeconds } from '../units/index.ts';
import { STALL_BAND } from '../wiring/index.ts';
import type { BoardPins } from './at-pins.ts';
import { ampsOnMeter } from './bands.ts';
import { BOARD_HIGH, BOARD_LOW, BOARD_VOLTS } from './tolerances.ts';
import type { BenchTest, Expect, KindOfTest } from './types.ts';

export function boardFeedTest(): BenchTest {
  return {
    id: 'bench:5V',
    stage: 1,
    lever: null,
    do: 'Measure the 5 V of the bench before any board is clipped to it: an isolated, certified supply that limits itself to 1 A.',
    expect: [
      { quantity: 'volts', unit: 'V', low: BOARD_LOW, high: BOARD_HIGH, at: 'the 5 V feed, nothing clipped to it' },
    ],
    tells: 'A feed of the wrong volts, which would burn every board.',
    cannotTell: 'How it holds up while a servo moves: measure again then, when one trembles or stops half-way.',
  };
}

/** The input is open with the lever normal, and joined to the common with the lever reverse. */
export function boardTest(at: BoardPins, leverNormal: boolean, lies: readonly Expect[]): KindOfTest {
  const { drive, input, common, power } = at;
  const { inputAmps, runAmps, runSeconds } = drive.part;
  const runs =
    runAmps === null || runSeconds === null
      ? ''
      : ` It moves about ${formatSeconds(runSeconds)} at about ${formatAmps(runAmps)}.`;
  const wanted = inputAmps ?? 0;
  const amps = leverNormal
    ? ampsOnMeter({ low: 0, high: 0 })
    : ampsOnMeter({
        low: (wanted * (1 - STALL_BAND) * BOARD_LOW) / BOARD_VOLTS,
        high: (wanted * (1 + STALL_BAND) * BOARD_HIGH) / BOARD_VOLTS,
      });
  const bridge = leverNormal ? `leave ${input} open` : `bridge ${input} to ${common} through the meter on milliamps`;
  return {
    do: `Panel parted from the layout. On the layout half, minus of the 5 V on ${common} first, then plus on ${power}; it may twitch as it is switched on. Then ${bridge}.${runs} Never put volts on the input. If it lies the other way, turn its travel round at the board or swap its ends there, never in the connector.`,
    expect: [
      ...(leverNormal
        ? []
        : [{ quantity: 'amps' as const, unit: 'A' as const, ...amps, at: `the bridge from ${input} to ${common}` }]),
      ...lies,
    ],
    tells:
      'An open wire to input, common or plus, the three swapped with each other, another board on these pins, a servo that does not turn.',
    cannotTell:
      'Whether a dry joint of some ohms will let a moving servo starve: this reading cannot tell, its trembling does. Noise that the wires of the input pick up when trains run.',
  };
}
