/** Lies of points as conditions: all of an object hold, any object of a list. */
import type { Lie, Lies } from '../panel/index.ts';
import { byId } from '../plan/index.ts';

/** Both at once; null where they ask a point otherwise. */
export function both(a: Lies, b: Lies): Lies | null {
  const all: Record<string, Lie> = { ...a };
  for (const [point, lie] of Object.entries(b)) {
    if (all[point] !== undefined && all[point] !== lie) return null;
    all[point] = lie;
  }
  return all;
}

/** Does the second hold whenever the first does? */
export function implies(a: Lies, b: Lies): boolean {
  return Object.entries(b).every(([point, lie]) => a[point] === lie);
}

/** In the order of ids, so that the same lies read the same. */
export function liesText(lies: Lies): string {
  return Object.keys(lies)
    .sort(byId)
    .map((point) => `${point}=${lies[point] ?? ''}`)
    .join(' ');
}

function ordered(lies: Lies): Lies {
  return Object.fromEntries(
    Object.keys(lies)
      .sort(byId)
      .map((point) => [point, lies[point] ?? 'normal']),
  );
}

/** `lies` without one point. */
export function without(lies: Lies, point: string): Lies {
  return Object.fromEntries(Object.entries(lies).filter(([id]) => id !== point));
}

/**
 * The same list with nothing to spare: two that differ in one point's lie alone become one without it, and one that another implies is
 * left out. Shortest first, then by text.
 */
export function fewest(list: readonly Lies[]): readonly Lies[] {
  const known = new Map(list.map((lies) => [liesText(lies), ordered(lies)]));
  for (let grown = true; grown; ) {
    grown = false;
    const all = [...known.values()];
    for (let i = 0; i < all.length; i++)
      for (let j = i + 1; j < all.length; j++) {
        const joined = consensus(all[i] ?? {}, all[j] ?? {});
        if (joined === null || [...known.values()].some((other) => implies(joined, other))) continue;
        known.set(liesText(joined), joined);
        grown = true;
      }
    for (const [text, lies] of known)
      if ([...known].some(([other, less]) => other !== text && implies(lies, less))) known.delete(text);
  }
  return [...known]
    .map(([text, lies]) => ({ text, lies, size: Object.keys(lies).length }))
    .sort((a, b) => a.size - b.size || byId(a.text, b.text))
    .map(({ lies }) => lies);
}

/** What holds for either lie of the one point on which they differ; null where they differ on none or on more. */
function consensus(a: Lies, b: Lies): Lies | null {
  const against = Object.keys(a).filter((point) => b[point] !== undefined && b[point] !== a[point]);
  const [only] = against;
  return only === undefined || against.length > 1 ? null : both(without(a, only), without(b, only));
}
