import { describe, expect, test } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { derive } from '../derive.ts';
import { blockRoutes, rankRoutes } from './card-routes.ts';

const derived = derive(generatePanel(3, 24));
const { plan } = derived;
const { routes } = derived.routes();

describe('which routes come first', () => {
  const ranked = rankRoutes(plan, routes);
  const pairOf = (index: number): string => `${routes[index]?.from} ${routes[index]?.to}`;

  test('every route that levers set is there once', () => {
    const set = routes.flatMap((route, index) => (route.levers === null ? [] : [index]));
    expect([...ranked].sort((a, b) => a - b)).toEqual(set);
    expect(set.length).toBeGreaterThan(20);
  });

  test('no two places get a second way before all that need a lever have their first', () => {
    const asking = ranked.filter((index) => Object.keys(routes[index]?.levers ?? {}).length > 0);
    const firsts = asking.map((index, i) => asking.findIndex((other) => pairOf(other) === pairOf(index)) === i);
    const second = firsts.indexOf(false);
    const known = new Set(asking.slice(0, second).map(pairOf));
    expect(second).toBeGreaterThan(0);
    for (const index of asking.slice(second)) expect(known).toContain(pairOf(index));
  });
});

describe('blocks of routes', () => {
  const all = rankRoutes(plan, routes);

  test('hold every route once, with the lies of its levers', () => {
    const blocks = blockRoutes(plan, routes, all, 30);
    const rows = blocks.flatMap((block) => block.rows.map((row) => ({ block, row })));
    expect(rows.map(({ row }) => row.route).sort((a, b) => a - b)).toEqual([...all].sort((a, b) => a - b));
    for (const { block, row } of rows) {
      const route = routes[row.route];
      expect([route?.from, route?.to].sort()).toEqual([block.from, row.to].sort());
      const lies = block.levers.flatMap((lever, i) => (row.cells[i] ? [[lever, row.cells[i]]] : []));
      expect(Object.fromEntries(lies)).toEqual(route?.levers);
    }
  });

  test('have no more levers than asked for, but where one route alone asks for more', () => {
    for (const most of [1, 4, 9])
      for (const { levers, rows } of blockRoutes(plan, routes, all, most))
        if (rows.length > 1) expect(levers.length).toBeLessThanOrEqual(most);
  });
});
