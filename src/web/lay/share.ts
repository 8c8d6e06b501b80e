/**
 * What came anew, with all that is as it was taken from before.
 *
 * Idea: what a worker answers is a copy, in which nothing is identical to the last answer. With equal parts taken from that one, whoever
 * draws finds by identity what to draw again.
 */

/** `next`, with each part of it that equals the same part of `before` being that part itself. Both are plain data without cycles. */
export function shared<T>(before: unknown, next: T): T;
export function shared(before: unknown, next: unknown): unknown {
  if (Object.is(before, next) || !isData(before) || !isData(next)) return next;
  if (Array.isArray(before) !== Array.isArray(next)) return next;
  const was = before as Readonly<Record<string, unknown>>;
  const now = next as Record<string, unknown>;
  const keys = Object.keys(now);
  let same = keys.length === Object.keys(was).length;
  for (const key of keys) {
    const part = shared(was[key], now[key]);
    now[key] = part;
    if (!Object.is(part, was[key]) || !(key in was)) same = false;
  }
  return same ? before : next;
}

const isData = (value: unknown): value is object => typeof value === 'object' && value !== null;
