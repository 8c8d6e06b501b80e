/** What a plan has at its joints, told by the pieces of strip that lead away from each: what a thing is, whatever it is called. */
import type { Spot } from '../units/index.ts';
import { against, clockwise, compareSpots, distance, type Line } from './line.ts';
import type { StripSpot } from './strip-map.ts';
import { NUMBERING_STEP, SAME_SPOT } from './tolerances.ts';
import type { Plan, PlanCrossing, PlanPoint, Span, SpanEnd } from './types.ts';

/** A way out of a feature, by strip, and its unit direction. */
export interface PortSpot extends StripSpot {
  readonly toward: Spot;
}

/** A point, or the two that a three-way counts as. */
export interface PointFeature {
  /** One id, or of a three-way two: first the leg further left. */
  readonly ids: readonly string[];
  readonly at: Spot;
  readonly toe: PortSpot;
  /** From left to right, seen from the toe. */
  readonly legs: readonly PortSpot[];
  /** Place of the normal leg in `legs`. */
  readonly normal: number;
}

/** A crossing of any kind, bridges too. */
export interface CrossingFeature {
  readonly id: string;
  readonly at: Spot;
  /** Both ways out of each line, the line laid first before the other. */
  readonly lines: readonly [readonly [PortSpot, PortSpot], readonly [PortSpot, PortSpot]];
  readonly strips: readonly [string, string];
  /** Of a slip: the ids of its two ends, and each end's legs: the one whose straight way is normal there, then the other. */
  readonly slip: SlipEnds | null;
}

export interface SlipEnds {
  readonly single: boolean;
  readonly ids: readonly [string, string];
  readonly first: readonly [main: PortSpot, other: PortSpot];
  readonly second: readonly [main: PortSpot, other: PortSpot];
}

export interface EndFeature {
  readonly id: string;
  readonly at: Spot;
  readonly port: PortSpot;
}

export interface Features {
  readonly points: readonly PointFeature[];
  readonly crossings: readonly CrossingFeature[];
  readonly ends: readonly EndFeature[];
}

/** Points, crossings and free ends of a plan. Bridges are no features of a plan: `bridgePorts` tells where one leads. */
export function featuresOf(plan: Plan): Features {
  const spans = new Map(plan.spans.map((span) => [span.id, span]));
  const port = (end: SpanEnd, toward?: Spot): PortSpot => portAt(spans.get(end.span), end, toward);
  const byId = new Map(plan.points.map((point) => [point.id, point]));

  const points: PointFeature[] = [];
  for (const point of plan.points) if (point.of === 'point') points.push(pointFeature([point], port));
  for (const pair of threeWaysOf(plan)) points.push(pointFeature(pair, port));

  const ways = new Map<string, { ends: SpanEnd[]; asks: Set<string>; straight: (readonly [SpanEnd, SpanEnd])[] }>();
  for (const { crossing, between, asks } of plan.passages) {
    if (crossing === null) continue;
    const known = ways.get(crossing) ?? { ends: [], asks: new Set<string>(), straight: [] };
    ways.set(crossing, known);
    known.straight.push(between);
    for (const id of Object.keys(asks)) known.asks.add(id);
  }
  const crossings = plan.crossings.flatMap((crossing): CrossingFeature[] => {
    const found = ways.get(crossing.id);
    if (found === undefined) return [];
    const ends = [...found.asks]
      .flatMap((id) => byId.get(id) ?? [])
      .sort((a, b) => compareSpots(a.at, b.at, SAME_SPOT));
    return [crossingFeature(crossing, found.straight, ends, port)];
  });

  const ends = plan.places
    .filter((place) => place.kind === 'end')
    .map(({ id, at, span, along }): EndFeature => ({ id, at, port: port({ span, end: along === 0 ? 0 : 1 }) }));
  return { points, crossings, ends };
}

/** Both points of each three-way, the one that leads left first: it names the feature. */
export function threeWaysOf(plan: Plan): readonly (readonly [PlanPoint, PlanPoint])[] {
  const byId = new Map(plan.points.map((point) => [point.id, point]));
  const pairs = new Map<string, readonly [PlanPoint, PlanPoint]>();
  for (const { feature, asks } of plan.passages) {
    const one = byId.get(feature);
    const two = byId.get(Object.keys(asks).find((id) => id !== feature) ?? '');
    if (one?.of === 'three-way' && two !== undefined) pairs.set(feature, [one, two]);
  }
  return [...pairs.values()];
}

/** The places of the other legs, from left to right. */
export function otherLegs({ legs, normal }: Pick<PointFeature, 'legs' | 'normal'>): readonly number[] {
  return legs.map((_, i) => i).filter((i) => i !== normal);
}

/** Where a bridge's two strips lie under it: both ways out of each, or null where it lies on neither. */
export function bridgePorts(
  at: Spot,
  strips: readonly [string, string],
  lines: ReadonlyMap<string, Line>,
): CrossingFeature['lines'] | null {
  const [one, two] = [lines.get(strips[0]), lines.get(strips[1])];
  if (one === undefined || two === undefined) return null;
  const first = footsOf(one, at);
  const second = one === two ? first.slice(1) : footsOf(two, at);
  const [a, b] = [first[0], second[0]];
  if (a === undefined || b === undefined) return null;
  const both = (line: Line, along: number) =>
    [
      { strip: line.id, along, way: -1, toward: NOWHERE },
      { strip: line.id, along, way: 1, toward: NOWHERE },
    ] as const;
  return [both(one, a), both(two, b)];
}

const NOWHERE: Spot = [0, 0];

/** All places along a line of a spot that lies on it, to the step of numbering. */
function footsOf(line: Line, spot: Spot): readonly number[] {
  const found: number[] = [];
  for (let i = 0; i + 1 < line.corners.length; i++) {
    const [a, b] = [line.corners[i], line.corners[i + 1]];
    if (a === undefined || b === undefined) continue;
    const length = distance(a, b);
    const u: Spot = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const t = Math.min(length, Math.max(0, (spot[0] - a[0]) * u[0] + (spot[1] - a[1]) * u[1]));
    const along = (line.marks[i] ?? 0) + t;
    const off = distance([a[0] + u[0] * t, a[1] + u[1] * t], spot);
    if (off <= NUMBERING_STEP && !found.some((known) => Math.abs(known - along) <= NUMBERING_STEP)) found.push(along);
  }
  return found;
}

function pointFeature(
  pair: readonly [PlanPoint] | readonly [PlanPoint, PlanPoint],
  port: (end: SpanEnd, toward: Spot) => PortSpot,
): PointFeature {
  const [one] = pair;
  const ahead = against(one.toward.toe);
  const legs = [port(one.normal, one.toward.normal), ...pair.map((point) => port(point.reverse, point.toward.reverse))];
  const order = legs
    .map((leg, i) => ({ leg, i, right: clockwise(ahead, leg.toward) }))
    .sort((a, b) => a.right - b.right || a.i - b.i);
  // The two of a plain point stand by its hand: a leg that turns right round is on neither side.
  if (pair.length === 1 && order[0]?.i === (one.hand === 'right' ? 1 : 0)) order.reverse();
  return {
    ids: pair.map(({ id }) => id),
    at: one.at,
    toe: port(one.toe, one.toward.toe),
    legs: order.map(({ leg }) => leg),
    normal: order.findIndex(({ i }) => i === 0),
  };
}

function crossingFeature(
  { id, at, strips, kind }: PlanCrossing,
  straight: readonly (readonly [SpanEnd, SpanEnd])[],
  ends: readonly PlanPoint[],
  port: (end: SpanEnd) => PortSpot,
): CrossingFeature {
  const [one, two] = ends;
  if (kind === 'diamond' || one === undefined || two === undefined) {
    const pairs = straight.map(([a, b]) => [port(a), port(b)] as const);
    const [first, second] = pairs;
    if (first === undefined || second === undefined) throw new RangeError(`crossing ${id} has ${pairs.length} ways`);
    return { id, at, strips, lines: inOrder(first, second, strips), slip: null };
  }
  const single = kind === 'single-slip';
  const [m1, m2, o2] = [port(one.toe), port(one.normal), port(one.reverse)];
  const o1 = single ? port(two.normal) : port(two.reverse);
  return {
    id,
    at,
    strips,
    lines: inOrder([m1, m2], [o1, o2], strips),
    slip: { single, ids: [one.id, two.id], first: [m1, o1], second: [m2, o2] },
  };
}

type Pair = readonly [PortSpot, PortSpot];

function inOrder(a: Pair, b: Pair, [first]: readonly [string, string]): readonly [Pair, Pair] {
  return a.some(({ strip }) => strip === first) ? [a, b] : [b, a];
}

/** How far along a span its direction at an end is taken, in mm: half a usual tape. */
const LOOK = 2.5;

function portAt(span: Span | undefined, { end }: SpanEnd, toward?: Spot): PortSpot {
  const stretch = end === 0 ? span?.stretches[0] : span?.stretches[span.stretches.length - 1];
  if (span === undefined || stretch === undefined) throw new RangeError('a port without a span');
  const [along, on] = end === 0 ? [stretch.from, stretch.to] : [stretch.to, stretch.from];
  const way = on > along ? 1 : on < along ? -1 : 0;
  return { strip: stretch.strip, along, way, toward: toward ?? directionOf(span, end) };
}

function directionOf({ path }: Span, end: 0 | 1): Spot {
  const spots = end === 0 ? path : [...path].reverse();
  const start = spots[0] ?? NOWHERE;
  let left = LOOK;
  for (let i = 0; i + 1 < spots.length; i++) {
    const [a, b] = [spots[i] ?? start, spots[i + 1] ?? start];
    const length = distance(a, b);
    if (length < left && i + 2 < spots.length) {
      left -= length;
      continue;
    }
    const t = length === 0 ? 0 : Math.min(1, left / length);
    const there: Spot = [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
    const chord = distance(start, there);
    return chord === 0 ? NOWHERE : [(there[0] - start[0]) / chord, (there[1] - start[1]) / chord];
  }
  return NOWHERE;
}
