import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { tracks } from '../../tests/generate/tracks.ts';
import { type PanelFile, readPanel } from '../panel/index.ts';
import { readPlan } from '../plan/index.ts';
import { besideRoute, fewestLevers, findConflicts, findLosses, joinedAs, listRoutes } from './index.ts';

const SEED = 20261128;
const NONE: ReadonlySet<string> = new Set();

function laid(panel: PanelFile) {
  const plan = readPlan(panel);
  return { plan, list: listRoutes(plan), routes: listRoutes(plan).routes };
}

function harbour() {
  const read = readPanel(
    readFileSync(new URL('../../examples/quillhaven-harbour.mimic.json', import.meta.url), 'utf8'),
  );
  if (!read.ok) throw new Error('the example does not read');
  return laid(read.panel);
}

const LOOP = `main 0,60 300,60
  loop 60,60 100,85 200,85 240,60
  @west West 0,60
  @east East 300,60
  @main-road Main 150,60
  @loop-road Loop 150,85`;

describe('what stands beside a route', () => {
  it(`[CF1] is what is in no conflict with it, on any plan (seed ${SEED})`, () => {
    fc.assert(
      fc.property(fc.nat(1_000_000), fc.integer({ min: 1, max: 8 }), (seed, size) => {
        const { routes } = laid(generatePanel(seed, size));
        const reasons = new Map(findConflicts(routes).map(([i, j, reason]) => [`${i} ${j}`, reason]));
        routes.forEach((route, i) => {
          for (const { route: j, reason } of besideRoute(routes, i)) {
            const known = reasons.get(i < j ? `${i} ${j}` : `${j} ${i}`);
            if (known !== undefined) expect(reason).toBe(known);
            // What is left is a lever that would have to lie both ways.
            else {
              const other = routes[j];
              const both = Object.entries(route.levers ?? {}).find(
                ([id, lie]) => other?.levers?.[id] !== undefined && other.levers[id] !== lie,
              );
              expect(reason).toBe(both === undefined ? null : `lever:${both[0]}`);
            }
          }
        });
      }),
      { seed: SEED, numRuns: 25 },
    );
  });

  it('[LR2] a lever that two meets would have both ways comes between them', () => {
    const levers = [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2' }] }];
    const { routes } = laid(tracks(LOOP, { levers }));
    const into = routes.findIndex(({ from, to }) => from === 'west' && to === 'main-road');
    const other = routes.findIndex(({ from, to }) => from === 'east' && to === 'loop-road');
    expect(besideRoute(routes, into).find(({ route }) => route === other)?.reason).toBe('lever:L1');
  });

  it('refuses a route that is not there', () => {
    expect(() => besideRoute([], 0)).toThrow(RangeError);
  });
});

describe('the fewest levers that lose no route', () => {
  it('[GR1] are one where the two roads of a loop need two to lose no meet', () => {
    const { plan, list } = laid(tracks(LOOP));
    expect(fewestLevers(plan, list, NONE).least).toBe(2);
    expect(fewestLevers(plan, list, NONE, 'routes')).toMatchObject({ least: 1, proved: true });
  });

  it(`[GR3] are no more than those that lose nothing, and lose no route (seed ${SEED + 1})`, () => {
    fc.assert(
      fc.property(fc.nat(1_000_000), fc.integer({ min: 1, max: 9 }), (seed, size) => {
        const { plan, list, routes } = laid(generatePanel(seed, size));
        const all = fewestLevers(plan, list, NONE);
        const some = fewestLevers(plan, list, NONE, 'routes');
        expect(some.least).toBeLessThanOrEqual(all.least);
        const levers = some.groups.map((group, i) => ({
          id: `G${i}`,
          name: null,
          at: [0, 0] as const,
          angle: 0,
          switch: null,
          works: Object.entries(group).map(([point, whenNormal]) => ({ point, whenNormal })),
          recorded: true,
        }));
        expect(findLosses(plan, routes, levers).routes).toEqual([]);
      }),
      { seed: SEED + 1, numRuns: 25 },
    );
  });
});

describe('what points on one lever are to each other', () => {
  it('[GR1] names the crossover, the run-rounds and the two that are never asked at once', () => {
    const { plan, routes } = harbour();
    const of = (id: string) => joinedAs(plan, routes, plan.levers.find((lever) => lever.id === id)?.works ?? []);
    expect(of('L4')).toBe('crossover');
    expect(of('L12')).toBe('crossovers');
    expect(of('L10')).toBe('never');
    expect(of('L1')).toBe(null);
  });

  it('[GR2] tells a loop that loses nothing from one that does', () => {
    const both = [
      { point: 'P1', whenNormal: 'normal' as const },
      { point: 'P2', whenNormal: 'normal' as const },
    ];
    const bare = laid(tracks(LOOP.split('\n').slice(0, 4).join('\n')));
    expect(joinedAs(bare.plan, bare.routes, both)).toBe('loop');
    const named = laid(tracks(LOOP));
    expect(joinedAs(named.plan, named.routes, both)).toBe('clash');
  });
});
