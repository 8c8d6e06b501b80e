/**
 * Edits of a panel as transactions: plain records of what was there and what is there now, so that an edit can be done, undone,
 * joined with the next and kept. Everything that an edit alters stands in its changes, the retiring of ids too; so undoing is
 * nothing but the changes backwards. What an edit does not touch is shared between the panel before and the panel after.
 */
import { foldId, idsIn } from './ids.ts';
import type { ListKey, PanelFile, PanelKey, RecordOf } from './schema.ts';
import { pathInWords } from './words.ts';
import { inline } from './write.ts';

/** A record as a change holds it. */
export type PlainRecord = Readonly<Record<string, unknown>>;

/** A record is named by its id; in lists whose records have none (plates, platforms, wireStock, results) by its index. */
export type RecordName = string | number;

/**
 * One step of an edit. `whole`: the list's key comes into the file with this record, or leaves it with it (an absent list and an
 * empty one differ). `undefined` in a `set` means that the key is absent.
 */
export type Change = Added | Removed | Updated | KeySet;

interface RecordChange {
  readonly list: ListKey;
  readonly index: number;
  readonly record: PlainRecord;
  readonly whole?: true;
}

export interface Added extends RecordChange {
  readonly kind: 'add';
}

export interface Removed extends RecordChange {
  readonly kind: 'remove';
}

export interface Updated {
  readonly kind: 'update';
  readonly list: ListKey;
  readonly id: RecordName;
  readonly from: PlainRecord;
  readonly to: PlainRecord;
}

export interface KeySet {
  readonly kind: 'set';
  readonly key: string;
  readonly from?: unknown;
  readonly to?: unknown;
}

/** One action of the user. */
export interface Transaction {
  /** Dotted, what and then which way: "strip.move". */
  readonly name: string;
  /** In the order in which they are done. */
  readonly changes: readonly Change[];
}

export interface ApplyOptions {
  /** Freeze the result in depth, so that code that writes to a panel fails at once: for development and tests. */
  readonly freeze?: boolean;
}

/**
 * The panel after an edit; the given one is not touched. Throws, with what was expected and what is there,
 * where the panel is not the one that the edit was made for.
 */
export function applyTransaction(panel: PanelFile, tx: Transaction, options: ApplyOptions = {}): PanelFile {
  const after = tx.changes.reduce((now, change) => applyChange(now, change, tx.name), panel);
  return options.freeze === true ? freezePanel(after) : after;
}

/** The edit that takes this one back. */
export function invertTransaction(tx: Transaction): Transaction {
  return { name: tx.name, changes: [...tx.changes].reverse().map(invertChange) };
}

/**
 * One edit that does what two do one after the other, under the name of the first: of a record or key that both alter only the
 * first state and the last remain, so that a drag is one step however many moves it had.
 */
export function squash(first: Transaction, second: Transaction): Transaction {
  return { name: first.name, changes: joinChanges([...first.changes, ...second.changes]) };
}

/** The same panel, frozen in depth; parts frozen already are not gone through again. */
export function freezePanel(panel: PanelFile): PanelFile {
  const ahead: unknown[] = [panel];
  for (let value = ahead.pop(); value !== undefined; value = ahead.pop()) {
    if (typeof value !== 'object' || value === null || Object.isFrozen(value)) continue;
    Object.freeze(value);
    for (const inner of Object.values(value)) if (inner !== undefined) ahead.push(inner);
  }
  return panel;
}

/** Collects the changes of one edit. Each step sees the panel as the steps before it have left it. */
export interface Edit {
  /** The panel with the steps so far. */
  readonly panel: PanelFile;
  /** A new record, last in its list unless an index is given. Throws where its id is used or retired. */
  add<K extends ListKey>(list: K, record: RecordOf<K> & PlainRecord, index?: number): Edit;
  /** Lays a patch over a record; `undefined` takes a key out. Throws where there is no such record, or its id would change. */
  update<K extends ListKey>(list: K, id: RecordName, patch: Partial<RecordOf<K>>): Edit;
  /** Takes a record out and retires its ids. Throws where there is no such record. */
  remove(list: ListKey, id: RecordName): Edit;
  /** Sets a key of the file, or takes it out with `undefined`; ids that go with it are retired. */
  set<K extends PanelKey>(key: K, value: PanelFile[K]): Edit;
  /** The edit, under a dotted name. */
  done(name: string): Transaction;
}

const NAME = /^[a-z][A-Za-z-]*(\.[a-z][A-Za-z-]*)+$/;

/**
 * Begins an edit of a panel.
 * @example editOf(panel).add('places', { id: 'west', at: [0, 60] }).done('place.name')
 */
export function editOf(start: PanelFile): Edit {
  let panel = start;
  const changes: Change[] = [];

  const take = (change: Change, before: object, after: object) => {
    const came = idsGone(after, before);
    const taken = came.length > 0 ? takenBy(panel) : new Map<string, string>();
    for (const { id, path } of came) {
      const where = taken.get(foldId(id));
      const shared = where !== undefined && sharesId(panel, id, path[0], path[2]);
      if (where !== undefined && !shared) throw new RangeError(`the id ${id} is taken: it stands at ${where}`);
      taken.set(foldId(id), pathInWords(path));
    }
    panel = applyChange(panel, change, 'edit');
    changes.push(change);
    const went = idsGone(before, after);
    if (went.length === 0) return;
    const still = new Set(idsIn(panel).map(({ id }) => foldId(id)));
    const gone = new Set(panel.retired?.map(foldId));
    const retire = went.map(({ id }) => id).filter((id) => !still.has(foldId(id)) && !gone.has(foldId(id)));
    if (retire.length === 0) return;
    const retired: Change = {
      kind: 'set',
      key: 'retired',
      from: panel.retired,
      to: [...(panel.retired ?? []), ...retire],
    };
    panel = applyChange(panel, retired, 'edit');
    changes.push(retired);
  };

  const edit: Edit = {
    get panel() {
      return panel;
    },
    add(list, record, index) {
      const now = panel[list];
      const place: Added = { kind: 'add', list, index: index ?? now?.length ?? 0, record };
      take(now === undefined ? { ...place, whole: true } : place, {}, { [list]: [record] });
      return edit;
    },
    update(list, id, patch) {
      const from = recordsOf(panel, list)[findIndex(panel, list, id, 'edit')] ?? {};
      const to = Object.fromEntries(Object.entries({ ...from, ...patch }).filter(([, value]) => value !== undefined));
      if (to.id !== from.id) throw new RangeError(`the id ${String(from.id)} cannot become ${String(to.id)}: ids stay`);
      take({ kind: 'update', list, id, from, to }, { [list]: [from] }, { [list]: [to] });
      return edit;
    },
    remove(list, id) {
      const index = findIndex(panel, list, id, 'edit');
      const record = recordsOf(panel, list)[index] ?? {};
      take({ kind: 'remove', list, index, record }, { [list]: [record] }, {});
      return edit;
    },
    set(key, value) {
      take({ kind: 'set', key, from: panel[key], to: value }, { [key]: panel[key] }, { [key]: value });
      return edit;
    },
    done(name) {
      if (!NAME.test(name)) throw new RangeError(`an edit has a dotted name such as strip.move, not ${name}`);
      return { name, changes: joinChanges(changes) };
    },
  };
  return edit;
}

/** Ids that the first piece of a file gives and the second does not. */
function idsGone(from: object, to: object) {
  const left = new Set(idsIn(to).map(({ id }) => id));
  return idsIn(from).filter(({ id }) => !left.has(id));
}

/** Where each id stands that may not be issued. */
function takenBy(panel: PanelFile): Map<string, string> {
  const taken = new Map(idsIn(panel).map(({ id, path }) => [foldId(id), pathInWords(path)]));
  panel.retired?.forEach((id, i) => {
    if (!taken.has(foldId(id))) taken.set(foldId(id), `retired[${i}]`);
  });
  return taken;
}

/** A three-way names its points, which may have records of their own: that is one id and not two. */
function sharesId(panel: PanelFile, id: string, list: unknown, key: unknown): boolean {
  if (list === 'points') return panel.threeWays?.some(({ points }) => points?.includes(id)) ?? false;
  return list === 'threeWays' && key === 'points' && (panel.points?.some((point) => point.id === id) ?? false);
}

function applyChange(panel: PanelFile, change: Change, name: string): PanelFile {
  if (change.kind === 'set') {
    const now = Object.hasOwn(panel, change.key) ? panel[change.key] : undefined;
    if (!same(now, change.from)) throw stale(name, change.key, change.from, now);
    return withKey(panel, change.key, change.to);
  }
  const { list } = change;
  const now = recordsOf(panel, list);
  if (change.kind === 'update') {
    const index = findIndex(panel, list, change.id, name);
    const there = now[index];
    if (!same(there, change.from)) throw stale(name, `${list} ${change.id}`, change.from, there);
    return withKey(panel, list, now.with(index, change.to));
  }
  const { index, record } = change;
  const whole = change.whole === true;
  if (change.kind === 'add') {
    if (whole !== (panel[list] === undefined)) throw stale(name, list, whole ? undefined : 'a list', panel[list]);
    if (!Number.isInteger(index) || index < 0 || index > now.length) {
      throw new RangeError(`${name}: no room at ${list}[${index}] in a list of ${now.length}`);
    }
    return withKey(panel, list, now.toSpliced(index, 0, record));
  }
  if (!same(now[index], record)) throw stale(name, `${list}[${index}]`, record, now[index]);
  if (whole && now.length !== 1)
    throw new RangeError(`${name}: ${list} holds ${now.length} records and cannot leave with one`);
  return withKey(panel, list, whole ? undefined : now.toSpliced(index, 1));
}

function invertChange(change: Change): Change {
  if (change.kind === 'add') return { ...change, kind: 'remove' };
  if (change.kind === 'remove') return { ...change, kind: 'add' };
  if (change.kind === 'set') return { ...change, from: change.to, to: change.from };
  return { ...change, from: change.to, to: change.from };
}

function joinChanges(changes: readonly Change[]): Change[] {
  const joined: Change[] = [];
  for (const change of changes) if (!join(joined, change)) joined.push(change);
  return joined.filter((change) => !('from' in change) || !same(change.from, change.to));
}

/** Melts a change into an earlier one of the same record or key, past changes that it does not depend on. False: it must stand by itself. */
function join(joined: Change[], change: Change): boolean {
  if (change.kind === 'remove') {
    const last = joined[joined.length - 1];
    if (last?.kind !== 'add' || last.list !== change.list || last.index !== change.index) return false;
    if (last.whole !== change.whole || !same(last.record, change.record)) return false;
    joined.pop();
    return true;
  }
  if (change.kind === 'add') return false;
  for (let i = joined.length - 1; i >= 0; i--) {
    const earlier = joined[i];
    if (earlier === undefined) return false;
    if (change.kind === 'set') {
      if (earlier.kind === 'set' && earlier.key === change.key) {
        joined[i] = { ...earlier, to: change.to };
        return true;
      }
      if (earlier.kind !== 'set' && earlier.list === change.key) return false;
    } else if (earlier.kind === 'set') {
      if (earlier.key === change.list) return false;
    } else if (earlier.list === change.list) {
      if (earlier.kind === 'update' && earlier.id === change.id) {
        joined[i] = { ...earlier, to: change.to };
        return true;
      }
      if (earlier.kind === 'add' && typeof change.id === 'string' && earlier.record.id === change.id) {
        joined[i] = { ...earlier, record: change.to };
        return true;
      }
      // An index names another record once something has come or gone before it.
      if (typeof change.id === 'number' && earlier.kind !== 'update') return false;
    }
  }
  return false;
}

function recordsOf(panel: PanelFile, list: ListKey): readonly PlainRecord[] {
  return panel[list] ?? [];
}

function findIndex(panel: PanelFile, list: ListKey, id: RecordName, name: string): number {
  const records = recordsOf(panel, list);
  const index = typeof id === 'number' ? id : records.findIndex((record) => record.id === id);
  if (records[index] === undefined) throw new RangeError(`${name}: no ${id} in ${list}, a list of ${records.length}`);
  return index;
}

function withKey(panel: PanelFile, key: string, value: unknown): PanelFile {
  const after: PanelFile = { ...panel, [key]: value };
  if (value === undefined) delete after[key];
  return after;
}

function stale(name: string, where: string, expected: unknown, there: unknown): RangeError {
  const show = (value: unknown) => (value === undefined ? 'nothing' : inline(value, { kind: 'leaf' }));
  return new RangeError(
    `${name}: ${where} is not as the edit found it: expected ${show(expected)}, got ${show(there)}`,
  );
}

/** Equal as a file would hold them: key order and keys set to undefined do not count. */
function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    if (!Array.isArray(a) || !Array.isArray(b) || a.length !== b.length) return false;
    return a.every((item, i) => same(item, b[i]));
  }
  const one = Object.entries(a).filter(([, value]) => value !== undefined);
  const two = new Map(Object.entries(b).filter(([, value]) => value !== undefined));
  return one.length === two.size && one.every(([key, value]) => two.has(key) && same(value, two.get(key)));
}
