/** A panel that is edited: one step for one action, drags, undo and redo, and what a history may hold. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomOf } from '../../../tests/generate/random.ts';
import { randomEdit, startingPanel } from '../../../tests/generate/strokes.ts';
import { editOf, type PanelFile, type Transaction, writePanel } from '../../panel/index.ts';
import { makeDocument } from './document.ts';
import { advance, beginHistory, type Entry, type History, MOST_STEPS, recallHistory, refsOf } from './history.ts';

const open = (panel = startingPanel()) => {
  const entries: Entry[] = [];
  const document = makeDocument(beginHistory(panel), {
    now: () => 5,
    accepted: (entry) => entries.push(entry),
    freeze: true,
  });
  return { document, entries };
};
const named = (panel: PanelFile, name: string): Transaction => editOf(panel).set('name', name).done('panel.name');
const replay = (panel: PanelFile, entries: readonly Entry[]): History => entries.reduce(advance, beginHistory(panel));

describe('a document', () => {
  it('undoes and redoes by name and subject', () => {
    const { document } = open();
    expect([document.undoes, document.redoes, document.undo(), document.redo()]).toEqual([null, null, false, false]);
    document.edit(named(document.panel, 'One'), { subject: 'the panel' });
    expect(document.undoes).toEqual({ name: 'panel.name', subject: 'the panel' });
    expect(document.undo()).toBe(true);
    expect(document.panel.name).toBeUndefined();
    expect(document.redoes).toEqual({ name: 'panel.name', subject: 'the panel' });
    document.redo();
    expect(document.panel.name).toBe('One');
  });

  it('takes a drag as one step, of which abandoning leaves nothing', () => {
    const { document, entries } = open();
    const before = document.panel;
    const heard: number[] = [];
    document.listen(() => heard.push(document.revision));
    document.begin('panel.drag', 'P7');
    for (const name of ['a', 'ab', 'abc']) document.extend(named(document.panel, name));
    expect([document.dragging, document.panel.name, entries.length]).toEqual([true, 'abc', 0]);
    document.abandon();
    expect(document.panel).toBe(before);
    document.begin('panel.drag', 'P7');
    for (const name of ['a', 'ab', 'abc']) document.extend(named(document.panel, name));
    expect(document.end()).toBe(true);
    expect(entries).toHaveLength(1);
    expect(document.undoes).toEqual({ name: 'panel.drag', subject: 'P7' });
    document.undo();
    expect(document.panel).toEqual(before);
    // Three moments, the abandoning, three moments, the end, the undo; each revision once.
    expect(heard).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9]);
  });

  it('redraws a drag from its start, and one that comes to nothing is no step', () => {
    const { document, entries } = open();
    document.begin('panel.drag');
    document.redraw(named(document.atStart, 'far'));
    document.redraw(named(document.atStart, 'near'));
    expect(document.panel.name).toBe('near');
    document.redraw({ name: 'panel.drag', changes: [] });
    expect(document.end()).toBe(false);
    expect([entries.length, document.dragging]).toEqual([0, false]);
  });

  it('ends a drag by an edit, and abandons it by an undo', () => {
    const { document } = open();
    document.begin('panel.drag');
    document.extend(named(document.panel, 'dragged'));
    document.edit({ name: 'panel.none', changes: [] });
    expect(document.history.past).toHaveLength(1);
    document.begin('panel.drag');
    document.extend(named(document.panel, 'further'));
    document.undo();
    expect(document.panel.name).toBeUndefined();
  });

  it('joins nudges of one gesture, each of them accepted', () => {
    const { document, entries } = open();
    for (const name of ['a', 'ab', 'abc']) document.edit(named(document.panel, name), { gesture: 'key 1' });
    document.edit(named(document.panel, 'd'), { gesture: 'key 2' });
    expect([entries.length, document.history.past.length]).toEqual([4, 2]);
    document.undo();
    expect(document.panel.name).toBe('abc');
    document.edit(named(document.panel, 'e'), { gesture: 'key 2' });
    expect(document.history.past).toHaveLength(2);
    document.undo();
    document.undo();
    expect(document.panel.name).toBeUndefined();
    const back = open();
    back.document.edit(named(back.document.panel, 'there'), { gesture: 'k' });
    back.document.edit(editOf(back.document.panel).set('name', undefined).done('panel.name'), { gesture: 'k' });
    expect(back.document.undoes).toBeNull();
    back.document.edit(named(back.document.panel, 'anew'), { gesture: 'k' });
    expect(back.document.history.past).toHaveLength(1);
    expect(replay(startingPanel(), back.entries).panel).toEqual(back.document.panel);
  });

  it('cuts off redo by a new edit', () => {
    const { document } = open();
    document.edit(named(document.panel, 'One'));
    document.undo();
    document.edit(named(document.panel, 'Two'));
    expect([document.redoes, document.redo()]).toEqual([null, false]);
  });

  it('refuses what leaves no panel, and an edit made for another state, and is as it was', () => {
    const { document, entries } = open();
    const strip = { id: 's1', path: [[0, 0] as [number, number], [10, Number.NaN] as [number, number]] };
    const changes = [{ kind: 'add', list: 'strips', index: 0, record: strip }] as const;
    expect(() => document.edit({ name: 'strip.lay', changes })).toThrow(RangeError);
    expect(() =>
      document.edit({ name: 'panel.name', changes: [{ kind: 'set', key: 'name', from: 'x', to: 'y' }] }),
    ).toThrow(RangeError);
    const [main] = document.panel.strips;
    for (const wrong of [{ path: 'along' }, { path: main?.path, id: 'loop' }, { width: -1 }]) {
      const update = {
        kind: 'update',
        list: 'strips',
        id: 'main',
        from: { ...main },
        to: { ...main, ...wrong },
      } as const;
      expect(() => document.edit({ name: 'strip.bend', changes: [update] })).toThrow('strip.bend leaves no panel');
    }
    const twice = { kind: 'add', list: 'places', index: 0, record: { id: 'MAIN', at: [0, 0] }, whole: true } as const;
    expect(() => document.edit({ name: 'place.name', changes: [twice] })).toThrow('differs by case alone');
    document.begin('strip.lay');
    document.extend({ name: 'strip.lay', changes });
    expect(() => document.end()).toThrow(RangeError);
    expect([document.dragging, entries.length, document.panel]).toEqual([false, 0, startingPanel()]);
    expect(() => document.extend(named(document.panel, 'x'))).toThrow('no drag is under way');
  });

  it(`keeps ${MOST_STEPS} steps and folds older ones away`, () => {
    const { document } = open();
    for (let i = 0; i < MOST_STEPS + 30; i++) document.edit(named(document.panel, `${i}`));
    let undone = 0;
    while (document.undo()) undone++;
    expect(undone).toBe(MOST_STEPS);
    expect(document.panel.name).toBe('29');
    while (document.redo());
    expect(document.panel.name).toBe(`${MOST_STEPS + 29}`);
  });

  it('notes a name without changing the panel', () => {
    const { document } = open();
    document.edit(named(document.panel, 'One'));
    const { changed } = document.history;
    document.mark('before the yard');
    expect([document.history.changed, document.history.seq, document.panel.name]).toEqual([
      changed,
      changed + 1,
      'One',
    ]);
  });

  it('is the same again from its entries, and its history from a snapshot with any of them: 200 scripts, seed 4711', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000_000 }), (seed) => {
        const random = randomOf(seed);
        const { document, entries } = open();
        for (let i = 0; i < 40; i++) {
          const draw = random.whole(0, 9);
          if (draw < 2) document.undo();
          else if (draw < 3) document.redo();
          else randomEdit(document, random);
        }
        const again = replay(startingPanel(), entries);
        expect(writePanel(again.panel)).toBe(writePanel(document.panel));
        expect(again.past).toEqual(document.history.past);
        expect(again.future).toEqual(document.history.future);
        const at = (seq: number) => entries.find((entry) => entry.seq === seq) ?? null;
        const { history, lost } = recallHistory(again.panel, again.seq, refsOf(again), at);
        expect(lost).toBe(0);
        expect(history).toEqual(again);
        // Without one entry, the steps on this side of it are still there.
        const missing = random.whole(1, again.seq);
        const holed = recallHistory(again.panel, again.seq, refsOf(again), (seq) => (seq === missing ? null : at(seq)));
        const needs = again.past.findLastIndex(({ seqs }) => seqs.includes(missing));
        expect(holed.history.past).toEqual(again.past.slice(needs + 1));
      }),
      { seed: 4711, numRuns: 200 },
    );
  });
});
