/**
 * Which point, crossing and free end after an edit is which before. A thing is known by its tape: a point by the ends of strips that
 * make it, a crossing by its two strips and the order along them, a free end by the end that it is. Only what is equal in that goes by
 * nearness. Rules: SPEC.md, KN.
 */
import type { Spot } from '../units/index.ts';
import { byId } from './by-id.ts';
import { type CrossingFeature, type EndFeature, otherLegs, type PointFeature, type PortSpot } from './features-of.ts';
import type { LineSpot } from './lay-lines.ts';
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
 * By place in the list before, the place after. First those that nothing has moved; then of those that join the same two lines, in
 * their order along them where they are as many, else the nearest along both. `lineAt` says where on its line a spot of a strip after
 * lies, so that a seam between two strips counts for nothing.
 */
export function matchCrossings(
  before: readonly Crossed[],
  after: readonly Crossed[],
  map: StripMap,
  lineAt: (spot: StripSpot) => LineSpot,
): ReadonlyMap<number, number> {
  const matched = new Map<number, number>();
  const taken = new Set<number>();
  const spotsBefore = before.map(({ lines }) => {
    const [one, two] = lines.map((pair) => pair.map((port) => map.carry(port)).find((port) => port !== null));
    return one === undefined || two === undefined ? null : inOrder(lineAt(one), lineAt(two));
  });
  const spotsAfter = after.map(({ lines }) => inOrder(lineAt(lines[0][0]), lineAt(lines[1][0])));
  const keyOf = ([one, two]: LinePair) => `${one.line} ${two.line}`;
  const groupsBefore = new Map<string, { i: number; spots: LinePair }[]>();
  const groupsAfter = new Map<string, { i: number; spots: LinePair }[]>();
  const group = (groups: typeof groupsBefore, spots: LinePair, i: number) =>
    groups.set(keyOf(spots), [...(groups.get(keyOf(spots)) ?? []), { i, spots }]);
  spotsBefore.forEach((spots, i) => {
    if (spots !== null) group(groupsBefore, spots, i);
  });
  spotsAfter.forEach((spots, j) => {
    group(groupsAfter, spots, j);
  });

  for (const [key, all] of groupsBefore) {
    const others = groupsAfter.get(key) ?? [];
    const offs = all.flatMap((a) => others.map((b) => ({ i: a.i, j: b.i, off: offAlong(a.spots, b.spots) })));
    offs.sort((a, b) => a.off - b.off || a.i - b.i || a.j - b.j);
    for (const { i, j, off } of offs) if (off <= NUMBERING_STEP) pair(i, j);
    const was = all.filter(({ i }) => !matched.has(i)).sort(alongLine);
    const is = others.filter(({ i }) => !taken.has(i)).sort(alongLine);
    if (was.length === is.length) was.forEach(({ i }, k) => pair(i, is[k]?.i ?? -1));
    else for (const { i, j } of offs) pair(i, j);
  }
  return matched;

  function pair(i: number, j: number): void {
    if (matched.has(i) || taken.has(j)) return;
    matched.set(i, j);
    taken.add(j);
  }
}

type LinePair = readonly [LineSpot, LineSpot];

function inOrder(a: LineSpot, b: LineSpot): LinePair {
  return (byId(a.line, b.line) || a.along - b.along) <= 0 ? [a, b] : [b, a];
}

function offAlong(a: LinePair, b: LinePair): number {
  return Math.abs(a[0].along - b[0].along) + Math.abs(a[1].along - b[1].along);
}

function alongLine(a: { readonly i: number; readonly spots: LinePair }, b: typeof a): number {
  return a.spots[0].along - b.spots[0].along || a.i - b.i;
}

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
