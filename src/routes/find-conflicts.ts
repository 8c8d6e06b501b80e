/**
 * Which routes lock each other out.
 * Points, crossings and spans that routes name are numbered in the order of ids; each route holds them as bits, 32 to a word, all routes
 * in one row; the lowest bit that two have in common is the reason. Only routes that have anything in common are compared. Cost:
 * conflicts, by words; and routes, by what each holds, by routes / 32.
 */
import type { Lie } from '../panel/index.ts';
import { byId } from '../plan/index.ts';
import { bitsOfWord, eachBit } from './bit-sets.ts';
import { MOST_CONFLICTS } from './limits.ts';
import { foulingSets } from './standing-together.ts';
import type { Conflict, Route } from './types.ts';

/**
 * Every pair of routes that cannot stand at once, by i, then j. The reason is the first that holds of: a point that they need
 * differently, a diamond or slip that both pass, a span that both pass; of several the one whose id comes first. A span goes by the ids
 * at its two ends. At most so many pairs, the first; `countConflicts` counts all.
 */
export function findConflicts(routes: readonly Route[], most: number = MOST_CONFLICTS): readonly Conflict[] {
  const keysAt = (lie: Lie) => (route: Route) => Object.keys(route.points).filter((id) => route.points[id] === lie);
  const points = namesOf(routes.map((route) => Object.keys(route.points)));
  const crossings = namesOf(routes.map((route) => route.crossings));
  const spans = namesOf(routes.map((route) => route.spans));
  const normal = masksOf(routes, points, keysAt('normal'));
  const reverse = masksOf(routes, points, keysAt('reverse'));
  const crossed = masksOf(routes, crossings, (route) => route.crossings);
  const taken = masksOf(routes, spans, (route) => route.spans);
  const pointReasons = points.map((id) => `point:${id}`);
  const crossingReasons = crossings.map((id) => `crossing:${id}`);
  const spanReasons = spans.map((id) => `span:${id.replace(/#\d+$/, '')}`);
  const reasonOf = (i: number, j: number): string | undefined =>
    pointReasons[lowestOpposed(normal, reverse, i, j)] ??
    crossingReasons[lowestShared(crossed, i, j)] ??
    spanReasons[lowestShared(taken, i, j)];

  const conflicts: Conflict[] = [];
  const fouling = foulingSets(routes);
  for (let i = 0; i < routes.length && conflicts.length < most; i++) {
    eachBit(fouling(i), i + 1, (j) => {
      const reason = conflicts.length < most ? reasonOf(i, j) : undefined;
      if (reason !== undefined) conflicts.push([i, j, reason]);
    });
  }
  return conflicts;
}

/** How many pairs of routes cannot stand at once, listed or not. */
export function countConflicts(routes: readonly Route[]): number {
  const fouling = foulingSets(routes);
  let twice = 0;
  routes.forEach((_, i) => {
    // Every route fouls itself: it has a span in common.
    twice -= 1;
    for (const word of fouling(i)) twice += bitsOfWord(word);
  });
  return twice / 2;
}

function namesOf(lists: readonly (readonly string[])[]): readonly string[] {
  return [...new Set(lists.flat())].sort(byId);
}

/** By route, as many words as the names need. */
interface Masks {
  readonly words: number;
  readonly bits: Int32Array;
}

function masksOf(
  routes: readonly Route[],
  names: readonly string[],
  heldBy: (route: Route) => readonly string[],
): Masks {
  const index = new Map(names.map((id, i) => [id, i]));
  const words = (names.length + 31) >> 5;
  const bits = new Int32Array(words * routes.length);
  routes.forEach((route, r) => {
    for (const id of heldBy(route)) {
      const bit = index.get(id) ?? 0;
      const w = words * r + (bit >> 5);
      bits[w] = (bits[w] ?? 0) | (1 << (bit & 31));
    }
  });
  return { words, bits };
}

/** -1 where there is none. */
function lowestShared({ words, bits }: Masks, i: number, j: number): number {
  for (let w = 0; w < words; w++) {
    const both = (bits[words * i + w] ?? 0) & (bits[words * j + w] ?? 0);
    if (both !== 0) return 32 * w + lowestBit(both);
  }
  return -1;
}

function lowestOpposed({ words, bits: normal }: Masks, { bits: reverse }: Masks, i: number, j: number): number {
  for (let w = 0; w < words; w++) {
    const [a, b] = [words * i + w, words * j + w];
    const both = ((normal[a] ?? 0) & (reverse[b] ?? 0)) | ((reverse[a] ?? 0) & (normal[b] ?? 0));
    if (both !== 0) return 32 * w + lowestBit(both);
  }
  return -1;
}

function lowestBit(word: number): number {
  return 31 - Math.clz32(word & -word);
}
