/**
 * A panel out of the database: the newest snapshot that can be read, and the entries after it. What does not apply is set aside, and the panel
 * opens at the last state that does.
 */
import { checkPanel, readPanel, writePanel } from '../../panel/index.ts';
import { documentWords } from '../words/document.ts';
import { type Database, ofPanel } from './database.ts';
import { advance, beginHistory, type Entry, type History, recallHistory, refsOf } from './history.ts';
import {
  type EntryRecord,
  isPanelRecord,
  isSnapshot,
  type PanelRecord,
  readEntry,
  type SetAside,
  type SnapshotRecord,
} from './records.ts';

/** What was found. */
export type Loaded =
  | LoadedPanel
  | { readonly ok: false; readonly why: 'missing' | 'damaged'; readonly sentence: string };

export interface LoadedPanel {
  readonly ok: true;
  readonly record: PanelRecord;
  readonly history: History;
  /** Number of the snapshot it began from. */
  readonly snapshot: number;
  /** Entries that do not apply and were not set aside before; null where all do. */
  readonly aside: Omit<SetAside, 'at'> | null;
  /** Steps of the history that could not be made again. */
  readonly lostSteps: number;
  /** Snapshots that cannot be read. */
  readonly damagedSnapshots: readonly number[];
}

/** Read a panel with its history. Writes nothing, throws nothing but what the database throws. */
export async function loadPanel(db: Database, id: string): Promise<Loaded> {
  const tx = db.transaction(['panels', 'entries', 'snapshots']);
  const [record, entries, snapshots]: [unknown, unknown[], unknown[]] = await Promise.all([
    tx.objectStore('panels').get(id),
    tx.objectStore('entries').getAll(ofPanel(id)),
    tx.objectStore('snapshots').getAll(ofPanel(id)),
  ]);
  await tx.done;
  if (record === undefined) return { ok: false, why: 'missing', sentence: documentWords.gone };
  if (!isPanelRecord(record))
    return {
      ok: false,
      why: 'damaged',
      sentence: documentWords.recordDamaged,
    };
  return restore(record, entries, snapshots);
}

/** The same from the records. */
export function restore(record: PanelRecord, entries: readonly unknown[], snapshots: readonly unknown[]): Loaded {
  const read = new Map<number, ReturnType<typeof readEntry>>();
  for (const entry of entries) {
    const seq = seqOf(entry);
    if (seq !== null) read.set(seq, readEntry(entry));
  }
  const entryAt = (seq: number): Entry | null => {
    const found = read.get(seq);
    return found !== undefined && 'entry' in found ? found.entry : null;
  };
  const damagedSnapshots: number[] = [];
  for (const snapshot of [...snapshots].reverse()) {
    const seq = seqOf(snapshot);
    const panel = isSnapshot(snapshot) ? readPanel(snapshot.text) : null;
    if (!isSnapshot(snapshot) || panel?.ok !== true) {
      if (seq !== null) damagedSnapshots.push(seq);
      continue;
    }
    const { history, lost } = recallHistory(panel.panel, snapshot.seq, snapshot, entryAt);
    return { ...carryOn(record, history, read), snapshot: snapshot.seq, lostSteps: lost, damagedSnapshots };
  }
  const first = [...read.values()].find((found) => 'entry' in found && found.entry.kind === 'open');
  if (first === undefined || !('entry' in first) || first.entry.kind !== 'open')
    return {
      ok: false,
      why: 'damaged',
      sentence: documentWords.noSnapshot,
    };
  const history = beginHistory(first.entry.panel, first.entry.seq);
  return { ...carryOn(record, history, read), snapshot: 0, lostSteps: 0, damagedSnapshots };
}

/** Do the entries after a state, in order, up to the first that does not fit. */
function carryOn(
  record: PanelRecord,
  start: History,
  read: ReadonlyMap<number, ReturnType<typeof readEntry>>,
): Pick<LoadedPanel, 'ok' | 'record' | 'history' | 'aside'> {
  const states = [start];
  let history = start;
  let stop: Omit<SetAside, 'at'> | null = null;
  for (let seq = start.seq + 1; seq <= record.lastSeq; seq++) {
    const known = record.aside.find(({ from, to }) => seq >= from && seq <= to);
    if (known !== undefined) {
      seq = known.to;
      continue;
    }
    const found = read.get(seq);
    const why = found === undefined ? documentWords.aside.missing : 'why' in found ? found.why : null;
    try {
      if (why !== null || found === undefined || !('entry' in found)) throw new RangeError(why ?? '');
      history = advance(history, found.entry);
      states.push(history);
    } catch (error) {
      stop = { from: seq, to: record.lastSeq, why: error instanceof Error ? error.message : String(error) };
      break;
    }
  }
  // A damaged edit may fit and yet leave what no file can hold: then the last state that a file could hold.
  const sound = lastSound(states);
  if (sound === history) return { ok: true, record, history, aside: stop };
  const aside = { from: sound.seq + 1, to: record.lastSeq, why: documentWords.aside.unsound };
  return { ok: true, record, history: sound, aside };
}

function lastSound(states: readonly History[]): History {
  for (const state of [...states].reverse()) if (checkPanel(state.panel).ok) return state;
  const [first] = states;
  if (first === undefined) throw new RangeError('no state to choose from');
  return first;
}

/**
 * Note in the database what was set aside, and let the panel begin anew after it, with its history. Answers the history, whose numbers go on
 * after the entries that were set aside.
 */
export async function setAside(
  db: Database,
  { record, history, aside }: LoadedPanel,
  writer: string,
  now: number,
): Promise<History> {
  if (aside === null) return history;
  const seq = record.lastSeq + 1;
  const next: History = { ...history, seq, changed: history.changed };
  const text = writePanel(history.panel);
  const tx = db.transaction(['panels', 'entries', 'snapshots'], 'readwrite', { durability: 'strict' });
  const entry: EntryRecord = { panel: record.id, writer, kind: 'open', seq, at: now, text };
  const snapshot: SnapshotRecord = { panel: record.id, seq, text, ...refsOf(next) };
  await Promise.all([
    tx.objectStore('entries').add(entry),
    tx.objectStore('snapshots').add(snapshot),
    tx.objectStore('panels').put({ ...record, lastSeq: seq, aside: [...record.aside, { ...aside, at: now }] }),
    tx.done,
  ]);
  return next;
}

function seqOf(record: unknown): number | null {
  if (typeof record !== 'object' || record === null || !('seq' in record)) return null;
  return typeof record.seq === 'number' ? record.seq : null;
}
