/** Spots on the face as a hand types them, for whoever lays by keys or to exact figures. */
import type { Millimetre, Spot } from '../../units/index.ts';
import { readDegrees, readLength } from './lengths.ts';
import type { RulerUnit } from './rulers.ts';

/**
 * A way from spot to spot: "60 66", "0 66 to 600 66". A spot is so far across and so far down from the sheet's upper left corner, parted by a
 * space, or by a semicolon where a figure has a space in it. Behind another one it may be told from there: "50" straight right, "50<32" at
 * so many degrees, upwards positive. Null where it cannot be read.
 * @example readSpots('0 66 to 600 66', 'mm') // [[0, 66], [600, 66]]
 */
export function readSpots(text: string, unit: RulerUnit): readonly Spot[] | null {
  const spots: Spot[] = [];
  for (const part of text.trim().split(/\s+to\s+/i)) {
    const spot = readSpot(part.trim(), unit, spots[spots.length - 1] ?? null);
    if (spot === null) return null;
    spots.push(spot);
  }
  return spots;
}

function readSpot(text: string, unit: RulerUnit, from: Spot | null): Spot | null {
  const [far = '', turn, more] = text.split('<');
  if (turn !== undefined) {
    const [length, degrees] = [readLength(far, unit), readDegrees(turn)];
    return length === null || degrees === null || more !== undefined ? null : onwards(from, length, degrees);
  }
  const parts = text.includes(';') ? text.split(';') : text.split(/,?\s+/);
  const [across, down] = parts.map((part) => readLength(part, unit));
  if (across == null || parts.length > 2) return null;
  if (parts.length === 1) return onwards(from, across, 0);
  return down == null ? null : [across, down];
}

/** So far from a spot at such an angle: upwards positive on the sheet, whose y counts down. */
function onwards(from: Spot | null, length: Millimetre, degrees: number): Spot | null {
  if (from === null || !(length > 0)) return null;
  const turn = (degrees * Math.PI) / 180;
  return [from[0] + length * Math.cos(turn), from[1] - length * Math.sin(turn)];
}
