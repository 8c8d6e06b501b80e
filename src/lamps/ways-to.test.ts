import { describe, expect, it } from 'vitest';
import type { PanelFile } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { readLamps } from './read-lamps.ts';
import { waysTo } from './ways-to.ts';

/** A lead with two branches one behind the other, and a loop further on: West - P1 - P2 - (P3 ... P4) - East. */
const PANEL: PanelFile = {
  format: 'mimic-panel',
  version: 1,
  strips: [
    {
      id: 'main',
      path: [
        [0, 60],
        [600, 60],
      ],
    },
    {
      id: 'first',
      path: [
        [60, 60],
        [108, 90],
        [200, 90],
      ],
    },
    {
      id: 'second',
      path: [
        [220, 60],
        [268, 90],
        [330, 90],
      ],
    },
    {
      id: 'loop',
      path: [
        [360, 60],
        [408, 90],
        [500, 90],
        [548, 60],
      ],
    },
  ],
  places: [
    { id: 'west', name: 'West', at: [0, 60] },
    { id: 'east', name: 'East', at: [600, 60] },
  ],
  lamps: [
    { id: 'H1', at: [300, 90], from: 'west' },
    { id: 'H2', at: [300, 90], claims: 'route' },
    { id: 'H3', at: [30, 60], from: 'west' },
    { id: 'H4', at: [590, 60], from: 'west' },
  ],
  lighting: { scheme: 'tree', from: 'west' },
};
const plan = readPlan(PANEL);
const spanOf = (x: number, y: number) =>
  readLamps({ ...PANEL, lamps: [{ id: 'T1', at: [x, y] }] }, resolveCatalogue(undefined), plan).lamps[0]?.span ?? '';

describe('waysTo', () => {
  it('[LA40] asks every point on the way, facing or trailing', () => {
    expect(waysTo(plan, 'west', spanOf(300, 90))).toEqual([{ P1: 'normal', P2: 'reverse' }]);
    expect(waysTo(plan, 'east', spanOf(30, 60))).toEqual([
      { P4: 'normal', P3: 'normal', P2: 'normal', P1: 'normal' },
      { P4: 'reverse', P3: 'reverse', P2: 'normal', P1: 'normal' },
    ]);
  });

  it('[LA40] asks nothing on the span of the place itself, and finds no way to what only turning back would reach', () => {
    expect(waysTo(plan, 'west', spanOf(30, 60))).toEqual([{}]);
    const aside = plan.places.find(({ at: [x, y] }) => x === 330 && y === 90);
    expect(waysTo(plan, aside?.id ?? '', spanOf(480, 90))).toEqual([]);
  });

  it('[LA40] is the claim of a lamp that names a place, or of a route lamp where the lighting does', () => {
    const { lamps, problems } = readLamps(PANEL, resolveCatalogue(undefined), plan);
    const route = [{ P1: 'normal', P2: 'reverse' }];
    expect(lamps.map(({ id, claim }) => [id, claim])).toEqual([
      ['H1', route],
      ['H2', route],
      ['H3', []],
      [
        'H4',
        [
          { P1: 'normal', P2: 'normal', P3: 'normal', P4: 'normal' },
          { P1: 'normal', P2: 'normal', P3: 'reverse', P4: 'reverse' },
        ],
      ],
    ]);
    // On the span of the place itself it would always be lit; and one chain of contacts cannot say two ways.
    expect(problems.map((each) => `${each.code} ${'lamp' in each ? each.lamp : ''}`)).toEqual([
      'lamp-never-or-always H3',
      'lamp-several-ways H4',
    ]);
  });
});
