/** Every bench test of the panel with what its meter should show, in the order of work. */
import type { LampGroup } from '../lamps/index.ts';
import type { PanelFile } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import type { Position, Reading, Wiring } from '../wiring/index.ts';
import { benchTests } from './bench-layout.ts';
import { coldTests } from './cold-panel.ts';
import { bothTests, liveTests } from './live-panel.ts';
import { coinTests, trainTests } from './track-tests.ts';
import type { BenchTest } from './types.ts';

export interface ProveInput {
  readonly panel: PanelFile;
  readonly plan: Plan;
  readonly wiring: Wiring;
  readonly groups: readonly LampGroup[];
  /** What stands everywhere with the levers so; a lever that is not named lies normal. */
  readonly operate: (levers: Readonly<Record<string, Position>>) => Reading;
}

/**
 * Tests by stage, then supply or lever in the order of the wiring (points and places in that of the plan), then lie. Ids stay the
 * same as long as the lever, point, supply or place keeps its own. Drives that take no two-wire feed have no bench test yet.
 */
export function writeTests(input: ProveInput): readonly BenchTest[] {
  const { panel, plan, wiring } = input;
  return [
    ...lookTests(wiring),
    ...benchTests(wiring),
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
