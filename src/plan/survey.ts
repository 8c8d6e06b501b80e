/**
 * What lies near what: ends, and what lines have to do with each other, measured once.
 * Idea: what an end sees, and how two lines meet, hang on nothing but the lines within reach. So of an earlier survey all is taken
 * over that no line which is new or gone since lies near; only the rest is measured. The answer is that of a survey of all lines.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import { type Contact, type CrossingsFound, findCrossings, MOST_MEETINGS } from './find-crossings.ts';
import { type EndsFound, findEnds, type LineEnd, widestReach } from './find-ends.ts';
import type { Line } from './line.ts';
import { indexSegments, type SegmentGrid } from './segment-grid.ts';
import { CELL_LEAST, MOST_OVERLAPS, MOST_PAIRS, MOST_RESURVEYED, OVERLAP_SHARE, SAME_SPOT } from './tolerances.ts';

export interface Survey {
  readonly lines: readonly Line[];
  readonly grid: SegmentGrid;
  readonly ends: EndsFound;
  readonly crossings: CrossingsFound;
  /** Limits may have cut what is seen somewhere: then it hangs on more than what lies near, and nothing is taken over. */
  readonly crowded: boolean;
}

/** Lines of the earlier survey that are the same objects count as unchanged. Where all are, the earlier survey is the answer. */
export function surveyLines(lines: readonly Line[], before: Survey | null = null): Survey {
  if (before !== null && before.lines.length === lines.length && lines.every((line, i) => line === before.lines[i]))
    return before;
  const grid = indexSegments(lines);
  const crowded = isCrowded(lines, grid);
  return (before === null || crowded ? null : resurvey(lines, grid, before)) ?? surveyAll(lines, grid, crowded);
}

function surveyAll(lines: readonly Line[], grid: SegmentGrid, crowded: boolean): Survey {
  const crossings = findCrossings(grid);
  return { lines, grid, ends: findEnds(lines, grid), crossings, crowded: crowded || crossings.cut };
}

/** Null where too much is new, or limits may cut: then all is measured. */
function resurvey(lines: readonly Line[], grid: SegmentGrid, before: Survey): Survey | null {
  if (before.crowded) return null;
  const now = new Set(lines);
  const then = new Set(before.lines);
  const fresh = new Set(lines.filter((line) => !then.has(line)));
  const gone = before.lines.filter((line) => !now.has(line));
  if (fresh.size + gone.length > lines.length * MOST_RESURVEYED) return null;

  const stays = ({ lines: [a, b] }: Contact) => now.has(a) && now.has(b);
  const crossings = findCrossings(grid, { contacts: before.crossings.contacts.filter(stays), fresh });
  const { contacts } = crossings;
  const meetings = contacts.reduce((sum, contact) => sum + contact.meetings, 0);
  const beside = contacts.reduce((sum, contact) => sum + Number(contact.beside), 0);
  if (crossings.cut || meetings > MOST_MEETINGS || beside > MOST_OVERLAPS) return null;

  const reach = Math.max(widestReach(lines), widestReach(before.lines));
  const changed = [...fresh, ...gone].map((line) => boxesOf(line, reach));
  const stands = (end: LineEnd) => now.has(end.line) && !changed.some((boxes) => holds(boxes, end));
  return { lines, grid, ends: findEnds(lines, grid, { found: before.ends, stands }), crossings, crowded: false };
}

/** No more than a bound: false only where no limit of the plan can cut what is seen, however the strips lie in the grid. */
function isCrowded(lines: readonly Line[], grid: SegmentGrid): boolean {
  const widest = lines.reduce((most, line) => Math.max(most, line.half), 0);
  return (
    grid.crowded(widestReach(lines)) || grid.pairs > MOST_PAIRS || OVERLAP_SHARE * widest + 2 * SAME_SPOT > CELL_LEAST
  );
}

interface Box {
  readonly left: Millimetre;
  readonly right: Millimetre;
  readonly top: Millimetre;
  readonly bottom: Millimetre;
}

/** A line's own box, then those of its segments, each wider by `reach`. */
function boxesOf({ corners }: Line, reach: Millimetre): { readonly all: Box; readonly each: readonly Box[] } {
  const boxOf = (spots: Line['corners']): Box => {
    let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
    for (const [x, y] of spots) {
      left = Math.min(left, x - reach);
      right = Math.max(right, x + reach);
      top = Math.min(top, y - reach);
      bottom = Math.max(bottom, y + reach);
    }
    return { left, right, top, bottom };
  };
  return { all: boxOf(corners), each: corners.slice(1).map((_, i) => boxOf(corners.slice(i, i + 2))) };
}

function holds({ all, each }: ReturnType<typeof boxesOf>, { spot }: LineEnd): boolean {
  return inside(all, spot) && each.some((box) => inside(box, spot));
}

function inside(box: Box, spot: Spot): boolean {
  return spot[0] >= box.left && spot[0] <= box.right && spot[1] >= box.top && spot[1] <= box.bottom;
}
