/**
 * What the end of each strip comes near: other ends (gathered in sights), interiors, or nearly one of them.
 * Cost: a few looks into the grid an end, and what lies there.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import { corner, distance, type Line, type Way } from './line.ts';
import { footOn, type SegmentGrid } from './segment-grid.ts';
import { EQUALLY_NEAR, JOINT_TAIL, MISS_MARGIN, SAME_SPOT } from './tolerances.ts';

/** An end of a strip. */
export interface LineEnd {
  readonly line: Line;
  readonly along: Millimetre;
  readonly spot: Spot;
  /** Which way along the line leads away from the end. */
  readonly way: Way;
}

/** A spot on the interior of a line that an end lies within reach of. */
export interface Meet {
  readonly line: Line;
  readonly along: Millimetre;
  readonly distance: Millimetre;
}

/** What an end nearly joins: the end or interior nearest it beyond its reach. */
export interface Miss {
  readonly line: Line;
  /** The other end, or null for an interior. */
  readonly end: LineEnd | null;
  readonly gap: Millimetre;
  readonly along: Millimetre;
}

/** Ends that lie together, or one alone, and what they come near. */
export interface Sight {
  /** In the order of `byEnd`. */
  readonly ends: readonly LineEnd[];
  /** In step with the ends: the interior that each meets, 'two' where it cannot be told which of two. */
  readonly meets: readonly (Meet | { readonly two: readonly [Meet, Meet] } | null)[];
  /** Of an end alone that meets nothing. */
  readonly miss: Miss | null;
}

export interface EndsFound {
  readonly ends: ReadonlyMap<Line, readonly [first: LineEnd, last: LineEnd]>;
  /** By their first ends; every end is in one of them. */
  readonly sights: readonly Sight[];
}

/** An earlier reading of the ends, and which of them see just what they saw then. */
export interface EndsKept {
  readonly found: EndsFound;
  readonly stands: (end: LineEnd) => boolean;
}

/** By line, of each its first end first. */
export function byEnd(a: LineEnd, b: LineEnd): number {
  return a.line.order - b.line.order || b.way - a.way;
}

/** How far around an end everything lies that it can join or miss. */
export function widestReach(lines: readonly Line[]): Millimetre {
  return lines.reduce((most, line) => Math.max(most, line.half), 0) + MISS_MARGIN + SAME_SPOT;
}

/** With `kept`: sights of an earlier reading all of whose ends see what they saw are taken over, the very same objects. */
export function findEnds(lines: readonly Line[], grid: SegmentGrid, kept: EndsKept | null = null): EndsFound {
  const ends = new Map<Line, readonly [LineEnd, LineEnd]>();
  for (const line of lines) ends.set(line, kept?.found.ends.get(line) ?? endsOf(line));
  const sights = kept === null ? [] : kept.found.sights.filter((sight) => sight.ends.every(kept.stands));
  const done = new Set(sights.flatMap((sight) => sight.ends));
  const reach = widestReach(lines);

  // Looked up anew each time: kept for all ends, lists of a heap of tape would fill the memory.
  const near = (end: LineEnd) => grid.near(end.spot, reach);
  const loose = [...ends.values()].flat().filter((end) => !done.has(end));
  const together = new Map<LineEnd, LineEnd[]>(loose.map((end) => [end, []]));
  for (const end of loose) {
    for (const other of endsNear(end, near(end), grid, ends)) {
      if (byEnd(end, other) >= 0 || !liesWith(end, other)) continue;
      together.get(end)?.push(other);
      together.get(other)?.push(end);
    }
  }
  for (const end of loose) {
    if (done.has(end)) continue;
    const group = gather(end, together, done).sort(byEnd);
    const meets = group.map((each) => meetOf(each, near(each), grid, group));
    const miss = group.length === 1 && meets[0] === null ? missOf(end, near(end), grid, ends) : null;
    sights.push({ ends: group, meets, miss });
  }
  return { ends, sights: sights.sort(byFirstEnd) };
}

function byFirstEnd({ ends: [a] }: Sight, { ends: [b] }: Sight): number {
  return a === undefined || b === undefined ? 0 : byEnd(a, b);
}

function endsOf(line: Line): readonly [LineEnd, LineEnd] {
  const last = line.corners.length - 1;
  return [
    { line, along: 0, spot: corner(line, 0), way: 1 },
    { line, along: line.length, spot: corner(line, last), way: -1 },
  ];
}

const NONE: readonly LineEnd[] = [];

/** All ends that lie together with one, from one to the next. */
function gather(end: LineEnd, others: ReadonlyMap<LineEnd, readonly LineEnd[]>, done: Set<LineEnd>): LineEnd[] {
  const group = [end];
  done.add(end);
  for (const each of group) {
    for (const other of others.get(each) ?? []) {
      if (done.has(other)) continue;
      done.add(other);
      group.push(other);
    }
  }
  return group;
}

/** The first of two ends, and the other: a strip whose own ends lie together must leave the reach of its first. */
function liesWith(end: LineEnd, other: LineEnd): boolean {
  const reach = Math.max(end.line.half, other.line.half) + SAME_SPOT;
  if (distance(end.spot, other.spot) > reach) return false;
  return other.line !== end.line || leaves(end, reach);
}

/** The ends whose last segments lie near. */
function endsNear(end: LineEnd, near: readonly number[], grid: SegmentGrid, ends: EndsFound['ends']): LineEnd[] {
  const found: LineEnd[] = [];
  for (const index of near) {
    const segment = grid.segments[index];
    if (segment === undefined) continue;
    const { line, i } = segment;
    if (i !== 0 && i !== line.corners.length - 2) continue;
    const [first, last] = ends.get(line) ?? [];
    if (i === 0 && first !== undefined && first !== end) found.push(first);
    if (i === line.corners.length - 2 && last !== undefined && last !== end) found.push(last);
  }
  return found;
}

/** Does the strip get further from this end than `reach` at all? */
function leaves(end: LineEnd, reach: Millimetre): boolean {
  return leavingSegment(end, reach) !== null;
}

/** The first segment, counted from the end, that gets further from it than `reach`. */
function leavingSegment(end: LineEnd, reach: Millimetre): number | null {
  const { line, spot, way } = end;
  const last = line.corners.length - 1;
  for (let n = 1; n <= last; n++) {
    const i = way === 1 ? n : last - n;
    if (distance(corner(line, i), spot) > reach) return way === 1 ? i - 1 : i;
  }
  return null;
}

/** Nearest foot on each line near an end, outside what belongs to the end itself or to ends that lie with it. */
function feet(
  end: LineEnd,
  near: readonly number[],
  grid: SegmentGrid,
  reachOf: (line: Line) => Millimetre,
  together: readonly LineEnd[],
): Meet[] {
  const best = new Map<Line, Meet>();
  let leaving: number | null | undefined;
  for (const index of near) {
    const segment = grid.segments[index];
    if (segment === undefined) continue;
    const { line, i } = segment;
    const reach = reachOf(line);
    const foot = footOn(segment, end.spot);
    if (foot.distance > reach) continue;
    if (line === end.line) {
      if (leaving === undefined) leaving = leavingSegment(end, reach);
      if (leaving === null || (end.way === 1 ? i <= leaving : i >= leaving)) continue;
    }
    const atJoint = (other: LineEnd) =>
      other.line === line && other !== end && Math.abs(foot.along - other.along) <= JOINT_TAIL * reach;
    if (together.some(atJoint)) continue;
    const known = best.get(line);
    if (known === undefined || foot.distance < known.distance) best.set(line, { line, ...foot });
  }
  return [...best.values()].sort((a, b) => a.distance - b.distance || a.line.order - b.line.order);
}

function meetOf(end: LineEnd, near: readonly number[], grid: SegmentGrid, together: readonly LineEnd[]) {
  const met = feet(end, near, grid, (line) => line.half + SAME_SPOT, together);
  const [first, second] = met;
  if (first === undefined) return null;
  if (second !== undefined && second.distance - first.distance <= EQUALLY_NEAR * first.line.half) {
    return { two: [first, second] as const };
  }
  return first;
}

function missOf(end: LineEnd, near: readonly number[], grid: SegmentGrid, ends: EndsFound['ends']): Miss | null {
  let miss: Miss | null = null;
  for (const other of endsNear(end, near, grid, ends)) {
    const reach = Math.max(end.line.half, other.line.half);
    const gap = distance(end.spot, other.spot);
    if (gap > reach + MISS_MARGIN || (other.line === end.line && !leaves(end, reach + MISS_MARGIN))) continue;
    if (miss === null || gap < miss.gap) miss = { line: other.line, end: other, gap, along: other.along };
  }
  if (miss !== null) return miss;
  const [foot] = feet(end, near, grid, (line) => line.half + MISS_MARGIN, NONE);
  return foot === undefined ? null : { line: foot.line, end: null, gap: foot.distance, along: foot.along };
}
