/**
 * Which point, crossing and free end after an edit is which before. A thing is known by its tape: a point by the ends of strips that
 * make it, a crossing by its two strips and the order along them, a free end by the end that it is. Only what is equal in that goes by
 * nearness. Rules: SPEC.md, KN.
 */
import type { Spot } from '../units/index.ts';
import { byId } from './by-id.ts';
import { type CrossingFeature, type EndFeature, otherLegs, type PointFeature, type PortSpot } from './features-of.ts';
import { distance } from './line.ts';
import type { StripMap, StripSpot } from './strip-map.ts';
import { NUMBERING_STEP } from './tolerances.ts';

/** One point as lies know it: a three-way is two. */
export interface Switch {
  readonly id: string;
  readonly at: Spot;
  readonly toe: PortSpot;
  readonly normal: PortSpot;
  readonly reverse: PortSpot;
}

/** What a point has become: which legs of the feature after are its normal and its reverse one. */
export interface PointMatch {
  readonly id: string;
  readonly normal: number;
  readonly reverse: number;
}

export function switchesOf(features: readonly PointFeature[]): readonly Switch[] {
  return features.flatMap((feature) => {
    const others = otherLegs(feature);
    return feature.ids.flatMap((id, i): Switch[] => {
      const [normal, reverse] = [feature.legs[feature.normal], feature.legs[others[i] ?? -1]];
      return normal === undefined || reverse === undefined
        ? []
        : [{ id, at: feature.at, toe: feature.toe, normal, reverse }];
    });
  });
}

/**
 * By place of the feature after: the points before that it is, one, or two of a three-way. One that no end of a strip ties to a point
 * after has gone. Most ends and spots in common first, then most strips, then the nearest, then the lower id.
 */
export function matchPoints(
  before: readonly Switch[],
  after: readonly PointFeature[],
  map: StripMap,
): ReadonlyMap<number, readonly PointMatch[]> {
  const byStrip = new Map<string, number[]>();
  after.forEach((feature, i) => {
    for (const strip of new Set([feature.toe, ...feature.legs].map((port) => port.strip)))
      byStrip.set(strip, [...(byStrip.get(strip) ?? []), i]);
  });
  const pairs: { point: Switch; i: number; exact: number; alike: number; off: number }[] = [];
  for (const point of before) {
    const germs = [point.toe, point.normal, point.reverse].map((germ) => ({
      there: map.carry(germ),
      end: map.isEnd(germ),
    }));
    const near = new Set(germs.flatMap(({ there }) => byStrip.get(there?.strip ?? '') ?? []));
    for (const i of near) {
      const feature = after[i];
      if (feature === undefined) continue;
      const ports = [feature.toe, ...feature.legs];
      const likeness = germs.map(({ there }) => Math.max(...ports.map((port) => likenessOf(there, port))));
      const exact = likeness.filter((each) => each === SAME).length;
      const alike = likeness.filter((each) => each > 0).length;
      const tied = germs.some(({ end }, k) => end && likeness[k] === SAME);
      // A toe alone does not make a point: its legs are what its lies lead to.
      if (!tied || (exact === 1 && alike === 1 && likeness[0] === SAME)) continue;
      pairs.push({ point, i, exact, alike, off: distance(point.at, feature.at) });
    }
  }
  pairs.sort(
    (a, b) => b.exact - a.exact || b.alike - a.alike || a.off - b.off || byId(a.point.id, b.point.id) || a.i - b.i,
  );
  const matched = new Map<number, PointMatch[]>();
  const done = new Set<string>();
  for (const { point, i } of pairs) {
    const feature = after[i];
    const known = matched.get(i) ?? [];
    if (feature === undefined || done.has(point.id) || known.length >= feature.ids.length) continue;
    const legs = legsOf(point, feature, map);
    // Two points of a three-way that were one pair of legs cannot both stay.
    if (known.some((other) => samePair(other, legs))) continue;
    done.add(point.id);
    matched.set(i, [...known, { id: point.id, ...legs }]);
  }
  return matched;
}

interface LegPair {
  readonly normal: number;
  readonly reverse: number;
}

function samePair(a: LegPair, b: LegPair): boolean {
  return (a.normal === b.normal && a.reverse === b.reverse) || (a.normal === b.reverse && a.reverse === b.normal);
}

/** The legs after that are most like the two before; where that says nothing, those that the reading makes normal and reverse. */
function legsOf(point: Switch, feature: PointFeature, map: StripMap): LegPair {
  const [normal, reverse] = [map.carry(point.normal), map.carry(point.reverse)];
  let best: LegPair = { normal: feature.normal, reverse: otherLegs(feature)[0] ?? 0 };
  let most = -1;
  const order = [feature.normal, ...otherLegs(feature)];
  for (const n of order) {
    for (const r of order) {
      const [one, two] = [feature.legs[n], feature.legs[r]];
      if (n === r || one === undefined || two === undefined) continue;
      const score = likenessOf(normal, one) + likenessOf(reverse, two);
      if (score > most) [best, most] = [{ normal: n, reverse: r }, score];
    }
  }
  return best;
}

/** The very spot and way; the strip and way; the strip. */
const SAME = 5;
const SAME_WAY = 2;
const SAME_STRIP = 1;

function likenessOf(there: StripSpot | null, port: StripSpot): number {
  if (there === null || there.strip !== port.strip) return 0;
  const way = there.way === 0 || port.way === 0 || there.way === port.way;
  if (way && Math.abs(there.along - port.along) <= NUMBERING_STEP) return SAME;
  return way ? SAME_WAY : SAME_STRIP;
}

interface Crossed {
  readonly at: Spot;
  readonly lines: CrossingFeature['lines'];
}

/**
 * By place in the list before, the place after. First those that nothing has moved; then of those that join the same two strips, in
 * their order along them where they are as many, else the nearest along both; then those whose strips butt onto the same, by nearness.
 */
export function matchCrossings(
  before: readonly Crossed[],
  after: readonly Crossed[],
  map: StripMap,
  lineOf: (strip: string) => string,
): ReadonlyMap<number, number> {
  const matched = new Map<number, number>();
  const taken = new Set<number>();
  const carried = before.map(({ lines }) => lines.map((pair) => pair.map((port) => map.carry(port))));
  const stripsBefore = carried.map((lines) => lines.map((pair) => [...new Set(pair.map((port) => port?.strip ?? ''))]));
  const stripsAfter = after.map(({ lines }) => lines.map((pair) => [...new Set(pair.map(({ strip }) => strip))]));

  const index = (strips: readonly (readonly (readonly string[])[])[], name: (strip: string) => string) => {
    const groups = new Map<string, number[]>();
    strips.forEach(([one = [], two = []], i) => {
      for (const a of one) {
        for (const b of two) {
          if (a === '' || b === '') continue;
          const key = [name(a), name(b)].sort().join(' ');
          const known = groups.get(key) ?? [];
          if (!known.includes(i)) groups.set(key, [...known, i]);
        }
      }
    });
    return groups;
  };
  const pair = (i: number, j: number) => {
    matched.set(i, j);
    taken.add(j);
  };
  const free = (groups: ReadonlyMap<string, number[]>, key: string, done: { has(i: number): boolean }) =>
    (groups.get(key) ?? []).filter((i) => !done.has(i));

  const groupsBefore = index(stripsBefore, (strip) => strip);
  const groupsAfter = index(stripsAfter, (strip) => strip);
  for (const key of groupsBefore.keys()) {
    for (const i of free(groupsBefore, key, matched)) {
      const same = free(groupsAfter, key, taken).find((j) => offAlong(i, j) <= NUMBERING_STEP);
      if (same !== undefined) pair(i, same);
    }
  }
  for (const key of groupsBefore.keys()) {
    const [was, is] = [free(groupsBefore, key, matched), free(groupsAfter, key, taken)];
    const [first = ''] = key.split(' ');
    if (was.length === is.length) {
      was.sort((a, b) => alongBefore(a, first) - alongBefore(b, first) || a - b);
      is.sort((a, b) => alongAfter(a, first) - alongAfter(b, first) || a - b);
      was.forEach((i, k) => pair(i, is[k] ?? -1));
    } else nearestFirst(was, is, offAlong);
  }
  const linesBefore = index(stripsBefore, lineOf);
  const linesAfter = index(stripsAfter, lineOf);
  for (const key of linesBefore.keys()) {
    nearestFirst(free(linesBefore, key, matched), free(linesAfter, key, taken), (i, j) =>
      distance(before[i]?.at ?? NOWHERE, after[j]?.at ?? NOWHERE),
    );
  }
  return matched;

  function alongBefore(i: number, strip: string): number {
    return carried[i]?.flat().find((port) => port?.strip === strip)?.along ?? 0;
  }

  function alongAfter(j: number, strip: string): number {
    return after[j]?.lines.flat().find((port) => port.strip === strip)?.along ?? 0;
  }

  /** How far apart two crossings are along both their strips. */
  function offAlong(i: number, j: number): number {
    const [ports, others] = [carried[i] ?? [], after[j]?.lines ?? []];
    const off = (a: number, b: number) => {
      const offs = (ports[a] ?? []).flatMap((port) =>
        (others[b] ?? []).flatMap((other) =>
          port !== null && port.strip === other.strip ? [Math.abs(port.along - other.along)] : [],
        ),
      );
      return Math.min(...offs, Infinity);
    };
    return Math.min(off(0, 0) + off(1, 1), off(0, 1) + off(1, 0));
  }

  function nearestFirst(was: readonly number[], is: readonly number[], far: (i: number, j: number) => number): void {
    const offs = was.flatMap((i) => is.map((j) => ({ i, j, off: far(i, j) })));
    offs.sort((a, b) => a.off - b.off || a.i - b.i || a.j - b.j);
    for (const { i, j, off } of offs) if (off < Infinity && !matched.has(i) && !taken.has(j)) pair(i, j);
  }
}

const NOWHERE: Spot = [0, 0];

/** By place in the list before, the place after: the end of a strip that it is. */
export function matchEnds(
  before: readonly EndFeature[],
  after: readonly EndFeature[],
  map: StripMap,
): ReadonlyMap<number, number> {
  const key = ({ strip, along }: StripSpot) => `${strip} ${along <= NUMBERING_STEP ? 0 : 1}`;
  const places = new Map(after.map(({ port }, j) => [key(port), j]));
  const matched = new Map<number, number>();
  before.forEach(({ port }, i) => {
    const there = map.carry(port);
    if (there === null) return;
    const length = map.after.get(there.strip)?.length ?? 0;
    const atEnd = there.along <= NUMBERING_STEP || there.along >= length - NUMBERING_STEP;
    const found = places.get(key(there));
    if (atEnd && found !== undefined) matched.set(i, found);
  });
  return matched;
}
