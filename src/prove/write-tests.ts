/** Every bench test of the panel with what its meter should show, in the order of work. */
import type { DecoderList } from '../decoders/index.ts';
import type { LampGroup, LampUse } from '../lamps/index.ts';
import type { Lies, PanelFile } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import type { Fault, Position, Reading, Wiring } from '../wiring/index.ts';
import { benchTests } from './bench-layout.ts';
import { bothTests } from './both-together.ts';
import { coldTests } from './cold-panel.ts';
import { liveTests } from './live-panel.ts';
import { coinTests, trainTests } from './track-tests.ts';
import type { BenchTest } from './types.ts';

export interface ProveInput {
  readonly panel: PanelFile;
  readonly plan: Plan;
  readonly wiring: Wiring;
  readonly groups: readonly LampGroup[];
  readonly lamps: readonly LampUse[];
  /** Drives that are told by an address. */
  readonly decoders: DecoderList;
  /** What stands everywhere with the levers so, and points lying so that no lever works; what is not named lies normal. */
  readonly operate: (levers: Readonly<Record<string, Position>>, faults?: readonly Fault[], history?: Lies) => Reading;
}

/**
 * Tests by stage, then supply or lever in the order of the wiring (points and places in that of the plan), then lie. Ids stay the
 * same as long as the lever, point, contact, supply or place keeps its own.
 */
export function writeTests(input: ProveInput): readonly BenchTest[] {
  const { panel, plan, wiring } = input;
  return [
    ...lookTests(wiring),
    ...benchTests(wiring, input.decoders),
    ...coldTests(wiring),
    ...liveTests(input),
    ...bothTests(input),
    ...trainTests(plan),
    ...coinTests(panel, plan),
  ];
}

function lookTests(wiring: Wiring): readonly BenchTest[] {
  const connectors = wiring.connectors.filter((connector) => connector.pins.length > 0).map(({ id }) => id);
  const joints = wiring.wires.filter((wire) => wire.side === 'panel').length * 2;
  return [
    {
      id: 'look:panel',
      stage: 0,
      lever: null,
      do: `Look the panel over from behind with a lamp and a glass, nothing plugged in${joints === 0 ? '' : `: ${joints} joints`}. Tug every wire, count pins from the mating face${connectors.length === 0 ? '' : ` of ${connectors.join(' and ')}`}, look for whiskers between tags, and see that the flat of each lamp is on its minus side.`,
      expect: [],
      tells:
        'Dry and missing joints, bridges, loose strands, lamps the wrong way round, switches upside down, pins counted from the wrong side.',
      cannotTell: 'A break inside its insulation, or a wire to the wrong place that looks as good as the right one.',
    },
  ];
}
