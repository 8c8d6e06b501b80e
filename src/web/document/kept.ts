/**
 * A panel that is open in this window: its document, its journal, its hold, and the other windows on it. The window that holds the panel edits;
 * the others follow, and may take it over.
 */
import { type PanelFile, writePanel } from '../../panel/index.ts';
import { documentWords } from '../words/document.ts';
import { alterPanel, claimPanel, type Database, ofPanel, putVersion } from './database.ts';
import { transactionBetween } from './difference.ts';
import { type EditedPanel, makeDocument } from './document.ts';
import { beginHistory, type Entry, type History } from './history.ts';
import { makeHold, type Take } from './hold.ts';
import { type Journal, makeJournal, type Newborn } from './journal.ts';
import { askToPersist, isPersisted, type Keeping, keepingOf, type Promised, remindsOfFile } from './keeping.ts';
import { rememberPanel } from './known.ts';
import { type Loaded, type LoadedPanel, loadPanel, setAside } from './load.ts';
import { isVersion, type PanelRecord, readEntry, type SetAside, titleOf, type VersionRecord } from './records.ts';
import type { Channel, Surroundings } from './surroundings.ts';

/** How long a window that is to let go tries to finish its writes, ms; what is not written then is kept as a version. */
const FINISH_MS = 2_000;
/** How often a window looks for news where windows cannot speak to each other, ms. */
const LOOK_MS = 1_000;

/** The name of the version that holds what a window had not written when another took the panel. */
export const FROM_OTHER_WINDOW = documentWords.fromOtherWindow;

/** `editing`: this window holds the panel. `following`: another does, or did. `handing-over`: it finishes its writes and lets go. */
export type Role = 'editing' | 'following' | 'handing-over';

/** What this window had not written when another took the panel: kept as a version, or here as text where even that failed. */
export interface Stranded {
  readonly edits: number;
  readonly text: string;
  readonly kept: boolean;
}

/** What the screen says about a panel beside what is on it. */
export interface KeptState {
  readonly role: Role;
  /** Did this window edit before another took the panel from it? */
  readonly taken: boolean;
  readonly keeping: Keeping;
  /** What the browser said when it was asked to keep this for good. */
  readonly promised: Promised;
  /** Number of the last entry that is on the disk. */
  readonly durable: number;
  readonly file: string | null;
  /** Has the panel changed since a file was saved or opened? True where there never was one and something was edited. */
  readonly changedSinceSave: boolean;
  /** Edits that are in no file, and when the first of them was made, ms since 1970 UTC; null where there is none. */
  readonly unsavedEdits: number;
  readonly unsavedSince: number | null;
  /** Is it time for the quiet line "save a file"? */
  readonly remind: boolean;
  /** Entries that did not apply when it was opened. */
  readonly aside: Omit<SetAside, 'at'> | null;
  /** Steps of the history that were lost to damage. */
  readonly lostSteps: number;
  /** What other windows' taking the panel has left unwritten here, in order. */
  readonly stranded: readonly Stranded[];
}

export interface KeptPanel {
  readonly id: string;
  readonly document: EditedPanel;
  readonly state: KeptState;
  /** Hear of every change of the document or the state; answers what ends it. */
  listen(listener: () => void): () => void;
  /** Hear that another window takes the panel, while edits are still accepted: finish what a hand has begun. Answers what ends it. */
  beforeLeaving(finish: () => void): () => void;
  /** Edit here: ask the window that holds the panel to let go, and take it. False where the panel cannot be read any more. */
  takeOver(): Promise<boolean>;
  /** Give the state at hand a name. */
  nameVersion(name: string): void;
  /** Named versions, oldest first, those that are not on the disk yet among them. Never rejects: without a database those of this window. */
  versions(): Promise<readonly VersionRecord[]>;
  /** Go back to another state of this panel, as one step that can be undone; `name`: what it is called, for the words of undo. */
  restore(panel: PanelFile, name?: string): void;
  /** The panel as it was last accepted, as the text of its file. */
  text(): string;
  /** A file of this name now holds the panel as it was after the entry `seq`. */
  savedAs(file: string, seq: number): Promise<void>;
  /** Resolves when all that was accepted is on the disk; false when that will not be. */
  settled(): Promise<boolean>;
  /** Finish the writes and let go. What cannot be written now keeps the panel open out of sight until it is written. */
  close(): Promise<void>;
  /** It is opened again after `close`, before it could let go. */
  reopen(): void;
}

export interface OpenOptions {
  readonly id: string;
  readonly surroundings: Surroundings;
  readonly database: () => Promise<Database>;
  /** A panel that could not be stored yet. */
  readonly newborn?: Newborn;
  /** It has let go: all that was accepted is in the database, or beside it as a version. */
  readonly closed?: () => void;
  /** Freeze panels in depth: for development and tests. */
  readonly freeze?: boolean;
}

/** A panel that is open, or why it is not. */
export type Opening = { readonly ok: true; readonly kept: KeptPanel } | Exclude<Loaded, LoadedPanel>;

/** Open a panel in this window. Rejects where the database does, unless the panel is a newborn one. */
export async function openKept(options: OpenOptions): Promise<Opening> {
  const { id, surroundings, database, freeze = false } = options;
  const { now, later, memory, storage, sevenDays } = surroundings;
  const writer = surroundings.newId();
  const listeners = new Set<() => void>();
  const finishers = new Set<() => void>();
  /** Versions that were named here, by their ids. */
  const named = new Map<string, VersionRecord>();
  let record: PanelRecord;
  let role: Role = 'following';
  let journal: Journal | null = null;
  let aside: KeptState['aside'] = null;
  let lostSteps = 0;
  let stranded: readonly Stranded[] = [];
  let persisted = await isPersisted(storage);
  let asked = false;
  let promised: Promised = storage === null ? 'none' : persisted ? 'yes' : 'not-asked';
  let taken = false;
  /** Has the screen left the panel? */
  let left = false;
  let closed = false;
  let told = 0;

  const tell = (): void => {
    for (const listener of [...listeners]) listener();
  };
  const hold = makeHold(id, writer, surroundings, database, () => lose());
  const channel: Channel | null = surroundings.channel?.(`mimicwright-panel-${id}`) ?? null;
  const post = (message: Message): void => channel?.post({ ...message, from: writer });

  const accepted = (entry: Entry, history: History): void => {
    if (entry.kind !== 'name') {
      const { unsavedEdits, unsavedSince } = record;
      record = { ...record, unsavedEdits: unsavedEdits + 1, unsavedSince: unsavedSince ?? entry.at };
    }
    journal?.add(entry, history, versionOf(entry, history));
    if (asked) return;
    asked = true;
    void askToPersist(storage).then((granted) => {
      persisted = granted;
      if (storage !== null) promised = granted ? 'yes' : 'no';
      tell();
    });
  };
  const versionOf = (entry: Entry, history: History): VersionRecord | undefined => {
    if (entry.kind !== 'name') return undefined;
    const version = makeVersion(entry.name, entry.seq, history);
    named.set(version.id, version);
    return version;
  };
  const makeVersion = (name: string, seq: number, history: History): VersionRecord => ({
    id: surroundings.newId(),
    panel: id,
    name,
    seq,
    at: now(),
    text: writePanel(history.panel),
  });

  const beginJournal = (durable: number, snapshot: number, more: { newborn?: Newborn; claim?: boolean }): void => {
    told = durable;
    journal = makeJournal({ panel: id, writer, database, later, durable, snapshot, told: journalTold, ...more });
  };
  const journalTold = (): void => {
    if (journal !== null && journal.durable > told) {
      told = journal.durable;
      post({ kind: 'written', seq: told });
    }
    if (journal?.ended === 'conflict' && role === 'editing') lose();
    tell();
  };

  /** A drag that cannot be ended is no reason to stay. */
  const finishDrag = (): void => {
    if (role !== 'editing' || closed) return;
    for (const finish of [...finishers]) {
      try {
        finish();
      } catch {
        // What a hand has begun and cannot finish is no reason either.
      }
    }
    try {
      document.end();
    } catch {
      document.abandon();
    }
  };
  /** All that was accepted is on the disk, or the patience is at an end. */
  const finishWrites = async (): Promise<void> => {
    let cancel = (): void => {};
    const patience = new Promise<void>((done) => {
      cancel = later(FINISH_MS, done);
    });
    await Promise.race([journal?.settled(), patience]);
    cancel();
  };

  /** Keep as a version what was accepted and is not written; try again until that is done. */
  const strand = async (): Promise<void> => {
    const edits = journal?.waitingEdits ?? 0;
    if (edits === 0) return;
    const version = makeVersion(FROM_OTHER_WINDOW, journal?.durable ?? 0, document.history);
    named.set(version.id, version);
    const at = stranded.length;
    stranded = [...stranded, { edits, text: version.text, kept: false }];
    const keep = async (): Promise<void> => {
      const kept = await succeeds(database().then((db) => putVersion(db, version)));
      if (kept) stranded = stranded.with(at, { edits, text: version.text, kept });
      else later(LOOK_MS, () => void keep().then(tell));
    };
    await keep();
  };

  /** Changes of role, one after the other: each finds the window as the one before has left it. */
  let turns: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const turn = turns.then(work, work);
    turns = turn;
    return turn;
  };

  /** Another window has the panel, or has written: follow it. Nothing is accepted from this moment on. */
  const lose = (): void => {
    if (role === 'following' || closed) return;
    finishDrag();
    role = 'following';
    taken = true;
    leaving = true;
    tell();
    void inTurn(leave).catch(() => {});
  };
  /** Has the window still to leave what it has lost? */
  let leaving = false;
  const leave = async (): Promise<void> => {
    if (!leaving) return;
    leaving = false;
    await journal?.stop();
    await strand();
    journal = null;
    await hold.letGo();
    await reload().catch(() => {});
    follow();
  };

  /** Another window asks for the panel. */
  const handOver = (): void => {
    if (role !== 'editing' || closed) return;
    finishDrag();
    role = 'handing-over';
    taken = true;
    tell();
    void inTurn(async () => {
      await finishWrites();
      if (role !== 'handing-over') return;
      role = 'following';
      leaving = true;
      await leave();
    }).catch(() => {});
  };

  /** Show the panel as the database has it; as it is where it cannot be read. */
  const reload = async (): Promise<void> => {
    const loaded = await loadPanel(await database(), id);
    if (!loaded.ok || role !== 'following') return;
    ({ record, aside, lostSteps } = loaded);
    document.replace(loaded.history);
  };

  let catching: Promise<void> = Promise.resolve();
  const catchUp = (): void => {
    catching = catching
      .then(async () => {
        if (role !== 'following' || closed) return;
        const db = await database();
        const news: unknown[] = await db.getAll('entries', ofPanel(id, document.history.seq + 1));
        if (role !== 'following' || news.length === 0) return;
        for (const item of news) {
          const read = readEntry(item);
          const fits = 'entry' in read && read.entry.seq === document.history.seq + 1;
          if (!fits) {
            await reload();
            return;
          }
          document.follow(read.entry);
        }
        record = (await db.get('panels', id)) ?? record;
        tell();
      })
      .catch(reload)
      // The database is not to be had now: the next news will try again.
      .catch(() => {});
  };
  const follow = (): void => {
    tell();
    catchUp();
    if (channel !== null || closed || role !== 'following') return;
    later(LOOK_MS, follow);
  };

  channel?.hear((message) => {
    if (closed || !isMessage(message) || message.from === writer) return;
    if (message.kind === 'ask') handOver();
    else catchUp();
  });

  /** Hold the panel and read it as it is then; null where it cannot be held, read, or written to. */
  const prepare = async (hows: readonly Take[]): Promise<(LoadedPanel & { readonly claim: boolean }) | null> => {
    let held = false;
    for (const how of hows) held ||= await hold.take(how);
    if (!held) return null;
    const db = await database();
    const claimed = hold.held && (await succeeds(claimPanel(db, id, writer)));
    const loaded = await loadPanel(db, id);
    // What is set aside must be noted before anything is written after it: until it is, the window only shows the panel.
    const noted = loaded.ok && (claimed || loaded.aside === null);
    const history = noted ? await setAside(db, loaded, writer, now()).catch(() => null) : null;
    if (!loaded.ok || history === null) {
      await hold.letGo();
      return null;
    }
    return { ...loaded, history, claim: !claimed };
  };

  const { newborn } = options;
  let start: History;
  if (newborn !== undefined) {
    record = { ...newborn.record, holder: writer };
    start = beginHistory(newborn.panel, newborn.entry.seq);
    await hold.take('if-free');
    role = 'editing';
    beginJournal(start.seq, start.seq, { newborn: { ...newborn, record } });
  } else {
    const prepared = await prepare(['if-free']);
    const loaded = prepared ?? (await loadPanel(await database(), id));
    if (!loaded.ok) {
      channel?.close();
      return loaded;
    }
    ({ record, aside, lostSteps, history: start } = loaded);
    if (prepared !== null && hold.held) {
      role = 'editing';
      beginJournal(start.seq, prepared.snapshot, { claim: prepared.claim });
    }
  }
  const document = makeDocument(start, {
    now,
    accepted,
    freeze,
    locked: () => (role === 'editing' && !closed ? null : documentWords.editedElsewhere),
  });
  document.listen(tell);
  rememberPanel(memory, { id, title: titleOf(record), changed: record.changed });
  if (role === 'following') follow();

  const takeOver = async (): Promise<boolean> => {
    if (role === 'editing') return true;
    // A turn that was asked for earlier may come before that in which the window leaves.
    await leave();
    if (closed) return false;
    post({ kind: 'ask' });
    const prepared = await prepare(['wait', 'force']);
    // While it was read a third window may have taken it by force.
    if (prepared === null || !hold.held) return false;
    ({ record, aside, lostSteps } = prepared);
    document.replace(prepared.history);
    role = 'editing';
    taken = false;
    beginJournal(prepared.history.seq, prepared.snapshot, { claim: prepared.claim });
    tell();
    return true;
  };

  const kept: KeptPanel = {
    id,
    document,
    get state() {
      const { changed } = document.history;
      return {
        role,
        taken,
        promised,
        keeping: keepingOf({
          trouble: journal?.trouble ?? null,
          gone: journal?.ended === 'gone',
          persisted,
          sevenDays,
          waiting: journal?.waitingEdits ?? 0,
          atHand: true,
        }),
        durable: role === 'editing' ? (journal?.durable ?? 0) : document.history.seq,
        file: record.file,
        changedSinceSave: record.savedSeq === null ? record.unsavedEdits > 0 : changed > record.savedSeq,
        unsavedEdits: record.unsavedEdits,
        unsavedSince: record.unsavedSince,
        remind: remindsOfFile(record, now()),
        aside,
        lostSteps,
        stranded,
      };
    },
    listen(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    beforeLeaving(finish) {
      finishers.add(finish);
      return () => finishers.delete(finish);
    },
    takeOver: () => inTurn(takeOver),
    nameVersion: (name) => document.mark(name),
    async versions() {
      const stored: readonly unknown[] = await database()
        .then((db) => db.getAllFromIndex('versions', 'panel', id))
        .catch(() => []);
      const all = new Map([...named.values(), ...stored.filter(isVersion)].map((version) => [version.id, version]));
      return [...all.values()].sort((a, b) => a.at - b.at || (a.id < b.id ? -1 : 1));
    },
    restore(panel, name = '') {
      document.end();
      document.edit(transactionBetween(document.panel, panel, 'version.restore'), { subject: name });
    },
    text: () => writePanel(document.history.panel),
    async savedAs(file, seq) {
      const { unsavedEdits } = record;
      await journal?.settled();
      const savedAt = now();
      const saved = (latest: PanelRecord) => {
        const left = Math.max(0, latest.unsavedEdits - unsavedEdits);
        return { file, savedSeq: seq, savedAt, unsavedEdits: left, unsavedSince: left === 0 ? null : savedAt };
      };
      record = { ...record, ...saved(record) };
      tell();
      await alterPanel(await database(), id, saved);
    },
    settled: () => journal?.settled() ?? Promise.resolve(true),
    async close() {
      left = true;
      finishDrag();
      if (role === 'editing') await finishWrites();
      if (!left) return;
      listeners.clear();
      const isWritten = journal === null || journal.ended !== null || (journal.stored && journal.waiting === 0);
      if (isWritten) await letGo();
      else void journal?.settled().then(() => (left ? letGo() : undefined));
    },
    reopen() {
      left = false;
    },
  };
  const letGo = async (): Promise<void> => {
    closed = true;
    await journal?.stop();
    await hold.letGo();
    post({ kind: 'free' });
    channel?.close();
    options.closed?.();
  };
  return { ok: true, kept };
}

const succeeds = (work: Promise<unknown>): Promise<boolean> =>
  work.then(
    () => true,
    () => false,
  );

type Message = { readonly kind: 'written'; readonly seq: number } | { readonly kind: 'ask' | 'free' };

function isMessage(message: unknown): message is Message & { readonly from: string } {
  return typeof message === 'object' && message !== null && 'kind' in message && 'from' in message;
}
