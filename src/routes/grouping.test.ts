import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import { canStand, everyLoss, type Grouped, leastByTrying } from '../../tests/oracle/every-grouping.ts';
import { type LeverRecord, type PanelFile, readPanel } from '../panel/index.ts';
import { type Plan, readPlan } from '../plan/index.ts';
import {
  fewestLevers,
  findLosses,
  groupLevers,
  joinLevers,
  listRoutes,
  nameLosses,
  type Route,
  suggestJoins,
} from './index.ts';

const NONE: ReadonlySet<string> = new Set();

function laid(text: string, more: Partial<PanelFile> = {}) {
  const plan = readPlan(tracks(text, more));
  const list = listRoutes(plan);
  return { plan, list, grouping: groupLevers(plan, list, NONE) };
}

function example(name: string): { readonly plan: Plan; readonly routes: readonly Route[] } {
  const read = readPanel(readFileSync(new URL(`../../examples/${name}.mimic.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(`${name} does not read`);
  const plan = readPlan(read.panel);
  return { plan, routes: listRoutes(plan).routes };
}

/** The levers of a plan as the oracle takes them. */
function grouped(plan: Plan): Grouped {
  return new Map(
    [...plan.levers]
      .reverse()
      .flatMap(({ id, works }) => works.map(({ point, whenNormal }) => [point, { lever: id, whenNormal }] as const)),
  );
}

const LOOP = `main 0,60 300,60
  loop 60,60 100,85 200,85 240,60
  @west West 0,60
  @east East 300,60`;

const ONE_LEVER = { levers: [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2' }] }] };

describe('a passing loop', () => {
  it('[GR1] with nothing standing in it, or in one of its roads, is worked by one lever', () => {
    expect(laid(LOOP).grouping).toMatchObject({
      least: 1,
      atLeast: 1,
      proved: true,
      groups: [{ P1: 'normal', P2: 'normal' }],
    });
    expect(laid(`${LOOP}\n@loop-road Loop 150,85`).grouping.least).toBe(1);
  });

  it('[GR2] with both roads named, one lever loses its two meets: into one road from either side, into the other from the other', () => {
    const text = `${LOOP}\n@main-road Main 150,60\n@loop-road Loop 150,85`;
    const { plan, list, grouping } = laid(text, ONE_LEVER);
    expect(grouping.least).toBe(2);
    expect(grouping.lost).toMatchObject({
      routes: [],
      pairs: [],
      counts: { routes: 0, pairs: 0, meets: 2 },
      cut: false,
    });
    const names = nameLosses(plan, list.routes, grouping.lost);
    expect(names.meets.map((pair) => pair.map(({ from, to }) => `${from} to ${to}`).join(', '))).toEqual([
      'West to Main, East to Loop',
      'West to Loop, East to Main',
    ]);
    for (const [i, j] of grouping.lost.meets) {
      expect([names.meets[0]?.[0].index, names.meets[1]?.[0].index]).toContain(i);
      expect(j).toBeGreaterThan(i);
    }
    expect(laid(text).grouping.lost.counts).toEqual({ routes: 0, pairs: 0, meets: 0 });
  });

  it('[GR2] worked the wrong way round loses every route through it', () => {
    const { plan, list, grouping } = laid(LOOP, {
      levers: [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2', opposite: true }] }],
    });
    expect([grouping.lost.routes, grouping.lost.pairs, grouping.least]).toEqual([[0, 1], [], 1]);
    expect(nameLosses(plan, list.routes, grouping.lost).routes[0]).toMatchObject({
      from: 'West',
      to: 'East',
      index: 0,
    });
    expect(nameLosses(plan, list.routes, grouping.lost).routes[0]?.why).toContain('P2 normal cannot both be had');
  });
});

describe('a crossover', () => {
  const TWO_LINES = 'up 0,60 300,60\ndown 0,85 300,85\ncross 120,60 160,85';

  it('[GR1] is worked by one lever: both straight, or both across', () => {
    expect(laid(TWO_LINES).grouping).toMatchObject({ least: 1, groups: [{ P1: 'normal', P2: 'normal' }] });
  });

  it('[GR1] one of whose points is normal for the way across is worked opposite', () => {
    const more: Partial<PanelFile> = { points: [{ id: 'P2', at: [160, 85], normal: 'cross' }] };
    expect(laid(TWO_LINES, more).grouping).toMatchObject({ least: 1, groups: [{ P1: 'normal', P2: 'reverse' }] });
  });

  it('[GR2] two of them on one lever lose pairs end to end', () => {
    // Two such stations side by side, nothing between them: straight in one and across in the other could stand together.
    const text = `${TWO_LINES}\nup2 0,160 300,160\ndown2 0,185 300,185\ncross2 120,160 160,185`;
    const { plan, list, grouping } = laid(text, {
      levers: [{ id: 'L1', works: ['P1', 'P2', 'P3', 'P4'].map((point) => ({ point })) }],
    });
    expect(grouping).toMatchObject({ least: 2, proved: true });
    expect(grouping.lost.routes).toEqual([]);
    // Three ways in each; straight and across: 2 x 1 one way round, 1 x 2 the other.
    expect(grouping.lost.counts).toEqual({ routes: 0, pairs: 4, meets: 0 });
    expect(grouping.lost).toMatchObject(everyLoss(plan, list.routes, grouped(plan)));
  });
});

describe('points one after the other', () => {
  const LADDER = 'main 0,60 300,60\na 60,60 100,35 300,35\nb 140,60 180,85 300,85\nc 220,60 260,110';

  it('[GR1] need a lever each: either lie of the next is wanted with one lie of the first', () => {
    expect(laid(LADDER).grouping).toMatchObject({ least: 3, atLeast: 3, proved: true });
  });

  it('[GR1] the two halves of a three-way point need one each', () => {
    expect(laid('main 0,60 300,60\nl 100,60 160,20\nr 100,60 160,100').grouping.least).toBe(2);
  });

  it('[GR6] a point worked by hand is counted out, and its routes are lost', () => {
    const panel = tracks(LADDER, { points: [{ id: 'P2', at: [140, 60], drive: 'hand' }] });
    const plan = readPlan(panel);
    const list = listRoutes(plan);
    const { least, groups, lost } = groupLevers(plan, list, new Set(['P2']));
    expect([least, groups]).toEqual([2, [{ P1: 'normal' }, { P3: 'normal' }]]);
    expect(lost.routes).toEqual(list.routes.flatMap(({ points }, i) => (points.P2 === undefined ? [] : [i])));
  });

  it('[GR6] a cut list proves the lower bound only', () => {
    const plan = readPlan(tracks(LADDER));
    const cut = { ...listRoutes(plan, { limit: 2 }), cut: true };
    expect(fewestLevers(plan, cut, NONE).proved).toBe(false);
    expect(fewestLevers(plan, cut, NONE).atLeast).toBeLessThanOrEqual(3);
  });

  it('[GR2] counts all where it lists some', () => {
    const text = `${LOOP}\n@main-road Main 150,60\n@loop-road Loop 150,85`;
    const { plan, list } = laid(text, ONE_LEVER);
    expect(findLosses(plan, list.routes, plan.levers, 1)).toMatchObject({
      meets: [[2, 5]],
      counts: { meets: 2 },
      cut: true,
    });
  });

  it('[GR1] nothing laid, nothing to work; a point that no route passes still has its lever', () => {
    expect(laid('').grouping).toMatchObject({ least: 0, proved: true, groups: [] });
    // A balloon: one place, and nowhere else to go.
    const { list, grouping } = laid('loop 0,60 100,60 200,60 260,100 200,140 140,100 80,60');
    expect([list.routes, grouping.least, grouping.groups]).toEqual([[], 1, [{ P1: 'normal' }]]);
  });
});

describe('the examples', () => {
  it('[GR3] Bramble Siding: by trying every grouping', () => {
    const { plan, routes } = example('bramble-siding');
    const points = plan.points.map(({ id }) => id);
    expect(fewestLevers(plan, listRoutes(plan), NONE).least).toBe(leastByTrying(plan, routes, points));
    expect(findLosses(plan, routes)).toMatchObject(everyLoss(plan, routes, grouped(plan)));
  });

  it('[GR3] Quillhaven Harbour: its 12 levers lose nothing, and 12 points no two of which can share leave none over', () => {
    const { plan, routes } = example('quillhaven-harbour');
    expect(plan.levers).toHaveLength(12);
    expect(everyLoss(plan, routes, grouped(plan))).toEqual({ routes: [], pairs: [], meets: [] });
    // Along the running line each is wanted both ways with the one before it normal (P1 P2, P3 P10 P12 P13 P16; either platform is left
    // while the other is entered: P2 P3); so are the crossover and the yard, one after the other (P4, P6 to P9), whatever the line does.
    const apart = ['P1', 'P2', 'P3', 'P4', 'P6', 'P7', 'P8', 'P9', 'P10', 'P12', 'P13', 'P16'];
    expect(apart).toHaveLength(12);
    for (const [k, p] of apart.entries()) {
      for (const q of apart.slice(k + 1)) {
        const wanted = new Set<boolean>();
        for (const a of routes) {
          for (const b of routes) {
            if (a !== b && !canStand(a, b)) continue;
            const [lieOfP, lieOfQ] = [a.points[p], b.points[q]];
            if (lieOfP !== undefined && lieOfQ !== undefined) wanted.add(lieOfP === lieOfQ);
          }
        }
        expect([...wanted].sort(), `${p} and ${q}`).toEqual([false, true]);
      }
    }
    expect(fewestLevers(plan, listRoutes(plan), NONE)).toMatchObject({ least: 12, atLeast: 12, proved: true });
    expect(findLosses(plan, routes).counts).toEqual({ routes: 0, pairs: 0, meets: 0 });
  });
});

/** Seeded panels of a few points, worked by levers drawn at random. */
const drawn = fc
  .record({
    seed: fc.nat(10_000),
    size: fc.integer({ min: 1, max: 6 }),
    levers: fc.array(fc.record({ lever: fc.nat(2), opposite: fc.boolean() }), { minLength: 6, maxLength: 6 }),
  })
  .map(({ seed, size, levers }) => {
    const panel = generatePanel(seed, size);
    const points = (panel.points ?? []).map(({ id }) => id);
    const records = new Map<string, { point: string; opposite?: boolean }[]>();
    points.forEach((point, i) => {
      const id = `L${(levers[i]?.lever ?? 0) + 1}`;
      const works = levers[i]?.opposite === true ? { point, opposite: true } : { point };
      records.set(id, [...(records.get(id) ?? []), works]);
    });
    const drawnLevers: LeverRecord[] = [...records].map(([id, works]) => ({ id, works }));
    return { ...panel, lamps: [], levers: drawnLevers };
  });

describe('against every grouping tried', () => {
  it('[GR3] the fewest levers are those found by trying, and their groups lose nothing (seed 611)', () => {
    fc.assert(
      fc.property(drawn, (panel) => {
        const plan = readPlan(panel);
        const list = listRoutes(plan);
        const points = plan.points.map(({ id }) => id);
        const { least, proved, groups } = fewestLevers(plan, list, NONE);
        expect([least, proved]).toEqual([leastByTrying(plan, list.routes, points), true]);
        expect(groups).toHaveLength(least);
        const found: Grouped = new Map(
          groups.flatMap((group, k) =>
            Object.entries(group).map(([id, whenNormal]) => [id, { lever: `L${k}`, whenNormal }] as const),
          ),
        );
        expect([...found.keys()].sort()).toEqual([...points].sort());
        expect(everyLoss(plan, list.routes, found)).toEqual({ routes: [], pairs: [], meets: [] });
      }),
      { seed: 611, numRuns: 120 },
    );
  }, 60_000);

  it('[GR2] what is lost is what the brute force finds lost (seed 612)', () => {
    let lost = 0;
    fc.assert(
      fc.property(drawn, (panel) => {
        const plan = readPlan(panel);
        const { routes } = listRoutes(plan);
        const { counts, cut, ...lists } = findLosses(plan, routes);
        const wanted = everyLoss(plan, routes, grouped(plan));
        expect(lists).toEqual(wanted);
        expect([cut, counts]).toEqual([
          false,
          { routes: wanted.routes.length, pairs: wanted.pairs.length, meets: wanted.meets.length },
        ]);
        lost += wanted.pairs.length * wanted.meets.length * wanted.routes.length;
      }),
      { seed: 612, numRuns: 200 },
    );
    expect(lost).toBeGreaterThan(0);
  }, 60_000);

  it('[GR5] a join loses what it says beyond what was lost, and free ones stand first (seed 613)', () => {
    fc.assert(
      fc.property(drawn, (panel) => {
        const plan = readPlan(panel);
        const { routes } = listRoutes(plan);
        const before = everyLoss(plan, routes, grouped(plan));
        const { joins, onlyFree } = suggestJoins(plan, routes, { priceOf: (id) => Number(id.slice(1)) });
        expect([onlyFree, joins.length]).toEqual([false, plan.levers.length * (plan.levers.length - 1)]);
        for (const join of joins) {
          const after = everyLoss(plan, routes, grouped({ ...plan, levers: joinLevers(plan.levers, join) }));
          const more = (now: readonly (readonly number[])[], then: readonly (readonly number[])[]) =>
            now.filter((each) => !then.some((known) => String(known) === String(each))).length;
          expect(join.loses, join.levers.join(' ')).toEqual({
            routes: after.routes.length - before.routes.length,
            pairs: more(after.pairs, before.pairs),
            meets: more(after.meets, before.meets),
          });
          expect(join.saves).toBe(Number(join.levers[1].slice(1)));
        }
        const weights = joins.map(({ loses: { routes: r, pairs, meets } }) => r * 1e8 + pairs * 1e4 + meets);
        expect(weights).toEqual([...weights].sort((a, b) => a - b));
      }),
      { seed: 613, numRuns: 120 },
    );
  }, 60_000);
});

describe('laws', () => {
  it('[GR4] other names and another order of strips alter no number (seed 614)', () => {
    fc.assert(
      fc.property(fc.nat(1000), fc.integer({ min: 1, max: 24 }), (seed, size) => {
        const panel = { ...generatePanel(seed, size), lamps: [] };
        const other = (id: string) => `Q${1000 - Number(id.slice(1))}`;
        const renamed: PanelFile = {
          ...panel,
          strips: [...panel.strips].reverse(),
          points: (panel.points ?? []).map((record) => ({ ...record, id: other(record.id) })).reverse(),
          levers: (panel.levers ?? []).map(({ id, ...record }) => ({
            ...record,
            id: `M${1000 - Number(id.slice(1))}`,
            works: (record.works ?? []).map((each) =>
              each.point === undefined ? each : { ...each, point: other(each.point) },
            ),
          })),
        };
        const numbers = (file: PanelFile) => {
          const plan = readPlan(file);
          const { least, proved, lost } = groupLevers(plan, listRoutes(plan), NONE);
          return { least, proved, lost: lost.counts };
        };
        expect(numbers(renamed)).toEqual(numbers(panel));
      }),
      { seed: 614, numRuns: 60 },
    );
  }, 60_000);

  it('[GR3] is never above one lever a point, nor above the present levers where those lose nothing (seed 615)', () => {
    let sound = 0;
    fc.assert(
      fc.property(drawn, (panel) => {
        const plan = readPlan(panel);
        const { least, lost } = groupLevers(plan, listRoutes(plan), NONE);
        expect(least).toBeLessThanOrEqual(plan.points.length);
        if (lost.counts.routes + lost.counts.pairs + lost.counts.meets > 0) return;
        sound++;
        expect(least).toBeLessThanOrEqual(plan.levers.length);
      }),
      { seed: 615, numRuns: 100 },
    );
    expect(sound).toBeGreaterThan(0);
  });
});

describe('joins', () => {
  it('[GR5] of a loop with a lever each: the join that loses nothing first, with what it saves', () => {
    const { plan, list } = laid(LOOP);
    const { joins } = suggestJoins(plan, list.routes, { priceOf: () => 3.5 });
    expect(joins).toEqual([
      { levers: ['L1', 'L2'], opposite: false, loses: { routes: 0, pairs: 0, meets: 0 }, saves: 3.5 },
      { levers: ['L1', 'L2'], opposite: true, loses: { routes: 2, pairs: 0, meets: 0 }, saves: 3.5 },
    ]);
    expect(suggestJoins(plan, list.routes).joins[0]?.saves).toBeNull();
    expect(suggestJoins(plan, list.routes, { without: new Set(['L2']) }).joins).toEqual([]);
  });

  it('[GR5] on a large panel only those that lose nothing', () => {
    const plan = readPlan(generatePanel(1, 100));
    const { routes } = listRoutes(plan);
    const { joins, onlyFree } = suggestJoins(plan, routes);
    expect(onlyFree).toBe(true);
    expect(joins.length).toBeGreaterThan(0);
    for (const join of joins) {
      expect(join.loses).toEqual({ routes: 0, pairs: 0, meets: 0 });
      expect(findLosses(plan, routes, joinLevers(plan.levers, join)).counts).toEqual(findLosses(plan, routes).counts);
    }
  });

  it('a join of levers that are not there is a fault', () => {
    const { plan } = laid(LOOP);
    expect(() =>
      joinLevers(plan.levers, {
        levers: ['L1', 'L9'],
        opposite: false,
        loses: { routes: 0, pairs: 0, meets: 0 },
        saves: null,
      }),
    ).toThrow(RangeError);
  });
});
