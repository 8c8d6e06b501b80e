/**
 * Formations of the trade laid in one gesture, as ordinary strips that join at 32 degrees: a strip, a spot on it, a second spot. All answers
 * are null where the strip gives no room for it; what is laid reads back as the points that were meant.
 */
import { type Edit, editOf, type PanelFile, type Strip, stripWidth, type Transaction } from '../panel/index.ts';
import { BRANCH_LEAST, BRANCH_MOST, BRANCH_USUAL } from '../plan/index.ts';
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import { finish, freshNames, planOf } from './edits.ts';
import {
  acuteAngle,
  add,
  cross,
  direction,
  distance,
  dot,
  footOnPath,
  meetOf,
  type PathFoot,
  pathLength,
  spotAlongPath,
  turned,
  writtenSpot,
} from './geometry.ts';
import { stripAt, stripOf } from './on-strips.ts';
import { newStrip, type StripLook } from './strips.ts';
import {
  BRANCH_ROOM,
  DOUBLES_BACK,
  LEAST_STRIP,
  MOST_ROADS,
  ROAD_APART,
  SAME_SPOT,
  STRIP_REACH,
} from './tolerances.ts';

/** Seen by one who looks from the first spot along the strip to the second. */
export type Side = 'left' | 'right';

/** Where a formation goes: from a spot on a strip toward a second one. */
export interface Gesture {
  readonly strip: string;
  readonly from: Spot;
  readonly to: Spot;
}

const SLOPE = Math.tan((BRANCH_USUAL * Math.PI) / 180);

/**
 * A loop beside a strip, from one spot of it to the other, its road `apart` mm off (24 unless said otherwise), following the strip's corners.
 * Two points. Null where the two spots are too near each other for it.
 */
export function layLoop(
  panel: PanelFile,
  { strip, from, to }: Gesture,
  { apart = ROAD_APART, side = 'right', look = {} }: { apart?: Millimetre; side?: Side; look?: StripLook } = {},
): Transaction | null {
  const at = gestureOn(panel, strip, from, to);
  if (at === null || !(apart > stripWidth(at.strip))) return null;
  const run = apart / SLOPE;
  const { path, a, b } = at;
  if (b - a <= 2 * run) return null;
  const middle = between(path, a + run, b - run);
  const road = parallel(middle, side === 'right' ? apart : -apart);
  const [first, last] = [spotAlongPath(path, a), spotAlongPath(path, b)];
  if (road === null || first === null || last === null) return null;
  return layAll(panel, [{ path: [first, ...road, last], look: lookLike(at.strip, look) }], 'loop.lay');
}

/**
 * A crossover from a spot on a strip, leaving it toward the second spot at 32 degrees, to the other strip: that named, or the one nearest the
 * second spot. Two points. Null where that way does not meet the other strip between its ends.
 */
export function layCrossover(
  panel: PanelFile,
  { strip, from, to }: Gesture,
  { onto, look = {} }: { onto?: string; look?: StripLook } = {},
): Transaction | null {
  const one = stripOf(panel, strip);
  const other = onto === undefined ? stripAt(panel, to, STRIP_REACH, new Set([strip]))?.strip : stripOf(panel, onto);
  if (one === undefined || other === undefined || one === other) return null;
  const start = onStrip(one, from);
  const goal = footOnPath(other.path, to);
  if (start === null || goal === null) return null;
  const way = leaving(one, start, goal.at);
  if (way === null) return null;
  const meet = firstMeet(other, start.at, way);
  if (meet === null) return null;
  return layAll(panel, [{ path: [start.at, meet], look: lookLike(one, look) }], 'crossover.lay');
}

/**
 * A siding, or the lead of a yard: leaves the strip at the first spot at 32 degrees, then lies beside it as far off as the second spot, and
 * ends there. One point. Null where the second spot is too near the strip or not far enough along.
 */
export function layLead(panel: PanelFile, { strip, from, to }: Gesture, look: StripLook = {}): Transaction | null {
  const one = stripOf(panel, strip);
  const start = one === undefined ? null : onStrip(one, from);
  if (one === undefined || start === null) return null;
  const frame = frameAt(one, start, to);
  if (frame === null || frame.off <= stripWidth(one)) return null;
  const bend = frame.off / SLOPE;
  if (frame.ahead - bend < LEAST_STRIP) return null;
  const path = [start.at, at(frame, bend, frame.off), at(frame, frame.ahead, frame.off)];
  return layAll(panel, [{ path, look: lookLike(one, look) }], 'lead.lay');
}

/**
 * A ladder of so many roads: the lead leaves the strip at the first spot at 32 degrees; each road but the last leaves the lead, the lead itself
 * bends into the last. Roads lie beside the strip, `apart` mm from each other and from it, and end level with the second spot. As many points
 * as roads. Null for fewer than two roads, and where the second spot is not far enough along for the last.
 */
export function layLadder(
  panel: PanelFile,
  { strip, from, to }: Gesture,
  { roads, apart = ROAD_APART, look = {} }: { roads: number; apart?: Millimetre; look?: StripLook },
): Transaction | null {
  const one = stripOf(panel, strip);
  const start = one === undefined ? null : onStrip(one, from);
  if (one === undefined || start === null || !(roads >= 2 && roads <= MOST_ROADS) || !Number.isInteger(roads))
    return null;
  const frame = frameAt(one, start, to);
  if (frame === null || !(apart > stripWidth(one))) return null;
  const step = apart / SLOPE;
  if (frame.ahead - roads * step < LEAST_STRIP) return null;
  const laid = Array.from({ length: roads }, (_, i) => roads - i).map((k) => {
    const corner = at(frame, k * step, k * apart);
    const end = at(frame, frame.ahead, k * apart);
    return { path: k === roads ? [start.at, corner, end] : [corner, end], look: lookLike(one, look) };
  });
  return layAll(panel, laid, 'ladder.lay');
}

/**
 * Where two strips cross, what they make there: a diamond, a slip or a bridge, by a record in `crossings`. `curve`: beside which of its ways
 * a single slip has its curve; without it that on the side of the spot. Null where no crossing is within reach, or it is that already.
 */
export function laySlip(
  panel: PanelFile,
  spot: Spot,
  kind: 'diamond' | 'single-slip' | 'double-slip' | 'over',
  curve: Spot = spot,
): Transaction | null {
  const plan = planOf(panel);
  const near = [
    ...plan.crossings.map(({ id, at: where, kind: now, record }) => ({ id, where, now: now as string, record })),
    ...plan.bridges.map(({ at: where, record }) => ({ id: record.id, where, now: 'over', record })),
  ].sort((a, b) => distance(a.where, spot) - distance(b.where, spot));
  const [found] = near;
  if (found === undefined || distance(found.where, spot) > 2 * STRIP_REACH) return null;
  const ids = freshNames(panel);
  const slip = kind === 'single-slip' || kind === 'double-slip';
  const known = found.record?.ends ?? [];
  const ends = slip ? [known[0] ?? { id: ids.next('P') }, known[1] ?? { id: ids.next('P') }] : undefined;
  const beside = kind === 'single-slip' ? writtenSpot(besideOf(found.where, curve)) : undefined;
  const values = { kind, ...(slip ? { ends } : { ends: undefined }), curve: beside };
  const edit = editOf(panel);
  if (found.record === null) {
    const said = Object.entries(values).filter(([, value]) => value !== undefined);
    edit.add('crossings', {
      id: found.id,
      at: writtenSpot(found.where),
      ...Object.fromEntries(said),
    });
  } else {
    if (found.now === kind && kind !== 'single-slip') return null;
    edit.update('crossings', found.record.id, values as object);
  }
  return finish(panel, edit, 'crossing.set');
}

/** A spot beside the crossing, so far off that it says on which side. */
function besideOf(where: Spot, toward: Spot): Spot {
  const way = direction(where, toward) ?? [0, -1];
  return add(where, way, Math.max(STRIP_REACH, distance(where, toward)));
}

interface Wanted {
  readonly path: readonly Spot[];
  readonly look: StripLook;
}

function layAll(panel: PanelFile, wanted: readonly Wanted[], name: string): Transaction | null {
  const ids = freshNames(panel);
  const edit: Edit = editOf(panel);
  for (const { path, look } of wanted) {
    const strip = newStrip(panel, ids.next('strip-'), path, look);
    if (strip === null) return null;
    edit.add('strips', strip);
  }
  return finish(panel, edit, name);
}

/** What is laid from a strip is of its tape. */
function lookLike({ width, tape, bend }: Strip, look: StripLook): StripLook {
  return { width, tape, bend, ...look };
}

/** The spot of a strip's interior nearest a spot; null within half the tape's width of an end, where it would be a butt. */
function onStrip(strip: Strip, spot: Spot): PathFoot | null {
  const foot = footOnPath(strip.path, spot);
  const half = stripWidth(strip) / 2 + SAME_SPOT;
  if (foot === null || !(foot.along > half && foot.along < pathLength(strip.path) - half)) return null;
  return { ...foot, at: writtenSpot(foot.at) };
}

/** A strip's path as it runs from the first spot to the second, and how far along both lie. */
function gestureOn(panel: PanelFile, id: string, from: Spot, to: Spot) {
  const strip = stripOf(panel, id);
  if (strip === undefined) return null;
  const [one, two] = [onStrip(strip, from), onStrip(strip, to)];
  if (one === null || two === null) return null;
  if (one.along < two.along) return { strip, path: strip.path, a: one.along, b: two.along };
  const length = pathLength(strip.path);
  return { strip, path: [...strip.path].reverse(), a: length - one.along, b: length - two.along };
}

/** Corners of a path from one length along it to another, both spots included. */
function between(path: readonly Spot[], from: Millimetre, to: Millimetre): readonly Spot[] {
  const [first, last] = [spotAlongPath(path, from), spotAlongPath(path, to)];
  const corners: Spot[] = first === null ? [] : [first];
  let past = 0;
  path.forEach((spot, i) => {
    past += distance(path[i - 1] ?? spot, spot);
    if (past > from + SAME_SPOT && past < to - SAME_SPOT) corners.push(spot);
  });
  return last === null ? corners : [...corners, last];
}

/** A path beside another, to its right by so much (to its left where it is negative); null where it doubles back. */
function parallel(path: readonly Spot[], off: Millimetre): readonly Spot[] | null {
  const ways = path.slice(1).map((spot, i) => direction(path[i] ?? spot, spot));
  const beside: Spot[] = [];
  for (const [i, spot] of path.entries()) {
    const [into, out] = [ways[i - 1] ?? ways[i], ways[i] ?? ways[i - 1]];
    if (!into || !out) return null;
    const open = 1 + dot(into, out);
    if (open < DOUBLES_BACK) return null;
    const square: Spot = [-(into[1] + out[1]) / open, (into[0] + out[0]) / open];
    beside.push(add(spot, square, off));
  }
  // Inside a bend a segment shorter than the turn would run backwards.
  const runs = beside.slice(1).every((spot, i) => {
    const [way, was] = [direction(beside[i] ?? spot, spot), ways[i]];
    return way !== null && was != null && dot(way, was) > 0;
  });
  return runs ? beside : null;
}

/** A strip's own directions at a spot of it: along toward a second spot, and square to it on that spot's side. */
interface Frame {
  readonly origin: Spot;
  readonly along: Spot;
  readonly square: Spot;
  /** Of the second spot. */
  readonly ahead: Millimetre;
  readonly off: Millimetre;
}

function frameAt(strip: Strip, start: PathFoot, to: Spot): Frame | null {
  const [a, b] = [strip.path[start.segment], strip.path[start.segment + 1]];
  const way = a === undefined || b === undefined ? null : direction(a, b);
  if (way === null) return null;
  const toward: Spot = [to[0] - start.at[0], to[1] - start.at[1]];
  const along: Spot = dot(toward, way) >= 0 ? way : [-way[0], -way[1]];
  const hand = cross(along, toward) >= 0 ? 1 : -1;
  const square: Spot = [-along[1] * hand, along[0] * hand];
  return { origin: start.at, along, square, ahead: dot(toward, along), off: dot(toward, square) };
}

function at({ origin, along, square }: Frame, ahead: Millimetre, off: Millimetre): Spot {
  return add(add(origin, along, ahead), square, off);
}

/** The direction at 32 degrees from a strip, toward a spot. */
function leaving(strip: Strip, start: PathFoot, to: Spot): Spot | null {
  const frame = frameAt(strip, start, to);
  if (frame === null || frame.off <= stripWidth(strip)) return null;
  const hand = cross(frame.along, frame.square) > 0 ? 1 : -1;
  return turned(frame.along, hand * BRANCH_USUAL);
}

/** Where a way first meets a strip's interior at an angle that is read as a point. */
function firstMeet(strip: Strip, from: Spot, way: Spot): Spot | null {
  const half = stripWidth(strip) / 2 + SAME_SPOT;
  const length = pathLength(strip.path);
  let best: { readonly at: Spot; readonly ahead: Millimetre } | null = null;
  let past = 0;
  for (let i = 0; i + 1 < strip.path.length; i++) {
    const [a, b] = [strip.path[i], strip.path[i + 1]];
    if (a === undefined || b === undefined) continue;
    const own = distance(a, b);
    const meet = meetOf(from, way, a, b);
    const other = direction(a, b);
    if (meet !== null && other !== null && meet.ahead > LEAST_STRIP && meet.along >= 0 && meet.along <= own) {
      const angle: Degree = acuteAngle(way, other);
      const along = past + meet.along;
      const inside = along > half && along < length - half;
      if (
        inside &&
        angle >= BRANCH_LEAST + BRANCH_ROOM &&
        angle <= BRANCH_MOST &&
        (best === null || meet.ahead < best.ahead)
      )
        best = { at: meet.at, ahead: meet.ahead };
    }
    past += own;
  }
  return best?.at ?? null;
}
