/** What changed between two panels, record by record; and the edit between them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomOf } from '../../../tests/generate/random.ts';
import { randomStroke, startingPanel } from '../../../tests/generate/strokes.ts';
import { applyTransaction, editOf, type PanelFile, writePanel } from '../../panel/index.ts';
import { difference, transactionBetween } from './difference.ts';

describe('the difference of two panels', () => {
  it('is none between a panel and itself, whatever the order of keys', () => {
    const panel = startingPanel();
    const turned = Object.fromEntries(Object.entries(panel).reverse()) as PanelFile;
    expect(difference(panel, { ...turned, name: undefined })).toEqual({ lists: [], keys: [] });
  });

  it('tells of records added, removed and changed, and of keys', () => {
    const before = startingPanel();
    const edit = editOf(before)
      .add('strips', {
        id: 'spur',
        path: [
          [0, 0],
          [9, 9],
        ],
      })
      .remove('strips', 'loop')
      .update('strips', 'main', { width: 6 })
      .set('name', 'Bramble');
    const [strip] = edit.panel.strips.slice(-1);
    expect(difference(before, edit.panel)).toEqual({
      lists: [
        {
          list: 'strips',
          added: [{ id: 'spur', record: strip }],
          removed: [{ id: 'loop', record: before.strips[1] }],
          changed: [{ id: 'main', keys: [{ key: 'width', from: undefined, to: 6 }] }],
          reordered: false,
        },
      ],
      keys: [
        { key: 'name', from: undefined, to: 'Bramble' },
        { key: 'retired', from: undefined, to: ['loop'] },
      ],
    });
  });

  it('tells of a record that holds lists of its own, as a face does', () => {
    const hole = { at: [7, 7], drill: 3.2 };
    expect(
      difference({ width: 300, fixings: [hole] }, { width: 400, fixings: [hole, { at: [9, 7], drill: 3.2 }] }),
    ).toEqual({
      lists: [
        {
          list: 'fixings',
          added: [{ id: 1, record: { at: [9, 7], drill: 3.2 } }],
          removed: [],
          changed: [],
          reordered: false,
        },
      ],
      keys: [{ key: 'width', from: 300, to: 400 }],
    });
  });

  it('tells of order alone, and goes by index where records have no ids', () => {
    const before = startingPanel();
    const turned = { ...before, strips: before.strips.toReversed() };
    expect(difference(before, turned).lists).toEqual([
      { list: 'strips', added: [], removed: [], changed: [], reordered: true },
    ]);
    const plates = [
      { text: 'A', at: [0, 0] },
      { text: 'B', at: [1, 1] },
    ] as NonNullable<PanelFile['plates']>;
    const after = { ...before, plates: [plates[0], { text: 'C', at: [1, 1] }] as typeof plates };
    expect(difference({ ...before, plates }, after).lists[0]?.changed).toEqual([
      { id: 1, keys: [{ key: 'text', from: 'B', to: 'C' }] },
    ]);
    expect(difference(before, { ...before, plates: [] }).keys).toEqual([{ key: 'plates', from: undefined, to: [] }]);
  });

  it('leads by its edit from the one to the other and back: 300 pairs, seed 99', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const random = randomOf(seed);
        const before = startingPanel();
        let after = before;
        for (let i = random.whole(0, 8); i > 0; i--) after = applyTransaction(after, randomStroke(after, random));
        const edit = transactionBetween(before, after, 'version.restore');
        expect(writePanel(applyTransaction(before, edit))).toBe(writePanel(after));
        const { lists, keys } = difference(before, after);
        expect(lists.length + keys.length === 0).toBe(writePanel(before) === writePanel(after));
        expect(edit.changes.length).toBe(lists.length + keys.length);
      }),
      { seed: 99, numRuns: 300 },
    );
  });
});
