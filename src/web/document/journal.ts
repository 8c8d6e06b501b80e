/**
 * The journal of one panel: entries go to the database in order, one write at a time; what is accepted while a write is under way shares the
 * next. A write that fails is tried again and nothing is dropped. Snapshots and pruning come after the entries, never before.
 */
import { type PanelFile, writePanel } from '../../panel/index.ts';
import {
  appendEntries,
  type Database,
  isFull,
  prunePanel,
  putNewPanel,
  putSnapshot,
  type Written,
} from './database.ts';
import { type Entry, type History, refsOf } from './history.ts';
import {
  countsOf,
  type EntryRecord,
  entryRecord,
  type PanelRecord,
  type PictureRecord,
  type SnapshotRecord,
  type VersionRecord,
} from './records.ts';

/** Entries from one snapshot to the next: what must be done again on opening at most, but for the entries of the last moments. */
export const SNAPSHOT_EVERY = 50;

/** Entries in one write at most. */
const MOST_AT_ONCE = 200;

/** Waits before a write that failed is tried again, ms; the last one goes on. A new edit tries at once. */
const RETRIES = [100, 250, 500, 1_000, 2_000, 5_000] as const;

/** A panel that is not in the database yet. */
export interface Newborn {
  readonly panel: PanelFile;
  readonly record: PanelRecord;
  readonly entry: EntryRecord;
  readonly snapshot: SnapshotRecord;
  readonly picture: PictureRecord | null;
}

export interface JournalOptions {
  readonly panel: string;
  readonly writer: string;
  readonly database: () => Promise<Database>;
  readonly later: (ms: number, work: () => void) => () => void;
  /** Number of the last entry that is in the database. */
  readonly durable: number;
  /** Number of the last snapshot there. */
  readonly snapshot: number;
  readonly newborn?: Newborn | null;
  /** Has this window still to be made the one that may write? */
  readonly claim?: boolean;
  /** Something of the journal has changed. */
  readonly told: () => void;
}

/** Why writes do not get through: no room, or refused for another reason. */
export type Trouble = 'full' | 'refused';

export interface Journal {
  /** Number of the last entry that is on the disk. */
  readonly durable: number;
  /** Entries accepted and not on the disk yet. */
  readonly waiting: number;
  /** Edits among them, undo and redo included. */
  readonly waitingEdits: number;
  readonly trouble: Trouble | null;
  /** Is the panel in the database at all? */
  readonly stored: boolean;
  /** The journal has ended: another window has written, the panel is gone, or it was stopped. */
  readonly ended: Exclude<Written, 'written'> | 'stopped' | null;
  /** Take an entry with the history after it; `version` goes into the same write. */
  add(entry: Entry, history: History, version?: VersionRecord): void;
  /** Resolves when all that was accepted is on the disk, or when the journal has ended; false then. */
  settled(): Promise<boolean>;
  /** Write nothing more. A write under way is waited for. */
  stop(): Promise<void>;
}

interface Waiting {
  readonly entry: Entry;
  readonly history: History;
  readonly version: VersionRecord | null;
}

export function makeJournal(options: JournalOptions): Journal {
  const { panel, writer, database, later, told } = options;
  let queue: Waiting[] = [];
  let newborn = options.newborn ?? null;
  let claim = options.claim ?? false;
  let durable = options.durable;
  let lastSnapshot = options.snapshot;
  let toSnapshot: History | null = null;
  let toPrune: SnapshotRecord | null = null;
  let trouble: Trouble | null = null;
  let ended: Journal['ended'] = null;
  let running: Promise<void> | null = null;
  let failures = 0;
  let cancelRetry: (() => void) | null = null;
  let waiters: ((all: boolean) => void)[] = [];

  const answerWaiters = (): void => {
    if (ended === null && (queue.length > 0 || newborn !== null)) return;
    const all = queue.length === 0 && newborn === null;
    const answered = waiters;
    waiters = [];
    for (const answer of answered) answer(all);
  };

  const writeBatch = async (): Promise<void> => {
    const batch = queue.slice(0, MOST_AT_ONCE);
    const last = batch.at(-1);
    if (last === undefined) return;
    const written = await appendEntries(await database(), {
      panel,
      writer,
      expected: durable,
      entries: batch.map(({ entry }) => entryRecord(panel, writer, entry)),
      versions: batch.flatMap(({ version }) => version ?? []),
      patch: { name: last.history.panel.name ?? '', changed: last.entry.at, counts: countsOf(last.history.panel) },
      claim,
    });
    if (written !== 'written') {
      ended = written;
      return;
    }
    claim = false;
    queue = queue.slice(batch.length);
    durable = last.entry.seq;
    if (durable - lastSnapshot >= SNAPSHOT_EVERY) toSnapshot = last.history;
  };

  /** What may wait: done when no entry does. */
  const writeChores = async (): Promise<void> => {
    if (toSnapshot !== null) {
      const history = toSnapshot;
      const snapshot = { panel, seq: history.seq, text: writePanel(history.panel), ...refsOf(history) };
      await putSnapshot(await database(), snapshot);
      lastSnapshot = history.seq;
      if (toSnapshot === history) toSnapshot = null;
      toPrune = snapshot;
    } else if (toPrune !== null) {
      const snapshot = toPrune;
      toPrune = null;
      await prunePanel(await database(), panel, snapshot);
    }
  };

  const pump = async (): Promise<void> => {
    while (ended === null) {
      const chore = newborn === null && queue.length === 0;
      if (chore && toSnapshot === null && toPrune === null) break;
      try {
        if (newborn !== null) {
          await putNewborn(await database(), newborn);
          newborn = null;
        } else if (chore) await writeChores();
        else await writeBatch();
        failures = 0;
        trouble = null;
      } catch (error) {
        const wait = RETRIES[Math.min(failures, RETRIES.length - 1)] ?? 0;
        failures++;
        // A snapshot that fails costs nothing but a longer opening: the entries are there.
        if (!chore) trouble = isFull(error) ? 'full' : 'refused';
        cancelRetry = later(wait, start);
        break;
      }
      told();
      answerWaiters();
    }
  };

  const start = (): void => {
    cancelRetry?.();
    cancelRetry = null;
    if (running !== null || ended !== null) return;
    running = pump().finally(() => {
      running = null;
      // What was accepted while the last answer was on its way.
      if (queue.length > 0 && cancelRetry === null && ended === null) start();
      told();
      answerWaiters();
    });
  };
  if (newborn !== null) start();

  return {
    get durable() {
      return durable;
    },
    get waiting() {
      return queue.length;
    },
    get waitingEdits() {
      return queue.filter(({ entry }) => isEdit(entry)).length;
    },
    get trouble() {
      return trouble;
    },
    get stored() {
      return newborn === null;
    },
    get ended() {
      return ended;
    },
    add(entry, history, version) {
      queue = [...queue, { entry, history, version: version ?? null }];
      start();
    },
    settled() {
      const done = new Promise<boolean>((resolve) => waiters.push(resolve));
      answerWaiters();
      return done;
    },
    async stop() {
      cancelRetry?.();
      cancelRetry = null;
      ended ??= 'stopped';
      await running;
      answerWaiters();
    },
  };
}

/** A panel that is there already is this one: a write whose answer was lost. */
async function putNewborn(db: Database, { record, entry, snapshot, picture }: Newborn): Promise<void> {
  try {
    await putNewPanel(db, record, entry, snapshot, picture);
  } catch (error) {
    if (!(error instanceof DOMException && error.name === 'ConstraintError')) throw error;
  }
}

const isEdit = ({ kind }: Entry): boolean => kind === 'edit' || kind === 'undo' || kind === 'redo';
