/** Lines on the face as SVG path text, and how far things are from them. Millimetres throughout, y down. */
import type { Stroke } from '../../face/index.ts';
import type { Millimetre, Spot } from '../../units/index.ts';

/** Shorter than this a stretch between two corners is no stretch: a thousandth of a millimetre is far below a pixel. */
const NO_LENGTH: Millimetre = 0.001;

const num = (value: number): string => String(Math.round(value * 1000) / 1000);
const spot = ([x, y]: Spot): string => `${num(x)} ${num(y)}`;

/** SVG path text of a strip's strokes, which follow one another. Empty for no strokes. */
export function strokePath(strokes: readonly Stroke[]): string {
  let text = '';
  let end: Spot | null = null;
  for (const stroke of strokes) {
    const joins = end !== null && Math.hypot(end[0] - stroke.from[0], end[1] - stroke.from[1]) < NO_LENGTH;
    if (!joins) text += `M${spot(stroke.from)}`;
    const radius = stroke.kind === 'arc' ? num(stroke.radius) : '';
    text +=
      stroke.kind === 'line'
        ? `L${spot(stroke.to)}`
        : `A${radius} ${radius} 0 0 ${stroke.clockwise ? 1 : 0} ${spot(stroke.to)}`;
    end = stroke.to;
  }
  return text;
}

/**
 * SVG path text of a line through corners with bends of `radius`.
 * A bend that would take more than half of a stretch is made tighter, so that two bends never meet.
 */
export function bentPath(corners: readonly Spot[], radius: Millimetre): string {
  const clean = corners.filter((corner, i) => {
    const before = corners[i - 1];
    return before === undefined || Math.hypot(corner[0] - before[0], corner[1] - before[1]) >= NO_LENGTH;
  });
  const first = clean[0];
  const last = clean.at(-1);
  if (first === undefined || last === undefined || clean.length < 2) return '';
  let text = `M${spot(first)}`;
  for (let i = 1; i < clean.length - 1; i++) {
    const before = clean[i - 1];
    const at = clean[i];
    const after = clean[i + 1];
    if (before === undefined || at === undefined || after === undefined) continue;
    text += bend(before, at, after, radius);
  }
  return `${text}L${spot(last)}`;
}

function bend(before: Spot, at: Spot, after: Spot, radius: Millimetre): string {
  const into: Spot = [at[0] - before[0], at[1] - before[1]];
  const out: Spot = [after[0] - at[0], after[1] - at[1]];
  const lengthIn = Math.hypot(...into);
  const lengthOut = Math.hypot(...out);
  const cross = into[0] * out[1] - into[1] * out[0];
  const turn = Math.atan2(cross, into[0] * out[0] + into[1] * out[1]);
  const half = Math.tan(Math.abs(turn) / 2);
  // Straight on: no bend to draw. A thousandth of a radian moves a bend of 9 mm by less than 5 micrometres.
  if (half < 0.0005) return `L${spot(at)}`;
  const reach = Math.min(radius * half, lengthIn / 2, lengthOut / 2);
  const tight = num(reach / half);
  const start: Spot = [at[0] - (into[0] / lengthIn) * reach, at[1] - (into[1] / lengthIn) * reach];
  const end: Spot = [at[0] + (out[0] / lengthOut) * reach, at[1] + (out[1] / lengthOut) * reach];
  return `L${spot(start)}A${tight} ${tight} 0 0 ${turn > 0 ? 1 : 0} ${spot(end)}`;
}

/** Length of the line through corners, bends not counted. */
export function pathLength(corners: readonly Spot[]): Millimetre {
  let length = 0;
  corners.forEach((corner, i) => {
    const before = corners[i - 1];
    if (before !== undefined) length += Math.hypot(corner[0] - before[0], corner[1] - before[1]);
  });
  return length;
}

/** How near a spot is to the line through corners, and how far along it the nearest place lies. */
export function nearestOn(
  at: Spot,
  corners: readonly Spot[],
): { readonly gap: Millimetre; readonly along: Millimetre } {
  let best = { gap: Number.POSITIVE_INFINITY, along: 0 };
  let run = 0;
  corners.forEach((to, i) => {
    const from = corners[i - 1];
    if (from === undefined) return;
    const dx = to[0] - from[0];
    const dy = to[1] - from[1];
    const length = Math.hypot(dx, dy);
    const share =
      length < NO_LENGTH
        ? 0
        : Math.min(1, Math.max(0, ((at[0] - from[0]) * dx + (at[1] - from[1]) * dy) / length ** 2));
    const gap = Math.hypot(at[0] - from[0] - share * dx, at[1] - from[1] - share * dy);
    if (gap < best.gap) best = { gap, along: run + share * length };
    run += length;
  });
  return best;
}
