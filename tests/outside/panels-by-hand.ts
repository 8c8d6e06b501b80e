/** Panels of several levers for the checks against ngspice: a main line with a branch to every point. */
import type { PanelFile } from '../../src/panel/index.ts';

/** What is said of one point: its drive and feed, and the rest of its lever's record. */
export interface OwnPoint {
  readonly drive?: string;
  /** Null: no lever works it. */
  readonly lever?: Partial<NonNullable<PanelFile['levers']>[number]> | null;
  /** Part of the lamps on its two legs; null: none. */
  readonly lamp?: string | null;
}

/** A panel with so many points and a lever for each; lamps N1, R1 ... on their legs. */
export function branchLine(points: readonly OwnPoint[], rest: Partial<PanelFile>): PanelFile {
  const at = (k: number): number => 60 + 120 * k;
  return {
    format: 'mimic-panel',
    version: 1,
    name: 'Bramble Siding',
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [at(points.length) + 60, 60],
        ],
      },
      ...points.map((_, k) => ({
        id: `branch${k + 1}`,
        path: [
          [at(k), 60],
          [at(k) + 48, 90],
          [at(k) + 100, 90],
        ] as [number, number][],
      })),
    ],
    points: points.map(({ drive = 'stall-2-wire' }, k) => ({
      id: `P${k + 1}`,
      at: [at(k), 60] as [number, number],
      drive,
    })),
    levers: points.flatMap(({ lever }, k) =>
      lever === null
        ? []
        : [{ id: `L${k + 1}`, at: [at(k), 130] as [number, number], works: [{ point: `P${k + 1}` }], ...lever }],
    ),
    lamps: points.flatMap(({ lamp = 'led-3-amber' }, k) =>
      lamp === null
        ? []
        : (['normal', 'reverse'] as const).map((lie) => ({
            id: `${lie === 'normal' ? 'N' : 'R'}${k + 1}`,
            at: (lie === 'normal' ? [at(k) + 40, 60] : [at(k) + 80, 90]) as [number, number],
            part: lamp,
            shows: { [`P${k + 1}`]: lie },
          })),
    ),
    ...rest,
  };
}
