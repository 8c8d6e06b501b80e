import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { printTracks, tracks } from '../../tests/generate/tracks.ts';
import { everyRoute } from '../../tests/oracle/every-route.ts';
import { type PanelFile, readPanel } from '../panel/index.ts';
import { byId, readPlan } from '../plan/index.ts';
import {
  controlTable,
  countConflicts,
  findConflicts,
  listRoutes,
  MOST_ROUTES,
  type Route,
  type RouteOptions,
} from './index.ts';

function routes(text: string, more: Partial<PanelFile> = {}, options: RouteOptions = {}): readonly Route[] {
  return listRoutes(readPlan(tracks(text, more)), options).routes;
}

/** `west>east P1n P2r` */
function line(route: Route): string {
  const lies = Object.entries(route.points).map(([id, lie]) => `${id}${lie[0]}`);
  return [`${route.from}>${route.to}`, ...lies].join(' ');
}

const LOOP = `main 0,60 300,60
  loop 60,60 100,85 200,85 240,60
  @west West 0,60
  @east East 300,60
  @loop-road Loop 150,85`;

describe('what a route is', () => {
  it('[RT1] joins two places, from the earlier in the order of places, asking a lie of every point passed', () => {
    expect(routes(LOOP).map(line)).toEqual([
      'west>east P1n P2n',
      'west>east P1r P2r',
      'west>loop-road P1r',
      'east>loop-road P2r',
    ]);
  });

  it('[RT2] one that passes a road names it, without its own ends', () => {
    expect(routes(LOOP).map((route) => route.through)).toEqual([[], ['loop-road'], [], []]);
    const row = routes('main 0,60 300,60\n@c C 250,60\n@a A 0,60\n@b B 100,60\n@d D 300,60\n@e E 200,60');
    expect(row.map((route) => [`${route.from}>${route.to}`, route.through.join(' '), route.faceLength])).toEqual([
      ['c>a', 'e b', 250],
      ['c>b', 'e', 150],
      ['c>d', '', 50],
      ['c>e', '', 50],
      ['a>b', '', 100],
      ['a>d', 'b e c', 300],
      ['a>e', 'b', 200],
      ['b>d', 'e c', 200],
      ['b>e', '', 100],
      ['d>e', 'c', 100],
    ]);
  });

  it('[RT3] never turns back: from leg to leg there is no route', () => {
    const fork = 'main 0,60 300,60\nb 100,60 180,110\n@left Left 300,60\n@right Right 180,110';
    expect(routes(fork).map((route) => `${route.from}>${route.to}`)).toEqual(['left>E1', 'right>E1']);
  });

  it('[RT3] passes no span twice: a balloon loop leads to itself alone', () => {
    const balloon = 'loop 0,60 100,60 200,60 260,100 200,140 140,100 80,60\n@in In 0,60\n@back Back 200,140';
    expect(routes(balloon).map(line)).toEqual(['in>back P1n', 'in>back P1r']);
  });

  it('[RT4] may pass a diamond twice, on each line once', () => {
    const [only, ...none] = routes('a 0,0 200,0 200,50 100,50 100,-50');
    expect([only?.crossings, only?.faceLength, none]).toEqual([['X1'], 450, []]);
  });

  it('[RT4] one that would need both lies of a slip is none', () => {
    // Straight over, round, and across again: of a double slip both normal and then both reverse.
    const text = 'a 0,0 200,0 240,60 180,100 20,-100';
    const kinds = (kind: 'diamond' | 'double-slip') =>
      routes(text, { crossings: [{ id: 'X1', at: [100, 0], kind }] }).length;
    expect([kinds('diamond'), kinds('double-slip')]).toEqual([1, 0]);
  });

  it('[RT5] by fewest reverse lies, then lies by point', () => {
    const loops = 'main 0,60 600,60\na 60,60 100,85 140,85 180,60\nb 260,60 300,35 340,35 380,60';
    expect(routes(loops).map(line)).toEqual([
      'E1>E2 P1n P2n P3n P4n',
      'E1>E2 P1n P2n P3r P4r',
      'E1>E2 P1r P2r P3n P4n',
      'E1>E2 P1r P2r P3r P4r',
    ]);
  });

  it('[RT6] the face length runs along corners; the layout length from those of strips, null where one says none', () => {
    const [straight, round] = routes(
      LOOP.replace('240,60', '240,60 layoutLength=1400').replace('300,60', '300,60 layoutLength=3000'),
    );
    expect(straight).toMatchObject({ faceLength: 300, layoutLength: 3000 });
    expect(round?.faceLength).toBeCloseTo(220 + 2 * Math.hypot(40, 25), 6);
    expect(round?.layoutLength).toBeCloseTo(1200 + 1400, 6);
    expect(routes(LOOP).map((route) => route.layoutLength)).toEqual([null, null, null, null]);
  });

  it('[RT6] the path runs from place to place, corner by corner', () => {
    const [, , part, back] = routes(LOOP);
    expect(part?.path).toEqual([
      [0, 60],
      [60, 60],
      [100, 85],
      [150, 85],
    ]);
    expect(back?.path).toEqual([
      [300, 60],
      [240, 60],
      [200, 85],
      [150, 85],
    ]);
  });

  it('[RT7] only those asked for', () => {
    expect(routes(LOOP, {}, { from: 'east', to: 'west' }).map(line)).toEqual([
      'west>east P1n P2n',
      'west>east P1r P2r',
    ]);
    expect(routes(LOOP, {}, { from: 'loop-road' }).map(line)).toEqual(['west>loop-road P1r', 'east>loop-road P2r']);
    expect(routes(LOOP, {}, { from: 'nowhere' })).toEqual([]);
  });

  it('[RT8] a list that is cut says so', () => {
    const plan = readPlan(tracks(LOOP));
    expect(listRoutes(plan, { limit: 4 })).toMatchObject({ cut: false, limit: 4 });
    expect(listRoutes(plan, { limit: 3 })).toMatchObject({ cut: true, limit: 3 });
    expect(listRoutes(plan).limit).toBe(MOST_ROUTES);
    const rows = Array.from({ length: 40 }, (_, i) => {
      const x = 200 * i;
      return `l${i} ${x + 20},60 ${x + 60},85 ${x + 100},85 ${x + 140},60`;
    });
    const many = listRoutes(readPlan(tracks(`main 0,60 9000,60\n${rows.join('\n')}`)));
    expect([many.cut, many.routes.length]).toEqual([true, MOST_ROUTES]);
  });
});

describe('levers of a route', () => {
  it('[LR1] only those that it asks something of; `opposite` is the other lie', () => {
    const levers = [
      { id: 'L1', works: [{ point: 'P1' }] },
      { id: 'L2', works: [{ point: 'P2', opposite: true }] },
    ];
    expect(routes(LOOP, { levers }).map((route) => route.levers)).toEqual([
      { L1: 'normal', L2: 'reverse' },
      { L1: 'reverse', L2: 'normal' },
      { L1: 'reverse' },
      { L2: 'normal' },
    ]);
  });

  it('[LR2] what the levers cannot set is listed with the reason', () => {
    const levers = [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2', opposite: true }] }];
    const [straight] = routes(LOOP, { levers });
    expect(straight?.levers).toBeNull();
    expect(straight?.why).toBe('L1 works P1 and P2 together: P1 normal and P2 normal cannot both be had');
  });

  it('[LR3] a point that nothing works leaves its routes without levers', () => {
    const all = routes(LOOP, { levers: [{ id: 'L1', works: [{ point: 'P1' }] }] });
    expect(all.map((route) => route.why)).toEqual([
      'no lever works P2',
      'no lever works P2',
      null,
      'no lever works P2',
    ]);
  });

  it('[LR4] the control table has a row a route and a column a lever', () => {
    const panel = tracks(LOOP, {
      levers: [
        { id: 'L1', works: [{ point: 'P1' }] },
        { id: 'L2', works: [{ point: 'P2' }] },
      ],
    });
    const plan = readPlan(panel);
    const table = controlTable(plan, listRoutes(plan).routes);
    expect(table.levers).toEqual(['L1', 'L2']);
    expect(table.rows.map((row) => row.cells.map((cell) => cell || '-').join(''))).toEqual(['NN', 'RR', 'R-', '-R']);
  });
});

describe('conflicts', () => {
  it('[CF1] a point needed both ways, else a diamond both pass, else a span both pass', () => {
    expect(findConflicts(routes(LOOP))).toEqual([
      [0, 1, 'point:P1'],
      [0, 2, 'point:P1'],
      [0, 3, 'point:P2'],
      [1, 2, 'span:P1/P2'],
      [1, 3, 'span:P1/P2'],
      [2, 3, 'span:P1/P2'],
    ]);
    expect(findConflicts(routes('a 0,0 200,0\nb 20,50 180,-50'))).toEqual([[0, 1, 'crossing:X1']]);
  });

  it('[CF2] a bridge is nothing', () => {
    const crossings = [{ id: 'X1', at: [100, 0] as [number, number], kind: 'over' as const }];
    expect(findConflicts(routes('a 0,0 200,0\nb 20,50 180,-50', { crossings }))).toEqual([]);
  });

  it('[CF3] agrees with pairs compared one by one (seed 20260301)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 30 }), (seed, size) => {
        const list = listRoutes(readPlan(generatePanel(seed, size)), { limit: 120 }).routes;
        const slow: [number, number, string][] = [];
        list.forEach((a, i) => {
          list.slice(i + 1).forEach((b, k) => {
            const point = Object.keys(a.points)
              .filter((id) => b.points[id] !== undefined && b.points[id] !== a.points[id])
              .sort(byId)[0];
            const crossing = a.crossings.filter((id) => b.crossings.includes(id)).sort(byId)[0];
            const span = a.spans.filter((id) => b.spans.includes(id)).sort(byId)[0];
            const reason =
              point !== undefined
                ? `point:${point}`
                : crossing !== undefined
                  ? `crossing:${crossing}`
                  : span !== undefined
                    ? `span:${span.split('#')[0]}`
                    : null;
            if (reason !== null) slow.push([i, i + 1 + k, reason]);
          });
        });
        expect(findConflicts(list)).toEqual(slow);
        expect(findConflicts(list, 7)).toEqual(slow.slice(0, 7));
        expect(countConflicts(list)).toBe(slow.length);
      }),
      { seed: 20_260_301, numRuns: 60 },
    );
  });
});

describe('the whole list', () => {
  /** As the oracle tells a route. */
  const told = (route: Route) => {
    const asked = Object.entries(route.points)
      .map(([id, lie]) => `${id}=${lie}`)
      .sort();
    return `${route.from} ${route.to} ${asked.join(' ')} | ${route.spans.join(' ')} | ${route.through.join(' ')} | ${(route.faceLength + 0.0213).toFixed(1)}`;
  };

  it('[RT9] is what brute force finds, on generated panels (seed 20260301)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 18 }), (seed, size) => {
        const panel = generatePanel(seed, size);
        const plan = readPlan(panel);
        expect(listRoutes(plan).routes.map(told).sort(), printTracks(panel)).toEqual(everyRoute(plan));
      }),
      { seed: 20_260_301, numRuns: 80 },
    );
  });

  it('[RT9] on tangles with slips, diamonds and three-ways (seed 20260301)', () => {
    const corner = fc.tuple(fc.integer({ min: 0, max: 12 }), fc.integer({ min: 0, max: 8 }));
    const kinds = fc.constantFrom('diamond' as const, 'double-slip' as const, 'over' as const);
    fc.assert(
      fc.property(
        fc.array(fc.array(corner, { minLength: 2, maxLength: 4 }), { minLength: 2, maxLength: 7 }),
        fc.array(kinds, { maxLength: 5 }),
        (paths, kindList) => {
          const strips = paths.map((path, i) => ({
            id: `s${i}`,
            path: path.map(([x, y]): [number, number] => [x * 40, y * 25]),
          }));
          const base: PanelFile = { format: 'mimic-panel', version: 1, strips };
          const crossed = readPlan(base).crossings;
          const crossings = kindList.flatMap((kind, i) => {
            const at = crossed[i]?.at;
            return at === undefined ? [] : [{ id: `X${100 + i}`, kind, at: [at[0], at[1]] as [number, number] }];
          });
          const panel: PanelFile = {
            ...base,
            crossings,
            places: strips.flatMap(({ path: [a, b] }, i) =>
              a === undefined || b === undefined
                ? []
                : [{ id: `road${i}`, at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] as [number, number] }],
            ),
          };
          const plan = readPlan(panel);
          const list = listRoutes(plan, { limit: 3_000 });
          fc.pre(!list.cut);
          expect(list.routes.map(told).sort(), printTracks(panel)).toEqual(everyRoute(plan));
        },
      ),
      { seed: 20_260_301, numRuns: 150 },
    );
  }, 60_000);

  it('[RT10] the examples have no route that their levers cannot set', () => {
    for (const [name, count] of [
      ['bramble-siding', 7],
      ['quillhaven-harbour', 41],
    ] as const) {
      const read = readPanel(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
      if (!read.ok) throw new Error(JSON.stringify(read.problems));
      const plan = readPlan(read.panel);
      const list = listRoutes(plan);
      expect(list.routes.map(told).sort()).toEqual(everyRoute(plan));
      expect([list.routes.length, list.routes.filter((route) => route.why !== null)]).toEqual([count, []]);
    }
  });
});
