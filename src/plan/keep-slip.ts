/** A slip's record after its strips have moved: its two ends keep their ids, its normal way and its curve stay what they were. */
import type { CrossingRecord } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import type { CrossingFeature, PortSpot, SlipEnds } from './features-of.ts';
import { angleBetween, compareSpots, distance } from './line.ts';
import { rounded } from './records-to-add.ts';
import type { StripMap } from './strip-map.ts';
import { NUMBERING_STEP, SAME_SPOT } from './tolerances.ts';

/** What changes in a slip's record besides where it is; `undefined`: the key is absent. */
export interface SlipPatch {
  readonly ends?: CrossingRecord['ends'];
  readonly normal?: string | undefined;
  readonly curve?: [number, number];
}

export function keepSlip(
  record: CrossingRecord,
  before: CrossingFeature & { readonly slip: SlipEnds },
  after: CrossingFeature,
  map: StripMap,
): SlipPatch {
  const { slip } = before;
  const main = [slip.first[0], slip.second[0]] as const;
  const other = [slip.first[1], slip.second[1]] as const;
  const [one, two] = after.lines;
  const swapped =
    likeness(main, two, map) + likeness(other, one, map) > likeness(main, one, map) + likeness(other, two, map);
  const [m1, m2] = faced(main, swapped ? two : one, map);
  const [o1, o2] = faced(other, swapped ? one : two, map);

  // Legs of one end lie at the acute angle; past square the end stays with its leg of the main line.
  const together = angleBetween(m1.toward, o1.toward) <= 90;
  const first = between(m1, together ? o1 : o2);
  const second = between(m2, together ? o2 : o1);
  const ends = slip.ids.map((id, i) => record.ends?.[i] ?? { id });
  if (compareSpots(first, second, SAME_SPOT) > 0) ends.reverse();
  if (slip.single) return { ends, ...curveOf(record, before.at, after.at, m1, o2) };

  const { strips } = after;
  const meant = record.normal === undefined ? 0 : strips.indexOf(record.normal);
  const wanted = swapped ? 1 : 0;
  return meant === wanted || strips[0] === strips[1] ? { ends } : { ends, normal: strips[wanted] };
}

/** Of a slip that could not be read before nothing is known but how far its curve lay from it. */
export function shiftCurve(record: CrossingRecord, was: Spot, is: Spot): SlipPatch {
  const { curve } = record;
  if (curve === undefined || distance(was, is) <= NUMBERING_STEP) return {};
  return { curve: rounded([curve[0] + is[0] - was[0], curve[1] + is[1] - was[1]]) };
}

/** Beside the wide side between the two legs that the curve joins: as far off as it was, and just where it was to the slip if that will do. */
function curveOf(record: CrossingRecord, was: Spot, is: Spot, m1: PortSpot, o2: PortSpot): SlipPatch {
  const { curve } = record;
  if (curve === undefined) return {};
  const off: Spot = [curve[0] - was[0], curve[1] - was[1]];
  const middle = between(m1, o2);
  const wide = angleBetween(m1.toward, o2.toward);
  if (angleBetween(off, middle) < wide / 2) return shiftCurve(record, was, is);
  const far = Math.hypot(off[0], off[1]);
  return { curve: rounded([is[0] + middle[0] * far, is[1] + middle[1] * far]) };
}

function between(a: PortSpot, b: PortSpot): Spot {
  const [x, y] = [a.toward[0] + b.toward[0], a.toward[1] + b.toward[1]];
  const length = Math.hypot(x, y);
  return length === 0 ? [0, 0] : [x / length, y / length];
}

type Pair = readonly [PortSpot, PortSpot];

/** The two ways out of a line after in the order of the two before. */
function faced(pair: Pair, line: Pair, map: StripMap): Pair {
  const straight = alike(pair[0], line[0], map) + alike(pair[1], line[1], map);
  const turned = alike(pair[0], line[1], map) + alike(pair[1], line[0], map);
  return turned > straight ? [line[1], line[0]] : line;
}

function likeness(pair: Pair, line: Pair, map: StripMap): number {
  return Math.max(
    alike(pair[0], line[0], map) + alike(pair[1], line[1], map),
    alike(pair[0], line[1], map) + alike(pair[1], line[0], map),
  );
}

/** First by strip and way along it, then by where on it, last by direction on the face: each counts less than the one before. */
function alike(port: PortSpot, after: PortSpot, map: StripMap): number {
  const there = map.carry(port);
  const direction = (port.toward[0] * after.toward[0] + port.toward[1] * after.toward[1]) / 100;
  if (there === null || there.strip !== after.strip) return direction;
  return (there.way === after.way ? 4 : 2) + 1 / (1 + Math.abs(there.along - after.along)) + direction;
}
