/** The records of the database, and how what is read back is told from what is damaged: nothing read is trusted. */
import { type Change, type PanelFile, readPanel, type Transaction, writePanel } from '../../panel/index.ts';
import { documentWords } from '../words/document.ts';
import type { Entry, HistoryRefs } from './history.ts';

/** How much there is of a panel, for the shelf. */
export interface Counts {
  readonly strips: number;
  readonly points: number;
  readonly levers: number;
  readonly lamps: number;
}

/** Entries that did not apply when the panel was opened. They stay where they are and are passed over. */
export interface SetAside {
  readonly from: number;
  readonly to: number;
  readonly why: string;
  readonly at: number;
}

/** A panel on the shelf. Times are ms since 1970 UTC. */
export interface PanelRecord {
  readonly id: string;
  /** The name that its owner gave it on the shelf; null: the panel's own name stands for it. */
  readonly title: string | null;
  /** The panel's own name, empty where it has none. */
  readonly name: string;
  readonly created: number;
  readonly changed: number;
  readonly counts: Counts;
  /** The file that it came from or was last saved as. */
  readonly file: string | null;
  readonly lastSeq: number;
  /** The window that may write; a write of any other is refused. */
  readonly holder: string | null;
  /** The entry up to which a file holds it; null: no file was saved. */
  readonly savedSeq: number | null;
  readonly savedAt: number | null;
  /** Accepted since a file was saved. */
  readonly unsavedEdits: number;
  readonly unsavedSince: number | null;
  /** When it was put away; null while it stands on the shelf. */
  readonly away: number | null;
  readonly aside: readonly SetAside[];
}

/** An entry as it is kept: an opened panel as the text of its file. */
export type EntryRecord = { readonly panel: string; readonly writer: string } & (
  | Exclude<Entry, { readonly kind: 'open' }>
  | { readonly kind: 'open'; readonly seq: number; readonly at: number; readonly text: string }
);

/** A panel as it was after an entry. */
export interface SnapshotRecord extends HistoryRefs {
  readonly panel: string;
  readonly seq: number;
  readonly text: string;
}

/** A state that was given a name. */
export interface VersionRecord {
  readonly id: string;
  readonly panel: string;
  readonly name: string;
  readonly seq: number;
  readonly at: number;
  readonly text: string;
}

/** A picture for the shelf, as the text of an SVG. Apart from the panel's record, which every edit writes anew. */
export interface PictureRecord {
  readonly panel: string;
  readonly svg: string;
  readonly seq: number;
}

/** Who may write, where the browser has no locks. */
export interface LeaseRecord {
  readonly panel: string;
  readonly holder: string;
  readonly until: number;
}

/** What the shelf calls it. */
export const titleOf = ({ title, name }: Pick<PanelRecord, 'title' | 'name'>): string =>
  title ?? (name === '' ? documentWords.untitled : name);

export function countsOf(panel: PanelFile): Counts {
  const { strips, points, levers, lamps } = panel;
  return {
    strips: strips.length,
    points: points?.length ?? 0,
    levers: levers?.length ?? 0,
    lamps: lamps?.length ?? 0,
  };
}

export function entryRecord(panel: string, writer: string, entry: Entry): EntryRecord {
  if (entry.kind !== 'open') return { panel, writer, ...entry };
  const { kind, seq, at } = entry;
  return { panel, writer, kind, seq, at, text: writePanel(entry.panel) };
}

/** The entry of a record, or why there is none. */
export function readEntry(record: unknown): { readonly entry: Entry } | { readonly why: string } {
  if (!isRecord(record)) return { why: documentWords.aside.noRecord };
  const { kind, seq, at } = record;
  if (typeof seq !== 'number' || !Number.isInteger(seq)) return { why: documentWords.aside.noNumber };
  if (typeof at !== 'number') return { why: documentWords.aside.noTime };
  if (kind === 'undo' || kind === 'redo') return { entry: { kind, seq, at } };
  if (kind === 'name') {
    return typeof record.name === 'string'
      ? { entry: { kind, seq, at, name: record.name } }
      : { why: documentWords.aside.noName };
  }
  if (kind === 'open') {
    const read = typeof record.text === 'string' ? readPanel(record.text) : null;
    return read?.ok === true
      ? { entry: { kind, seq, at, panel: read.panel } }
      : { why: documentWords.aside.unreadable };
  }
  if (kind !== 'edit') return { why: documentWords.aside.unknown };
  const { transaction, subject, joins } = record;
  if (typeof subject !== 'string' || typeof joins !== 'boolean' || !isTransaction(transaction))
    return { why: documentWords.aside.noEdit };
  return { entry: { kind, seq, at, transaction, subject, joins } };
}

/** A snapshot whose parts are of their kinds; its text is not read here. */
export function isSnapshot(record: unknown): record is SnapshotRecord {
  if (!isRecord(record)) return false;
  const { seq, text, past, future, changed } = record;
  return (
    typeof seq === 'number' && typeof text === 'string' && typeof changed === 'number' && isRefs(past) && isRefs(future)
  );
}

/** A version whose parts are of their kinds; its text is not read here. */
export function isVersion(record: unknown): record is VersionRecord {
  if (!isRecord(record)) return false;
  const { id, panel, name, seq, at, text } = record;
  return [id, panel, name, text].every((value) => typeof value === 'string') && [seq, at].every(isNumber);
}

const isNumber = (value: unknown): boolean => typeof value === 'number';

/** A record of a panel whose parts are of their kinds. */
export function isPanelRecord(record: unknown): record is PanelRecord {
  if (!isRecord(record)) return false;
  const { id, title, name, created, changed, counts, lastSeq, aside, away } = record;
  return (
    typeof id === 'string' &&
    (title === null || typeof title === 'string') &&
    (away === null || typeof away === 'number') &&
    [created, changed, lastSeq].every((value) => typeof value === 'number') &&
    typeof name === 'string' &&
    isRecord(counts) &&
    Array.isArray(aside)
  );
}

const isRefs = (value: unknown): boolean =>
  Array.isArray(value) && value.every((seqs) => Array.isArray(seqs) && seqs.every((seq) => typeof seq === 'number'));

function isTransaction(value: unknown): value is Transaction {
  return (
    isRecord(value) && typeof value.name === 'string' && Array.isArray(value.changes) && value.changes.every(isChange)
  );
}

function isChange(value: unknown): value is Change {
  if (!isRecord(value)) return false;
  const { kind, list, key, id, index, record, from, to } = value;
  if (kind === 'set') return typeof key === 'string';
  if (typeof list !== 'string') return false;
  if (kind === 'update') return (typeof id === 'string' || typeof id === 'number') && isRecord(from) && isRecord(to);
  return (kind === 'add' || kind === 'remove') && typeof index === 'number' && isRecord(record);
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
