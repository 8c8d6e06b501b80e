/** A panel from a file to its wiring in one step, for tests here and in the folders above, below the pipeline. */
import { chooseSwitches, type LeverSwitch } from '../contacts/index.ts';
import {
  groupLamps,
  type LampGroup,
  type LampProblem,
  type LampUse,
  type LightTree,
  polesOf,
  readLamps,
} from '../lamps/index.ts';
import { checkPanel, type PanelFile } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { type Plan, readPlan } from '../plan/index.ts';
import type { Wiring } from './types.ts';
import { wirePanel } from './wire-panel.ts';

/** All that wiring a panel takes, and the wiring. */
export interface PanelWired {
  readonly panel: PanelFile;
  readonly plan: Plan;
  readonly switches: readonly LeverSwitch[];
  readonly lamps: readonly LampUse[];
  readonly trees: readonly LightTree[];
  readonly groups: readonly LampGroup[];
  readonly lampProblems: readonly LampProblem[];
  readonly wiring: Wiring;
}

/** Wire a file; throws where it cannot be read. */
export function wireFile(file: object): PanelWired {
  const read = checkPanel({ format: 'mimic-panel', version: 1, ...file });
  if (!read.ok) throw new RangeError(`a panel that cannot be read: ${JSON.stringify(read.problems)}`);
  const { panel } = read;
  const catalogue = resolveCatalogue(panel.parts);
  const plan = readPlan(panel);
  const { lamps, trees, problems } = readLamps(panel, catalogue, plan);
  const { switches } = chooseSwitches(panel, catalogue, plan, polesOf(trees));
  const { groups, problems: more } = groupLamps(panel, catalogue, plan, lamps);
  const wiring = wirePanel({ panel, catalogue, plan, switches, lamps, trees, groups });
  return { panel, plan, switches, lamps, trees, groups, lampProblems: [...problems, ...more], wiring };
}

/** A line along y 60 and so many roads that leave it at x 60, 120, 180 ..., none across another: P1, P2, P3 ... each normal along the line. */
export function ladder(points: number, more: object = {}): object {
  const end = 200 + 60 * points;
  const roads = Array.from({ length: points }, (_, i) => {
    const deep = 25 * (points - i);
    return {
      id: `road-${i + 1}`,
      path: [
        [60 + 60 * i, 60],
        [60 + 60 * i + 1.6 * deep, 60 + deep],
        [end, 60 + deep],
      ],
    };
  });
  const line = {
    id: 'main',
    path: [
      [0, 60],
      [end, 60],
    ],
  };
  return { strips: [line, ...roads], ...more };
}

/** A lamp beside the tape that shows these lies. */
export function lampOf(id: string, shows: unknown, more: object = {}): object {
  return { id, at: [20, 20], shows, ...more };
}
