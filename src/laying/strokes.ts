/** Lines as the tape lies, bends round: how long they are, and the spots on them. */
import type { Stroke } from '../face/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { add, distance, footOn, turned } from './geometry.ts';

/** Of one stroke. */
export function strokeLength(stroke: Stroke): Millimetre {
  return stroke.kind === 'line' ? distance(stroke.from, stroke.to) : stroke.radius * angleOf(stroke);
}

/** Length of a line of strokes, mm: lines and arcs along their middle. */
export function lengthOfStrokes(strokes: readonly Stroke[]): Millimetre {
  return strokes.reduce((sum, stroke) => sum + strokeLength(stroke), 0);
}

/** The spot so far along; beyond the ends, the ends. Null of no strokes. */
export function spotAlongStrokes(strokes: readonly Stroke[], along: Millimetre): Spot | null {
  let left = Math.max(0, along);
  for (const stroke of strokes) {
    const length = strokeLength(stroke);
    if (left <= length) return spotOn(stroke, length === 0 ? 0 : left / length);
    left -= length;
  }
  return strokes[strokes.length - 1]?.to ?? null;
}

/** How far along lies the spot that is nearest a spot; null of no strokes. */
export function alongNearest(strokes: readonly Stroke[], spot: Spot): Millimetre | null {
  let best: { readonly off: Millimetre; readonly along: Millimetre } | null = null;
  let past = 0;
  for (const stroke of strokes) {
    const length = strokeLength(stroke);
    const near = stroke.kind === 'line' ? footOn(stroke.from, stroke.to, spot) : footOnArc(stroke, spot, length);
    if (best === null || near.off < best.off) best = { off: near.off, along: past + near.along };
    past += length;
  }
  return best?.along ?? null;
}

type Arc = Extract<Stroke, { kind: 'arc' }>;

/** Between the two ends of an arc, radians, as it turns. */
function angleOf(arc: Arc): number {
  return turnTo(arc, arc.to);
}

function turnTo({ from, centre, clockwise }: Arc, to: Spot): number {
  const angle = (spot: Spot) => Math.atan2(spot[1] - centre[1], spot[0] - centre[0]);
  const by = (angle(to) - angle(from)) * (clockwise ? 1 : -1);
  return by < 0 ? by + 2 * Math.PI : by;
}

function spotOn(stroke: Stroke, share: number): Spot {
  const { from, to } = stroke;
  if (stroke.kind === 'line') return [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
  const { centre, clockwise } = stroke;
  const by = ((clockwise ? 1 : -1) * share * angleOf(stroke) * 180) / Math.PI;
  return add(centre, turned([from[0] - centre[0], from[1] - centre[1]], by));
}

function footOnArc(arc: Arc, spot: Spot, length: Millimetre): { readonly off: Millimetre; readonly along: Millimetre } {
  const by = turnTo(arc, spot);
  if (by <= angleOf(arc)) return { off: Math.abs(distance(spot, arc.centre) - arc.radius), along: by * arc.radius };
  const [first, last] = [distance(spot, arc.from), distance(spot, arc.to)];
  return first <= last ? { off: first, along: 0 } : { off: last, along: length };
}
