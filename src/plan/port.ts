/** One way out of a feature. */
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import type { LineEnd } from './find-ends.ts';
import { against, angleBetween, heading, type Line, type Way } from './line.ts';

/** A way along a line from a spot on it. */
export interface Port {
  readonly line: Line;
  readonly along: Millimetre;
  readonly way: Way;
  /** Unit direction away from the feature. */
  readonly toward: Spot;
}

/** The way from an end into its strip, as seen over `reach`. */
export function portOf(end: LineEnd, reach: Millimetre): Port {
  return { line: end.line, along: end.along, way: end.way, toward: heading(end.line, end.along, end.way, reach) };
}

/** How far two ways out of a spot are from one straight line, 0 to 180. */
export function bend(a: Port, b: Port): Degree {
  return angleBetween(against(a.toward), b.toward);
}
