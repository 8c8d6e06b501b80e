/** Where trains are drawn on the face: markers along their roads, in order, each with the way that its head points. */
import { alongSpan, type Plan } from '../plan/index.ts';
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import { isLeftToRight, placeAhead, standsOf } from './train-stands.ts';
import type { Standing } from './train-types.ts';
import { trainWays } from './train-ways.ts';

export interface TrainMark {
  readonly train: string;
  /** The marker's middle, on its road. */
  readonly at: Spot;
  /** Of the road there, from left to right (straight up and down: downwards), clockwise from straight right: -90 to 90. */
  readonly angle: Degree;
  readonly length: Millimetre;
  /** The head points along `angle` (1) or against it (-1); 0: not given. */
  readonly heads: 1 | -1 | 0;
}

/** A marker, what is left free between two and at the end of a road, and the least that a marker shrinks to: mm on the face. */
const MARK = { length: 24, gap: 2, end: 5, least: 9 };

/** Markers in the order of the standing; those of trains that stand at no place of the plan are left out. */
export function trainMarks(plan: Plan, standing: Standing): readonly TrainMark[] {
  const ways = trainWays(plan);
  const known = standing.filter(({ stands }) => plan.places.some(({ id }) => id === stands));
  const { stands } = standsOf(plan, ways, known);
  if (stands === null) return [];
  const spans = new Map(plan.spans.map((span) => [span.id, span]));
  const marks = new Map<string, TrainMark>();
  for (const [number, row] of stands.rows.entries()) {
    const place = plan.places[number];
    const span = spans.get(place?.span ?? '');
    if (place === undefined || span === undefined || row.length === 0) continue;
    const right = isLeftToRight(plan, number);
    const room = Math.max(0, span.length - 2 * MARK.end);
    const gaps = (row.length - 1) * MARK.gap;
    const length = Math.max(MARK.least, Math.min(MARK.length, (room - gaps) / row.length));
    const total = row.length * length + gaps;
    // At a free end they stand from it inwards, on a road about its spot.
    const middle =
      place.kind === 'road'
        ? place.along
        : place.along <= 0
          ? MARK.end + total / 2
          : span.length - MARK.end - total / 2;
    const start = Math.max(0, Math.min(span.length - total, middle - total / 2));
    for (const [turn, train] of row.entries()) {
      const id = stands.trains[train]?.id ?? '';
      const { at, angle } = alongSpan(span, start + turn * (length + MARK.gap) + length / 2);
      const head = stands.heads[train] ?? null;
      // Heading 0 is toward the span's end 1.
      const along = head === null ? 0 : head === 0 ? 1 : -1;
      marks.set(id, {
        train: id,
        at,
        angle: right ? angle : turned(angle),
        length,
        heads: along === 0 ? 0 : (along === 1) === right ? 1 : -1,
      });
    }
  }
  return known.flatMap(({ id }) => marks.get(id) ?? []);
}

/** The same line, the other way. */
function turned(angle: Degree): Degree {
  return angle > 0 ? angle - 180 : angle + 180;
}

/** Which way a train can head at a place: ids of places that lie that way alone; the place itself at its own free end; null where none does. */
export interface PlaceHeadings {
  readonly place: string;
  /** On a road that runs straight up and down: upwards, and downwards. */
  readonly left: string | null;
  readonly right: string | null;
}

/** The headings of all places, in their order. */
export function placeHeadings(plan: Plan): readonly PlaceHeadings[] {
  const ways = trainWays(plan);
  return plan.places.map(({ id }, i) => {
    const [one, other] = [placeAhead(plan, ways, i, 0), placeAhead(plan, ways, i, 1)];
    return isLeftToRight(plan, i) ? { place: id, left: other, right: one } : { place: id, left: one, right: other };
  });
}
