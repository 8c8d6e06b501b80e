/**
 * What every edit of laying goes through: nothing is written that a file would not take, what changes nothing is no edit, and the
 * names of points, crossings and places go along with the strips.
 */
import {
  applyTransaction,
  checkPanel,
  type Edit,
  FORMAT,
  keptFor,
  type ListKey,
  type NewIds,
  newIds,
  type PanelFile,
  type PlainRecord,
  type RecordName,
  type Transaction,
  VERSION,
} from '../panel/index.ts';
import { keepNames, type Plan, readPlan } from '../plan/index.ts';

/** The reading of a panel, made once for each. */
export const planOf: (panel: PanelFile) => Plan = keptFor((panel: PanelFile) => readPlan(panel));

/** The edit collected so far, with the names of what lies on the strips; null where it changes nothing or a file would refuse it. */
export function finish(panel: PanelFile, edit: Edit, name: string, { draft = false }: Draft = {}): Transaction | null {
  return accepted(panel, edit.done(name), draft);
}

/** How an edit is made that may be only a frame of a drag. */
export interface Draft {
  /** Names are not carried along, which costs the most: for a frame of a drag, never for the edit that is kept. */
  readonly draft?: boolean;
}

/** The same for an edit that is a transaction already. */
export function accepted(panel: PanelFile, tx: Transaction | null, draft = false): Transaction | null {
  if (tx === null || tx.changes.length === 0 || !isTaken(tx)) return null;
  if (draft) return tx;
  const touchesStrips = tx.changes.some((change) => ('list' in change ? change.list : change.key) === 'strips');
  return touchesStrips ? keepNames(panel, planOf(panel), tx) : tx;
}

/** Would a file take what the changes leave? Checked record by record, not the whole panel. */
function isTaken(tx: Transaction): boolean {
  const lists = new Map<string, Map<unknown, PlainRecord>>();
  const file: Record<string, unknown> = { format: FORMAT, version: VERSION, strips: [] };
  for (const [i, change] of tx.changes.entries()) {
    if (change.kind === 'remove') {
      // What comes and goes within one edit is in no file.
      lists.get(change.list)?.delete(change.record.id);
      continue;
    }
    if (change.kind === 'set') {
      if (change.to !== undefined) file[change.key] = change.to;
      continue;
    }
    const record = change.kind === 'update' ? change.to : change.record;
    const list = lists.get(change.list) ?? new Map<unknown, PlainRecord>();
    lists.set(change.list, list.set(record.id ?? i, record));
  }
  for (const [list, records] of lists) file[list] = [...records.values()];
  return checkPanel(file).ok;
}

/** Issues ids that neither the file nor what is inferred on the sheet has. */
export function freshNames(panel: PanelFile): NewIds {
  const ids = newIds(panel);
  const { points, crossings, places, levers } = planOf(panel);
  for (const { id } of [...points, ...crossings, ...places, ...levers]) ids.claim(id);
  return ids;
}

/** The panel after an edit, or as it was where there is none. */
export function after(panel: PanelFile, tx: Transaction | null): PanelFile {
  return tx === null ? panel : applyTransaction(panel, tx);
}

/** What an edit has laid, in its order: lists and ids, or indices where records have none. For picking what is new. */
export function laidBy(tx: Transaction): readonly { readonly list: ListKey; readonly id: RecordName }[] {
  return tx.changes.flatMap((change) =>
    change.kind === 'add'
      ? [{ list: change.list, id: typeof change.record.id === 'string' ? change.record.id : change.index }]
      : [],
  );
}

/** A patch in which undefined takes a key out. */
export function patch<R>(values: Readonly<Record<string, unknown>>): Partial<R> {
  const made: Partial<R> = {};
  Object.assign(made as object, values);
  return made;
}

/** Equal as a file would hold them, key by key. */
export function isAlready(record: object, values: Readonly<Record<string, unknown>>): boolean {
  return Object.entries(values).every(
    ([key, value]) => JSON.stringify(Reflect.get(record, key)) === JSON.stringify(value),
  );
}

/** What is said, without keys of which nothing is. */
export function known<T extends object>(said: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  const kept: { [K in keyof T]?: Exclude<T[K], undefined> } = {};
  Object.assign(kept, Object.fromEntries(Object.entries(said).filter(([, value]) => value !== undefined)));
  return kept;
}
