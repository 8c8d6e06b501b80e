/**
 * What edits leave as it was stays the very same object, so that later steps see at once that it is as it was.
 * Two tools: `sharing` gives what was made anew the parts of what was made before that say the same; `keptFor` does work once for the same
 * inputs. Neither alters an answer: records are never altered in place, and which of two alike ones is handed on cannot be told.
 */
import { isAlike } from './alike.ts';

/**
 * `now`, with every part that says the same as its like in `before` being that very object. Plain records, lists, texts and numbers; of
 * records the keys in the same order, so that what is written of either is the same to the byte. Items of a list that have an id are
 * set beside those of the same id, others beside those in the same place. Anything else, as a map, is taken as it is.
 */
export function sharing<T>(before: T | null | undefined, now: T): T {
  return shared(before, now) as T;
}

function shared(before: unknown, now: unknown): unknown {
  if (Object.is(before, now) || typeof before !== 'object' || typeof now !== 'object') return now;
  if (before === null || now === null) return now;
  if (Array.isArray(now)) return Array.isArray(before) ? sharedList(before, now) : now;
  if (Object.getPrototypeOf(now) !== Object.prototype || Object.getPrototypeOf(before) !== Object.prototype) return now;
  return sharedRecord(before as Plain, now as Plain);
}

type Plain = Readonly<Record<string, unknown>>;

function sharedRecord(before: Plain, now: Plain): Plain {
  const [old, keys] = [Object.keys(before), Object.keys(now)];
  let alike = old.length === keys.length;
  let made: Record<string, unknown> | null = null;
  for (let i = 0; i < keys.length; i++) {
    const key = keys[i] as string;
    const [then, is] = [before[key], now[key]];
    alike &&= old[i] === key;
    if (Object.is(then, is)) continue;
    const each = shared(then, is);
    alike &&= each === then;
    if (each === is) continue;
    made ??= { ...now };
    made[key] = each;
  }
  return alike ? before : (made ?? now);
}

function sharedList(before: readonly unknown[], now: readonly unknown[]): readonly unknown[] {
  let alike = before.length === now.length;
  let made: unknown[] | null = null;
  let byId: Map<unknown, unknown> | null = null;
  for (let i = 0; i < now.length; i++) {
    const is = now[i];
    let then = before[i];
    if (Object.is(then, is)) continue;
    const id = idOf(is);
    if (id !== undefined && idOf(then) !== id) {
      byId ??= new Map(before.map((item) => [idOf(item), item]));
      then = byId.get(id);
    }
    const each = shared(then, is);
    alike &&= each === before[i];
    if (each === is) continue;
    made ??= [...now];
    made[i] = each;
  }
  return alike ? before : (made ?? now);
}

function idOf(item: unknown): unknown {
  return typeof item === 'object' && item !== null && 'id' in item ? item.id : undefined;
}

/**
 * The work, done once for the same record and rest: while the rest is alike, what was found for that very record is the answer, the very
 * same object. Of each record the last answer is kept, and that only as long as the record itself is.
 */
export function keptFor<Key extends object, Rest extends readonly unknown[], Answer>(
  work: (key: Key, ...rest: Rest) => Answer,
): (key: Key, ...rest: Rest) => Answer {
  const known = new WeakMap<Key, { readonly rest: Rest; readonly answer: Answer }>();
  return (key, ...rest) => {
    const kept = known.get(key);
    if (kept !== undefined && isAlike(kept.rest, rest)) return kept.answer;
    const answer = work(key, ...rest);
    known.set(key, { rest, answer });
    return answer;
  };
}
