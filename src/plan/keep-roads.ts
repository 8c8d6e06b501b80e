/** Where the records of named roads go after an edit: on their piece of strip, clear of what would read them as something else. */
import type { Millimetre, Spot } from '../units/index.ts';
import type { EndFeature } from './features-of.ts';
import { distance, type Line, spotAlong } from './line.ts';
import { recordReach } from './match-records.ts';
import { rounded } from './records-to-add.ts';
import { footOn } from './segment-grid.ts';
import type { StripSpot } from './strip-map.ts';
import { NUMBERING_STEP, ROAD_SHIFT, ROAD_SHIFT_MOST, SAME_SPOT } from './tolerances.ts';
import type { Span } from './types.ts';

/** The strip that a spot of a span lies on, and how far along it; null beyond the span. */
export function stripAt(span: Span, along: Millimetre): StripSpot | null {
  let start = 0;
  for (const [i, { strip, from, to }] of span.stretches.entries()) {
    const length = Math.abs(to - from);
    if (along <= start + length || i === span.stretches.length - 1) {
      const on = Math.min(length, Math.max(0, along - start));
      return { strip, along: to >= from ? from + on : from - on, way: 0 };
    }
    start += length;
  }
  return null;
}

export interface RoadRoom {
  /**
   * The spot nearest to one on a strip where a record reads as that road and no other lies, to 0.01 mm; null where there is none. The
   * spot is kept from the roads to come.
   */
  take(spot: StripSpot): [number, number] | null;
}

/** Room for roads on the strips after an edit. `lineOf`: strips that butt onto each other are one line. */
export function roomForRoads(
  lines: ReadonlyMap<string, Line>,
  ends: readonly EndFeature[],
  lineOf: (strip: string) => string,
): RoadRoom {
  const taken: Spot[] = [];
  const endsOf = new Map<string, Spot[]>();
  for (const { at, port } of ends) endsOf.set(port.strip, [...(endsOf.get(port.strip) ?? []), at]);
  const boxes = [...lines.values()].map((line) => ({ line, box: boxOf(line) }));

  const reads = (at: Spot, own: Line): boolean => {
    if (endNear(own, at)) return false;
    if (taken.some((other) => distance(other, at) <= 2 * NUMBERING_STEP)) return false;
    const off = offFrom(own, at);
    return boxes.every(({ line, box }) => {
      if (line === own) return true;
      const [left, top, right, bottom] = box;
      if (at[0] < left - 1 || at[0] > right + 1 || at[1] < top - 1 || at[1] > bottom + 1) return true;
      if (offFrom(line, at) > off + NUMBERING_STEP) return true;
      return lineOf(line.id) === lineOf(own.id) && !endNear(line, at);
    });
  };
  const endNear = (line: Line, at: Spot) =>
    (endsOf.get(line.id) ?? []).some((end) => distance(end, at) <= recordReach(line.half) + NUMBERING_STEP);

  return {
    take({ strip, along }) {
      const line = lines.get(strip);
      if (line === undefined) return null;
      for (let off = 0; off <= Math.min(line.length, ROAD_SHIFT_MOST); off += ROAD_SHIFT) {
        for (const there of off === 0 ? [along] : [along + off, along - off]) {
          if (there < -SAME_SPOT || there > line.length + SAME_SPOT) continue;
          const at = rounded(spotAlong(line, there));
          if (!reads(at, line)) continue;
          taken.push(at);
          return at;
        }
      }
      return null;
    },
  };
}

function boxOf({ corners }: Line): readonly [number, number, number, number] {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of corners) {
    [left, top] = [Math.min(left, x), Math.min(top, y)];
    [right, bottom] = [Math.max(right, x), Math.max(bottom, y)];
  }
  return [left, top, right, bottom];
}

function offFrom(line: Line, at: Spot): Millimetre {
  let least = Infinity;
  for (let i = 0; i + 1 < line.corners.length; i++) {
    const [a, b] = [line.corners[i], line.corners[i + 1]];
    if (a === undefined || b === undefined) continue;
    const foot = footOn({ line, i, a, b, from: line.marks[i] ?? 0, length: distance(a, b) }, at);
    least = Math.min(least, foot.distance);
  }
  return least;
}
