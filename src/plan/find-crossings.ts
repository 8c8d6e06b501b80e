/**
 * Where interiors of strips cross, touch, or lie one on the other, joints left aside.
 * Each segment is set against those in its cells of the grid; spots at corners are found by both segments and told once.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import { against, clockwise, type Line, spotAlong, step } from './line.ts';
import type { Segment, SegmentGrid } from './segment-grid.ts';
import { MOST_CROSSINGS, MOST_OVERLAPS, MOST_PAIRS, OVERLAP_ANGLE, OVERLAP_SHARE, SAME_SPOT } from './tolerances.ts';

/** A spot that two lines have in common away from their ends. */
export interface Hit {
  readonly lines: readonly [Line, Line];
  readonly alongs: readonly [Millimetre, Millimetre];
  readonly spot: Spot;
  /** They change sides here; else they only touch. */
  readonly crosses: boolean;
}

/** Lines that lie one on the other. */
export interface Overlap {
  readonly lines: readonly [Line, Line];
  readonly at: Spot;
  readonly length: Millimetre;
}

/** All that two lines have to do with each other: the one laid first, then the other. */
export interface Contact {
  readonly lines: readonly [Line, Line];
  /** Along the first. */
  readonly hits: readonly Hit[];
  readonly overlap: Overlap | null;
  /** Meetings of their segments, and whether any lie side by side: what the limits count. */
  readonly meetings: number;
  readonly beside: boolean;
}

export interface CrossingsFound {
  /** By the two lines. */
  readonly contacts: readonly Contact[];
  /** There are more than are read. */
  readonly cut: boolean;
}

/** Contacts of an earlier reading between lines that are still there, and the lines that are new since. */
export interface ContactsKept {
  readonly contacts: readonly Contact[];
  readonly fresh: ReadonlySet<Line>;
}

interface Meeting {
  readonly a: Segment;
  readonly b: Segment;
  readonly alongs: readonly [Millimetre, Millimetre] | null;
  readonly beside: { readonly at: Spot; readonly length: Millimetre } | null;
}

/** With `kept`: only what the new lines have to do with all others is looked for. */
export function findCrossings(grid: SegmentGrid, kept: ContactsKept | null = null): CrossingsFound {
  const drafts = new Map<Line, Map<Line, Meeting[]>>();
  let cut = false;
  let looked = 0;
  let met = 0;
  let side = 0;
  const fresh = (segment: Segment | undefined) => segment !== undefined && kept?.fresh.has(segment.line) === true;
  for (let i = 0; i < grid.segments.length && !cut; i++) {
    const segment = grid.segments[i];
    if (segment === undefined || (kept !== null && !fresh(segment))) continue;
    const near = grid.touching(i, kept === null ? i : -1);
    looked += near.length;
    for (const j of near) {
      const other = grid.segments[j];
      // Two new ones meet when the first of them is looked at.
      if (other === undefined || j === i || (j < i && fresh(other))) continue;
      const [a, b] = j > i ? [segment, other] : [other, segment];
      if (a.line === b.line && b.i === a.i + 1) continue;
      const meeting = meetingOf(a, b);
      if (meeting === null) continue;
      const onLine = drafts.get(a.line) ?? new Map<Line, Meeting[]>();
      drafts.set(a.line, onLine);
      const known = onLine.get(b.line) ?? [];
      onLine.set(b.line, known);
      if (meeting.alongs !== null) met += 1;
      if (meeting.beside !== null && !known.some(({ beside }) => beside !== null)) side += 1;
      known.push(meeting);
    }
    cut = met > MOST_MEETINGS || looked > MOST_PAIRS || side > MOST_OVERLAPS;
  }
  const contacts = [...(kept?.contacts ?? [])];
  for (const [a, onLine] of drafts) {
    for (const [b, meetings] of onLine) contacts.push(contactOf([a, b], meetings));
  }
  contacts.sort((x, y) => x.lines[0].order - y.lines[0].order || x.lines[1].order - y.lines[1].order);
  return { contacts, cut };
}

/** Every spot is told twice at most, by the segments on either side of a corner. */
export const MOST_MEETINGS = 2 * MOST_CROSSINGS;

function meetingOf(a: Segment, b: Segment): Meeting | null {
  const alongs = meetOf(a, b);
  // A loop smaller than the tape is wide is no loop that one can see.
  const crumb = a.line === b.line && alongs !== null && Math.abs(alongs[0] - alongs[1]) <= a.line.half;
  const beside = overlapOf(a, b);
  return (alongs === null || crumb) && beside === null ? null : { a, b, alongs: crumb ? null : alongs, beside };
}

function contactOf(lines: readonly [Line, Line], meetings: readonly Meeting[]): Contact {
  // By their places along the lines, whichever was looked at first: sums come out the same.
  const ordered = [...meetings].sort((x, y) => x.a.i - y.a.i || x.b.i - y.b.i);
  const raw = ordered
    .flatMap(({ alongs }) => (alongs === null ? [] : [alongs]))
    .sort((x, y) => x[0] - y[0] || x[1] - y[1]);
  const hits: Hit[] = [];
  for (const alongs of raw) {
    if (isEnd(lines[0], alongs[0]) || isEnd(lines[1], alongs[1]) || toldBefore(hits, alongs)) continue;
    hits.push({ lines, alongs, spot: spotAlong(lines[0], alongs[0]), crosses: changeSides(lines, alongs) });
  }
  const beside = ordered.flatMap((each) => each.beside ?? []);
  const length = beside.reduce((sum, each) => sum + each.length, 0);
  const [first] = beside;
  const plain = first === undefined || length <= Math.max(lines[0].half, lines[1].half) + SAME_SPOT;
  return {
    lines,
    hits,
    overlap: plain ? null : { lines, at: first.at, length },
    meetings: raw.length,
    beside: first !== undefined,
  };
}

/** How far along each line the two segments meet, or null: they do not, or are parallel. */
function meetOf(a: Segment, b: Segment): readonly [number, number] | null {
  const [ax, ay] = [(a.b[0] - a.a[0]) / a.length, (a.b[1] - a.a[1]) / a.length];
  const [bx, by] = [(b.b[0] - b.a[0]) / b.length, (b.b[1] - b.a[1]) / b.length];
  const sine = ax * by - ay * bx;
  if (Math.abs(sine) < PARALLEL_SINE) return null;
  const [dx, dy] = [b.a[0] - a.a[0], b.a[1] - a.a[1]];
  const t = (dx * by - dy * bx) / sine;
  const u = (dx * ay - dy * ax) / sine;
  if (t < -SAME_SPOT || t > a.length + SAME_SPOT || u < -SAME_SPOT || u > b.length + SAME_SPOT) return null;
  return [a.from + settle(t, a.length), b.from + settle(u, b.length)];
}

/** Below this sine, a twentieth of a degree, where two lines meet says nothing: they overlap or pass. */
const PARALLEL_SINE = 1e-3;

/** A spot as good as at a corner is at the corner. */
function settle(t: number, length: number): number {
  return t <= SAME_SPOT ? 0 : t >= length - SAME_SPOT ? length : t;
}

function isEnd(line: Line, along: number): boolean {
  return along <= SAME_SPOT || along >= line.length - SAME_SPOT;
}

/** The same spot, found by the segment on the other side of a corner. They are sorted: only the last few can be it. */
function toldBefore(hits: readonly Hit[], alongs: readonly [number, number]): boolean {
  for (let k = hits.length - 1; k >= 0; k--) {
    const hit = hits[k];
    if (hit === undefined || alongs[0] - hit.alongs[0] > 2 * SAME_SPOT) return false;
    if (Math.abs(alongs[1] - hit.alongs[1]) <= 2 * SAME_SPOT) return true;
  }
  return false;
}

/** Does the second line lie on both sides of the first around a spot that they share? */
function changeSides([a, b]: readonly [Line, Line], [s, t]: readonly [number, number]): boolean {
  const ahead = step(a, s, 1);
  const behind = step(a, s, -1);
  const sector = full(clockwise(ahead, behind));
  const one = full(clockwise(ahead, step(b, t, 1)));
  const two = full(clockwise(ahead, step(b, t, -1)));
  return one < sector !== two < sector;
}

function full(degrees: number): number {
  return degrees < 0 ? degrees + 360 : degrees;
}

/** The stretch of two nearly parallel segments that lies side by side nearer than tape can, or null. */
function overlapOf(a: Segment, b: Segment): { readonly at: Spot; readonly length: Millimetre } | null {
  const u: Spot = [(a.b[0] - a.a[0]) / a.length, (a.b[1] - a.a[1]) / a.length];
  const v: Spot = [(b.b[0] - b.a[0]) / b.length, (b.b[1] - b.a[1]) / b.length];
  const bent = Math.abs(clockwise(u, v));
  if (Math.min(bent, 180 - bent) > OVERLAP_ANGLE) return null;
  const w = bent > 90 ? against(v) : v;
  const [start, end] = bent > 90 ? [b.b, b.a] : [b.a, b.b];
  const along = (spot: Spot) => (spot[0] - a.a[0]) * u[0] + (spot[1] - a.a[1]) * u[1];
  const from = Math.max(0, along(start));
  const to = Math.min(a.length, along(end));
  if (to - from <= SAME_SPOT) return null;
  const middle = (from + to) / 2;
  const here: Spot = [a.a[0] + u[0] * middle, a.a[1] + u[1] * middle];
  const off = Math.abs((here[0] - start[0]) * w[1] - (here[1] - start[1]) * w[0]);
  if (off > OVERLAP_SHARE * Math.min(a.line.half, b.line.half)) return null;
  return { at: here, length: to - from };
}
