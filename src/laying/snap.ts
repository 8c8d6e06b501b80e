/**
 * Where a spot that is dragged falls. Candidates stand in one order, by kind, then the nearest first:
 *
 * 1. `end`    an end of another strip: a butt
 * 2. `join`   a spot on another strip that the last segment meets at 32 degrees
 * 3. `angle`  a spot on another strip that the last segment meets along another strip's direction
 * 4. `strip`  a spot on another strip, on the grid along it where it lies square to the sheet
 * 5. `cross`  in line with two things, one above or below and one beside; lines draw half as far as things
 * 6. `line`   in line with one thing, on the grid the other way
 * 7. `way`    the last segment across, down, or at 32 degrees from the one before
 * 8. `grid`   2 mm
 *
 * The first is taken that stays where it is when it is snapped again; so a spot of the grid is not offered where an end would draw it on. No
 * answer is further off than the reach. Nothing within reach: the spot as it is. Some tens of microseconds a call.
 */
import { BRANCH_LEAST, BRANCH_MOST, BRANCH_USUAL } from '../plan/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { acuteAngle, add, cross, direction, distance, dot, footOn, meetOf, turned, writtenSpot } from './geometry.ts';
import { angleOf, type SnapContext, type SnapSegment, type SnapSpot } from './snap-index.ts';
import { GRID, LEAST_PACE, LINE_SHARE, MOST_ALIGNED, MOST_OF_A_KIND, SAME_DIRECTION, SAME_SPOT } from './tolerances.ts';

export type SnapKind = 'end' | 'join' | 'angle' | 'strip' | 'cross' | 'line' | 'way' | 'grid';

/** In the order in which they are tried. */
export const SNAP_KINDS: readonly SnapKind[] = ['end', 'join', 'angle', 'strip', 'cross', 'line', 'way', 'grid'];

/** A line to draw while the spot is held. */
export interface Guide {
  readonly from: Spot;
  readonly to: Spot;
}

export interface Snapped {
  readonly at: Spot;
  /** What holds it; `free`: nothing does. */
  readonly by: SnapKind | 'free';
  /** What it goes by: strips, lamps, levers. */
  readonly what: readonly string[];
  readonly guides: readonly Guide[];
  /** The next candidates, in order. */
  readonly others: readonly SnapCandidate[];
}

export type SnapCandidate = Omit<Snapped, 'others' | 'by'> & { readonly by: SnapKind };

export interface SnapOptions {
  /** How far the spot may be drawn, mm on the face. */
  readonly reach: Millimetre;
  /** The spot as it is, but for rounding. */
  readonly free?: boolean;
  /** The k-th candidate in place of the first, round and round. */
  readonly turn?: number;
  /** Only candidates of this kind. */
  readonly only?: SnapKind;
  /** Where the last segment begins: the corner before the one that is dragged. */
  readonly from?: Spot;
  /** The corner before that. */
  readonly before?: Spot;
  /** Step of the grid, 2 mm unless said otherwise; 0 for none. */
  readonly grid?: Millimetre;
}

/** The spot where a dragged one falls, rounded to 0.001 mm, and what else it could be. */
export function snap(context: SnapContext, spot: Spot, options: SnapOptions): Snapped {
  const here = writtenSpot(spot);
  const free: Snapped = { at: here, by: 'free', what: [], guides: [], others: [] };
  if (options.free === true || !here.every(Number.isFinite) || !(options.reach > 0)) return free;
  const kinds = options.only === undefined ? SNAP_KINDS : [options.only];
  const all = kinds.flatMap((kind) => candidatesOf(context, here, kind, options));
  const held = all.findIndex((each) => isHeld(context, each, options));
  const first = all[held];
  if (first === undefined && ((options.turn ?? 0) === 0 || all.length === 0)) return { ...free, others: all };
  const order = first === undefined ? all : [first, ...all.filter((_, i) => i !== held)];
  const turn = options.turn ?? 0;
  const k = ((Math.trunc(turn) % order.length) + order.length) % order.length;
  const chosen = order[k];
  if (chosen === undefined) return free;
  return { ...chosen, others: [...order.slice(k + 1), ...order.slice(0, k)] };
}

/** Does a candidate stay where it is when it is snapped again: is there none of a better kind that would stay and draws it on? */
function isHeld(context: SnapContext, { at, by }: SnapCandidate, options: SnapOptions): boolean {
  if (options.only !== undefined) return true;
  for (const kind of SNAP_KINDS) {
    if (kind === by) return true;
    for (const better of candidatesOf(context, at, kind, options))
      if (!isSame(better.at, at) && isHeld(context, better, options)) return false;
      // It is of the better kind too.
      else if (isSame(better.at, at)) return true;
  }
  return true;
}

function isSame(a: Spot, b: Spot): boolean {
  return a[0] === b[0] && a[1] === b[1];
}

/** Candidates of one kind within reach, the nearest first. */
function candidatesOf(
  context: SnapContext,
  here: Spot,
  kind: SnapKind,
  options: SnapOptions,
): readonly SnapCandidate[] {
  const found: (SnapCandidate & { readonly off: Millimetre })[] = [];
  const offer = (at: Spot, what: readonly string[], lines: readonly Spot[] = []) => {
    let to: Spot = writtenSpot(at);
    // A spot that was rounded onto its line stays, and is not rounded on from there.
    if (distance(at, here) <= SAME_SPOT) to = here;
    const off = distance(to, here);
    if (off <= options.reach) found.push({ at: to, by: kind, what, guides: lines.map((from) => ({ from, to })), off });
  };
  FINDERS[kind](context, here, options, offer);
  if (found.length > 1) found.sort((a, b) => a.off - b.off);
  const kept: SnapCandidate[] = [];
  for (const { off: _, ...candidate } of found) {
    if (kept.length >= MOST_OF_A_KIND) break;
    if (!kept.some(({ at }) => isSame(at, candidate.at))) kept.push(candidate);
  }
  return kept;
}

/** `lines`: where the lines begin that are drawn to the spot. */
type Offer = (at: Spot, what: readonly string[], lines?: readonly Spot[]) => void;
type Finder = (context: SnapContext, here: Spot, options: SnapOptions, offer: Offer) => void;

const FINDERS: Readonly<Record<SnapKind, Finder>> = {
  end: findEnds,
  join: findJoins,
  angle: findAngles,
  strip: findOnStrips,
  cross: findCrosses,
  line: findLines,
  way: findWays,
  grid: findGrid,
};

function findEnds({ ends, endGrid }: SnapContext, here: Spot, { reach }: SnapOptions, offer: Offer): void {
  for (const i of endGrid.near(here, reach)) {
    const end = ends[i];
    if (end !== undefined) offer(end.at, [end.id]);
  }
}

function segmentsNear({ segments, segmentGrid }: SnapContext, here: Spot, reach: Millimetre): readonly SnapSegment[] {
  return segmentGrid.near(here, reach + SAME_SPOT).flatMap((i) => segments[i] ?? []);
}

/** Is so far along a segment its strip's interior, and not its end? */
function isInside({ length, half, ends }: SnapSegment, along: Millimetre): boolean {
  const clear = half + SAME_SPOT;
  return along >= (ends[0] ? clear : 0) && along <= length - (ends[1] ? clear : 0);
}

function findJoins(context: SnapContext, here: Spot, { reach, from }: SnapOptions, offer: Offer): void {
  if (from === undefined) return;
  for (const segment of segmentsNear(context, here, reach)) {
    const { a, way, strip } = segment;
    const to: Spot = [from[0] - a[0], from[1] - a[1]];
    const foot = dot(to, way);
    // So far beside the foot of the square, the line from there makes 32 degrees with the strip.
    const beside = Math.abs(cross(way, to)) / Math.tan((BRANCH_USUAL * Math.PI) / 180);
    if (beside <= SAME_SPOT) continue;
    for (const along of [foot - beside, foot + beside]) {
      if (!isInside(segment, along)) continue;
      const at = add(a, way, along);
      offer(at, [strip], [from]);
    }
  }
}

function findAngles(context: SnapContext, here: Spot, { reach, from }: SnapOptions, offer: Offer): void {
  if (from === undefined) return;
  const aim = direction(from, here);
  if (aim === null) return;
  // Only directions that the dragged segment can take within reach.
  const open = (Math.asin(Math.min(1, reach / distance(from, here))) * 180) / Math.PI + SAME_DIRECTION;
  const is = angleOf(aim);
  const apart = (angle: number) => Math.abs(((((angle - is + 90) % 180) + 180) % 180) - 90);
  const near = context.directions.filter(({ angle }) => apart(angle) <= open);
  if (near.length === 0) return;
  for (const segment of segmentsNear(context, here, reach)) {
    for (const { angle, strip } of near) {
      const way = turned([1, 0], angle);
      const meets = acuteAngle(way, segment.way);
      if (meets < BRANCH_LEAST || meets > BRANCH_MOST || strip === segment.strip) continue;
      const meet = meetOf(from, way, segment.a, segment.b);
      if (meet === null || !isInside(segment, meet.along)) continue;
      offer(meet.at, [segment.strip, strip], [from]);
    }
  }
}

function findOnStrips(context: SnapContext, here: Spot, { reach, grid = GRID }: SnapOptions, offer: Offer): void {
  for (const segment of segmentsNear(context, here, reach)) {
    const { at, along, off } = footOn(segment.a, segment.b, here);
    if (off > reach) continue;
    const [x, y] = segment.way;
    // Square to the sheet it has the grid along it, where that is within reach and on it.
    const axis = y === 0 ? 0 : x === 0 ? 1 : null;
    const stepped = axis === null || grid <= 0 ? null : onGrid(at, axis, grid);
    if (stepped !== null && distance(stepped, at) <= reach && isOn(segment, stepped)) offer(stepped, [segment.strip]);
    else if (isInside(segment, along)) offer(at, [segment.strip]);
  }
}

function isOn(segment: SnapSegment, spot: Spot): boolean {
  const along = dot([spot[0] - segment.a[0], spot[1] - segment.a[1]], segment.way);
  return along >= 0 && along <= segment.length && isInside(segment, along);
}

function onGrid(spot: Spot, axis: 0 | 1, grid: Millimetre): Spot {
  const step = Math.round(spot[axis] / grid) * grid;
  return axis === 0 ? [step, spot[1]] : [spot[0], step];
}

/** Things whose x (or y) is within reach of the spot's, nearest along the other axis for each of the nearest few lines. */
function linedUp(sorted: readonly SnapSpot[], here: Spot, axis: 0 | 1, reach: Millimetre): readonly SnapSpot[] {
  const lines = new Map<number, SnapSpot>();
  let low = 0;
  let high = sorted.length;
  const least = here[axis] - reach;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle]?.at[axis] ?? 0) < least) low = middle + 1;
    else high = middle;
  }
  const other = axis === 0 ? 1 : 0;
  for (let i = low; i < sorted.length; i++) {
    const each = sorted[i];
    if (each === undefined || each.at[axis] > here[axis] + reach) break;
    const known = lines.get(each.at[axis]);
    if (known === undefined) {
      if (lines.size >= MOST_ALIGNED) continue;
      lines.set(each.at[axis], each);
    } else if (Math.abs(each.at[other] - here[other]) < Math.abs(known.at[other] - here[other]))
      lines.set(each.at[axis], each);
  }
  return [...lines.values()]
    .sort((a, b) => Math.abs(a.at[axis] - here[axis]) - Math.abs(b.at[axis] - here[axis]))
    .slice(0, 3);
}

function findCrosses({ byX, byY }: SnapContext, here: Spot, { reach }: SnapOptions, offer: Offer): void {
  const columns = linedUp(byX, here, 0, reach * LINE_SHARE);
  const rows = columns.length === 0 ? [] : linedUp(byY, here, 1, reach * LINE_SHARE);
  for (const column of columns) {
    for (const row of rows) {
      const at: Spot = [column.at[0], row.at[1]];
      offer(at, [column.id, row.id], [column.at, row.at]);
    }
  }
}

function findLines({ byX, byY }: SnapContext, here: Spot, { reach, grid = GRID }: SnapOptions, offer: Offer): void {
  const stepped = (at: Spot, axis: 0 | 1) => {
    const step = grid > 0 ? onGrid(at, axis, grid) : at;
    // By the way along the line alone: what is near the grid there stays so when it is snapped again.
    return distance(step, at) <= reach ? step : at;
  };
  for (const { id, at } of linedUp(byX, here, 0, reach * LINE_SHARE)) {
    const to = stepped([at[0], here[1]], 1);
    offer(to, [id], [at]);
  }
  for (const { id, at } of linedUp(byY, here, 1, reach * LINE_SHARE)) {
    const to = stepped([here[0], at[1]], 0);
    offer(to, [id], [at]);
  }
}

function findWays(_: SnapContext, here: Spot, { reach, from, before, grid = GRID }: SnapOptions, offer: Offer): void {
  if (from === undefined) return;
  const base = before === undefined ? null : direction(before, from);
  const slanted = [base, base === null ? ([1, 0] as Spot) : null].flatMap((way) =>
    way === null ? [] : [turned(way, BRANCH_USUAL), turned(way, -BRANCH_USUAL)],
  );
  const ways: readonly Spot[] = [[1, 0], [0, 1], ...(base === null ? [] : [base]), ...slanted];
  for (const [x, y] of ways) {
    const along = dot([here[0] - from[0], here[1] - from[1]], [x, y]);
    if (Math.abs(along) <= SAME_SPOT) continue;
    const at = add(from, [x, y], along);
    if (distance(at, here) > reach) continue;
    // The grid is kept across where the way goes across, else down: roads stand on rows.
    const axis = y === 0 ? 0 : 1;
    const step = grid > 0 ? Math.round(at[axis] / grid) * grid : at[axis];
    const pace = axis === 0 ? x : y;
    const on = Math.abs(pace) < LEAST_PACE ? at : add(from, [x, y], (step - from[axis]) / pace);
    const to = distance(on, at) <= reach && distance(on, from) > SAME_SPOT ? on : at;
    offer(to, [], [from]);
  }
}

function findGrid(_: SnapContext, here: Spot, { grid = GRID }: SnapOptions, offer: Offer): void {
  if (!(grid > 0)) return;
  const [left, top] = [Math.floor(here[0] / grid) * grid, Math.floor(here[1] / grid) * grid];
  for (const x of [left, left + grid]) for (const y of [top, top + grid]) offer([x, y], []);
}
