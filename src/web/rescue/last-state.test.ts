/** The rescue page's own reading against the application's: the same panel from the same records. */
import { describe, expect, it } from 'vitest';
import { randomOf } from '../../../tests/generate/random.ts';
import { randomEdit, startingPanel } from '../../../tests/generate/strokes.ts';
import { makeWorld } from '../../../tests/generate/windows.ts';
import { readPanel, writePanel } from '../../panel/index.ts';
import { DATABASE_NAME, startKeeper } from '../document/index.ts';
import { lastState } from './last-state.ts';
import { NAME, readRecords } from './read-records.ts';

const bytes = (text: string | undefined): string => {
  const read = readPanel(text ?? '');
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return writePanel(read.panel);
};

async function keep(seed: number, steps: number) {
  const random = randomOf(seed);
  const window = makeWorld().open();
  const keeper = await startKeeper(window.surroundings, { database: window.database });
  const id = await keeper.create({ panel: startingPanel(), title: 'Bramble' });
  const opened = await keeper.open(id);
  if (!opened.ok) throw new Error(opened.sentence);
  const { kept } = opened;
  for (let step = 0; step < steps; step++) {
    const draw = random.whole(0, 9);
    if (draw < 3) kept.document.undo();
    else if (draw < 5) kept.document.redo();
    else randomEdit(kept.document, random);
    if (step % 17 === 0) await kept.settled();
  }
  kept.nameVersion('the yard');
  await kept.settled();
  return { window, id, kept };
}

const valuesOf = async (store: string): Promise<unknown[]> =>
  ((await readRecords())?.stores.get(store) ?? []).map(({ value }) => value);

describe('the rescue page', () => {
  it('knows the database by the name that the application gives it', () => expect(NAME).toBe(DATABASE_NAME));

  it('finds no database where there is none, and leaves none', async () => {
    makeWorld();
    expect(await readRecords()).toBeNull();
    expect(await indexedDB.databases()).toEqual([]);
  });

  it.each([21, 22, 23, 24, 25])(
    'gives the last state of 300 random steps as the application does: seed %i',
    async (seed) => {
      const { kept } = await keep(seed, 300);
      const [record] = await valuesOf('panels');
      const [entries, snapshots] = [await valuesOf('entries'), await valuesOf('snapshots')];
      const last = lastState(record, entries, snapshots);
      expect(last?.wrongs).toEqual([]);
      expect(bytes(last?.text)).toBe(kept.text());
      expect((await valuesOf('versions')).length).toBe(1);
      await kept.close();
    },
  );

  it('goes from the first entry where no snapshot can be read', async () => {
    const { kept } = await keep(26, 60);
    expect(bytes(lastState(null, await valuesOf('entries'), [])?.text)).toBe(kept.text());
    await kept.close();
  });

  it('goes as far as the records fit, and says where they do not', async () => {
    const { kept, window, id } = await keep(31, 20);
    const text = kept.text();
    await kept.close();
    const db = await window.database();
    const [entries, snapshots] = [await valuesOf('entries'), await valuesOf('snapshots')];
    const broken = [
      ...entries,
      { seq: 9_000, kind: 'edit', transaction: { changes: [{ kind: 'update', list: 'strips', id: 'none', to: {} }] } },
    ];
    const last = lastState(null, broken, [...snapshots, { seq: 8_000, text: '{"format": "mim' }, 'rubbish']);
    expect(bytes(last?.text)).toBe(text);
    expect(last?.wrongs).toHaveLength(2);
    expect(lastState(null, ['rubbish', null, 7], [{ seq: 'x' }])).toBeNull();
    expect(await db.get('panels', id)).toBeDefined();
  });

  it('does nothing of an entry of which a part does not fit, and does not step over one that is not there', () => {
    const snapshot = { seq: 1, text: JSON.stringify({ name: 'Yard', strips: [] }) };
    const set = (seq: number, to: string, ...more: readonly object[]) => ({
      seq,
      kind: 'edit',
      transaction: { changes: [{ kind: 'set', key: 'name', to }, ...more] },
    });
    const nowhere = { kind: 'update', list: 'strips', id: 'none', to: {} };
    const half = lastState(null, [set(2, 'Two'), set(3, 'Three', nowhere), set(4, 'Four')], [snapshot]);
    expect(JSON.parse(half?.text ?? '')).toEqual({ name: 'Two', strips: [] });
    expect(half).toMatchObject({ seq: 2, wrongs: [expect.stringContaining('Entry 3')] });
    const entries = [set(2, 'Two'), set(4, 'Four'), set(5, 'Five')];
    const gap = lastState(null, entries, [snapshot]);
    expect(JSON.parse(gap?.text ?? '')).toMatchObject({ name: 'Two' });
    expect(gap?.wrongs).toEqual([expect.stringContaining('entry 3 is not there')]);
    const aside = { aside: [{ from: 3, to: 4 }] };
    expect(lastState(aside, entries, [snapshot])).toMatchObject({ seq: 5, wrongs: [] });
  });
});
