/**
 * The database in the browser: its stores, how an older one is brought up to date, and the writes that must be whole or not at all.
 * Uses IndexedDB. Every write that carries a hand's work is `strict`: acknowledged when it is on the disk, not when it is in a buffer.
 */
import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB, type StoreNames } from 'idb';
import { documentWords } from '../words/document.ts';
import { DATABASE_NAME } from './constants.ts';
import type { EntryRecord, LeaseRecord, PanelRecord, PictureRecord, SnapshotRecord, VersionRecord } from './records.ts';

interface Schema extends DBSchema {
  panels: { key: string; value: PanelRecord };
  entries: { key: [string, number]; value: EntryRecord };
  snapshots: { key: [string, number]; value: SnapshotRecord };
  versions: { key: string; value: VersionRecord; indexes: { panel: string } };
  pictures: { key: string; value: PictureRecord };
  leases: { key: string; value: LeaseRecord };
  handles: { key: string; value: { readonly panel: string; readonly handle: unknown } };
}

export type Database = IDBPDatabase<Schema>;
type Upgrade = IDBPTransaction<Schema, ArrayLike<StoreNames<Schema>>, 'versionchange'>;

/** One step for each version, never altered once released: the first makes version 1 out of nothing. */
const UPGRADES: readonly ((db: Database, upgrade: Upgrade) => void)[] = [
  (db) => {
    db.createObjectStore('panels', { keyPath: 'id' });
    db.createObjectStore('entries', { keyPath: ['panel', 'seq'] });
    db.createObjectStore('snapshots', { keyPath: ['panel', 'seq'] });
    db.createObjectStore('versions', { keyPath: 'id' });
  },
  (db, upgrade) => {
    // Named versions are asked for by their panel; pictures stand apart from what every edit writes.
    upgrade.objectStore('versions').createIndex('panel', 'panel');
    db.createObjectStore('pictures', { keyPath: 'panel' });
  },
  (db) => {
    // Windows of browsers without locks, and the files that a panel was saved to.
    db.createObjectStore('leases', { keyPath: 'panel' });
    db.createObjectStore('handles', { keyPath: 'panel' });
  },
];

/** Version of the schema. */
export const SCHEMA = UPGRADES.length;

/**
 * Open the database and bring it up to date; `version` makes one as an earlier program left it, for tests of the upgrade. Rejects where another
 * window holds an older one open and does not let go: waiting for it could take for ever.
 */
export function openDatabase(closed: () => void = () => {}, version = SCHEMA): Promise<Database> {
  return new Promise((resolve, reject) => {
    let refused = false;
    openDB<Schema>(DATABASE_NAME, version, {
      upgrade(db, from, to, upgrade) {
        for (const step of UPGRADES.slice(from, to ?? version)) step(db, upgrade);
      },
      blocked() {
        refused = true;
        reject(new DOMException(documentWords.olderOpen, 'InvalidStateError'));
      },
      blocking(_from, _to, event) {
        // A newer program in another window waits for us: it must not wait for ever. What is queued opens the database again.
        if (event.target instanceof IDBDatabase) event.target.close();
        closed();
      },
      terminated: closed,
    }).then((db) => (refused ? db.close() : resolve(db)), reject);
  });
}

/** One connection, opened when it is needed and again when it has closed. */
export function connectionTo(open: (closed: () => void) => Promise<Database> = openDatabase): () => Promise<Database> {
  let opening: Promise<Database> | null = null;
  return () => {
    if (opening === null) {
      const mine = open(() => {
        if (opening === mine) opening = null;
      });
      opening = mine;
      mine.catch(() => {
        if (opening === mine) opening = null;
      });
    }
    return opening;
  };
}

/** Every key of one panel in a store whose keys are panel and number. */
export const ofPanel = (panel: string, from = 0, to = Number.MAX_SAFE_INTEGER): IDBKeyRange =>
  IDBKeyRange.bound([panel, from], [panel, to]);

const STRICT = { durability: 'strict' } as const;

/** What became of a write. `conflict`: another window has written since, or holds the panel now. `gone`: there is no such panel any more. */
export type Written = 'written' | 'conflict' | 'gone';

export interface Append {
  readonly panel: string;
  readonly writer: string;
  /** Number of the last entry that this window knows. */
  readonly expected: number;
  readonly entries: readonly EntryRecord[];
  readonly versions: readonly VersionRecord[];
  /** What the panel's record says afterwards. */
  readonly patch: Partial<PanelRecord>;
  /** Become the window that may write, in the same breath: where that could not be written before. */
  readonly claim: boolean;
}

/**
 * Compare and append: the entries are added, in one strict transaction, if this window holds the panel and the last entry is the one that it
 * knows. Of entries that are there already and are ours (a write whose answer was lost) only the rest is added.
 */
export async function appendEntries(db: Database, append: Append): Promise<Written> {
  const { panel, writer, expected, entries, versions, patch, claim } = append;
  const last = entries.at(-1);
  if (last === undefined) return 'written';
  const tx = db.transaction(['panels', 'entries', 'versions'], 'readwrite', STRICT);
  return settle(tx, async () => {
    const record = await tx.objectStore('panels').get(panel);
    if (record === undefined) return 'gone';
    if (record.holder !== writer && !claim) return 'conflict';
    if (record.lastSeq !== expected) {
      const there = await tx.objectStore('entries').get([panel, record.lastSeq]);
      // Whoever appends knows what is before it: if the last is ours, all since are.
      if (there?.writer !== writer || record.lastSeq < expected || record.lastSeq > last.seq) return 'conflict';
    }
    const rest = entries.filter(({ seq }) => seq > record.lastSeq);
    if (rest.length === 0) return 'written';
    const edits = rest.filter(({ kind }) => kind !== 'name' && kind !== 'open');
    const since = record.unsavedSince ?? edits[0]?.at ?? null;
    const puts: Promise<unknown>[] = rest.map((entry) => tx.objectStore('entries').add(entry));
    puts.push(...versions.map((version) => tx.objectStore('versions').put(version)));
    const unsavedEdits = record.unsavedEdits + edits.length;
    puts.push(
      tx.objectStore('panels').put({
        ...record,
        ...patch,
        holder: writer,
        lastSeq: last.seq,
        unsavedEdits,
        unsavedSince: since,
      }),
    );
    await Promise.all(puts);
    return 'written';
  });
}

/** Make this window the one that may write, whoever was before. Answers the record as it is then, null where there is none. */
export async function claimPanel(db: Database, panel: string, writer: string): Promise<PanelRecord | null> {
  const tx = db.transaction('panels', 'readwrite', STRICT);
  return settle(tx, async () => {
    const record = await tx.store.get(panel);
    if (record === undefined) return null;
    const claimed = { ...record, holder: writer };
    await tx.store.put(claimed);
    return claimed;
  });
}

/** A new panel with its first entry, its first snapshot and its picture, all or nothing. */
export async function putNewPanel(
  db: Database,
  record: PanelRecord,
  entry: EntryRecord,
  snapshot: SnapshotRecord,
  picture: PictureRecord | null,
): Promise<void> {
  const tx = db.transaction(['panels', 'entries', 'snapshots', 'pictures'], 'readwrite', STRICT);
  await settle(tx, () =>
    Promise.all([
      tx.objectStore('panels').add(record),
      tx.objectStore('entries').add(entry),
      tx.objectStore('snapshots').add(snapshot),
      ...(picture === null ? [] : [tx.objectStore('pictures').put(picture)]),
    ]),
  );
}

/** Alter the record of a panel by what it says; null where there is none. Never touches what `appendEntries` compares. */
export async function alterPanel(
  db: Database,
  panel: string,
  alter: (record: PanelRecord) => Partial<Omit<PanelRecord, 'id' | 'lastSeq' | 'holder'>>,
): Promise<PanelRecord | null> {
  const tx = db.transaction('panels', 'readwrite', STRICT);
  return settle(tx, async () => {
    const record = await tx.store.get(panel);
    if (record === undefined) return null;
    const altered = { ...record, ...alter(record) };
    await tx.store.put(altered);
    return altered;
  });
}

export async function putSnapshot(db: Database, snapshot: SnapshotRecord): Promise<void> {
  const tx = db.transaction('snapshots', 'readwrite', STRICT);
  await settle(tx, () => tx.store.put(snapshot));
}

export async function putVersion(db: Database, version: VersionRecord): Promise<void> {
  const tx = db.transaction('versions', 'readwrite', STRICT);
  await settle(tx, () => tx.store.put(version));
}

/** Snapshots that are kept of a panel. */
const SNAPSHOTS_KEPT = 3;

/**
 * Let go of what is not needed any more: snapshots but for the last three, if the newest reads back as `newest` says; then entries before the
 * oldest of them that no history of theirs names. Entries that were set aside stay. Answers how many records went.
 */
export async function prunePanel(db: Database, panel: string, newest: SnapshotRecord): Promise<number> {
  const tx = db.transaction(['panels', 'entries', 'snapshots'], 'readwrite');
  return settle(tx, async () => {
    const [snapshots, entries] = [tx.objectStore('snapshots'), tx.objectStore('entries')];
    const keys = await snapshots.getAllKeys(ofPanel(panel));
    const back = await snapshots.get([panel, newest.seq]);
    if (keys.length <= SNAPSHOTS_KEPT || keys.at(-1)?.[1] !== newest.seq || back?.text !== newest.text) return 0;
    const kept = await Promise.all(keys.slice(-SNAPSHOTS_KEPT).map((key) => snapshots.get(key)));
    const old = keys.slice(0, -SNAPSHOTS_KEPT);
    const needed = new Set(kept.flatMap((snapshot) => [...(snapshot?.past ?? []), ...(snapshot?.future ?? [])]).flat());
    const record = await tx.objectStore('panels').get(panel);
    const aside = record?.aside ?? [];
    const oldest = kept[0]?.seq ?? 0;
    const spare = (await entries.getAllKeys(ofPanel(panel, 0, oldest))).filter(
      ([, seq]) => !needed.has(seq) && !aside.some(({ from, to }) => seq >= from && seq <= to),
    );
    await Promise.all([...old.map((key) => snapshots.delete(key)), ...spare.map((key) => entries.delete(key))]);
    return old.length + spare.length;
  });
}

/**
 * Everything of a panel leaves the database, if its record as it is at that very moment `may` go: another window may have brought it back since.
 * False where it stays.
 */
export async function deletePanel(
  db: Database,
  panel: string,
  may: (record: PanelRecord) => boolean,
): Promise<boolean> {
  const tx = db.transaction(
    ['panels', 'entries', 'snapshots', 'versions', 'pictures', 'leases', 'handles'],
    'readwrite',
    STRICT,
  );
  return settle(tx, async () => {
    const record = await tx.objectStore('panels').get(panel);
    if (record === undefined || !may(record)) return false;
    const versions = await tx.objectStore('versions').index('panel').getAllKeys(panel);
    await Promise.all([
      tx.objectStore('entries').delete(ofPanel(panel)),
      tx.objectStore('snapshots').delete(ofPanel(panel)),
      ...versions.map((id) => tx.objectStore('versions').delete(id)),
      tx.objectStore('pictures').delete(panel),
      tx.objectStore('leases').delete(panel),
      tx.objectStore('handles').delete(panel),
      tx.objectStore('panels').delete(panel),
    ]);
    return true;
  });
}

/** Do the work of a transaction and wait until it is committed; whatever fails in between, nothing of it is kept. */
async function settle<T>(tx: { readonly done: Promise<void>; abort(): void }, work: () => Promise<T>): Promise<T> {
  const committed = tx.done.then(
    () => null,
    (error: unknown) => ({ error }),
  );
  try {
    const answer = await work();
    const failed = await committed;
    if (failed !== null) throw failed.error;
    return answer;
  } catch (error) {
    try {
      tx.abort();
    } catch {
      // It has ended already.
    }
    const failed = await committed;
    // Why it was aborted says more than that it was: QuotaExceededError, not AbortError.
    throw error instanceof DOMException && error.name === 'AbortError' && failed?.error ? failed.error : error;
  }
}

/** What another error is at its root: no room on the disk. */
export const isFull = (error: unknown): boolean => error instanceof DOMException && error.name === 'QuotaExceededError';
