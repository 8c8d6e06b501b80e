/**
 * Every formation of the trade in a few lines, with what it is by hand: its points (id, spot, hand of the reverse leg seen from the
 * toe), its crossings, every route with the lies that it asks (n normal, r reverse; `via` the named roads that it passes), and every
 * two routes that cannot stand together, with the reason. The same again with every strip drawn the other way, and with every strip
 * begun in its middle. A case that fails prints its tracks and the plan that was read. The sheet has y down.
 */
import { describe, expect, it } from 'vitest';
import type { PanelFile } from '../../src/panel/index.ts';
import { readPlan } from '../../src/plan/index.ts';
import { countRoutes, findConflicts, listRoutes } from '../../src/routes/index.ts';
import { printPlan, printTracks, tracks } from '../generate/tracks.ts';

interface Formation {
  readonly name: string;
  readonly laid: string;
  readonly more?: Partial<PanelFile>;
  readonly points: readonly string[];
  readonly crossings?: readonly string[];
  readonly routes: readonly string[];
  /** By place in the list of routes, from 0. */
  readonly conflicts: readonly string[];
  readonly problems?: readonly string[];
}

const LINE = `main 0,100 300,100
  @w West 0,100
  @e East 300,100`;
const CROSS = `main 0,100 300,100
  over 70,50 230,150
  @w West 0,100
  @e East 300,100
  @nw North 70,50
  @se South 230,150`;
const at = (kind: 'over' | 'single-slip' | 'double-slip', more: { curve?: [number, number] } = {}) => ({
  crossings: [{ id: 'X1', at: [150, 100] as [number, number], kind, ...more }],
});

const FORMATIONS: readonly Formation[] = [
  {
    name: 'ordinary point, right hand',
    laid: `${LINE}
      leg 100,100 180,150
      @s Siding 180,150`,
    points: ['P1 100,100 right'],
    routes: ['w>e P1n', 'w>s P1r'],
    conflicts: ['0 1 point:P1'],
  },
  {
    name: 'ordinary point, left hand',
    laid: `${LINE}
      leg 100,100 180,50
      @s Siding 180,50`,
    points: ['P1 100,100 left'],
    routes: ['w>e P1n', 'w>s P1r'],
    conflicts: ['0 1 point:P1'],
  },
  {
    name: 'ordinary point, right hand, its toe to the right',
    laid: `${LINE}
      leg 200,100 120,50
      @s Siding 120,50`,
    points: ['P1 200,100 right'],
    routes: ['w>e P1n', 'e>s P1r'],
    conflicts: ['0 1 point:P1'],
  },
  {
    name: 'ordinary point, left hand, its toe to the right',
    laid: `${LINE}
      leg 200,100 120,150
      @s Siding 120,150`,
    points: ['P1 200,100 left'],
    routes: ['w>e P1n', 'e>s P1r'],
    conflicts: ['0 1 point:P1'],
  },
  {
    // Both legs turn to the right, by 21.8 and by 45 degrees: the straighter is normal.
    name: 'curved point',
    laid: `toe 0,100 100,100
      outer 100,100 180,132
      inner 100,100 150,150
      @w West 0,100
      @o Outer 180,132
      @i Inner 150,150`,
    points: ['P1 100,100 right'],
    routes: ['w>o P1n', 'w>i P1r'],
    conflicts: ['0 1 point:P1'],
  },
  {
    // Equally straight: the left leg is normal.
    name: 'wye',
    laid: `toe 0,100 100,100
      up 100,100 180,70
      down 100,100 180,130
      @w West 0,100
      @u Upper 180,70
      @d Lower 180,130`,
    points: ['P1 100,100 right'],
    routes: ['w>u P1n', 'w>d P1r'],
    conflicts: ['0 1 point:P1'],
  },
  {
    // The left leg is the first point's reverse, the right leg the second's; no way asks both reverse.
    name: 'three-way point',
    laid: `${LINE}
      up 100,100 180,50
      down 100,100 180,150
      @u Upper 180,50
      @d Lower 180,150`,
    points: ['P1 100,100 left', 'P2 100,100 right'],
    routes: ['w>e P1n P2n', 'w>u P1r P2n', 'w>d P1n P2r'],
    conflicts: ['0 1 point:P1', '0 2 point:P2', '1 2 point:P1'],
  },
  {
    name: 'diamond',
    laid: CROSS,
    points: [],
    crossings: ['X1 diamond'],
    routes: ['w>e', 'nw>se'],
    conflicts: ['0 1 crossing:X1'],
  },
  {
    name: 'bridge',
    laid: CROSS,
    more: at('over'),
    points: [],
    routes: ['w>e', 'nw>se'],
    conflicts: [],
  },
  {
    // The curve above joins North and East: the blades on main are those at East (P2), those on the other line at North (P1).
    name: 'single slip',
    laid: CROSS,
    more: at('single-slip', { curve: [153, 90] }),
    points: ['P1 at the left', 'P2 at the right'],
    crossings: ['X1 single-slip'],
    routes: ['w>e P2n', 'e>nw P1r P2r', 'nw>se P1n'],
    conflicts: ['0 1 point:P2', '0 2 crossing:X1', '1 2 point:P1'],
  },
  {
    // P1 at the left end chooses the exit at the right, P2 the one at the left.
    name: 'double slip',
    laid: CROSS,
    more: at('double-slip'),
    points: ['P1 at the left', 'P2 at the right'],
    crossings: ['X1 double-slip'],
    routes: ['w>e P1n P2n', 'w>se P1r P2n', 'e>nw P1n P2r', 'nw>se P1r P2r'],
    conflicts: ['0 1 point:P1', '0 2 point:P2', '0 3 point:P1', '1 2 point:P1', '1 3 point:P2', '2 3 point:P1'],
  },
  {
    name: 'crossover',
    laid: `up 0,100 400,100
      down 0,150 400,150
      link 160,100 240,150
      @uw Up_west 0,100
      @ue Up_east 400,100
      @dw Down_west 0,150
      @de Down_east 400,150`,
    points: ['P1 160,100 right', 'P2 240,150 right'],
    routes: ['uw>ue P1n', 'uw>de P1r P2r', 'dw>de P2n'],
    conflicts: ['0 1 point:P1', '1 2 point:P2'],
  },
  {
    name: 'scissors crossover',
    laid: `up 0,100 400,100
      down 0,150 400,150
      a 160,100 240,150
      b 160,150 240,100
      @uw Up_west 0,100
      @ue Up_east 400,100
      @dw Down_west 0,150
      @de Down_east 400,150`,
    points: ['P1 160,100 right', 'P2 160,150 left', 'P3 240,100 left', 'P4 240,150 right'],
    crossings: ['X1 diamond'],
    routes: ['uw>ue P1n P3n', 'uw>de P1r P4r', 'ue>dw P2r P3r', 'dw>de P2n P4n'],
    // Both straight at once: the two lines have nothing in common.
    conflicts: ['0 1 point:P1', '0 2 point:P3', '1 2 crossing:X1', '1 3 point:P4', '2 3 point:P2'],
  },
  {
    // Normal is the trap: a runaway from the road is turned off before the main line.
    name: 'trap point',
    laid: `${LINE}
      road 200,100 120,150 0,150
      catch 80,150 110,170
      @r Road 0,150
      @c Catch 110,170`,
    more: { points: [{ id: 'P9', at: [80, 150], trap: true }] },
    points: ['P1 200,100 left', 'P9 80,150 left'],
    routes: ['w>e P1n', 'e>r P1r P9r', 'r>c P9n'],
    conflicts: ['0 1 point:P1', '1 2 point:P9'],
  },
  {
    name: 'ladder',
    laid: `main 0,200 300,200
      lead 40,200 200,100 300,100
      a 80,175 300,175
      b 120,150 300,150
      c 160,125 300,125
      @w West 0,200
      @m Main 300,200
      @a1 A 300,175
      @b1 B 300,150
      @c1 C 300,125
      @d1 D 300,100`,
    points: ['P1 40,200 left', 'P2 80,175 right', 'P3 120,150 right', 'P4 160,125 right'],
    routes: ['w>m P1n', 'w>a1 P1r P2r', 'w>b1 P1r P2n P3r', 'w>c1 P1r P2n P3n P4r', 'w>d1 P1r P2n P3n P4n'],
    conflicts: [
      ...[1, 2, 3, 4].map((j) => `0 ${j} point:P1`),
      ...[2, 3, 4].map((j) => `1 ${j} point:P2`),
      ...[3, 4].map((j) => `2 ${j} point:P3`),
      '3 4 point:P4',
    ],
  },
  {
    name: 'double-ended yard',
    laid: `main 0,200 600,200
      a 40,200 200,100 400,100 560,200
      b 80,175 520,175
      c 120,150 480,150
      @w West 0,200
      @e East 600,200
      @mid Middle 300,150`,
    points: [
      'P1 40,200 left',
      'P2 80,175 right',
      'P3 120,150 right',
      'P4 480,150 left',
      'P5 520,175 left',
      'P6 560,200 right',
    ],
    routes: [
      'w>e P1n P6n',
      'w>e P1r P2n P3n P4n P5n P6r',
      'w>e P1r P2n P3r P4r P5n P6r via mid',
      'w>e P1r P2r P5r P6r',
      'w>mid P1r P2n P3r',
      'e>mid P4r P5n P6r',
    ],
    conflicts: [
      ...[1, 2, 3, 4].map((j) => `0 ${j} point:P1`),
      '0 5 point:P6',
      '1 2 point:P3',
      '1 3 point:P2',
      '1 4 point:P3',
      '1 5 point:P4',
      '2 3 point:P2',
      '2 4 span:P1/P2',
      '2 5 span:P3/P4',
      '3 4 point:P2',
      '3 5 point:P5',
      '4 5 span:P3/P4',
    ],
  },
  {
    name: 'passing loop',
    laid: `main 0,100 400,100
      loop 60,100 140,150 260,150 340,100
      @w West 0,100
      @e East 400,100
      @l Loop 200,150`,
    points: ['P1 60,100 right', 'P2 340,100 left'],
    routes: ['w>e P1n P2n', 'w>e P1r P2r via l', 'w>l P1r', 'e>l P2r'],
    conflicts: ['0 1 point:P1', '0 2 point:P1', '0 3 point:P2', '1 2 span:P1/P2', '1 3 span:P1/P2', '2 3 span:P1/P2'],
  },
  {
    // The west leg leaves the stem by 33.6 degrees, the east leg by 33.8.
    name: 'triangle',
    laid: `main 0,100 400,100
      a 100,100 199.5,250
      b 300,100 199.5,250
      stem 199.5,250 199.5,330
      @w West 0,100
      @e East 400,100
      @s Stem 199.5,330`,
    points: ['P1 100,100 right', 'P2 199.5,250 right', 'P3 300,100 left'],
    routes: ['w>e P1n P3n', 'w>s P1r P2n', 'e>s P2r P3r'],
    conflicts: ['0 1 point:P1', '0 2 point:P3', '1 2 point:P2'],
  },
  {
    // Round either way, and from one place on it to the other; never from leg to leg.
    name: 'balloon loop',
    laid: `main 0,100 200,100 280,50 360,50 360,150 280,150 200,100
      @w West 0,100
      @out Out 320,50
      @back Back 320,150`,
    more: { points: [{ id: 'P1', at: [200, 100], normal: 'left' }] },
    points: ['P1 200,100 right'],
    routes: ['w>out P1n', 'w>out P1r via back', 'w>back P1n via out', 'w>back P1r', 'out>back'],
    conflicts: [
      '0 1 point:P1',
      '0 2 span:P1/P1',
      '0 3 point:P1',
      '0 4 span:P1/P1',
      '1 2 point:P1',
      '1 3 span:P1/P1',
      '1 4 span:P1/P1',
      '2 3 point:P1',
      '2 4 span:P1/P1',
      '3 4 span:P1/P1',
    ],
  },
  {
    name: 'butts without a kink, one of them 1 mm open',
    laid: `a 0,100 100,100
      b 200,100 100,100
      c 201,100 300,100
      @w West 0,100
      @e East 300,100`,
    points: [],
    routes: ['w>e'],
    conflicts: [],
  },
  {
    // 32 degrees are no news, 52 are.
    name: 'butts with a kink',
    laid: `a 0,100 100,100
      b 180,150 100,100
      c 180,150 190,250
      @w West 0,100
      @s South 190,250`,
    points: [],
    routes: ['w>s'],
    conflicts: [],
    problems: ['butt-kink'],
  },
];

/** What the plan says, in the words of the cases. */
function read(panel: PanelFile) {
  const plan = readPlan(panel);
  const { routes } = listRoutes(plan);
  const spot = ([x, y]: readonly [number, number]) => `${Number(x.toFixed(2))},${Number(y.toFixed(2))}`;
  return {
    points: plan.points.map(({ id, at: [x, y], hand, of }) =>
      // Of an end of a slip the side of its crossing, at x = 150.
      of === 'slip' ? `${id} at the ${x < 150 ? 'left' : 'right'}` : `${id} ${spot([x, y])} ${hand}`,
    ),
    crossings: plan.crossings.map(({ id, kind }) => `${id} ${kind}`),
    routes: routes.map(({ from, to, points, through }) => {
      const lies = Object.entries(points).map(([id, lie]) => `${id}${lie[0]}`);
      return [`${from}>${to}`, ...lies, ...(through.length > 0 ? ['via', ...through] : [])].join(' ');
    }),
    conflicts: findConflicts(routes).map(([i, j, reason]) => `${i} ${j} ${reason}`),
    problems: plan.problems.map(({ code }) => code),
    count: countRoutes(plan),
    print: `${printTracks(panel)}\n\n${printPlan(plan)}`,
  };
}

/** Every strip drawn the other way. */
function reversed(panel: PanelFile): PanelFile {
  return { ...panel, strips: panel.strips.map((strip) => ({ ...strip, path: [...strip.path].reverse() })) };
}

/** Every strip laid in two, from a spot in its first straight piece outwards; the further part keeps its name. */
function fromTheMiddle(panel: PanelFile): PanelFile {
  return {
    ...panel,
    strips: panel.strips.flatMap((strip) => {
      const [a, b] = strip.path;
      if (a === undefined || b === undefined) return [strip];
      const seam: [number, number] = [a[0] + (b[0] - a[0]) * 0.31, a[1] + (b[1] - a[1]) * 0.31];
      return [
        { ...strip, path: [seam, ...strip.path.slice(1)] },
        { ...strip, id: `${strip.id}-back`, path: [seam, a] },
      ];
    }),
  };
}

describe.each(FORMATIONS.map((each) => [each.name, each] as const))('%s', (_, formation) => {
  const { laid, more, points, crossings = [], routes, conflicts, problems = [] } = formation;

  it.each([
    ['as it is', (panel: PanelFile) => panel],
    ['every strip drawn the other way', reversed],
    ['every strip begun in its middle', fromTheMiddle],
  ])('%s', (_how, turn) => {
    const { print, count, ...found } = read(turn(tracks(laid, more)));
    expect(found, print).toEqual({ points, crossings, routes, conflicts, problems });
    expect(count, print).toEqual({ count: BigInt(routes.length), counted: 'exact' });
  });
});
