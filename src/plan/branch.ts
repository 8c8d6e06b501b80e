/** An end on the interior of a strip: which way the branch leaves, or why that cannot be told. */
import type { Spot } from '../units/index.ts';
import type { LineEnd, Meet } from './find-ends.ts';
import { angleBetween, corner, distance, heading, type Line, segmentAt, turn, type Way } from './line.ts';
import type { Port } from './port.ts';
import { ANGLE_SLACK, BRANCH_LEAST, BRANCH_MOST, BRANCH_USUAL, SAME_SPOT } from './tolerances.ts';
import type { PlanProblem } from './types.ts';

/** A branch that can be read. */
export interface Branch {
  readonly end: LineEnd;
  readonly met: Meet;
  /** The way along the met line in which it leaves: the heel is there, the toe the other way. */
  readonly way: Way;
  readonly leg: Port;
}

/**
 * The branch leaves on the side where it makes the acute angle with the met strip, if that is 10 to 75 degrees and a train from the
 * other side would not turn back into it.
 */
export function readBranch(end: LineEnd, met: Meet): Branch | PlanProblem {
  const { line, along } = met;
  const toward = heading(end.line, end.along, end.way, line.half);
  const ahead = angleBetween(toward, heading(line, along, 1, line.half));
  const behind = angleBetween(toward, heading(line, along, -1, line.half));
  const way: Way = ahead <= behind ? 1 : -1;
  const [acute, other] = ahead <= behind ? [ahead, behind] : [behind, ahead];
  const told = { strip: end.line.id, onto: line.id, at: end.spot };
  if (acute > BRANCH_MOST + ANGLE_SLACK) {
    return { code: 'end-too-square', ...told, angle: acute, swingTo: swing(end, met) };
  }
  if (other <= SQUARE) return { code: 'ends-ambiguous', strips: [...new Set([end.line.id, line.id])], at: end.spot };
  if (acute < BRANCH_LEAST - ANGLE_SLACK) return { code: 'end-too-flat', ...told, angle: acute };
  return { end, met, way, leg: { line: end.line, along: end.along, way: end.way, toward } };
}

/** From the toe a train never turns by more than a right angle. */
const SQUARE = 90;

/**
 * Where the end would lie for the branch to make 32 degrees with the segment that it meets: on the side to which it leans, else on the
 * other; where the segment is too short for either, the end as it is.
 */
export function swing(end: LineEnd, met: Meet): Spot {
  const { line, along } = met;
  const i = segmentAt(line, along);
  const a = corner(line, i);
  const b = corner(line, i + 1);
  const length = distance(a, b);
  const u: Spot = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const next = corner(end.line, end.way === 1 ? 1 : end.line.corners.length - 2);
  const foot = (next[0] - a[0]) * u[0] + (next[1] - a[1]) * u[1];
  const height = Math.abs((next[0] - a[0]) * u[1] - (next[1] - a[1]) * u[0]);
  const back = height / Math.tan((BRANCH_USUAL * Math.PI) / 180);
  const here = (end.spot[0] - a[0]) * u[0] + (end.spot[1] - a[1]) * u[1];
  // The end lies behind where its neighbour stands when it leans ahead.
  const sides = here <= foot ? [foot - back, foot + back] : [foot + back, foot - back];
  const clear = clearOfEnds(line, i);
  const to = height <= SAME_SPOT ? undefined : sides.find((t) => t >= clear[0] && t <= length - clear[1]);
  return to === undefined ? end.spot : [a[0] + u[0] * to, a[1] + u[1] * to];
}

/** How far from the segment's two corners an end must lie so as not to join the line's own end, or sit on a corner. */
function clearOfEnds(line: Line, i: number): readonly [number, number] {
  return [i === 0 ? line.half + 2 * SAME_SPOT : 0, i === line.corners.length - 2 ? line.half + 2 * SAME_SPOT : 0];
}

/** The acute angle between two lines, and whether the second direction lies clockwise of the first. */
export function angleOfLines(a: Spot, b: Spot): { readonly acute: number; readonly right: boolean } {
  const angle = angleBetween(a, b);
  return { acute: Math.min(angle, 180 - angle), right: turn(a, b) > 0 };
}
