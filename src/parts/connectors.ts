import type { Ampere, Millimetre, Spot } from '../units/index.ts';
import { NEIGHBOUR_PITCHES } from './tolerances.ts';
import type { ConnectorPart } from './types.ts';

/**
 * Multi-pin connectors: where each way sits on the mating face of the plug, pins towards the reader, x to the right and
 * y down, millimetres. The socket's face, and the solder side of the plug, are this mirrored left to right.
 */

type Family = ConnectorPart['family'];

/** Distance between ways of a row; of a DIN circle, the chord between two of its pins. */
const PITCH: Readonly<Record<Family, Millimetre>> = { dsub: 2.77, header: 2.54, screw: 5.08, din: 2.68 };
const DSUB_ROWS: Millimetre = 2.84;
/** Radius of the circle on which the pins of a DIN plug stand. From memory. */
const DIN_RADIUS: Millimetre = 3.5;

const rounded = (millimetres: number): Millimetre => Math.round(millimetres * 1000) / 1000;

/** Wide row up, way 1 at its left end and at the origin; each row counts from the left; every other row is set in by half a pitch. */
function dsubSpots(rows: readonly number[]): Spot[] {
  return rows.flatMap((count, row) =>
    Array.from(
      { length: count },
      (_, i): Spot => [rounded(PITCH.dsub * (i + (row % 2) / 2)), rounded(DSUB_ROWS * row)],
    ),
  );
}

/** Odd ways in the lower row from the left, even ways above them. */
function headerSpots(ways: number): Spot[] {
  return Array.from(
    { length: ways },
    (_, i): Spot => [rounded(PITCH.header * Math.floor(i / 2)), i % 2 === 0 ? PITCH.header : 0],
  );
}

function screwSpots(ways: number): Spot[] {
  return Array.from({ length: ways }, (_, i): Spot => [rounded(PITCH.screw * i), 0]);
}

/** Pins round the circle in order, 45 degrees apart. On the plug's face they run from right to left over the top. */
const DIN_ORDER: Readonly<Record<number, readonly number[]>> = { 5: [1, 4, 2, 5, 3], 8: [6, 1, 4, 2, 5, 3, 7] };
/** Of eight ways the last stands in the middle. */
const DIN_MIDDLE = 8;

function dinSpots(ways: 5 | 8): Spot[] {
  const order = DIN_ORDER[ways] ?? [];
  const one = order.indexOf(1);
  return Array.from({ length: ways }, (_, i): Spot => {
    if (i + 1 === DIN_MIDDLE) return [0, 0];
    const angle = (Math.PI / 4) * (order.indexOf(i + 1) - one);
    return [rounded(DIN_RADIUS * Math.cos(angle)) + 0, rounded(-DIN_RADIUS * Math.sin(angle)) + 0];
  });
}

function connector(
  family: Family,
  name: string,
  amps: Ampere,
  at: readonly Spot[],
  price: number,
  source: string,
): ConnectorPart {
  return {
    kind: 'connector',
    id: `${family}-${at.length}`,
    name: `${at.length}-way ${name}`,
    price,
    source,
    family,
    ways: at.length,
    amps,
    at,
  };
}

const DSUB_SOURCE =
  'positions: IEC 60807-3 (DIN 41652) as drawn in an open footprint library; amps with all ways loaded and price from memory';
const HEADER_SOURCE =
  'positions: IEC 60603-13 (DIN 41651); 1 A a ribbon wire is a published rule of thumb; price from memory';
const SCREW_SOURCE = 'positions and amps: published descriptions of pluggable terminals of 5.08 mm; price from memory';
const DIN_SOURCE = 'order of the pins, circle, amps and price from memory';

const DSUBS: readonly (readonly [rows: readonly number[], price: number])[] = [
  [[5, 4], 1.8],
  [[8, 7], 2.2],
  [[13, 12], 3],
  [[19, 18], 4.4],
  [[17, 16, 17], 6.2],
];
const HEADER_WAYS: readonly number[] = Array.from({ length: 21 }, (_, i) => 10 + 2 * i);
const SCREW_WAYS: readonly number[] = Array.from({ length: 23 }, (_, i) => 2 + i);

/** Every typical connector; the price is of the pair. */
export const CONNECTORS: readonly ConnectorPart[] = [
  ...DSUBS.map(([rows, price]) => connector('dsub', 'D-subminiature', 3, dsubSpots(rows), price, DSUB_SOURCE)),
  ...HEADER_WAYS.map((ways) =>
    connector('header', 'ribbon header', 1, headerSpots(ways), Math.round(50 + 5 * ways) / 100, HEADER_SOURCE),
  ),
  ...SCREW_WAYS.map((ways) =>
    connector('screw', 'pluggable screw terminal', 12, screwSpots(ways), Math.round(30 * ways) / 100, SCREW_SOURCE),
  ),
  connector('din', 'DIN plug and socket', 2, dinSpots(5), 2, DIN_SOURCE),
  connector('din', 'DIN plug and socket', 2, dinSpots(8), 2.6, DIN_SOURCE),
];

/**
 * The ways next to one, rising: those that solder can bridge or a hand mistake for it. Within 1.2 pitches on the mating
 * face; of a DIN plug the one before and the one after on the circle, and its middle pin is next to all.
 * Empty for a way that the connector does not have.
 */
export function neighbours(connector: ConnectorPart, way: number): readonly number[] {
  const here = connector.at[way - 1];
  if (here === undefined) return [];
  const others = connector.at.map((_, i) => i + 1).filter((other) => other !== way);
  if (connector.family === 'din') {
    const order = DIN_ORDER[connector.ways] ?? [];
    return others.filter(
      (other) =>
        way === DIN_MIDDLE || other === DIN_MIDDLE || Math.abs(order.indexOf(way) - order.indexOf(other)) === 1,
    );
  }
  const reach = NEIGHBOUR_PITCHES * PITCH[connector.family];
  return others.filter((other) => {
    const there = connector.at[other - 1];
    return there !== undefined && Math.hypot(there[0] - here[0], there[1] - here[1]) <= reach;
  });
}
