import { describe, expect, it } from 'vitest';
import { lineOf, placeName, placesFrom, placesWithRoutes, routesBetween, waysOf } from './routes.ts';
import { sample } from './sample.ts';

describe('routes between places', () => {
  it('lists every way, either way round', () => {
    expect(routesBetween(sample, 'a', 'b').map(({ index, backwards }) => [index, backwards])).toEqual([
      [0, false],
      [1, false],
    ]);
    expect(routesBetween(sample, 'b', 'a').map(({ index, backwards }) => [index, backwards])).toEqual([
      [0, true],
      [1, true],
    ]);
    expect(routesBetween(sample, 'a', 'x')).toEqual([]);
  });
  it('runs the line from where the route starts', () => {
    const [forth] = routesBetween(sample, 'a', 's');
    const [back] = routesBetween(sample, 's', 'a');
    expect(forth && lineOf(forth)[0]).toEqual([0, 50]);
    expect(back && lineOf(back)[0]).toEqual([250, 100]);
  });
  it('offers only places that a route serves', () => {
    expect(placesWithRoutes(sample).map(({ id }) => id)).toEqual(['a', 'b', 's']);
    expect(placesFrom(sample, 's').map(({ id }) => id)).toEqual(['a', 'b']);
    expect(placesFrom(sample, null).map(({ id }) => id)).toEqual(['a', 'b', 's']);
  });
  it('tells ways between the same two places apart by what they pass, or by number', () => {
    expect([...waysOf(sample)]).toEqual([
      [0, { via: [], number: 1 }],
      [1, { via: ['Nowhere'], number: 2 }],
    ]);
    const alike = { ...sample, routes: sample.routes.map((route) => ({ ...route, through: [] })) };
    expect([...waysOf(alike)]).toEqual([
      [0, { via: null, number: 1 }],
      [1, { via: null, number: 2 }],
    ]);
  });
  it('names a place, or says its id', () => {
    expect(placeName(sample, 'a')).toBe('West');
    expect(placeName(sample, 'E7')).toBe('E7');
  });
});
