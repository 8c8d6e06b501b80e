/** A strip as a line that can be measured along. */
import { type PanelFile, type Strip, stripWidth } from '../panel/index.ts';
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import { SAME_SPOT } from './tolerances.ts';

/** A strip with a length: its corners without repeats, and how far along each lies. */
export interface Line {
  /** Rises in the order in which strips were laid; only ever compared, for a line laid between two others stands between theirs. */
  readonly order: number;
  /** The record that it was read from. */
  readonly strip: Strip;
  readonly id: string;
  /** Half its tape's width. */
  readonly half: Millimetre;
  readonly corners: readonly Spot[];
  /** Millimetres from the first corner to each. */
  readonly marks: readonly Millimetre[];
  readonly length: Millimetre;
  readonly layoutLength: Millimetre | null;
}

/** Which way along a line: with its corners or against them. */
export type Way = 1 | -1;

/**
 * Every strip that has a length, in the order of the file, and those that have none. Of the lines of an earlier reading those whose strips
 * say the same and stand in the same order are taken over as they are, the very same objects.
 */
export function readLines(
  panel: PanelFile,
  before: readonly Line[] = [],
): { readonly lines: readonly Line[]; readonly empty: readonly Strip[] } {
  const { strips } = panel;
  const lines: Line[] = [];
  const empty: Strip[] = [];
  const kept = linesKept(strips, before);
  let last: number | null = null;
  for (let i = 0; i < strips.length; ) {
    const known = kept[i];
    if (known !== undefined) {
      lines.push(known);
      last = known.order;
      i += 1;
      continue;
    }
    // A run of new strips shares out the room between the lines on its two sides.
    let end = i;
    while (end < strips.length && kept[end] === undefined) end += 1;
    const run = strips.slice(i, end);
    const above = kept[end]?.order;
    const from: number = last ?? (above === undefined ? -1 : above - run.length - 1);
    const pace = above === undefined ? 1 : (above - from) / (run.length + 1);
    run.forEach((strip, k) => {
      const line = lineOf(strip, from + pace * (k + 1));
      if (line === null) empty.push(strip);
      else lines.push(line);
    });
    last = from + pace * run.length;
    i = end;
  }
  // Where the room between two lines is used up, all are counted anew.
  const crowded = lines.some(({ order }, i) => order <= (lines[i - 1]?.order ?? -Infinity));
  return crowded ? readLines(panel) : { lines, empty };
}

/** By strip of the file: the earlier line that it still is. What is out of step with those before or the next one counts as new. */
function linesKept(strips: readonly Strip[], before: readonly Line[]): readonly (Line | undefined)[] {
  if (before.length === 0) return [];
  const known = new Map(before.map((line) => [line.id, line]));
  const same = strips.map((strip) => {
    const line = known.get(strip.id);
    return line !== undefined && saysTheSame(line.strip, strip) ? line : undefined;
  });
  const ahead: number[] = [];
  let next = Infinity;
  for (let i = same.length - 1; i >= 0; i--) {
    ahead[i] = next;
    next = same[i]?.order ?? next;
  }
  let last = -Infinity;
  return same.map((line, i) => {
    if (line === undefined || line.order <= last || line.order >= (ahead[i] ?? Infinity)) return undefined;
    last = line.order;
    return line;
  });
}

/** Do two strips say the same of what a line is? Names and colours are none of it. */
function saysTheSame(a: Strip, b: Strip): boolean {
  if (a === b) return true;
  return (
    a.id === b.id &&
    a.layoutLength === b.layoutLength &&
    stripWidth(a) === stripWidth(b) &&
    a.path.length === b.path.length &&
    // A nought with a minus turns an angle round: it is not the same.
    a.path.every(([x, y], i) => Object.is(x, b.path[i]?.[0]) && Object.is(y, b.path[i]?.[1]))
  );
}

/** Null where the strip has no length. */
function lineOf(strip: Strip, order: number): Line | null {
  const corners = withoutCrumbs(strip.path);
  const marks: Millimetre[] = [];
  let length = 0;
  corners.forEach((spot, i) => {
    length += distance(spot, corners[i - 1] ?? spot);
    marks.push(length);
  });
  if (length <= SAME_SPOT) return null;
  const layoutLength = strip.layoutLength ?? null;
  return { order, strip, id: strip.id, half: stripWidth(strip) / 2, corners, marks, length, layoutLength };
}

/** Corners without those that lie on the one before; both ends stay where they are. */
function withoutCrumbs(path: readonly Spot[]): readonly Spot[] {
  const kept: Spot[] = [];
  for (const [x, y] of path) {
    const last = kept[kept.length - 1];
    if (last === undefined || distance(last, [x, y]) > SAME_SPOT) kept.push([x, y]);
  }
  const end = path[path.length - 1];
  if (end !== undefined && kept.length > 1) kept[kept.length - 1] = [end[0], end[1]];
  return kept;
}

/** The segment that holds a spot so far along; of two at a corner the later one. */
export function segmentAt(line: Line, along: Millimetre): number {
  let low = 0;
  let high = line.marks.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((line.marks[middle] ?? 0) <= along) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The spot so far along a line; beyond its ends, its ends. */
export function spotAlong(line: Line, along: Millimetre): Spot {
  const i = segmentAt(line, along);
  const a = corner(line, i);
  const b = corner(line, i + 1);
  const from = line.marks[i] ?? 0;
  const to = line.marks[i + 1] ?? 0;
  if (along <= from) return a;
  if (along >= to) return b;
  const t = (along - from) / (to - from);
  return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
}

export function corner(line: Line, i: number): Spot {
  const spot = line.corners[i];
  if (spot === undefined) throw new RangeError(`strip ${line.id} has no corner ${i} of ${line.corners.length}`);
  return spot;
}

/**
 * Unit direction of a line away from a spot on it, one way or the other, over `reach`: a corner or a crumb of a segment nearer than
 * that counts as the eye sees it.
 */
export function heading(line: Line, along: Millimetre, way: Way, reach: Millimetre): Spot {
  const here = spotAlong(line, along);
  const there = spotAlong(line, along + way * reach);
  const chord = distance(here, there);
  if (chord > SAME_SPOT) return [(there[0] - here[0]) / chord, (there[1] - here[1]) / chord];
  // The line comes back on itself within its own width: its first step decides.
  return step(line, along, way);
}

/** Unit direction of the very segment that leaves a spot one way or the other. */
export function step(line: Line, along: Millimetre, way: Way): Spot {
  let i = segmentAt(line, along);
  if (way === -1 && i > 0 && along - (line.marks[i] ?? 0) <= SAME_SPOT) i -= 1;
  if (way === 1 && i < line.marks.length - 2 && (line.marks[i + 1] ?? 0) - along <= SAME_SPOT) i += 1;
  const a = corner(line, i);
  const b = corner(line, i + 1);
  const length = distance(a, b);
  return [(way * (b[0] - a[0])) / length, (way * (b[1] - a[1])) / length];
}

/** Corners from one spot to another along a line, both spots included; backwards where `from` is more than `to`. */
export function cornersBetween(line: Line, from: Millimetre, to: Millimetre): Spot[] {
  if (from > to) return cornersBetween(line, to, from).reverse();
  const path: Spot[] = [spotAlong(line, from)];
  for (let i = segmentAt(line, from) + 1; i < line.marks.length; i++) {
    const mark = line.marks[i] ?? 0;
    if (mark >= to) break;
    if (mark > from) path.push(corner(line, i));
  }
  const last = spotAlong(line, to);
  const before = path[path.length - 1];
  if (before === undefined || before[0] !== last[0] || before[1] !== last[1] || path.length === 1) path.push(last);
  return path;
}

export function distance(a: Spot, b: Spot): Millimetre {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** Positive where b is clockwise of a on the face (y down): to the right of one who looks along a. */
export function turn(a: Spot, b: Spot): number {
  return a[0] * b[1] - a[1] * b[0];
}

/** Between two directions, 0 to 180. */
export function angleBetween(a: Spot, b: Spot): Degree {
  return (Math.atan2(Math.abs(turn(a, b)), a[0] * b[0] + a[1] * b[1]) * 180) / Math.PI;
}

/** From a to b clockwise as seen on the face, -180 to 180. */
export function clockwise(a: Spot, b: Spot): Degree {
  return (Math.atan2(turn(a, b), a[0] * b[0] + a[1] * b[1]) * 180) / Math.PI;
}

export function against(a: Spot): Spot {
  return [-a[0], -a[1]];
}

/** Left to right, then top to bottom, to the step of numbering; the finer rest only where that is equal. */
export function compareSpots(a: Spot, b: Spot, unit: Millimetre): number {
  for (const i of [0, 1] as const) {
    const order = Math.round(a[i] / unit) - Math.round(b[i] / unit);
    if (order !== 0) return order;
  }
  return a[0] - b[0] || a[1] - b[1];
}
