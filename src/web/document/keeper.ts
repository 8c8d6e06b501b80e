/** The one door to everything that is kept: the shelf, opening a panel, and what comes in from outside. */
import { type PanelFile, writePanel } from '../../panel/index.ts';
import { documentWords } from '../words/document.ts';
import { connectionTo, type Database, putNewPanel } from './database.ts';
import { type FileHandle, type Handles, handlesIn } from './files.ts';
import type { Newborn } from './journal.ts';
import { type Judged, judgeText } from './judge-text.ts';
import { type Opening, openKept } from './kept.ts';
import { forgetPanel, rememberPanel } from './known.ts';
import { loadPanel } from './load.ts';
import { titleOf } from './records.ts';
import {
  bringBack,
  emptyBin,
  type NewPanel,
  newborn,
  putAway,
  readShelf,
  renamePanel,
  rowOf,
  type Shelf,
} from './shelf.ts';
import type { Surroundings } from './surroundings.ts';

/** By which way a text came. */
export type From = 'picked' | 'dropped' | 'pasted' | 'launched' | 'shared' | 'served';

/** A new panel on the shelf, or why not. */
export type Incoming = { readonly ok: true; readonly id: string } | Exclude<Judged, { readonly ok: true }>;

export interface Keeper {
  readonly handles: Handles;
  shelf(): Promise<Shelf>;
  /** A new panel; answers its id. Where it cannot be stored it lives in this window alone until it can. */
  create(what: NewPanel): Promise<string>;
  /** Open a panel in this window, once: the same again while it is open. One in the bin comes back to the shelf. */
  open(id: string): Promise<Opening>;
  /** A panel's title and text as it is at this moment, without taking hold of it; null where it cannot be read. */
  read(id: string): Promise<{ readonly title: string; readonly text: string } | null>;
  /** A copy with its picture and without its history; null where the panel cannot be read. */
  duplicate(id: string): Promise<string | null>;
  rename(id: string, title: string): Promise<void>;
  putAway(id: string): Promise<void>;
  bringBack(id: string): Promise<void>;
  setPicture(id: string, svg: string): Promise<void>;
  /** No longer speak of a panel that the browser has deleted. */
  forget(id: string): void;
  /**
   * The one door for texts from outside: picked, dropped, pasted, launched, shared. A good one is a new panel on the shelf; of a bad one nothing is
   * kept, and no panel at hand is touched. `handle`: the file that it was read from, where the browser gave one.
   */
  incoming(text: string, name: string, from: From, handle?: FileHandle): Promise<Incoming>;
}

export interface KeeperOptions {
  /** The database; absent: the browser's. */
  readonly database?: () => Promise<Database>;
  /** Freeze panels in depth: for development and tests. */
  readonly freeze?: boolean;
}

/** Start the keeping of panels. What lay in the bin for thirty days leaves now. Never rejects: without a database, panels live in the window. */
export async function startKeeper(surroundings: Surroundings, options: KeeperOptions = {}): Promise<Keeper> {
  const { freeze = false } = options;
  const { memory, now } = surroundings;
  const database = options.database ?? connectionTo();
  const handles = handlesIn(database);
  const unborn = new Map<string, Newborn>();
  const open = new Map<string, Promise<Opening>>();

  await database()
    .then((db) => emptyBin(db, now()))
    .then((ids) => ids.forEach((id) => forgetPanel(memory, id)))
    .catch(() => {});

  const create = async (what: NewPanel): Promise<string> => {
    const born = newborn(surroundings, what);
    const { id } = born.record;
    try {
      await putNewPanel(await database(), born.record, born.entry, born.snapshot, born.picture);
      rememberPanel(memory, { id, title: titleOf(born.record), changed: born.record.changed });
    } catch {
      unborn.set(id, born);
    }
    return id;
  };

  /** The panel as it is at this moment, its edits that are on their way to the disk included. */
  const panelNow = async (id: string): Promise<{ readonly panel: PanelFile; readonly title: string } | null> => {
    const here = await open.get(id);
    const loaded = await loadPanel(await database(), id);
    if (!loaded.ok) return null;
    const { panel } = here?.ok === true ? here.kept.document.history : loaded.history;
    return { panel, title: titleOf(loaded.record) };
  };

  const openAnew = async (id: string): Promise<Opening> => {
    const born = unborn.get(id);
    if (born === undefined)
      await database()
        .then((db) => bringBack(db, id))
        .catch(() => {});
    const opened = await openKept({
      id,
      surroundings,
      database,
      freeze,
      closed() {
        open.delete(id);
        unborn.delete(id);
      },
      ...(born === undefined ? {} : { newborn: born }),
    });
    if (!opened.ok) open.delete(id);
    return opened;
  };

  return {
    handles,
    async shelf() {
      const lone = [...unborn.values()].map(({ record, picture }) => rowOf(record, picture?.svg ?? null));
      try {
        const shelf = await readShelf(await database(), memory);
        const there = new Set(shelf.panels.map((row) => row.id));
        return { ...shelf, panels: [...lone.filter((row) => !there.has(row.id)), ...shelf.panels] };
      } catch {
        return { panels: lone, bin: [], damaged: [], evicted: [] };
      }
    },
    create,
    open(id) {
      const opening = open.get(id) ?? openAnew(id);
      open.set(id, opening);
      opening.then((opened) => opened.ok && opened.kept.reopen()).catch(() => open.delete(id));
      return opening;
    },
    async read(id) {
      const born = unborn.get(id);
      const here = await open.get(id);
      if (born !== undefined)
        return {
          title: titleOf(born.record),
          text: here?.ok === true ? here.kept.text() : writePanel(born.panel),
        };
      const now = await panelNow(id).catch(() => null);
      return now === null ? null : { title: now.panel.name ?? now.title, text: writePanel(now.panel) };
    },
    async duplicate(id) {
      const source = await panelNow(id);
      if (source === null) return null;
      const picture = await (await database()).get('pictures', id);
      return create({ panel: source.panel, title: documentWords.copyOf(source.title), picture: picture?.svg ?? null });
    },
    async rename(id, title) {
      const record = await renamePanel(await database(), id, title);
      if (record !== null) rememberPanel(memory, { id, title: titleOf(record), changed: record.changed });
    },
    async putAway(id) {
      await putAway(await database(), id, now());
    },
    async bringBack(id) {
      await bringBack(await database(), id);
    },
    async setPicture(id, svg) {
      await (await database()).put('pictures', { panel: id, svg, seq: 0 });
    },
    forget: (id) => forgetPanel(memory, id),
    async incoming(text, name, from, handle) {
      const judged = judgeText(text, name);
      if (!judged.ok) return judged;
      const file = from === 'pasted' || name === '' ? null : name;
      const id = await create({ panel: judged.panel, file });
      if (handle !== undefined) await handles.put(id, handle).catch(() => {});
      return { ok: true, id };
    },
  };
}
