/**
 * What differs between two states of plain data, and the later state from the earlier one and that: what passes between window and worker
 * is as large as what an edit touched, not as large as the panel.
 *
 * Plain records, lists, texts, numbers, booleans, null; a key whose value is undefined counts as a value. What is alike stays the very same
 * object, so whoever draws sees at once that it is as it was.
 */

/** A change: anew as a whole, of a record by key, or of a list by place. */
export type Delta =
  | { readonly whole: unknown }
  | { readonly keys: readonly (readonly [string, Delta])[]; readonly gone: readonly string[] }
  | {
      /** Items before and after the change that stay as they are. */
      readonly head: number;
      readonly tail: number;
      /** What stands between them now. Where as many stood there before, what differs of each; null where nothing does. */
      readonly items: readonly (Delta | null)[];
    };

type Plain = Readonly<Record<string, unknown>>;

function isPlain(value: unknown): value is Plain {
  return typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype;
}

/** What makes `after` of `before`; null where they say the same. */
export function deltaOf(before: unknown, after: unknown): Delta | null {
  if (Object.is(before, after)) return null;
  if (Array.isArray(before) && Array.isArray(after)) return deltaOfLists(before, after);
  if (isPlain(before) && isPlain(after)) return deltaOfRecords(before, after);
  return { whole: after };
}

function deltaOfRecords(before: Plain, after: Plain): Delta | null {
  const keys: (readonly [string, Delta])[] = [];
  for (const [key, value] of Object.entries(after)) {
    const delta = Object.hasOwn(before, key) ? deltaOf(before[key], value) : { whole: value };
    if (delta !== null) keys.push([key, delta]);
  }
  const [old, now] = [Object.keys(before), Object.keys(after)];
  const gone = old.filter((key) => !Object.hasOwn(after, key));
  const stay = old.length - gone.length;
  // Keys that stay come first and in their order, new ones after them; anything else is made anew.
  const order = [...old.filter((key) => Object.hasOwn(after, key)), ...now.slice(stay)];
  if (order.some((key, i) => key !== now[i])) return { whole: after };
  return keys.length === 0 && gone.length === 0 ? null : { keys, gone };
}

function deltaOfLists(before: readonly unknown[], after: readonly unknown[]): Delta | null {
  const most = Math.min(before.length, after.length);
  let head = 0;
  while (head < most && deltaOf(before[head], after[head]) === null) head++;
  if (head === before.length && head === after.length) return null;
  let tail = 0;
  while (tail < most - head && deltaOf(before.at(-1 - tail), after.at(-1 - tail)) === null) tail++;
  const between = after.slice(head, after.length - tail);
  const paired = before.length === after.length;
  return {
    head,
    tail,
    items: between.map((item, i) => (paired ? deltaOf(before[head + i], item) : { whole: item })),
  };
}

/** The later state: `before` with a change done to it. `before` must be what the change was made from, else the answer means nothing. */
export function withDelta<T>(before: T, delta: Delta | null): T {
  return changed(before, delta) as T;
}

function changed(before: unknown, delta: Delta | null): unknown {
  if (delta === null) return before;
  if ('whole' in delta) return delta.whole;
  if ('keys' in delta) {
    if (!isPlain(before)) throw new TypeError(`a change of a record was made to ${typeof before}`);
    const made: Record<string, unknown> = { ...before };
    for (const key of delta.gone) delete made[key];
    for (const [key, each] of delta.keys) made[key] = changed(before[key], each);
    return made;
  }
  if (!Array.isArray(before)) throw new TypeError(`a change of a list was made to ${typeof before}`);
  const { head, tail, items } = delta;
  return [
    ...before.slice(0, head),
    ...items.map((item, i) => changed(before[head + i], item)),
    ...before.slice(before.length - tail),
  ];
}
