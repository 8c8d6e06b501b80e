/**
 * Which routes lock each other out.
 * Points, crossings and spans that routes name are numbered in the order of ids; each route holds them as bits, 32 to a word; the
 * lowest bit that two have in common is the reason. Only routes that have anything in common are compared: lists of the routes at each
 * lie, crossing and span say which. Cost: conflicts, by what each pair has in common and by words.
 */
import type { Lie } from '../panel/index.ts';
import { byId } from '../plan/index.ts';
import type { Conflict, Route } from './types.ts';

/**
 * Every pair of routes that cannot stand at once, by i, then j. The reason is the first that holds of: a point that they need
 * differently, a diamond or slip that both pass, a span that both pass; of several the one whose id comes first. A span goes by the ids
 * at its two ends.
 */
export function findConflicts(routes: readonly Route[]): readonly Conflict[] {
  const points = bitsOf(routes.map((route) => Object.keys(route.points)));
  const crossings = bitsOf(routes.map((route) => route.crossings));
  const spans = bitsOf(routes.map((route) => route.spans));
  const lies = routes.map((route) => ({
    normal: maskOf(points, keysAt(route, 'normal')),
    reverse: maskOf(points, keysAt(route, 'reverse')),
    crossings: maskOf(crossings, route.crossings),
    spans: maskOf(spans, route.spans),
  }));
  const pointReasons = points.ids.map((id) => `point:${id}`);
  const crossingReasons = crossings.ids.map((id) => `crossing:${id}`);
  const spanReasons = spans.ids.map((id) => `span:${id.replace(/#\d+$/, '')}`);

  const sharers = new Map<string, number[]>();
  routes.forEach((route, i) => {
    for (const key of keysOf(route, false)) {
      const known = sharers.get(key);
      if (known === undefined) sharers.set(key, [i]);
      else known.push(i);
    }
  });

  const conflicts: Conflict[] = [];
  const seen = new Int32Array(routes.length).fill(-1);
  routes.forEach((route, i) => {
    const others: number[] = [];
    for (const key of keysOf(route, true)) {
      const list = sharers.get(key) ?? [];
      // Rising: those after this route stand last.
      for (let k = list.length - 1; k >= 0; k--) {
        const j = list[k] ?? -1;
        if (j <= i) break;
        if (seen[j] === i) continue;
        seen[j] = i;
        others.push(j);
      }
    }
    const a = lies[i];
    for (const j of others.sort((x, y) => x - y)) {
      const b = lies[j];
      if (a === undefined || b === undefined) continue;
      const reason =
        pointReasons[lowestOpposed(a.normal, b.reverse, a.reverse, b.normal)] ??
        crossingReasons[lowestShared(a.crossings, b.crossings)] ??
        spanReasons[lowestShared(a.spans, b.spans)];
      if (reason !== undefined) conflicts.push([i, j, reason]);
    }
  });
  return conflicts;
}

/** What a route holds, or what would foul it: the same but for the lies of points, which are the other ones. */
export function keysOf(route: Route, fouls: boolean): readonly string[] {
  const held = (lie: Lie): Lie => (fouls === (lie === 'normal') ? 'reverse' : 'normal');
  return [
    ...Object.entries(route.points).map(([id, lie]) => `point ${id} ${held(lie)}`),
    ...new Set(route.crossings.map((id) => `crossing ${id}`)),
    ...route.spans.map((id) => `span ${id}`),
  ];
}

interface Bits {
  readonly ids: readonly string[];
  readonly index: ReadonlyMap<string, number>;
}

function bitsOf(lists: readonly (readonly string[])[]): Bits {
  const ids = [...new Set(lists.flat())].sort(byId);
  return { ids, index: new Map(ids.map((id, i) => [id, i])) };
}

function maskOf({ ids, index }: Bits, held: readonly string[]): Int32Array {
  const mask = new Int32Array((ids.length + 31) >> 5);
  for (const id of held) {
    const bit = index.get(id) ?? 0;
    mask[bit >> 5] = (mask[bit >> 5] ?? 0) | (1 << (bit & 31));
  }
  return mask;
}

function keysAt(route: Route, lie: 'normal' | 'reverse'): readonly string[] {
  return Object.keys(route.points).filter((id) => route.points[id] === lie);
}

/** -1 where there is none. */
function lowestShared(a: Int32Array, b: Int32Array): number {
  for (let w = 0; w < a.length; w++) {
    const both = (a[w] ?? 0) & (b[w] ?? 0);
    if (both !== 0) return 32 * w + lowestBit(both);
  }
  return -1;
}

function lowestOpposed(n1: Int32Array, r2: Int32Array, r1: Int32Array, n2: Int32Array): number {
  for (let w = 0; w < n1.length; w++) {
    const both = ((n1[w] ?? 0) & (r2[w] ?? 0)) | ((r1[w] ?? 0) & (n2[w] ?? 0));
    if (both !== 0) return 32 * w + lowestBit(both);
  }
  return -1;
}

function lowestBit(word: number): number {
  return 31 - Math.clz32(word & -word);
}
