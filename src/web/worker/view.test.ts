import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { derive, whyOf } from '../../derive.ts';
import { readPanel } from '../../panel/index.ts';
import { standingWith } from '../run/standing.ts';
import { makeFindings, makeReading, makeView, takePositions } from './view.ts';

const read = readPanel(
  readFileSync(new URL('../../../examples/quillhaven-harbour.mimic.json', import.meta.url), 'utf8'),
);
if (!read.ok) throw new Error('The example cannot be read.');
const derived = derive(read.panel);
const view = makeView(derived, { L4: 'reverse', L99: 'reverse', L1: 'centre' });
const index = view.routes.findIndex(({ from, to }) => from === 'tolland' && to === 'yard-road-3');

describe('the view of the demo panel', () => {
  it('puts the lamps along a line on its route', () => {
    // Counted by hand on the drawing of the panel: from Tolland over the crossover into Yard 3.
    const along = 'H1 H6 H7 H15 H16 H17 H18 H19 H22 H23 H26 H31 H32'.split(' ');
    expect([...(view.routes[index]?.lamps ?? [])].sort()).toEqual([...along].sort());
  });
  it('counts conflicts and free routes as the first drawing of this screen did by hand: 26 and 14 of 40', () => {
    const { against, beside, of } = standingWith(view, index, {});
    expect([against.length, beside.length, of]).toEqual([26, 14, 40]);
  });
  it('names levers, what they work, and the strips that lamps stand on', () => {
    expect(view.levers.find(({ id }) => id === 'L4')).toMatchObject({
      name: 'Quay cross',
      works: ['P4', 'P5'],
      positions: ['normal', 'reverse'],
    });
    expect(view.lamps.find(({ id }) => id === 'H17')?.on).toBe('Quay crossover');
    expect(view.points.find(({ id }) => id === 'P4')).toMatchObject({ lever: 'L4', reverseTo: 'Quay crossover' });
  });
  it('takes the positions that its levers can have', () => {
    expect(view.reading.levers).toMatchObject({ L4: 'reverse', L1: 'normal' });
    expect(takePositions(view.levers, { L99: 'reverse', L1: 'centre', L2: 'reverse' })).toEqual({ L2: 'reverse' });
  });
  it('says where a setting has no answer', () => {
    const reading = derived.operate({});
    expect(makeReading(reading).unsolved).toBe(false);
    const problems = [{ code: 'sources-disagree', sources: ['S1', 'S2'] }] as const;
    expect(makeReading({ ...reading, problems }).unsolved).toBe(true);
  });
  it('passes to a window: plain data that can be cloned', () => {
    expect(structuredClone(view)).toEqual(view);
    expect(structuredClone(makeFindings(derived, whyOf))).toEqual(makeFindings(derived, whyOf));
  });
});
