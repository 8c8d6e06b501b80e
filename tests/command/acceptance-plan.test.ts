/** Plans and routes of panels written by hand from the description of the file; every expectation was worked out on paper. */
import { describe, expect, it } from 'vitest';
import { answerOn, BRANCH, findingsOn, LOOP } from './by-hand.ts';

const N = 'normal';
const R = 'reverse';

describe('numbers that the tool gives', () => {
  /** Two lines, a branch off each, and a crossover from one to the other. */
  const LINES = {
    strips: [
      {
        id: 'a',
        path: [
          [0, 40],
          [400, 40],
        ],
      },
      {
        id: 'b',
        path: [
          [0, 100],
          [400, 100],
        ],
      },
      {
        id: 'a1',
        path: [
          [100, 40],
          [150, 10],
          [400, 10],
        ],
      },
      {
        id: 'b1',
        path: [
          [100, 100],
          [150, 130],
          [400, 130],
        ],
      },
      {
        id: 'x',
        path: [
          [200, 40],
          [260, 100],
        ],
      },
    ],
    points: [{ id: 'P2', at: [204, 43] }],
    places: [{ id: 'E2', name: 'North', at: [398, 12] }],
  };

  it('go to points and ends by x, then y, and pass over what the file uses', async () => {
    const { places, routes } = await answerOn(LINES, 'routes');
    expect(places).toEqual([
      { id: 'E2', name: 'North' },
      { id: 'E1', name: null },
      { id: 'E3', name: null },
      { id: 'E4', name: null },
      { id: 'E5', name: null },
      { id: 'E6', name: null },
    ]);
    expect(routes.map(({ from, to, points }) => ({ from, to, points }))).toEqual([
      { from: 'E2', to: 'E1', points: { P1: R } },
      { from: 'E1', to: 'E4', points: { P1: N, P2: N } },
      { from: 'E1', to: 'E5', points: { P1: N, P2: R, P4: R } },
      { from: 'E3', to: 'E5', points: { P3: N, P4: N } },
      { from: 'E3', to: 'E6', points: { P3: R } },
    ]);
  });

  it('pass over what is retired', async () => {
    const { places, routes } = await answerOn({ ...LINES, retired: ['P1', 'E1'] }, 'routes');
    expect(places.map(({ id }) => id)).toEqual(['E2', 'E3', 'E4', 'E5', 'E6', 'E7']);
    expect(routes[0]?.points).toEqual({ P3: R });
    expect(routes[2]?.points).toEqual({ P2: R, P3: N, P5: R });
  });

  it('give a point the lever of its own number', async () => {
    const { routes } = await answerOn(LINES, 'routes');
    expect(routes[2]?.levers).toEqual({ L1: N, L2: R, L4: R });
  });

  it('reach a point within half the tape and 10 mm, and say which records name nothing, or one thing twice', async () => {
    const points = [
      { id: 'P1', at: [100, 60] },
      { id: 'P2', at: [104, 62] },
      { id: 'P8', at: [100, 72.4] },
      { id: 'P9', at: [100, 72.6] },
    ];
    const found = await findingsOn({ ...BRANCH, points });
    expect(found).toContain('record-finds-nothing P9');
    expect(found).not.toContain('record-finds-nothing P8');
    expect(found.some((each) => each.startsWith('records-on-one P1 P2'))).toBe(true);
    expect((await answerOn({ ...BRANCH, points }, 'check')).counts.points).toBe(1);
  });
});

describe('the normal leg', () => {
  // The train comes from the west and looks east: the straight leg is on its left, the branch on its right.
  it.each([
    ['m', N, R],
    ['left', N, R],
    ['br', R, N],
    ['right', R, N],
  ])('is named %s', async (normal, straight, branch) => {
    const { routes } = await answerOn({ ...BRANCH, points: [{ id: 'P1', at: [100, 60], normal }] }, 'routes');
    expect(routes.map(({ to, points }) => [to, points.P1])).toEqual([
      ['east', straight],
      ['south', branch],
    ]);
  });

  it('is the trap of a trap point, unless it is named', async () => {
    const strips = [
      {
        id: 'm',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
      {
        id: 'trap',
        path: [
          [100, 60],
          [140, 85],
        ],
      },
    ];
    const lies = async (point: object) =>
      (await answerOn({ strips, points: [{ id: 'P1', at: [100, 60], ...point }] }, 'routes')).routes.map(
        ({ to, points }) => [to, points.P1],
      );
    // Ends by x: E1 the west, E2 the trap, E3 the east.
    expect(await lies({ trap: true })).toEqual([
      ['E2', N],
      ['E3', R],
    ]);
    expect(await lies({ trap: true, normal: 'm' })).toEqual([
      ['E2', R],
      ['E3', N],
    ]);
  });

  it('that is no leg of it is found, and the straighter one stands in', async () => {
    const keys = { ...BRANCH, points: [{ id: 'P1', at: [100, 60], normal: 'nowhere' }] };
    expect(await findingsOn(keys)).toContain('normal-unknown P1');
    expect((await answerOn(keys, 'routes')).routes[0]?.points).toEqual({ P1: N });
  });
});

describe('ends that meet a strip', () => {
  const at = (degrees: number) => {
    const turn = (degrees * Math.PI) / 180;
    return {
      strips: [
        {
          id: 'm',
          path: [
            [0, 60],
            [300, 60],
          ],
        },
        {
          id: 's',
          path: [
            [100, 60],
            [100 + 60 * Math.cos(turn), 60 + 60 * Math.sin(turn)],
          ],
        },
      ],
    };
  };

  it.each([11, 32, 74])('are a point at %i degrees', async (degrees) => {
    const { counts } = await answerOn(at(degrees), 'check');
    expect([counts.points, counts.places]).toEqual([1, 3]);
  });

  it.each([
    [8, 'end-too-flat s m'],
    [77, 'end-too-square s m'],
    [90, 'end-too-square s m'],
  ])('stay free at %i degrees, with a finding', async (degrees, finding) => {
    const { counts } = await answerOn(at(degrees), 'check');
    expect([counts.points, counts.places]).toEqual([0, 4]);
    expect(await findingsOn(at(degrees))).toContain(finding);
  });
});

describe('diamonds, slips and bridges', () => {
  /** A level line and one that falls across it at (150, 60). */
  const CROSS = {
    strips: [
      {
        id: 'a',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
      {
        id: 'b',
        path: [
          [50, 10],
          [250, 110],
        ],
      },
    ],
    places: [
      { id: 'aw', at: [0, 60] },
      { id: 'ae', at: [300, 60] },
      { id: 'bn', at: [50, 10] },
      { id: 'bs', at: [250, 110] },
    ],
  };
  const made = (crossing: object) => ({ ...CROSS, crossings: [{ id: 'X7', at: [152, 62], ...crossing }] });
  const read = async (keys: object) => {
    const { routes, conflicts } = await answerOn({ ...keys }, 'routes');
    return { ways: routes.map(({ from, to, points }) => [from, to, points]), conflicts };
  };

  it('hold a train to its line on a diamond, which two routes cannot share', async () => {
    expect(await read(made({ kind: 'diamond' }))).toEqual({
      ways: [
        ['aw', 'ae', {}],
        ['bn', 'bs', {}],
      ],
      conflicts: [[0, 1, 'crossing:X7']],
    });
    expect((await answerOn(made({ kind: 'diamond' }), 'check')).counts.crossings).toBe(1);
  });

  it('are nothing to each other on a bridge', async () => {
    expect((await read(made({ kind: 'over' }))).conflicts).toEqual([]);
    expect((await answerOn(made({ kind: 'over' }), 'check')).counts.crossings).toBe(0);
  });

  it('set a double slip: the blades of one end choose the exit at the other', async () => {
    const ends = [{ id: 'P20' }, { id: 'P21' }];
    // P20 at the left end chooses the exit at the right one: reverse leads to bs. P21 chooses the exit at the left: reverse leads to bn.
    expect(await read(made({ kind: 'double-slip', normal: 'a', ends }))).toEqual({
      ways: [
        ['aw', 'ae', { P20: N, P21: N }],
        ['aw', 'bs', { P20: R, P21: N }],
        ['ae', 'bn', { P20: N, P21: R }],
        ['bn', 'bs', { P20: R, P21: R }],
      ],
      conflicts: [
        [0, 1, 'point:P20'],
        [0, 2, 'point:P21'],
        [0, 3, 'point:P20'],
        [1, 2, 'point:P20'],
        [1, 3, 'point:P21'],
        [2, 3, 'point:P20'],
      ],
    });
    const { counts } = await answerOn(made({ kind: 'double-slip', ends }), 'check');
    expect([counts.points, counts.crossings, counts.drives, counts.levers]).toEqual([2, 1, 2, 2]);
  });

  it('set a single slip: the curve needs both reverse, each straight way only the blades on it', async () => {
    const ends = [{ id: 'P20' }, { id: 'P21' }];
    // The curve lies below, from aw to bs: its left blades are on a, its right blades on b.
    expect(await read(made({ kind: 'single-slip', curve: [150, 65], ends }))).toEqual({
      ways: [
        ['aw', 'ae', { P20: N }],
        ['aw', 'bs', { P20: R, P21: R }],
        ['bn', 'bs', { P21: N }],
      ],
      conflicts: [
        [0, 1, 'point:P20'],
        [0, 2, 'crossing:X7'],
        [1, 2, 'point:P21'],
      ],
    });
  });
});

describe('a three-way point', () => {
  const FORK = {
    strips: [
      {
        id: 'm',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
      {
        id: 'up',
        path: [
          [100, 60],
          [160, 20],
          [300, 20],
        ],
      },
      {
        id: 'down',
        path: [
          [100, 60],
          [160, 100],
          [300, 100],
        ],
      },
    ],
    places: [
      { id: 'toe', at: [0, 60] },
      { id: 'mid', at: [300, 60] },
      { id: 'left', at: [300, 20] },
      { id: 'right', at: [300, 100] },
    ],
  };
  const lies = async (record: object) =>
    (
      await answerOn({ ...FORK, threeWays: [{ id: 'Y1', at: [100, 60], points: ['P30', 'P31'], ...record }] }, 'routes')
    ).routes.map(({ to, points }) => [to, points.P30, points.P31]);

  it('asks both points on each way, the left one the first', async () => {
    expect(await lies({})).toEqual([
      ['mid', N, N],
      ['left', R, N],
      ['right', N, R],
    ]);
  });

  it('may have another way normal', async () => {
    expect(await lies({ normal: 'up' })).toEqual([
      ['mid', R, N],
      ['left', N, N],
      ['right', N, R],
    ]);
  });
});

describe('routes', () => {
  /** Two strips end to end with a millimetre between them, a branch, and a named road on each. */
  const ROADS = {
    strips: [
      {
        id: 'm1',
        path: [
          [0, 60],
          [150, 60],
        ],
        layoutLength: 1000,
      },
      {
        id: 'm2',
        path: [
          [151, 60],
          [300, 60],
        ],
        layoutLength: 500,
      },
      {
        id: 'br',
        path: [
          [100, 60],
          [160, 100],
          [300, 100],
        ],
      },
    ],
    places: [
      { id: 'east', name: 'East', at: [300, 60] },
      { id: 'r2', name: 'Two', at: [250, 61] },
      { id: 'r1', name: 'One', at: [50, 60] },
      { id: 'west', name: 'West', at: [0, 60] },
      { id: 'south', name: 'South', at: [300, 100] },
    ],
  };

  it('stop at named roads or pass through them, in the order of places', async () => {
    const { routes } = await answerOn(ROADS, 'routes');
    expect(routes.map(({ from, to, through, points }) => [from, to, through, points.P1 ?? null])).toEqual([
      ['east', 'r2', [], null],
      ['east', 'r1', ['r2'], N],
      ['east', 'west', ['r2', 'r1'], N],
      ['r2', 'r1', [], N],
      ['r2', 'west', ['r1'], N],
      ['r1', 'west', [], null],
      ['r1', 'south', [], R],
      ['west', 'south', ['r1'], R],
    ]);
  });

  it('are as long as the strips along their corners, and on the layout where every strip says its length', async () => {
    const { routes } = await answerOn(ROADS, 'routes');
    const all = routes.find(({ from, to }) => from === 'east' && to === 'west');
    expect(all?.faceLength).toBeCloseTo(149 + 150, 6);
    expect(all?.layoutLength).toBeCloseTo(1500, 6);
    const south = routes.find(({ from, to }) => from === 'west' && to === 'south');
    expect(south?.faceLength).toBeCloseTo(100 + Math.hypot(60, 40) + 140, 6);
    expect(south?.layoutLength).toBeNull();
    // From 50 to 150 of 1000 mm over 150, and all but 50 of 500 mm over 149.
    const part = routes.find(({ from, to }) => from === 'r2' && to === 'r1');
    expect(part?.layoutLength).toBeCloseTo(1000 * (100 / 150) + 500 * (99 / 149), 5);
  });

  it('foul each other at a point before a span', async () => {
    const { routes, conflicts } = await answerOn(ROADS, 'routes');
    const nth = (from: string, to: string) => routes.findIndex((each) => each.from === from && each.to === to);
    const reason = (i: number, j: number) => conflicts.find(([a, b]) => a === i && b === j)?.[2];
    expect(reason(nth('east', 'west'), nth('west', 'south'))).toBe('point:P1');
    expect(reason(nth('east', 'r2'), nth('r2', 'r1'))).toMatch(/^span:/);
    expect(reason(nth('east', 'r2'), nth('r1', 'west'))).toBeUndefined();
    expect(conflicts.every(([i, j]) => i < j)).toBe(true);
  });

  it('list the fewest reverse lies first', async () => {
    const { routes } = await answerOn(LOOP, 'routes');
    expect(routes.map(({ points }) => points)).toEqual([
      { P1: N, P2: N },
      { P1: R, P2: R },
    ]);
    expect(routes[1]?.faceLength).toBeCloseTo(60 + 2 * Math.hypot(30, 25) + 120 + 60, 6);
  });

  it('say why the levers cannot set them', async () => {
    const opposed = await answerOn(
      { ...LOOP, levers: [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2', opposite: true }] }] },
      'routes',
    );
    expect(opposed.routes.map(({ levers }) => levers)).toEqual([null, null]);
    expect(opposed.routes.every(({ why }) => why?.includes('L1'))).toBe(true);
    const none = await answerOn({ ...LOOP, levers: [] }, 'routes');
    expect(none.routes.map(({ levers }) => levers)).toEqual([null, null]);
    expect(await findingsOn({ ...LOOP, levers: [] })).toEqual(
      expect.arrayContaining(['point-worked-by-none P1', 'point-worked-by-none P2']),
    );
  });

  it('pass one diamond twice on a strip that crosses itself', async () => {
    const strips = [
      {
        id: 'm',
        path: [
          [0, 60],
          [200, 60],
          [250, 20],
          [200, 0],
          [150, 20],
          [100, 120],
        ],
      },
    ];
    const { routes } = await answerOn({ strips }, 'routes');
    expect(routes).toHaveLength(1);
    expect(routes[0]?.faceLength).toBeCloseTo(
      200 + Math.hypot(50, 40) + Math.hypot(50, 20) + Math.hypot(50, 20) + Math.hypot(50, 100),
      6,
    );
  });

  it('read a strip that ends on itself as a point, and never turn back', async () => {
    const strips = [
      {
        id: 'm',
        path: [
          [0, 60],
          [150, 60],
          [200, 20],
          [250, 60],
          [200, 100],
          [120, 60],
        ],
      },
    ];
    expect((await answerOn({ strips }, 'check')).counts.points).toBe(1);
    expect((await answerOn({ strips }, 'routes')).routes).toEqual([]);
  });
});

describe('next to nothing', () => {
  it('opens without strips, with a finding', async () => {
    const { counts, findings } = await answerOn({ strips: [] }, 'check');
    expect(new Set(Object.values(counts))).toEqual(new Set([0]));
    expect(findings.map(({ code }) => code)).toContain('strips-none');
    expect((await answerOn({ strips: [] }, 'truth')).settings).toBe('1');
  });

  it.each([
    [
      [
        [10, 60],
        [10, 60],
      ],
    ],
    [[[10, 60]]],
    [[]],
  ])('opens with a strip of no length: %j', async (path) => {
    const keys = { strips: [{ id: 'm', path }] };
    expect(await findingsOn(keys)).toContain('strip-no-length m');
    expect((await answerOn(keys, 'routes')).places).toEqual([]);
  });
});
