/** A panel that is kept: through crashes, failing writes, damage, a full disk and an evicted database. */
import { afterEach, describe, expect, it } from 'vitest';
import { randomOf } from '../../../tests/generate/random.ts';
import { randomEdit, startingPanel } from '../../../tests/generate/strokes.ts';
import { type FakeWindow, makeWorld } from '../../../tests/generate/windows.ts';
import { writePanel } from '../../panel/index.ts';
import { ofPanel } from './database.ts';
import { type History, MOST_STEPS } from './history.ts';
import { SNAPSHOT_EVERY } from './journal.ts';
import { type Keeper, startKeeper } from './keeper.ts';
import type { KeptPanel } from './kept.ts';

const open: KeptPanel[] = [];
afterEach(async () => {
  for (const kept of open.splice(0)) await kept.close();
});

async function openIn(window: FakeWindow, id: string | null): Promise<{ keeper: Keeper; id: string; kept: KeptPanel }> {
  const keeper = await startKeeper(window.surroundings, { database: window.database, freeze: true });
  const own = id ?? (await keeper.create({ panel: startingPanel() }));
  const opened = await keeper.open(own);
  if (!opened.ok) throw new Error(opened.sentence);
  return { keeper, id: own, kept: opened.kept };
}
async function start(window: FakeWindow, id: string | null = null) {
  const opened = await openIn(window, id);
  open.push(opened.kept);
  return opened;
}

const soon = () => new Promise<void>((done) => setTimeout(done, 2));
/** Wait until it is so; how long may be long on a busy machine. */
async function until(check: () => boolean | Promise<boolean>): Promise<void> {
  for (let i = 0; i < 5_000 && !(await check()); i++) await soon();
  expect(await check()).toBe(true);
}
const outline = ({ past, future }: History) => ({ past, future });
const rename = (kept: KeptPanel, name: string): void =>
  kept.document.edit({
    name: 'panel.name',
    changes: [{ kind: 'set', key: 'name', from: kept.document.panel.name, to: name }],
  });

describe('a panel that is kept', () => {
  it.each([1, 2, 3, 4])(
    'is after a crash what was acknowledged, byte for byte: 500 of 2,000 steps, seed %i',
    async (seed) => {
      const random = randomOf(seed);
      const world = makeWorld();
      let window = world.open();
      let { id, kept } = await openIn(window, null);
      const states = new Map<number, History>([[kept.document.history.seq, kept.document.history]]);
      kept.document.listen(() => states.set(kept.document.history.seq, kept.document.history));
      let crashes = 0;
      for (let step = 0; step < 500; step++) {
        const draw = random.whole(0, 99);
        if (draw < 15) kept.document.undo();
        else if (draw < 25) kept.document.redo();
        else randomEdit(kept.document, random);
        if (random.chance(10)) await soon();
        if (random.chance(3)) await kept.settled();
        if (!random.chance(5)) continue;
        crashes++;
        const accepted = kept.document.history.seq;
        const acknowledged = kept.state.durable;
        window.crash(random);
        window = world.open();
        ({ kept } = await openIn(window, id));
        const { history } = kept.document;
        expect(history.seq).toBeGreaterThanOrEqual(acknowledged);
        expect(history.seq).toBeLessThanOrEqual(accepted);
        const then = states.get(history.seq);
        if (then === undefined) throw new Error(`no state ${history.seq}`);
        expect(writePanel(history.panel)).toBe(writePanel(then.panel));
        expect(outline(history)).toEqual(outline(then));
        expect(kept.state).toMatchObject({ aside: null, lostSteps: 0, role: 'editing' });
        // What was not acknowledged is gone: those numbers are given anew.
        for (const seq of states.keys()) if (seq > history.seq) states.delete(seq);
        kept.document.listen(() => states.set(kept.document.history.seq, kept.document.history));
      }
      expect(crashes).toBeGreaterThan(5);
      expect(await kept.settled()).toBe(true);
      open.push(kept);
    },
  );

  it.each(Array.from({ length: 20 }, (_, i) => i + 1))(
    'loses nothing when every write number %i fails: no room, refused, midway, or its answer lost (seed = that number)',
    async (n) => {
      const random = randomOf(n);
      const world = makeWorld();
      const window = world.open();
      const { id, kept } = await openIn(window, null);
      window.failWrites((count) =>
        count % n === 0 ? ((['room', 'refused', 'middle', 'answer'] as const)[random.whole(0, 3)] ?? null) : null,
      );
      for (let step = 0; step < 120; step++) {
        randomEdit(kept.document, random);
        if (random.chance(40)) await soon();
      }
      const text = kept.text();
      const { history } = kept.document;
      if (n === 1) {
        // No write gets through that we hear of: all is in the window, which says so.
        expect(kept.state.keeping.kind).not.toBe('kept');
        expect(kept.state.keeping).toMatchObject({ download: true });
        expect(kept.state.keeping.waiting).toBeGreaterThan(0);
        window.failWrites(() => null);
      }
      expect(await kept.settled()).toBe(true);
      expect(kept.state.durable).toBe(history.seq);
      expect(kept.state).toMatchObject({ role: 'editing', stranded: [] });
      window.crash(random);
      const again = await start(world.open(), id);
      expect(again.kept.text()).toBe(text);
      expect(outline(again.kept.document.history)).toEqual(outline(history));
    },
  );

  it('says that there is no room, keeps all in the window, and writes it when there is', async () => {
    const world = makeWorld();
    const window = world.open();
    const { kept } = await start(window);
    rename(kept, 'One');
    await kept.settled();
    expect(kept.state.keeping).toEqual({ kind: 'kept', waiting: 0, download: true });
    window.failWrites(() => 'room');
    rename(kept, 'Two');
    kept.document.undo();
    await until(() => kept.state.keeping.kind === 'full');
    expect(kept.state.keeping).toEqual({ kind: 'full', waiting: 2, download: true });
    expect(kept.state.durable).toBe(2);
    window.failWrites(() => null);
    expect(await kept.settled()).toBe(true);
    expect(kept.state.keeping).toEqual({ kind: 'kept', waiting: 0, download: true });
  });

  it('says that the browser has deleted it, and what is at hand can still be had', async () => {
    const world = makeWorld();
    const window = world.open();
    const { kept, id, keeper } = await start(window);
    rename(kept, 'One');
    await kept.settled();
    const db = await window.database();
    await db.clear('panels');
    rename(kept, 'Two');
    expect(await kept.settled()).toBe(false);
    expect(kept.state.keeping).toEqual({ kind: 'evicted', waiting: 1, download: true });
    expect(kept.text()).toContain('Two');
    expect((await keeper.shelf()).evicted.map((known) => known.id)).toEqual([id]);
    keeper.forget(id);
    expect((await keeper.shelf()).evicted).toEqual([]);
  });

  it('writes snapshots, keeps three, and folds what no history needs', async () => {
    const world = makeWorld();
    const window = world.open();
    const { kept, id } = await openIn(window, null);
    const many = MOST_STEPS + 6 * SNAPSHOT_EVERY;
    for (let i = 0; i < many; i++) {
      rename(kept, `${i}`);
      if (i % SNAPSHOT_EVERY === 0) await kept.settled();
    }
    await kept.settled();
    const { history } = kept.document;
    const db = await window.database();
    const few = MOST_STEPS + 5 * SNAPSHOT_EVERY;
    await until(async () => (await db.count('entries', ofPanel(id))) < few);
    expect(await db.count('snapshots', ofPanel(id))).toBe(3);
    expect(await db.count('entries', ofPanel(id))).toBeGreaterThanOrEqual(MOST_STEPS);
    await kept.close();
    const again = await start(window, id);
    expect(outline(again.kept.document.history)).toEqual(outline(history));
  });

  it('opens at the last state that applies where an entry is damaged, says so, deletes nothing, and goes on', async () => {
    const world = makeWorld();
    const window = world.open();
    const { kept, id } = await openIn(window, null);
    for (const name of ['One', 'Two', 'Three', 'Four']) rename(kept, name);
    await kept.close();
    const db = await window.database();
    const third = await db.get('entries', [id, 4]);
    if (third?.kind !== 'edit') throw new Error('entry 4 is the third edit');
    await db.put('entries', {
      ...third,
      transaction: { name: 'panel.name', changes: [{ kind: 'set', key: 'name', from: 'Nine', to: 'Ten' }] },
    });
    const again = await openIn(window, id);
    expect(again.kept.document.panel.name).toBe('Two');
    expect(again.kept.state.aside).toMatchObject({ from: 4, to: 5 });
    expect(again.kept.document.undoes).toEqual({ name: 'panel.name', subject: '' });
    rename(again.kept, 'Five');
    await again.kept.close();
    expect(await db.count('entries', ofPanel(id, 4, 5))).toBe(2);
    // Even if the snapshot that was made then is damaged too.
    const last = await start(window, id);
    expect(last.kept.document.panel.name).toBe('Five');
    expect(last.kept.state.aside).toBeNull();
    last.kept.document.undo();
    last.kept.document.undo();
    expect(last.kept.document.panel.name).toBe('One');
  });

  it('opens by an older snapshot where the newest is damaged, with its history', async () => {
    const world = makeWorld();
    const window = world.open();
    const { kept, id } = await openIn(window, null);
    for (let i = 0; i < 2 * SNAPSHOT_EVERY + 5; i++) {
      rename(kept, `${i}`);
      if (i % SNAPSHOT_EVERY === 0) await kept.settled();
    }
    const db = await window.database();
    await until(async () => (await db.count('snapshots', ofPanel(id))) === 3);
    await kept.close();
    const keys = await db.getAllKeys('snapshots', ofPanel(id));
    for (const key of keys.slice(1)) {
      const snapshot = await db.get('snapshots', key);
      if (snapshot !== undefined) await db.put('snapshots', { ...snapshot, text: snapshot.text.slice(0, 40) });
    }
    const again = await start(window, id);
    expect(again.kept.document.panel.name).toBe(`${2 * SNAPSHOT_EVERY + 4}`);
    expect(again.kept.document.history.past).toHaveLength(2 * SNAPSHOT_EVERY + 5);
    const missing = await again.keeper.open('nothing');
    expect(missing).toMatchObject({ ok: false, why: 'missing' });
  });

  it('lives in the window where there is no database, and is stored when there is one', async () => {
    const world = makeWorld();
    const window = world.open();
    window.failWrites(() => 'refused');
    const { kept, id, keeper } = await openIn(window, null);
    rename(kept, 'One');
    await until(() => kept.state.keeping.kind === 'memory');
    expect(kept.state.keeping).toMatchObject({ kind: 'memory', waiting: 1, download: true });
    expect((await keeper.shelf()).panels.map((row) => row.id)).toEqual([id]);
    await kept.close();
    const back = await keeper.open(id);
    if (!back.ok) throw new Error(back.sentence);
    expect(back.kept.document.panel.name).toBe('One');
    rename(back.kept, 'Two');
    window.failWrites(() => null);
    expect(await back.kept.settled()).toBe(true);
    expect(back.kept.state.keeping.kind).toBe('kept');
    await back.kept.close();
    expect((await start(world.open(), id)).kept.document.panel.name).toBe('Two');
  });

  it('keeps what had not been written when the panel was left: opened again it is there, and then it is written', async () => {
    const world = makeWorld();
    const window = world.open();
    const { kept, id, keeper } = await openIn(window, null);
    rename(kept, 'One');
    await kept.settled();
    window.failWrites(() => 'room');
    rename(kept, 'Two');
    await kept.close();
    const back = await keeper.open(id);
    if (!back.ok) throw new Error(back.sentence);
    expect(back.kept.document.panel.name).toBe('Two');
    expect(back.kept.state).toMatchObject({ role: 'editing', keeping: { kind: 'full', waiting: 1 } });
    rename(back.kept, 'Three');
    back.kept.document.undo();
    await back.kept.close();
    // Nobody has it on a screen any more: it is written when there is room, and let go.
    window.failWrites(() => null);
    const other = await start(world.open(), id);
    await until(() => other.kept.document.panel.name === 'Two');
    expect(await other.kept.takeOver()).toBe(true);
    rename(other.kept, 'Four');
    expect(await other.kept.settled()).toBe(true);
  });

  it('stays with the hand that opens it again while its last writes are on their way', async () => {
    const world = makeWorld();
    const window = world.open();
    const { kept, id, keeper } = await openIn(window, null);
    let left = 3;
    window.failWrites(() => (left-- > 0 ? 'refused' : null));
    rename(kept, 'One');
    const closing = kept.close();
    const back = await keeper.open(id);
    if (!back.ok) throw new Error(back.sentence);
    await closing;
    rename(back.kept, 'Two');
    expect(await back.kept.settled()).toBe(true);
    await back.kept.close();
    expect((await start(world.open(), id)).kept.document.panel.name).toBe('Two');
  });

  it('knows what is changed since a file was saved, and when to remind of one', async () => {
    const world = makeWorld();
    const window = world.open();
    const { kept, id } = await openIn(window, null);
    expect(kept.state).toMatchObject({ changedSinceSave: false, remind: false });
    for (let i = 0; i < 19; i++) rename(kept, `${i}`);
    expect(kept.state).toMatchObject({ changedSinceSave: true, remind: false });
    rename(kept, 'twenty');
    expect(kept.state.remind).toBe(true);
    await kept.savedAs('yard.mimic.json', kept.document.history.seq);
    expect(kept.state).toMatchObject({ changedSinceSave: false, remind: false, file: 'yard.mimic.json' });
    kept.nameVersion('saved');
    expect(kept.state.changedSinceSave).toBe(false);
    rename(kept, 'more');
    expect(kept.state).toMatchObject({ changedSinceSave: true, remind: false });
    await kept.close();
    world.pass(86_400_000);
    const again = await start(window, id);
    expect(again.kept.state).toMatchObject({ changedSinceSave: true, remind: true, file: 'yard.mimic.json' });
  });

  it('keeps named versions, and goes back to one by a step that can be undone', async () => {
    const window = makeWorld().open();
    const { kept } = await start(window);
    rename(kept, 'One');
    kept.nameVersion('before');
    rename(kept, 'Two');
    await kept.settled();
    const [version] = await kept.versions();
    expect(version).toMatchObject({ name: 'before', seq: 3 });
    kept.restore(JSON.parse(version?.text ?? ''), 'before');
    expect(kept.document.panel.name).toBe('One');
    expect(kept.document.undoes).toEqual({ name: 'version.restore', subject: 'before' });
    kept.document.undo();
    expect(kept.document.panel.name).toBe('Two');
  });

  it('lists a version that is not on the disk yet, and those of this window where the database cannot be read', async () => {
    const window = makeWorld().open();
    const { kept } = await start(window);
    rename(kept, 'One');
    kept.nameVersion('first');
    await kept.settled();
    window.failWrites(() => 'refused');
    kept.nameVersion('second');
    await until(() => kept.state.keeping.kind === 'memory');
    expect((await kept.versions()).map(({ name }) => name)).toEqual(['first', 'second']);
    window.failWrites(() => null);
    await kept.settled();
    expect((await kept.versions()).map(({ name }) => name)).toEqual(['first', 'second']);
  });

  it('says what the browser answered when it was asked to keep this for good, and how much is in no file', async () => {
    const { kept } = await start(makeWorld().open());
    expect(kept.state).toMatchObject({ promised: 'not-asked', unsavedEdits: 0, unsavedSince: null });
    rename(kept, 'One');
    await until(() => kept.state.promised === 'yes');
    expect(kept.state.unsavedEdits).toBe(1);
    const asking = makeWorld().open();
    const refused = await start({
      ...asking,
      surroundings: { ...asking.surroundings, storage: { persist: async () => false, persisted: async () => false } },
    });
    rename(refused.kept, 'One');
    await until(() => refused.kept.state.promised === 'no');
    const without = makeWorld().open();
    const none = await start({ ...without, surroundings: { ...without.surroundings, storage: null } });
    rename(none.kept, 'One');
    await none.kept.settled();
    expect(none.kept.state.promised).toBe('none');
  });
});
