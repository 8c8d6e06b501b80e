import { describe, expect, it } from 'vitest';
import { clashText } from '../words/run.ts';
import type { View } from '../worker/types.ts';
import { sample } from './sample.ts';
import { standingWith } from './standing.ts';

const bare = (conflicts: View['conflicts']): View => ({
  ...sample,
  conflicts,
  routes: sample.routes.map((route) => (route.levers === null ? route : { ...route, levers: {} })),
});

describe('standingWith', () => {
  it('names the lever that two routes need both ways', () => {
    const standing = standingWith(sample, 0, {});
    expect(standing.of).toBe(3);
    expect(standing.beside).toEqual([]);
    expect(standing.never).toEqual([3]);
    expect(standing.against.map(({ index, clash }) => [index, clashText(sample, clash)])).toEqual([
      [1, 'needs L1 reverse'],
      [2, 'needs L1 reverse'],
    ]);
  });
  it('tells a pair that one lever parts even where the track would allow it', () => {
    expect(standingWith({ ...sample, conflicts: [] }, 0, {}).against.map(({ index }) => index)).toEqual([1, 2]);
  });
  it('puts points, crossings and track into words', () => {
    const texts = (conflicts: View['conflicts']) => {
      const view = bare(conflicts);
      return standingWith(view, 0, {}).against.map(({ clash }) => clashText(view, clash));
    };
    expect(texts([[0, 2, 'point:P1']])).toEqual(['needs P1 reverse']);
    expect(texts([[0, 1, 'crossing:X1']])).toEqual(['crosses it at X1']);
    expect(texts([[0, 1, 'span:P1/a#2']])).toEqual(['shares track with it, P1 to West']);
  });
  it('finds conflicts from either side of a pair', () => {
    const view = bare([[0, 2, 'point:P1']]);
    expect(standingWith(view, 2, {}).against.map(({ index }) => index)).toEqual([0]);
  });
  it('says what to throw for a route that can stand beside', () => {
    const view: View = {
      ...bare([]),
      routes: [sample.routes[0], { ...sample.routes[2], levers: { L2: 'reverse' } }].flatMap((route) =>
        route === undefined ? [] : [{ ...sample.routes[0], ...route } as View['routes'][number]],
      ),
    };
    expect(standingWith(view, 0, {}).beside).toEqual([{ index: 1, levers: ['L2'], presses: [] }]);
    expect(standingWith(view, 0, { L2: 'reverse' }).beside).toEqual([{ index: 1, levers: [], presses: [] }]);
  });
  it('has nothing to say of a route that is not there', () => {
    expect(standingWith(sample, 99, {})).toEqual({ against: [], beside: [], never: [], of: 0 });
  });
});
