/** Measures on the face: lengths as tape lies, angles at joins, distances between things. Millimetres and degrees, unrounded. */
import { guidePath } from '../face/index.ts';
import { type PanelFile, type Strip, stripBend, stripWidth } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import { acuteAngle, type Box, boxOf, direction, distance, footOn, footOnPath, pathLength } from './geometry.ts';
import { type OnStrip, stripAt, stripOf } from './on-strips.ts';
import { type Picked, recordOf, spotOf } from './picked.ts';
import { lengthOfStrokes } from './strokes.ts';

/** A strip's length as its tape lies, bends round. */
export function lengthOfStrip(strip: Strip): Millimetre {
  return lengthOfStrokes(guidePath(strip.path, stripBend(strip)));
}

/** A strip's length from corner to corner, as routes count it. */
export function cornerLength(strip: Strip): Millimetre {
  return pathLength(strip.path);
}

/** Tape is cut longer by its own width at both ends, to tuck under and to trim, and up to a whole step of this: common practice, no source. */
const CUT_STEP: Millimetre = 10;

/** What is cut from the roll for a strip, mm. */
export function cutLength(strip: Strip): Millimetre {
  return Math.ceil((lengthOfStrip(strip) + 2 * stripWidth(strip)) / CUT_STEP) * CUT_STEP;
}

/** Where a stretch ends on a strip. */
export interface Meeting {
  readonly on: OnStrip;
  /** Between the two, 0 to 90; null where one of them has no length. */
  readonly angle: Degree | null;
}

/** Where a stretch from one spot to another ends on a strip, within half its tape; null where on none. `own`: the strip that it is of. */
export function meetingAt(panel: PanelFile, from: Spot, end: Spot, own: string | null): Meeting | null {
  const on = stripAt(panel, end, 0, new Set(own === null ? [] : [own]));
  if (on === null) return null;
  const [a, b] = [on.strip.path[on.segment], on.strip.path[on.segment + 1]];
  const way = direction(from, end);
  const met = a === undefined || b === undefined ? null : direction(a, b);
  return { on, angle: way === null || met === null ? null : acuteAngle(way, met) };
}

/**
 * The angle at which the end of one strip meets another, 0 to 90, between their segments there. Null where neither end of the first is within
 * half the other's tape of it, or one of them has no length.
 */
export function angleAtJoin(panel: PanelFile, strip: string, onto: string): Degree | null {
  const [one, other] = [stripOf(panel, strip), stripOf(panel, onto)];
  if (one === undefined || other === undefined || one === other) return null;
  const ends = [one.path, [...one.path].reverse()].flatMap(([end, next]) => {
    if (end === undefined || next === undefined) return [];
    const foot = footOnPath(other.path, end);
    return foot === null ? [] : [{ end, next, foot }];
  });
  const [nearest] = ends.sort((a, b) => a.foot.off - b.foot.off);
  if (nearest === undefined || nearest.foot.off > stripWidth(other) / 2) return null;
  const way = direction(nearest.end, nearest.next);
  const [a, b] = [other.path[nearest.foot.segment], other.path[nearest.foot.segment + 1]];
  const met = a === undefined || b === undefined ? null : direction(a, b);
  return way === null || met === null ? null : acuteAngle(way, met);
}

/** The angle between the heel legs of a point, as the plan reads it; null where there is no such point. */
export function angleAtPoint(plan: Plan, point: string): Degree | null {
  return plan.points.find(({ id }) => id === point)?.angle ?? null;
}

/** Between two things or spots: the least, and across and down between the spots where they are nearest. */
export interface Apart {
  readonly distance: Millimetre;
  readonly across: Millimetre;
  readonly down: Millimetre;
  readonly from: Spot;
  readonly to: Spot;
}

/**
 * The distance between two things, or a thing and a spot: middles of lamps, levers, plates; middle lines of strips; edges of platforms and
 * keep-outs. Null where one of them is not there.
 */
export function distanceBetween(panel: PanelFile, one: Picked | Spot, other: Picked | Spot): Apart | null {
  const [a, b] = [linesOf(panel, one), linesOf(panel, other)];
  let best: { readonly from: Spot; readonly to: Spot } | null = null;
  const offer = (from: Spot, to: Spot) => {
    if (best === null || distance(from, to) < distance(best.from, best.to)) best = { from, to };
  };
  for (const [p, q] of a) {
    for (const [r, s] of b) {
      const met = crossingOf(p, q, r, s);
      if (met !== null) offer(met, met);
      offer(p, footOn(r, s, p).at);
      offer(q, footOn(r, s, q).at);
      offer(footOn(p, q, r).at, r);
      offer(footOn(p, q, s).at, s);
    }
  }
  return apart(best);
}

function apart(pair: { readonly from: Spot; readonly to: Spot } | null): Apart | null {
  if (pair === null) return null;
  const { from, to } = pair;
  return { distance: distance(from, to), across: to[0] - from[0], down: to[1] - from[1], from, to };
}

type Line = readonly [Spot, Spot];

/** A thing as straight lines; a spot is one without length. */
function linesOf(panel: PanelFile, thing: Picked | Spot): readonly Line[] {
  if (!('list' in thing)) return [[thing, thing]];
  const record = recordOf(panel, thing);
  if (thing.list === 'strips') {
    const path = record?.path ?? [];
    if (thing.part !== undefined) return path.slice(thing.part, thing.part + 1).map((spot): Line => [spot, spot]);
    if (path.length === 1) return path.map((spot): Line => [spot, spot]);
    return path.slice(1).map((spot, i): Line => [path[i] ?? spot, spot]);
  }
  const at = spotOf(panel, thing);
  if (at === null) return [];
  const size = record?.size;
  if ((thing.list !== 'platforms' && thing.list !== 'keepOut') || typeof size !== 'object') return [[at, at]];
  const box = boxOf([at, [at[0] + size[0], at[1] + size[1]]]);
  return box === null ? [] : edgesOf(box);
}

function edgesOf({ left, top, right, bottom }: Box): readonly Line[] {
  const corners: readonly Spot[] = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
  return corners.map((corner, i): Line => [corner, corners[(i + 1) % 4] ?? corner]);
}

/** Where two lines cross; null where they do not. */
function crossingOf(p: Spot, q: Spot, r: Spot, s: Spot): Spot | null {
  const square = (q[0] - p[0]) * (s[1] - r[1]) - (q[1] - p[1]) * (s[0] - r[0]);
  if (square === 0) return null;
  const t = ((r[0] - p[0]) * (s[1] - r[1]) - (r[1] - p[1]) * (s[0] - r[0])) / square;
  const u = ((r[0] - p[0]) * (q[1] - p[1]) - (r[1] - p[1]) * (q[0] - p[0])) / square;
  return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t] : null;
}
