/** The shelf: new panels, copies, titles, the bin, what comes in from outside, and what the browser has deleted. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { startingPanel } from '../../../tests/generate/strokes.ts';
import { makeWorld } from '../../../tests/generate/windows.ts';
import { writePanel } from '../../panel/index.ts';
import { DATABASE_NAME } from './constants.ts';
import { openDatabase, SCHEMA } from './database.ts';
import { startKeeper } from './keeper.ts';
import { BIN_MS, barePanel, emptyBin } from './shelf.ts';

async function keeperIn(world = makeWorld()) {
  const window = world.open();
  return { world, window, keeper: await startKeeper(window.surroundings, { database: window.database }) };
}

describe('the shelf', () => {
  it('lists panels last changed first, with title, picture and counts', async () => {
    const { world, keeper } = await keeperIn();
    const bare = await keeper.create({ panel: barePanel() });
    world.pass(1_000);
    const own = await keeper.create({
      panel: { ...startingPanel(), name: 'Bramble' },
      picture: '<svg/>',
      file: 'b.mimic.json',
    });
    const { panels } = await keeper.shelf();
    expect(panels.map(({ id, title, picture, counts, file }) => ({ id, title, picture, counts, file }))).toEqual([
      {
        id: own,
        title: 'Bramble',
        picture: '<svg/>',
        counts: { strips: 2, points: 0, levers: 0, lamps: 0 },
        file: 'b.mimic.json',
      },
      {
        id: bare,
        title: 'Untitled panel',
        picture: null,
        counts: { strips: 0, points: 0, levers: 0, lamps: 0 },
        file: null,
      },
    ]);
    await keeper.rename(own, ' Harbour ');
    await keeper.setPicture(bare, '<svg></svg>');
    expect((await keeper.shelf()).panels.map(({ title }) => title)).toEqual(['Harbour', 'Untitled panel']);
    expect((await keeper.shelf()).panels[1]?.picture).toBe('<svg></svg>');
    await keeper.rename(own, '');
    expect((await keeper.shelf()).panels[0]?.title).toBe('Bramble');
  });

  it('copies a panel with what was edited a moment ago, and leaves the first alone', async () => {
    const { keeper } = await keeperIn();
    const id = await keeper.create({ panel: startingPanel(), title: 'Yard', picture: '<svg/>' });
    const opened = await keeper.open(id);
    if (!opened.ok) throw new Error(opened.sentence);
    expect(await keeper.open(id)).toBe(opened);
    opened.kept.document.edit({ name: 'panel.name', changes: [{ kind: 'set', key: 'name', to: 'Now' }] });
    const copy = await keeper.duplicate(id);
    const second = await keeper.open(copy ?? '');
    if (!second.ok) throw new Error(second.sentence);
    expect(second.kept.text()).toBe(opened.kept.text());
    expect(second.kept.document.undoes).toBeNull();
    expect((await keeper.shelf()).panels.find((row) => row.id === copy)).toMatchObject({
      title: 'Yard (copy)',
      picture: '<svg/>',
    });
    expect(await keeper.duplicate('nothing')).toBeNull();
    await Promise.all([opened.kept.close(), second.kept.close()]);
  });

  it('keeps what is put away for thirty days, brings it back when asked or opened, and then lets go', async () => {
    const { world, keeper } = await keeperIn();
    const [one, two, three] = await Promise.all([1, 2, 3].map(() => keeper.create({ panel: startingPanel() })));
    if (one === undefined || two === undefined || three === undefined) throw new Error('three panels');
    for (const id of [one, two, three]) await keeper.putAway(id);
    const { panels, bin } = await keeper.shelf();
    expect([panels.length, bin.length]).toEqual([0, 3]);
    expect((bin[0]?.goes ?? 0) - world.open().surroundings.now()).toBeGreaterThan(BIN_MS - 100_000);
    await keeper.bringBack(one);
    const opened = await keeper.open(two);
    if (opened.ok) await opened.kept.close();
    world.pass(BIN_MS - 3_600_000);
    expect((await (await keeperIn(world)).keeper.shelf()).bin.map(({ id }) => id)).toEqual([three]);
    world.pass(3_700_000);
    const later = await (await keeperIn(world)).keeper.shelf();
    expect(later.bin).toEqual([]);
    expect(later.panels.map(({ id }) => id).sort()).toEqual([one, two].sort());
    expect(later.evicted).toEqual([]);
  });

  it('says which panels the browser has deleted', async () => {
    const { world, keeper } = await keeperIn();
    const id = await keeper.create({ panel: { ...startingPanel(), name: 'Bramble' } });
    world.evict();
    const { panels, evicted } = await (await keeperIn(world)).keeper.shelf();
    expect(panels).toEqual([]);
    expect(evicted).toMatchObject([{ id, title: 'Bramble' }]);
  });

  it('lets nothing go that another window has brought back since the bin was looked through', async () => {
    const { world, window, keeper } = await keeperIn();
    const [back, gone] = [await keeper.create({ panel: barePanel() }), await keeper.create({ panel: barePanel() })];
    for (const id of [back, gone]) await keeper.putAway(id);
    world.pass(BIN_MS);
    const db = await window.database();
    const looked = new Proxy(db, {
      get: (target, key) =>
        key === 'getAll'
          ? async () => {
              const records = await target.getAll('panels');
              await keeper.bringBack(back);
              return records;
            }
          : Reflect.get(target, key).bind(target),
    });
    expect(await emptyBin(looked, window.surroundings.now())).toEqual([gone]);
    const { panels, bin } = await keeper.shelf();
    expect([panels.map(({ id }) => id), bin]).toEqual([[back], []]);
    expect((await keeper.open(back)).ok).toBe(true);
  });

  it('lists a panel whose record is damaged by its id, and the others as ever', async () => {
    const { window, keeper } = await keeperIn();
    const [one, two] = [
      await keeper.create({ panel: startingPanel() }),
      await keeper.create({ panel: startingPanel() }),
    ];
    const db = await window.database();
    const raw: { id: string } = { id: two };
    await Reflect.apply(db.put, db, ['panels', raw]);
    const { panels, damaged } = await keeper.shelf();
    expect([panels.map(({ id }) => id), damaged]).toEqual([[one], [two]]);
    expect(await keeper.open(two)).toMatchObject({ ok: false, why: 'damaged' });
  });

  it('takes a good text as a new panel that its file holds, and keeps nothing of a bad one', async () => {
    const { keeper } = await keeperIn();
    const text = readFileSync('examples/bramble-siding.mimic.json', 'utf8');
    const good = await keeper.incoming(text, 'bramble.mimic.json', 'dropped');
    if (!good.ok) throw new Error(good.sentence);
    const opened = await keeper.open(good.id);
    if (!opened.ok) throw new Error(opened.sentence);
    expect(opened.kept.text()).toBe(writePanel(JSON.parse(text)));
    expect(opened.kept.state).toMatchObject({ file: 'bramble.mimic.json', changedSinceSave: false });
    expect(await keeper.incoming('{"format": "mimic-panel", "version"', 'broken.json', 'picked')).toMatchObject({
      ok: false,
      why: 'damaged',
    });
    expect((await keeper.shelf()).panels).toHaveLength(1);
    expect(await keeper.incoming(text, 'pasted', 'pasted')).toMatchObject({ ok: true });
    expect((await keeper.shelf()).panels.map(({ file }) => file).sort()).toEqual(['bramble.mimic.json', null]);
    await opened.kept.close();
  });
});

describe('the database', () => {
  it.each(Array.from({ length: SCHEMA - 1 }, (_, i) => i + 1))(
    'is brought up from version %i with what it held',
    async (version) => {
      const world = makeWorld();
      const old = await openDatabase(() => {}, version);
      const { newborn } = await import('./shelf.ts');
      const born = newborn(world.open().surroundings, { panel: startingPanel(), title: 'Old' });
      const { id } = born.record;
      await old.put('panels', born.record);
      await old.put('entries', born.entry);
      await old.put('snapshots', born.snapshot);
      await old.put('versions', { id: 'v', panel: id, name: 'then', seq: 1, at: 1, text: born.snapshot.text });
      old.close();
      const { keeper } = await keeperIn(world);
      expect((await keeper.shelf()).panels.map(({ title }) => title)).toEqual(['Old']);
      const opened = await keeper.open(id);
      if (!opened.ok) throw new Error(opened.sentence);
      expect(opened.kept.text()).toBe(writePanel(startingPanel()));
      expect((await opened.kept.versions()).map(({ name }) => name)).toEqual(['then']);
      opened.kept.document.edit({ name: 'panel.name', changes: [{ kind: 'set', key: 'name', to: 'New' }] });
      expect(await opened.kept.settled()).toBe(true);
      await keeper.setPicture(id, '<svg/>');
      await opened.kept.close();
    },
  );

  it('gives way to a newer program in another window', async () => {
    makeWorld();
    let closed = 0;
    await openDatabase(() => closed++, 1);
    const newer = await openDatabase();
    expect([closed, newer.version]).toEqual([1, SCHEMA]);
    newer.close();
  });

  it('is refused, and not waited for, while a window holds an older one and does not let go', async () => {
    makeWorld();
    (await openDatabase(() => {}, 1)).close();
    const stubborn = await new Promise<IDBDatabase>((done) => {
      const request = indexedDB.open(DATABASE_NAME, 1);
      request.onsuccess = () => done(request.result);
    });
    await expect(openDatabase()).rejects.toThrow('older database');
    stubborn.close();
    await new Promise((done) => setTimeout(done, 20));
    const db = await openDatabase();
    expect(db.version).toBe(SCHEMA);
    db.close();
  });
});
