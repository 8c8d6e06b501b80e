/**
 * What the end of each strip comes near: other ends (gathered in clusters), interiors, or nearly one of them.
 * Cost: one look into the grid an end, and what lies there.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import { corner, distance, type Line, type Way } from './line.ts';
import { footOn, type SegmentGrid } from './segment-grid.ts';
import { EQUALLY_NEAR, JOINT_TAIL, MISS_MARGIN, SAME_SPOT } from './tolerances.ts';

/** An end of a strip. */
export interface LineEnd {
  /** Twice the line's index, and one more for its last corner. */
  readonly index: number;
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
  readonly end: number | null;
  readonly gap: Millimetre;
  readonly along: Millimetre;
}

export interface EndsFound {
  readonly ends: readonly LineEnd[];
  /** Ends that lie together, each cluster by rising index, clusters by their first. */
  readonly clusters: readonly (readonly LineEnd[])[];
  /** By index of the end: the interior that it meets, 'two' where it cannot be told which of two. */
  readonly meets: readonly (Meet | { readonly two: readonly [Meet, Meet] } | null)[];
  readonly misses: readonly (Miss | null)[];
}

interface Cluster {
  readonly size: number;
  readonly byLine: ReadonlyMap<Line, readonly LineEnd[]>;
}

export function findEnds(lines: readonly Line[], grid: SegmentGrid): EndsFound {
  const ends = lines.flatMap((line): LineEnd[] => [
    { index: line.index * 2, line, along: 0, spot: corner(line, 0), way: 1 },
    {
      index: line.index * 2 + 1,
      line,
      along: line.length,
      spot: corner(line, line.corners.length - 1),
      way: -1,
    },
  ]);
  const widest = lines.reduce((most, line) => Math.max(most, line.half), 0);
  // Looked up anew each time: kept for all ends, lists of a heap of tape would fill the memory.
  const near = (end: LineEnd) => grid.near(end.spot, widest + MISS_MARGIN + SAME_SPOT);

  const together = new Union(ends.length);
  for (const end of ends) {
    for (const other of endsNear(end, near(end), grid, ends)) {
      if (other.index <= end.index) continue;
      const reach = Math.max(end.line.half, other.line.half) + SAME_SPOT;
      if (distance(end.spot, other.spot) > reach) continue;
      if (other.line === end.line && !leaves(end, reach)) continue;
      together.join(end.index, other.index);
    }
  }
  const clusters = together.groups().map((group) => group.flatMap((index) => ends[index] ?? []));
  const clusterOf = new Map<number, Cluster>();
  for (const cluster of clusters) {
    const byLine = new Map<Line, LineEnd[]>();
    for (const end of cluster) byLine.set(end.line, [...(byLine.get(end.line) ?? []), end]);
    for (const end of cluster) clusterOf.set(end.index, { size: cluster.length, byLine });
  }

  const meets = ends.map((end) => meetOf(end, near(end), grid, clusterOf.get(end.index)?.byLine ?? new Map()));
  const misses = ends.map((end, i) =>
    clusterOf.get(end.index)?.size === 1 && meets[i] === null ? missOf(end, near(end), grid, ends) : null,
  );
  return { ends, clusters, meets, misses };
}

/** The ends whose last segments lie near. */
function endsNear(end: LineEnd, near: readonly number[], grid: SegmentGrid, ends: readonly LineEnd[]): LineEnd[] {
  const found: LineEnd[] = [];
  for (const index of near) {
    const segment = grid.segments[index];
    if (segment === undefined) continue;
    const { line, i } = segment;
    const first = ends[line.index * 2];
    const last = ends[line.index * 2 + 1];
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
  joined: Cluster['byLine'],
): Meet[] {
  const best = new Map<Line, Meet>();
  const leaving = new Map<Millimetre, number | null>();
  for (const index of near) {
    const segment = grid.segments[index];
    if (segment === undefined) continue;
    const { line, i } = segment;
    const reach = reachOf(line);
    const foot = footOn(segment, end.spot);
    if (foot.distance > reach) continue;
    if (line === end.line) {
      let leave = leaving.get(reach);
      if (leave === undefined) {
        leave = leavingSegment(end, reach);
        leaving.set(reach, leave);
      }
      if (leave === null || (end.way === 1 ? i <= leave : i >= leave)) continue;
    }
    const atJoint = (other: LineEnd) => other !== end && Math.abs(foot.along - other.along) <= JOINT_TAIL * reach;
    if (joined.get(line)?.some(atJoint)) continue;
    const known = best.get(line);
    if (known === undefined || foot.distance < known.distance) best.set(line, { line, ...foot });
  }
  return [...best.values()].sort((a, b) => a.distance - b.distance || a.line.index - b.line.index);
}

function meetOf(end: LineEnd, near: readonly number[], grid: SegmentGrid, cluster: Cluster['byLine']) {
  const met = feet(end, near, grid, (line) => line.half + SAME_SPOT, cluster);
  const [first, second] = met;
  if (first === undefined) return null;
  if (second !== undefined && second.distance - first.distance <= EQUALLY_NEAR * first.line.half) {
    return { two: [first, second] as const };
  }
  return first;
}

function missOf(end: LineEnd, near: readonly number[], grid: SegmentGrid, ends: readonly LineEnd[]): Miss | null {
  let miss: Miss | null = null;
  for (const other of endsNear(end, near, grid, ends)) {
    const reach = Math.max(end.line.half, other.line.half);
    const gap = distance(end.spot, other.spot);
    if (gap > reach + MISS_MARGIN || (other.line === end.line && !leaves(end, reach + MISS_MARGIN))) continue;
    if (miss === null || gap < miss.gap) miss = { line: other.line, end: other.index, gap, along: other.along };
  }
  if (miss !== null) return miss;
  const [foot] = feet(end, near, grid, (line) => line.half + MISS_MARGIN, new Map());
  return foot === undefined ? null : { line: foot.line, end: null, gap: foot.distance, along: foot.along };
}

/** Sets of numbers that grow together. */
class Union {
  private readonly parent: number[];

  constructor(size: number) {
    this.parent = Array.from({ length: size }, (_, i) => i);
  }

  private top(i: number): number {
    let at = i;
    for (let up = this.parent[at] ?? at; up !== at; up = this.parent[at] ?? at) {
      this.parent[at] = this.parent[up] ?? up;
      at = this.parent[at] ?? at;
    }
    return at;
  }

  join(a: number, b: number): void {
    const [one, two] = [this.top(a), this.top(b)];
    if (one !== two) this.parent[Math.max(one, two)] = Math.min(one, two);
  }

  groups(): readonly (readonly number[])[] {
    const found = new Map<number, number[]>();
    for (let i = 0; i < this.parent.length; i++) {
      const top = this.top(i);
      const group = found.get(top);
      if (group === undefined) found.set(top, [i]);
      else group.push(i);
    }
    return [...found.values()];
  }
}
