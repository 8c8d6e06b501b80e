/** What changed between two panels, as data that the screen puts into words; and the edit that makes the one into the other. */
import type { Change, PanelFile, PlainRecord, RecordName, Transaction } from '../../panel/index.ts';

/** A key with what it was and what it is; undefined: it is not there. */
export interface KeyChange {
  readonly key: string;
  readonly from: unknown;
  readonly to: unknown;
}

export interface RecordDifference {
  /** Its id; its index after the change where records of the list have none. */
  readonly id: RecordName;
  readonly record: PlainRecord;
}

export interface ListDifference {
  readonly list: string;
  /** In the order of the panel after. */
  readonly added: readonly RecordDifference[];
  /** In the order of the panel before. */
  readonly removed: readonly RecordDifference[];
  /** In the order of the panel after; keys by name. */
  readonly changed: readonly { readonly id: RecordName; readonly keys: readonly KeyChange[] }[];
  /** Do the records that both have stand in another order? */
  readonly reordered: boolean;
}

export interface Difference {
  /** By name; lists that do not differ are left out. */
  readonly lists: readonly ListDifference[];
  /** Keys of the file that hold no list of records, by name. */
  readonly keys: readonly KeyChange[];
}

/**
 * What is other in `after` than in `before`: panels, or records that hold lists themselves, as a face does. Empty lists for what a file would hold
 * alike.
 */
export function difference(before: PlainRecord, after: PlainRecord): Difference {
  const lists: ListDifference[] = [];
  const keys: KeyChange[] = [];
  for (const key of keysOf(before, after)) {
    const [from, to] = [before[key], after[key]];
    if (isSame(from, to)) continue;
    const [one, two] = [recordsOf(from), recordsOf(to)];
    // A list that came or went empty has no record to tell of: then the key itself has changed.
    if (one === null || two === null || one.length + two.length === 0) keys.push({ key, from, to });
    else lists.push(listDifference(key, one, two));
  }
  return { lists, keys };
}

/** The edit that makes the second panel of the first, key by key of the file; without changes where they are alike. */
export function transactionBetween(before: PanelFile, after: PanelFile, name: string): Transaction {
  const changes = keysOf(before, after)
    .filter((key) => !isSame(before[key], after[key]))
    .map((key): Change => ({ kind: 'set', key, from: before[key], to: after[key] }));
  return { name, changes };
}

function listDifference(list: string, before: readonly PlainRecord[], after: readonly PlainRecord[]): ListDifference {
  const named = haveIds(before) && haveIds(after);
  const one = new Map(before.map((record, i) => [nameOf(record, i, named), record]));
  const two = new Map(after.map((record, i) => [nameOf(record, i, named), record]));
  const added = [...two].filter(([id]) => !one.has(id)).map(([id, record]) => ({ id, record }));
  const removed = [...one].filter(([id]) => !two.has(id)).map(([id, record]) => ({ id, record }));
  const changed = [...two].flatMap(([id, record]) => {
    const was = one.get(id);
    return was === undefined || isSame(was, record) ? [] : [{ id, keys: keyChanges(was, record) }];
  });
  const [first, second] = [[...one.keys()].filter((id) => two.has(id)), [...two.keys()].filter((id) => one.has(id))];
  return { list, added, removed, changed, reordered: first.some((id, i) => id !== second[i]) };
}

const keyChanges = (from: PlainRecord, to: PlainRecord): KeyChange[] =>
  keysOf(from, to)
    .filter((key) => !isSame(from[key], to[key]))
    .map((key) => ({ key, from: from[key], to: to[key] }));

const keysOf = (one: object, two: object): string[] => [...new Set([...Object.keys(one), ...Object.keys(two)])].sort();

const nameOf = (record: PlainRecord, index: number, named: boolean): RecordName =>
  named && typeof record.id === 'string' ? record.id : index;

function haveIds(records: readonly PlainRecord[]): boolean {
  const ids = new Set(records.map(({ id }) => id));
  return ids.size === records.length && [...ids].every((id) => typeof id === 'string');
}

/** Records of a list; an absent list has none. Null: it is no list of records. */
function recordsOf(value: unknown): readonly PlainRecord[] | null {
  if (value === undefined) return [];
  return Array.isArray(value) && value.every(isRecord) ? value : null;
}

function isRecord(value: unknown): value is PlainRecord {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Alike as a file would hold them: the order of keys and keys without a value do not count. */
function isSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((item, i) => isSame(item, b[i]));
  if (!isRecord(a) || !isRecord(b)) return a === b;
  return keysOf(a, b).every((key) => isSame(a[key], b[key]));
}
