import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyTransaction, editOf, freezePanel, invertTransaction, squash, type Transaction } from './edit.ts';
import { readPanel } from './read.ts';
import type { PanelFile } from './schema.ts';
import { writePanel } from './write.ts';

const SEED = 20260303;

const base: PanelFile = {
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
  ],
  points: [
    { id: 'P1', at: [60, 60] },
    { id: 'P2', at: [240, 60], drive: 'D1' },
  ],
  crossings: [{ id: 'X1', at: [120, 60], ends: [{ id: 'P20' }, { id: 'P21' }] }],
  plates: [{ at: [1, 2], text: 'A' }],
};

/** A step as the random edits take it: what to do, to which list, to which record. */
interface Step {
  readonly what: 'add' | 'update' | 'remove' | 'set';
  readonly list: 'strips' | 'places' | 'points' | 'lamps' | 'plates';
  readonly pick: number;
  readonly value: number;
}

const step: fc.Arbitrary<Step> = fc.record({
  what: fc.constantFrom('add', 'update', 'remove', 'set'),
  list: fc.constantFrom('strips', 'places', 'points', 'lamps', 'plates'),
  pick: fc.nat(20),
  value: fc.integer({ min: -500, max: 500 }),
});
const stepLists = fc.array(fc.array(step, { minLength: 1, maxLength: 6 }), { minLength: 1, maxLength: 6 });

/** The edit that a list of steps makes of a panel. What cannot be done there (no record to take) is passed over. */
function makeEdit(panel: PanelFile, steps: readonly Step[], serial: () => number): Transaction {
  const edit = editOf(panel);
  for (const { what, list, pick, value } of steps) {
    const records = edit.panel[list] ?? [];
    const index = records.length === 0 ? -1 : pick % records.length;
    const record = records[index];
    const name = typeof record?.id === 'string' ? record.id : index;
    if (what === 'add') {
      const at = pick % (records.length + 1);
      if (list === 'strips') edit.add(list, { id: `N${serial()}`, path: [[value, 0]] }, at);
      else if (list === 'plates') edit.add(list, { at: [value, 0], text: 'B' }, at);
      else edit.add(list, { id: `N${serial()}`, at: [value, 0] }, at);
    } else if (what === 'set') {
      if (pick % 3 === 0) edit.set('name', value % 2 === 0 ? undefined : `name ${value}`);
      else if (pick % 3 === 1) edit.set('lamps', value % 2 === 0 ? undefined : (edit.panel.lamps ?? []).slice(1));
      else edit.set('feed', { kind: value % 2 === 0 ? 'split' : 'pulse' });
    } else if (record !== undefined && what === 'update') {
      if (list === 'strips') edit.update(list, name, { width: Math.abs(value) + 1 });
      else edit.update(list, name, { at: [value, pick], note: pick % 2 === 0 ? value : undefined });
    } else if (record !== undefined) edit.remove(list, name);
  }
  return edit.done('test.steps');
}

function makeEdits(lists: readonly (readonly Step[])[]) {
  let count = 0;
  const panels: PanelFile[] = [freezePanel(structuredClone(base))];
  const edits = lists.map((steps) => {
    const panel = panels[panels.length - 1] ?? base;
    const tx = makeEdit(panel, steps, () => ++count);
    panels.push(applyTransaction(panel, tx, { freeze: true }));
    return tx;
  });
  return { edits, panels };
}

describe('transactions', () => {
  it(`[ED1] undone, one after the other, give each panel before, byte for byte (seed ${SEED})`, () => {
    fc.assert(
      fc.property(stepLists, (lists) => {
        const { edits, panels } = makeEdits(lists);
        let panel = panels[panels.length - 1] ?? base;
        for (let i = edits.length - 1; i >= 0; i--) {
          panel = applyTransaction(panel, invertTransaction(edits[i] ?? { name: 'test.none', changes: [] }));
          expect(writePanel(panel)).toBe(writePanel(panels[i] ?? base));
        }
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  it(`[ED1] done, undone and done again give the same panel, which reads back (seed ${SEED})`, () => {
    fc.assert(
      fc.property(stepLists, (lists) => {
        const { edits, panels } = makeEdits(lists);
        edits.forEach((tx, i) => {
          const before = panels[i] ?? base;
          const after = applyTransaction(before, tx);
          const again = applyTransaction(applyTransaction(after, invertTransaction(tx)), tx);
          expect(writePanel(again)).toBe(writePanel(after));
          const read = readPanel(writePanel(after));
          expect(read.ok ? [] : read.problems).toEqual([]);
        });
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  it(`[ED2] squashed do what they do one by one, and undo so (seed ${SEED})`, () => {
    fc.assert(
      fc.property(stepLists, (lists) => {
        const { edits, panels } = makeEdits(lists);
        const all = edits.reduce(squash);
        const last = panels[panels.length - 1] ?? base;
        const first = panels[0] ?? base;
        expect(writePanel(applyTransaction(first, all))).toBe(writePanel(last));
        expect(writePanel(applyTransaction(last, invertTransaction(all)))).toBe(writePanel(first));
        // Kept as text and read again, as an undo list on disk would be.
        expect(writePanel(applyTransaction(first, JSON.parse(JSON.stringify(all))))).toBe(writePanel(last));
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  it('[ED2] of a drag become one change, and none where it comes back', () => {
    const out = editOf(base)
      .update('points', 'P1', { at: [70, 60] })
      .done('point.move');
    const on = editOf(applyTransaction(base, out))
      .update('points', 'P1', { at: [80, 60] })
      .done('point.move');
    expect(squash(out, on).changes).toEqual([
      { kind: 'update', list: 'points', id: 'P1', from: { id: 'P1', at: [60, 60] }, to: { id: 'P1', at: [80, 60] } },
    ]);
    expect(squash(out, invertTransaction(out)).changes).toEqual([]);
    const added = editOf(base)
      .add('places', { id: 'west', at: [0, 60] })
      .done('place.name');
    expect(squash(added, invertTransaction(added)).changes).toEqual([]);
  });

  it('[ED3] made for another state throw, with what was expected and what is there', () => {
    const move = editOf(base)
      .update('points', 'P1', { at: [70, 60] })
      .done('point.move');
    const moved = applyTransaction(base, move);
    expect(() => applyTransaction(moved, move)).toThrow(
      'point.move: points P1 is not as the edit found it: expected {"at": [60, 60], "id": "P1"}, got {"at": [70, 60], "id": "P1"}',
    );
    const take = editOf(base).remove('points', 'P2').done('point.remove');
    const taken = applyTransaction(base, take);
    expect(() => applyTransaction(taken, take)).toThrow('got nothing');
    expect(() =>
      applyTransaction(taken, editOf(base).update('points', 'P2', { trap: true }).done('point.trap')),
    ).toThrow('point.trap: no P2 in points, a list of 1');
    const name = editOf(base).set('name', 'Bramble Siding').done('panel.name');
    expect(() => applyTransaction({ ...base, name: 'Other' }, name)).toThrow('expected nothing, got "Other"');
  });

  it('[ED4] retire the ids of what they take out, of its ends too, and only while it is out', () => {
    const take = editOf(base).remove('points', 'P1').remove('crossings', 'X1').done('point.remove');
    const after = applyTransaction(base, take);
    expect(after.retired).toEqual(['P1', 'X1', 'P20', 'P21']);
    expect(after.crossings).toEqual([]);
    expect(applyTransaction(after, invertTransaction(take))).toEqual(base);
    expect(editOf(base).update('crossings', 'X1', { ends: [{ id: 'P21' }] }).panel.retired).toEqual(['P20']);
    expect(editOf(base).set('points', undefined).panel.retired).toEqual(['P1', 'P2']);
    expect(editOf(base).remove('plates', 0).panel.retired).toBeUndefined();
  });

  it('[ED4] do not retire what an undone addition brought', () => {
    const add = editOf(base)
      .add('places', { id: 'west', at: [0, 60] })
      .done('place.name');
    const undone = applyTransaction(applyTransaction(base, add), invertTransaction(add));
    expect(undone).toEqual(base);
    expect('places' in undone).toBe(false);
  });

  it('[ED5] do not issue an id again, nor change one', () => {
    const gone = editOf(base).remove('points', 'P1').panel;
    expect(() => editOf(gone).add('lamps', { id: 'p1', at: [0, 0] })).toThrow(
      'the id p1 is taken: it stands at retired[0]',
    );
    expect(() => editOf(base).add('lamps', { id: 'MAIN', at: [0, 0] })).toThrow('it stands at strips[0].id');
    expect(() => editOf(base).update('crossings', 'X1', { ends: [{ id: 'P1' }] })).toThrow('the id P1 is taken');
    expect(() => editOf(base).update('points', 'P1', { id: 'P9' })).toThrow('the id P1 cannot become P9');
    expect(() => editOf(base).remove('points', 'P9')).toThrow('no P9 in points');
    const threeWay = editOf(base).add('threeWays', { id: 'Y1', at: [0, 0], points: ['P1', 'P30'] });
    expect(threeWay.remove('points', 'P1').panel.retired).toBeUndefined();
  });

  it('[ED6] share what they do not touch, and leave the panel before as it was', () => {
    const before = freezePanel(structuredClone(base));
    const text = writePanel(before);
    const after = applyTransaction(before, editOf(before).update('points', 'P1', { trap: true }).done('point.trap'));
    expect(after.strips).toBe(before.strips);
    expect(after.points?.[1]).toBe(before.points?.[1]);
    expect(after.points?.[0]).toEqual({ id: 'P1', at: [60, 60], trap: true });
    expect(writePanel(before)).toBe(text);
    expect(Object.isFrozen(after)).toBe(false);
    expect(
      Object.isFrozen(applyTransaction(before, { name: 'a.b', changes: [] }, { freeze: true }).strips[0]?.path),
    ).toBe(true);
  });

  it('have dotted names', () => {
    expect(() => editOf(base).done('move')).toThrow('an edit has a dotted name such as strip.move, not move');
  });
});
