/**
 * Where the number of each hole goes: beside it, clear of other holes, numbers and bodies. Eight places are tried round each;
 * the one that covers least is taken, in a stated order where several are free. One pass, in the order given.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import type { FontRole } from './fonts.ts';
import type { Measure } from './measure.ts';
import type { Anchor } from './page.ts';

/** Left, top, right, bottom. */
export type Box = readonly [Millimetre, Millimetre, Millimetre, Millimetre];

export interface Wanted {
  readonly text: string;
  readonly at: Spot;
  /** What must stay clear round the spot. */
  readonly radius: Millimetre;
  readonly size: Millimetre;
  readonly font: FontRole;
  /** A line that the text should keep off, where there is a choice: the tape at the spot, as its half width. */
  readonly keepOff?: readonly Box[];
}

export interface PlacedLabel {
  readonly text: string;
  readonly at: Spot;
  readonly anchor: Anchor;
  readonly box: Box;
}

function overlap(a: Box, b: Box): number {
  const w = Math.min(a[2], b[2]) - Math.max(a[0], b[0]);
  const h = Math.min(a[3], b[3]) - Math.max(a[1], b[1]);
  return w > 0 && h > 0 ? w * h : 0;
}

/** Capital letters and figures stand so high over the baseline, as a share of the size. */
const CAP = 0.68;
/** Leaving the field costs as much as covering so many square millimetres. */
const OUTSIDE = 40;

/** Place every label; `taken` are boxes to keep off, `field` the area to stay in. */
export function placeLabels(
  measure: Measure,
  wanted: readonly Wanted[],
  taken: readonly Box[],
  field: Box,
): readonly PlacedLabel[] {
  const placed: PlacedLabel[] = [];
  for (const { text, at, radius, size, font, keepOff = [] } of wanted) {
    const width = measure.width(text, font, size);
    const tall = size * CAP;
    const [x, y] = at;
    const d = radius * 0.75;
    const spots: readonly (readonly [Millimetre, Millimetre, Anchor])[] = [
      [x + d + 0.3, y - d, 'start'],
      [x - d - 0.3, y - d, 'end'],
      [x + d + 0.3, y + d + tall, 'start'],
      [x - d - 0.3, y + d + tall, 'end'],
      [x, y - radius - 0.5, 'middle'],
      [x, y + radius + tall + 0.5, 'middle'],
      [x + radius + 0.6, y + tall / 2, 'start'],
      [x - radius - 0.6, y + tall / 2, 'end'],
    ];
    let best: PlacedLabel | null = null;
    let least = Number.POSITIVE_INFINITY;
    for (const [i, [lx, ly, anchor]] of spots.entries()) {
      const left = lx - (anchor === 'start' ? 0 : anchor === 'middle' ? width / 2 : width);
      const box: Box = [left - 0.3, ly - tall - 0.2, left + width + 0.3, ly + 0.2];
      const covers =
        taken.reduce((sum, other) => sum + overlap(box, other), 0) +
        placed.reduce((sum, other) => sum + 2 * overlap(box, other.box), 0);
      const soft = keepOff.reduce((sum, other) => sum + overlap(box, other), 0) * 0.1;
      const out = box[0] < field[0] || box[1] < field[1] || box[2] > field[2] || box[3] > field[3] ? OUTSIDE : 0;
      const cost = covers + soft + out + i * 0.01;
      if (cost < least) {
        least = cost;
        best = { text, at: [lx, ly], anchor, box };
      }
    }
    if (best !== null) placed.push(best);
  }
  return placed;
}
