/** Strips that carry on into one another as one line, with how far along it each of their spots lies. */
import type { Millimetre } from '../units/index.ts';
import { byId } from './by-id.ts';
import type { Features, PortSpot } from './features-of.ts';
import { corner, distance, type Line } from './line.ts';
import type { StripSpot } from './strip-map.ts';
import { NUMBERING_STEP } from './tolerances.ts';
import type { Plan } from './types.ts';

/** A spot of a line; lines are named by the least id of their strips and run as that one was laid. */
export interface LineSpot {
  readonly line: string;
  readonly along: Millimetre;
}

/** Ends of strips are `id.0` and `id.1`. */
type EndKey = string;

/** Where a spot of a strip lies on its line. Strips carry on through butts, past toes into normal legs, and straight over crossings. */
export function layLines(
  plan: Plan,
  { points, crossings }: Features,
  lines: ReadonlyMap<string, Line>,
): (spot: Pick<StripSpot, 'strip' | 'along'>) => LineSpot {
  const next = new Map<EndKey, EndKey>();
  const link = (a: EndKey | null, b: EndKey | null) => {
    if (a === null || b === null || a === b || next.has(a) || next.has(b)) return;
    next.set(a, b).set(b, a);
  };
  const endOf = ({ strip, along, way }: PortSpot): EndKey | null => {
    if (way === 1 && along <= NUMBERING_STEP) return `${strip}.0`;
    return way === -1 && along >= (lines.get(strip)?.length ?? Infinity) - NUMBERING_STEP ? `${strip}.1` : null;
  };
  for (const { at, strips } of plan.butts) {
    const [a, b] = [lines.get(strips[0]), lines.get(strips[1])];
    if (a === undefined || b === undefined || a === b) continue;
    const nearest = (line: Line): EndKey => {
      const last = corner(line, line.corners.length - 1);
      return `${line.id}.${distance(corner(line, 0), at) <= distance(last, at) ? 0 : 1}`;
    };
    link(nearest(a), nearest(b));
  }
  for (const { toe, legs, normal } of points) {
    const leg = legs[normal];
    if (leg !== undefined) link(endOf(toe), endOf(leg));
  }
  for (const crossing of crossings) for (const [a, b] of crossing.lines) link(endOf(a), endOf(b));

  const laid = new Map<string, { readonly line: string; readonly start: Millimetre; readonly sign: 1 | -1 }>();
  for (const id of [...lines.keys()].sort(byId)) {
    if (laid.has(id)) continue;
    walk(id, 1);
    walk(id, -1);
  }
  return ({ strip, along }) => {
    const found = laid.get(strip);
    return found === undefined ? { line: strip, along } : { line: found.line, along: found.start + found.sign * along };
  };

  /** From the least strip of a line on past its end, or back past its beginning. */
  function walk(first: string, way: 1 | -1): void {
    laid.set(first, { line: first, start: 0, sign: 1 });
    let here = way === 1 ? (lines.get(first)?.length ?? 0) : 0;
    let end: EndKey = `${first}.${way === 1 ? 1 : 0}`;
    for (;;) {
      const met = next.get(end);
      if (met === undefined) return;
      const strip = met.slice(0, -2);
      if (laid.has(strip)) return;
      const length = lines.get(strip)?.length ?? 0;
      const fromStart = met.endsWith('.0');
      const sign = fromStart === (way === 1) ? 1 : -1;
      laid.set(strip, { line: first, start: fromStart ? here : here - sign * length, sign });
      here += way * length;
      end = `${strip}.${fromStart ? 1 : 0}`;
    }
  }
}
