import { describe, expect, it } from 'vitest';
import { routesBetween } from './routes.ts';
import { sample } from './sample.ts';
import {
  buttonsToPress,
  cardsFor,
  keepPositions,
  leversAlong,
  leversToThrow,
  nextPosition,
  routeState,
} from './throws.ts';

const [siding] = routesBetween(sample, 'a', 's');
const [back] = routesBetween(sample, 's', 'a');
const [lacking] = routesBetween(sample, 'b', 's');
if (siding === undefined || back === undefined || lacking === undefined) throw new Error('The sample lacks a route.');

describe('cards', () => {
  it('numbers what has to be thrown in the order of the line', () => {
    expect(leversAlong(sample, siding)).toEqual(['L1', 'L2']);
    expect(leversAlong(sample, back)).toEqual(['L2', 'L1']);
    expect(cardsFor(sample, siding, {}, {})).toEqual([
      { lever: 'L1', kind: 'throw', lie: 'reverse', number: 1, done: false },
      { lever: 'L2', kind: 'throw', lie: 'reverse', number: 2, done: false },
      { lever: 'L3', kind: 'free' },
    ]);
  });
  it('leaves what lay right when the route was picked, and ticks what was thrown since', () => {
    expect(cardsFor(sample, siding, { L1: 'reverse' }, { L1: 'reverse', L2: 'reverse' })).toEqual([
      { lever: 'L1', kind: 'leave', lie: 'reverse' },
      { lever: 'L2', kind: 'throw', lie: 'reverse', number: 1, done: true },
      { lever: 'L3', kind: 'free' },
    ]);
  });
  it('asks for a lever that was moved away since to be thrown back', () => {
    const cards = cardsFor(sample, siding, { L1: 'reverse' }, { L2: 'reverse' });
    expect(cards[0]).toEqual({ lever: 'L1', kind: 'throw', lie: 'reverse', number: 1, done: false });
  });
  it('leaves every lever free while no route is picked', () => {
    expect(cardsFor(sample, null, {}, {}).map((card) => card.kind)).toEqual(['free', 'free', 'free']);
  });
});

describe('a route that takes push buttons', () => {
  const view = {
    ...sample,
    buttons: [
      { id: 'B1', name: null, at: [10, 10] as [number, number], sets: { P8: 'normal' as const } },
      {
        id: 'B2',
        name: null,
        at: [20, 10] as [number, number],
        sets: { P8: 'reverse' as const, P9: 'normal' as const },
      },
    ],
  };
  const [first] = sample.routes;
  if (first === undefined) throw new Error('no route');
  const beyond = { ...first, points: { ...first.points, P8: 'reverse' as const }, presses: ['B2'] };

  it('asks for those whose points lie otherwise, of the points of the route', () => {
    expect(buttonsToPress(view, beyond, {}, {})).toEqual(['B2']);
    expect(buttonsToPress(view, beyond, {}, { P8: 'reverse', P9: 'reverse' })).toEqual([]);
    expect(buttonsToPress(view, { ...beyond, presses: [] }, {}, {})).toEqual([]);
  });

  it('goes by the lever of a point that a button throws with others', () => {
    // P3 is worked by L2, P8 by no lever: pressing throws both, and both have to lie so.
    const both = {
      ...view,
      buttons: [
        {
          id: 'B2',
          name: null,
          at: [20, 10] as [number, number],
          sets: { P3: 'reverse' as const, P8: 'reverse' as const },
        },
      ],
    };
    const over = { ...beyond, points: { P3: 'reverse' as const, P8: 'reverse' as const } };
    expect(buttonsToPress(both, over, {}, { P8: 'reverse' })).toEqual(['B2']);
    expect(buttonsToPress(both, over, { L2: 'reverse' }, { P8: 'reverse' })).toEqual([]);
    expect(buttonsToPress(both, over, { L2: 'centre' }, { P8: 'reverse' })).toEqual(['B2']);
  });

  it('is set once levers and buttons are done', () => {
    const picked = { index: 0, route: beyond, backwards: false };
    const cards = cardsFor(view, picked, {}, {});
    expect(routeState(picked, cards, ['B2'])).toEqual({ kind: 'throwing', left: [], presses: ['B2'] });
    expect(routeState(picked, cards, [])).toMatchObject({ kind: 'set' });
  });
});

describe('state of a route', () => {
  it('goes from throwing to set', () => {
    expect(routeState(siding, cardsFor(sample, siding, {}, {}))).toEqual({
      kind: 'throwing',
      presses: [],
      left: ['L1', 'L2'],
    });
    const all = { L1: 'reverse', L2: 'reverse' } as const;
    expect(routeState(siding, cardsFor(sample, siding, {}, all))).toEqual({
      kind: 'set',
      thrown: 2,
      kept: 0,
      pressed: 0,
    });
    expect(routeState(siding, cardsFor(sample, siding, all, all))).toEqual({
      kind: 'set',
      thrown: 0,
      kept: 2,
      pressed: 0,
    });
  });
  it('says why levers cannot set it', () => {
    expect(routeState(lacking, cardsFor(sample, lacking, {}, {}))).toEqual({
      kind: 'impossible',
      why: 'no lever works P9',
    });
    expect(routeState(null, [])).toEqual({ kind: 'none' });
  });
});

describe('levers', () => {
  it('lists what is left to throw in the order of the panel', () => {
    expect(leversToThrow(sample, back.route.levers, {})).toEqual(['L1', 'L2']);
    expect(leversToThrow(sample, back.route.levers, { L1: 'reverse' })).toEqual(['L2']);
    expect(leversToThrow(sample, null, {})).toBe(null);
  });
  it('throws over and back, and through the centre where there is one', () => {
    expect(nextPosition(['normal', 'reverse'], 'normal')).toBe('reverse');
    expect(nextPosition(['normal', 'reverse'], 'reverse')).toBe('normal');
    expect(nextPosition(['normal', 'centre', 'reverse'], 'normal')).toBe('centre');
    expect(nextPosition(['normal', 'centre', 'reverse'], 'reverse')).toBe('normal');
  });
  it('keeps positions of levers that are still there and can lie so', () => {
    expect(keepPositions(sample, { L1: 'reverse', L2: 'centre', L3: 'centre', L9: 'reverse' })).toEqual({
      L1: 'reverse',
      L3: 'centre',
    });
  });
});
