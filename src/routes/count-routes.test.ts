import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planOfGraph } from '../../tests/generate/graph-plan.ts';
import { generatePanel } from '../../tests/generate/panels.ts';
import { printTracks, tracks } from '../../tests/generate/tracks.ts';
import { everyRoute } from '../../tests/oracle/every-route.ts';
import type { PanelFile } from '../panel/index.ts';
import { type Plan, readPlan } from '../plan/index.ts';
import { countRoutes, listRoutes } from './index.ts';

const exactly = (count: number | bigint) => ({ count: BigInt(count), counted: 'exact' });

/** So many loops, one behind the other. */
function loopsInARow(k: number): Plan {
  const loops = Array.from({ length: k }, (_, i) => {
    const x = 200 * i;
    return `l${i} ${x + 20},60 ${x + 60},85 ${x + 100},85 ${x + 140},60`;
  });
  return readPlan(tracks(`main 0,60 ${200 * k},60\n${loops.join('\n')}\n@west West 0,60\n@east East ${200 * k},60`));
}

describe('routes counted without a list', () => {
  it('[RT11] a point, a loop with a named road, a balloon loop, a line over a diamond twice', () => {
    const count = (text: string, more: Partial<PanelFile> = {}) => countRoutes(readPlan(tracks(text, more)));
    expect(count('main 0,60 300,60\nb 100,60 180,110')).toEqual(exactly(2));
    // Through by either track, and from either end to the road.
    const loop =
      'main 0,60 300,60\nloop 60,60 100,85 200,85 240,60\n@west West 0,60\n@east East 300,60\n@mid Mid 150,85';
    expect(count(loop)).toEqual(exactly(4));
    const balloon = 'loop 0,60 100,60 200,60 260,100 200,140 140,100 80,60\n@in In 0,60\n@back Back 200,140';
    expect(count(balloon)).toEqual(exactly(2));
    const twice = 'a 0,0 200,0 200,50 100,50 100,-50';
    expect(count(twice)).toEqual(exactly(1));
    // A double slip cannot lie both ways.
    const round = 'a 0,0 200,0 240,60 180,100 20,-100';
    expect(count(round, { crossings: [{ id: 'X1', at: [100, 0], kind: 'double-slip' }] })).toEqual(exactly(0));
  });

  it('[RT11] five places in a row on one line: every two of them', () => {
    const row = tracks('main 0,60 300,60\n@c C 250,60\n@a A 0,60\n@b B 100,60\n@d D 300,60\n@e E 200,60');
    expect(countRoutes(readPlan(row))).toEqual(exactly(10));
    expect(countRoutes(readPlan(row), { from: 'b' })).toEqual(exactly(4));
    expect(countRoutes(readPlan(row), { from: 'b', to: 'd' })).toEqual(exactly(1));
  });

  it('[RT11] loops in a row: two to the power of their number, far beyond what can be listed', () => {
    for (const k of [1, 8, 60]) expect(countRoutes(loopsInARow(k))).toEqual(exactly(2n ** BigInt(k)));
    expect(countRoutes(loopsInARow(60), { from: 'east', to: 'west' })).toEqual(exactly(2n ** 60n));
  });

  it('[RT11] nothing for a place that is not there, nor from a place to itself', () => {
    const plan = loopsInARow(2);
    expect(countRoutes(plan, { from: 'nowhere' })).toEqual(exactly(0));
    expect(countRoutes(plan, { from: 'west', to: 'west' })).toEqual(exactly(0));
    expect(countRoutes(readPlan(tracks('')))).toEqual(exactly(0));
  });

  it('[RT11] is what brute force finds, on generated panels, all and by place (seed 20261125)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 18 }), (seed, size) => {
        const panel = generatePanel(seed, size);
        const plan = readPlan(panel);
        const all = everyRoute(plan);
        expect(countRoutes(plan), printTracks(panel)).toEqual(exactly(all.length));
        const [a, b] = [plan.places[0]?.id ?? '', plan.places[1]?.id ?? ''];
        const ends = all.map((line) => line.split(' ').slice(0, 2));
        expect(countRoutes(plan, { from: a })).toEqual(exactly(ends.filter((pair) => pair.includes(a)).length));
        expect(countRoutes(plan, { from: b, to: a })).toEqual(
          exactly(ends.filter((pair) => pair.includes(a) && pair.includes(b)).length),
        );
      }),
      { seed: 20_261_125, numRuns: 80 },
    );
  });

  it('[RT11] on tangles with slips, diamonds and bridges (seed 20261125)', () => {
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
          const places = strips.flatMap(({ path: [a, b] }, i) =>
            a === undefined || b === undefined
              ? []
              : [{ id: `road${i}`, at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] as [number, number] }],
          );
          const panel: PanelFile = { ...base, crossings, places };
          const plan = readPlan(panel);
          const list = listRoutes(plan, { limit: 3_000 });
          fc.pre(!list.cut);
          expect(countRoutes(plan), printTracks(panel)).toEqual(exactly(everyRoute(plan).length));
        },
      ),
      { seed: 20_261_125, numRuns: 200 },
    );
  }, 60_000);

  it('[RT12] a grid too wide to be counted out has at least what is found, and no more than there is', () => {
    const n = 8;
    const arcs = Array.from({ length: n * n }, (_, i) => i).flatMap((i) => [
      ...(i % n === n - 1 ? [] : [[i, i + 1] as const, [i + 1, i] as const]),
      ...(i + n >= n * n ? [] : [[i, i + n] as const, [i + n, i] as const]),
    ]);
    const { count, counted } = countRoutes(planOfGraph(arcs, 0, [n * n - 1]));
    expect(counted).toBe('at least');
    expect(count).toBeGreaterThanOrEqual(5_000n);
    // OEIS A007764: self-avoiding paths from corner to corner of a grid of 8 by 8 points (from memory).
    expect(count).toBeLessThanOrEqual(789_360_053_252n);
  });
});
