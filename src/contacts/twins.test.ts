import { describe, expect, it } from 'vitest';
import { checkPanel, type PanelFile } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { chooseSwitches, poleBudgets } from './choose-switches.ts';
import { latchesOf, polesForTwin, twinOf, whyNoTwin } from './twins.ts';

function panelOf(more: object): PanelFile {
  const read = checkPanel({
    format: 'mimic-panel',
    version: 1,
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
      {
        id: 'siding',
        path: [
          [100, 60],
          [140, 35],
          [220, 35],
        ],
      },
    ],
    ...more,
  });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.panel;
}

const twin = (by: string) => ({ panel: 'Quillhaven Harbour', lever: 'L7', by });
const lever = (by: string, kind: string, more: object = {}) =>
  panelOf({
    levers: [{ id: 'L1', works: [{ point: 'P1' }], twin: twin(by), feed: { kind, supplies: ['S1'] }, ...more }],
    ...more,
  });

describe('a lever with a twin on another panel', () => {
  it('[CO12] works with it as its feed allows (the trade: crossed toggles, or momentary with a latch)', () => {
    const how = (by: string, kind: string) => {
      const panel = lever(by, kind);
      return twinOf(panel, panel.levers?.[0]) ?? whyNoTwin(panel, panel.levers?.[0]);
    };
    for (const kind of ['reversing', 'split', 'half-wave', 'contact']) {
      expect(how('two-way', kind)).toBe('two-way');
      expect(how('latch', kind)).toBe('latch');
    }
    expect([how('two-way', 'pulse'), how('latch', 'pulse')]).toEqual(['two-way-pulse', 'beside']);
    expect([how('two-way', 'charge'), how('latch', 'charge')]).toEqual(['charge', 'charge']);
    expect(twinOf(panelOf({}), undefined)).toBeNull();
  });

  it('[CO12] takes two poles over there where both wires turn over, one of an input and of a pulse', () => {
    expect([polesForTwin('two-way', 'reversing'), polesForTwin('two-way', 'split')]).toEqual([2, 2]);
    expect([polesForTwin('two-way', 'contact'), polesForTwin('beside', 'pulse')]).toEqual([1, 1]);
    expect(polesForTwin('latch', 'reversing')).toBe(1);
  });

  it('[CO13] a latch wants one pole that springs back, and says so of a switch that stays', () => {
    const chosen = (switchPart?: string) => {
      const panel = lever('latch', 'reversing', switchPart === undefined ? {} : { switch: switchPart });
      const plan = readPlan(panel);
      const catalogue = resolveCatalogue(panel.parts);
      return { ...chooseSwitches(panel, catalogue, plan), budget: poleBudgets(panel, catalogue, plan).get('L1') };
    };
    const own = chosen();
    expect(own.switches[0]).toMatchObject({ lever: 'L1', used: 1, twin: 'latch', part: { poles: 1, sprung: true } });
    expect([own.problems, own.budget]).toEqual([[], { feed: 1, left: 3, stays: false }]);
    expect(chosen('toggle-2p').problems).toEqual([
      { code: 'twin-switch-stays', lever: 'L1', part: 'toggle-2p', useInstead: own.switches[0]?.part.id },
    ]);
    // A switch that springs back is no fault there.
    expect(chosen('toggle-2p-sprung').problems).toEqual([]);
  });

  it('[CO13] its relay follows the first point, and lights lamps with what its contacts leave', () => {
    const latches = (panel: PanelFile) => [...latchesOf(panel, resolveCatalogue(panel.parts), readPlan(panel))];
    expect(latches(lever('latch', 'reversing'))).toMatchObject([
      ['L1', { id: 'K1', feed: ['K1.1', 'K1.2'], left: [], point: 'P1', whenNormal: 'normal' }],
    ]);
    expect(latches(lever('latch', 'contact'))).toMatchObject([['L1', { feed: ['K1.1'], left: ['K1.2'] }]]);
    const named = lever('latch', 'reversing', { relays: [{ id: 'K5', follows: 'P1', part: 'relay-2p' }] });
    // A relay that does not latch cannot remember: the usual one stands in.
    expect(latches(named)).toMatchObject([['L1', { id: 'K5', part: { id: 'relay-latching-2p' } }]]);
    expect(latches(lever('two-way', 'reversing'))).toEqual([]);
    expect(latches(lever('latch', 'reversing', { works: [] }))).toEqual([]);
  });
});
