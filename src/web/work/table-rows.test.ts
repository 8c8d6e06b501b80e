import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { derivePanel } from '../../derive.ts';
import { readPanel } from '../../panel/index.ts';
import { makeRouteView, makeWorkPiece, makeWorkView } from '../worker/work-view.ts';
import { reachedFrom, tableRows, wayAmongAlike, waysBetween } from './table-rows.ts';

const read = readPanel(
  readFileSync(new URL('../../../examples/quillhaven-harbour.mimic.json', import.meta.url), 'utf8'),
);
if (!read.ok) throw new Error('the example does not open');
const judged = derivePanel(null, read.panel);
const { levers, points, places } = makeWorkView(judged);
const piece = makeWorkPiece(judged, 'routes');
if (piece.part !== 'routes') throw new Error('no routes');
const { routes } = piece;

describe('the control table about Tolland to Yard 3', () => {
  const [picked = -1] = waysBetween(routes, 'tolland', 'yard-road-3');
  const view = makeRouteView(judged, picked);
  if (view === null) throw new Error('no such route');
  const { cannot, can } = tableRows(levers, points, routes, view);
  const to = (place: string) => waysBetween(routes, 'tolland', place)[0];

  it('holds every other route once', () => {
    expect(cannot.length + can.length).toBe(routes.length - 1);
  });

  // Read off the sheet: the shed is reached by P1 reverse, the platform by P2 normal; Yard 3 wants P1 normal and P2 reverse.
  it('says which lever comes between two, and how it would have to lie', () => {
    expect(cannot.find(({ route }) => route === to('shed-road'))).toMatchObject({
      why: { kind: 'lever', lever: 'L1', lie: 'reverse' },
      column: 0,
    });
    expect(cannot.find(({ route }) => route === to('platform-1'))?.why).toEqual({
      kind: 'lever',
      lever: 'L2',
      lie: 'normal',
    });
  });

  it('says what has to be thrown for those that can stand beside it', () => {
    const [beside] = waysBetween(routes, 'platform-1', 'storage-3');
    expect(can.find(({ route }) => route === beside)?.throws).toEqual([]);
    const [up] = waysBetween(routes, 'platform-1', 'storage-2');
    // Of the two ways the first has fewer reverse lies: P10 reverse, P11 normal.
    expect(can.find(({ route }) => route === up)?.throws).toEqual(['L9']);
  });
});

describe('ways between the same places', () => {
  it('are numbered where nothing else tells them apart', () => {
    const both = waysBetween(routes, 'platform-1', 'storage-2').flatMap((i) => routes[i] ?? []);
    expect(both.map((route) => wayAmongAlike(routes, route))).toEqual(both.map((_, i) => i + 1));
    const [only] = waysBetween(routes, 'tolland', 'shed-road').flatMap((i) => routes[i] ?? []);
    expect(only === undefined ? 0 : wayAmongAlike(routes, only)).toBe(null);
  });
});

describe('choosing a route', () => {
  it('knows what is reached, and goes both ways', () => {
    expect(reachedFrom(places, routes, 'shed-road').map(({ id }) => id)).toEqual(['tolland']);
    expect(waysBetween(routes, 'shed-road', 'tolland')).toEqual(waysBetween(routes, 'tolland', 'shed-road'));
    expect(waysBetween(routes, null, 'tolland')).toEqual([]);
    expect(reachedFrom(places, routes, null)).toHaveLength(places.length);
  });
});
