/** The changes that make one list of records into another which keeps its order: records gone, altered, and added at the end. */
import type { Change, ListKey, PlainRecord } from '../panel/index.ts';

/** Empty where the two hold the same. Ids must be unique in each; what is added must not stand in the list already. */
export function listChanges(
  list: ListKey,
  from: readonly PlainRecord[] | undefined,
  to: readonly PlainRecord[],
): readonly Change[] {
  const kept = new Map(to.map((record) => [record.id, record]));
  const known = new Map((from ?? []).map((record) => [record.id, record]));
  const changes: Change[] = [];
  for (const [index, record] of [...(from ?? []).entries()].reverse()) {
    if (!kept.has(record.id)) changes.push({ kind: 'remove', list, index, record });
  }
  let count = 0;
  for (const record of to) {
    const before = known.get(record.id);
    if (before === undefined) continue;
    count += 1;
    if (before !== record && JSON.stringify(before) !== JSON.stringify(record))
      changes.push({ kind: 'update', list, id: String(record.id), from: before, to: record });
  }
  for (const record of to) {
    if (known.has(record.id)) continue;
    const whole = from === undefined && count === 0;
    changes.push({ kind: 'add', list, index: count, record, ...(whole ? { whole: true } : {}) });
    count += 1;
  }
  return changes;
}

/** A record with a patch laid over it; `undefined` takes a key out. */
export function patched<R extends object>(record: R, patch: Readonly<Record<string, unknown>>): R {
  const laid = { ...record, ...patch };
  for (const [key, value] of Object.entries(patch)) if (value === undefined) Reflect.deleteProperty(laid, key);
  return laid;
}
