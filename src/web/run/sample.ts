/** A small view for the tests of this folder, drawn by hand: one loop off a line, a crossover that two points share. */
import type { View, ViewRoute } from '../worker/types.ts';

/*
 *   a ──P1────────────P2── b      L1 works P1 and P2 (a loop); L2 works P3 alone
 *        ╲____ loop ___╱
 *                 ╲P3── s
 */
const route = (
  from: string,
  to: string,
  points: ViewRoute['points'],
  levers: ViewRoute['levers'],
  rest: Partial<ViewRoute>,
): ViewRoute => ({
  from,
  to,
  points,
  levers,
  presses: [],
  why: null,
  through: [],
  path: [],
  lamps: [],
  ...rest,
});

export const sample: View = {
  name: 'Sample',
  revision: 'A',
  face: {
    width: 300,
    height: 150,
    thickness: 3,
    material: 'aluminium',
    view: 'front',
    strips: [],
    lamps: [],
    levers: [],
    plates: [],
    platforms: [],
    fixings: [],
    buttons: [],
    relays: [],
    holes: [],
    problems: [],
  },
  places: [
    { id: 'a', name: 'West', at: [0, 50] },
    { id: 'b', name: 'East', at: [300, 50] },
    { id: 's', name: 'Siding', at: [250, 100] },
    { id: 'x', name: 'Nowhere', at: [10, 140] },
  ],
  points: [
    { id: 'P1', at: [60, 50], lever: 'L1', whenNormal: 'normal', normalTo: 'Main', reverseTo: 'Loop' },
    { id: 'P2', at: [240, 50], lever: 'L1', whenNormal: 'normal', normalTo: 'Main', reverseTo: 'Loop' },
    { id: 'P3', at: [150, 75], lever: 'L2', whenNormal: 'normal', normalTo: 'Loop', reverseTo: 'Siding' },
  ],
  levers: [
    { id: 'L1', name: 'Loop', at: [100, 120], works: ['P1', 'P2'], positions: ['normal', 'reverse'] },
    { id: 'L2', name: 'Siding', at: [150, 120], works: ['P3'], positions: ['normal', 'reverse'] },
    { id: 'L3', name: null, at: [200, 120], works: [], positions: ['normal', 'centre', 'reverse'] },
  ],
  buttons: [],
  lamps: [
    { id: 'H1', on: 'Main' },
    { id: 'H2', on: 'Loop' },
    { id: 'H3', on: 'Siding' },
  ],
  routes: [
    route(
      'a',
      'b',
      { P1: 'normal', P2: 'normal' },
      { L1: 'normal' },
      {
        path: [
          [0, 50],
          [300, 50],
        ],
        lamps: ['H1'],
      },
    ),
    route(
      'a',
      'b',
      { P1: 'reverse', P2: 'reverse', P3: 'normal' },
      { L1: 'reverse', L2: 'normal' },
      {
        path: [
          [0, 50],
          [60, 50],
          [100, 75],
          [200, 75],
          [240, 50],
          [300, 50],
        ],
        through: ['x'],
        lamps: ['H2'],
      },
    ),
    route(
      'a',
      's',
      { P1: 'reverse', P3: 'reverse' },
      { L1: 'reverse', L2: 'reverse' },
      {
        path: [
          [0, 50],
          [60, 50],
          [100, 75],
          [150, 75],
          [190, 100],
          [250, 100],
        ],
        lamps: ['H2', 'H3'],
      },
    ),
    route('b', 's', { P2: 'reverse' }, null, { why: 'no lever works P9' }),
  ],
  cut: false,
  conflicts: [
    [0, 1, 'point:P1'],
    [0, 2, 'point:P1'],
    [1, 2, 'point:P3'],
  ],
  supplies: [{ id: 'S1', name: 'Supply', rating: 1 }],
  counts: {
    strips: 3,
    points: 3,
    crossings: 0,
    places: 3,
    levers: 3,
    lamps: 3,
    drives: 3,
    circuits: 3,
    connectors: 1,
    wires: 20,
  },
  reading: { levers: {}, looks: { H1: 'good', H2: 'unlit', H3: 'unlit' }, amps: { S1: 0.1 }, unsolved: false },
};
