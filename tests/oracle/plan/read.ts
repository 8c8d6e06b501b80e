/**
 * A second reader of plans, slow and plain, written from the promise of the file alone: records find the nearest thing, things
 * without a record are numbered, what lies between two things is a span. It shares no code with the reader that it is compared with.
 */
import type { PanelFile } from '../../../src/panel/index.ts';
import {
  type Along,
  type Arm,
  apart,
  between,
  nearest,
  rightOf,
  SAME,
  type Spot,
  type Tape,
  tapeOf,
  wayOf,
} from './face.ts';
import { armsOf, findMeetings, type Meeting } from './meetings.ts';

export type Lie = 'normal' | 'reverse';
export type Asks = Readonly<Record<string, Lie>>;

/** A thing that spans end at, with the ways through it: pairs of its arms and what each asks. */
export interface Feature {
  readonly id: string;
  readonly at: Spot;
  readonly arms: readonly Arm[];
  readonly ways: readonly { readonly between: readonly [number, number]; readonly asks: Asks }[];
  readonly crossing: boolean;
}

export interface SlowPoint {
  readonly id: string;
  readonly at: Spot;
  readonly of: 'point' | 'slip' | 'three-way';
  readonly toe: Arm | null;
  readonly normal: Arm | null;
  readonly reverse: Arm | null;
}

export interface SlowCrossing {
  readonly id: string;
  readonly at: Spot;
  readonly kind: string;
  readonly strips: readonly string[];
}

/** A span: the arms at its two ends, and the stretches of tape from the first to the second. */
export interface SlowSpan {
  readonly ends: readonly [feature: number, feature: number];
  readonly arms: readonly [number, number];
  readonly length: number;
  readonly stretches: readonly {
    readonly tape: Tape;
    readonly from: number;
    readonly to: number;
    readonly start: number;
  }[];
}

export interface SlowPlace {
  readonly id: string;
  readonly name: string | null;
  readonly kind: 'end' | 'road';
  readonly at: Spot;
  readonly span: number;
  readonly along: number;
}

export interface SlowPlan {
  readonly points: readonly SlowPoint[];
  readonly crossings: readonly SlowCrossing[];
  readonly bridges: number;
  readonly butts: number;
  readonly features: readonly Feature[];
  readonly spans: readonly SlowSpan[];
  readonly places: readonly SlowPlace[];
  readonly problems: readonly string[];
  /** Where the text does not say what holds. */
  readonly open: readonly string[];
}

type Of<K extends Meeting['kind']> = Extract<Meeting, { kind: K }>;

/** Millimetres that a record may be away, past half the tape's width. */
const REACH = 10;

export function readSlowly(panel: PanelFile): SlowPlan {
  const open: string[] = [];
  const problems: string[] = [];
  const tapes: Tape[] = [];
  for (const strip of panel.strips) {
    const tape = tapeOf(strip.id, strip.width ?? 5, strip.path);
    if (tape.length > SAME) tapes.push(tape);
    else problems.push('strip-no-length');
  }
  const found = findMeetings(tapes);
  open.push(...found.open);
  problems.push(...found.problems);
  const of = <K extends Meeting['kind']>(kind: K) =>
    found.meetings.filter((each): each is Of<K> => each.kind === kind).map((each) => ({ ...each }));
  const [ends, butts, points, threes, crossings] = [
    of('end'),
    of('butt'),
    of('point'),
    of('three-way'),
    of('crossing'),
  ];

  const used = new Set(idsUsed(panel).map((id) => id.toLowerCase()));
  const nextFree = (letter: string) => {
    let n = 1;
    while (used.has(`${letter}${n}`.toLowerCase())) n += 1;
    used.add(`${letter}${n}`.toLowerCase());
    return `${letter}${n}`;
  };

  /** The record that each thing gets: every record takes the nearest; two on one is a finding, and the text leaves open who keeps it. */
  const match = <T extends { at: Spot }, R extends { id: string; at: Spot }>(
    records: readonly R[] | undefined,
    things: readonly T[],
    reach: (thing: T) => number,
  ): Map<T, R> => {
    const owner = new Map<T, R>();
    for (const record of records ?? []) {
      const near = things
        .map((thing) => ({ thing, gap: apart(thing.at, record.at) }))
        .filter(({ thing, gap }) => gap <= reach(thing) + SAME)
        .sort((a, b) => a.gap - b.gap);
      const [first, second] = near;
      if (first === undefined) problems.push('record-finds-nothing');
      else if (second !== undefined && second.gap - first.gap < SAME)
        open.push(`${record.id} is as near to one as to another`);
      else if (owner.has(first.thing)) {
        problems.push('records-on-one');
        open.push(`two records on one: ${record.id}`);
      } else owner.set(first.thing, record);
    }
    return owner;
  };
  const widest = (...arms: readonly { tape: Tape }[]) => Math.max(...arms.map(({ tape }) => tape.half)) + REACH;

  const pointRecord = match(panel.points, points, ({ toe, legs }) => widest(toe, ...legs));
  const crossingRecord = match(panel.crossings, crossings, ({ lines }) => widest(...lines));
  const threeRecord = match(panel.threeWays, threes, ({ toe, legs }) => widest(toe, ...legs));

  // Numbers for what has no record: by x, then y, to 0.01 mm.
  const order = (a: { at: Spot }, b: { at: Spot }) => {
    const cents = (x: number) => Math.round(x * 100);
    return cents(a.at[0]) - cents(b.at[0]) || cents(a.at[1]) - cents(b.at[1]);
  };
  const asked: { at: Spot; give: (id: string) => void }[] = [];
  const ids = (known: readonly string[], spots: readonly Spot[]): string[] => {
    const list = [...known.slice(0, spots.length)];
    for (const [i, at] of spots.entries()) if (i >= known.length) asked.push({ at, give: (id) => (list[i] = id) });
    return list;
  };
  const pointIds = new Map(points.map((each) => [each, ids(idList(pointRecord.get(each)), [each.at])]));
  const threeIds = new Map(threes.map((each) => [each, ids(threeRecord.get(each)?.points ?? [], [each.at, each.at])]));
  const slips = crossings.filter((each) => /slip/.test(crossingRecord.get(each)?.kind ?? ''));
  const slipIds = new Map(
    slips.map((each) => [
      each,
      ids(
        (crossingRecord.get(each)?.ends ?? []).map(({ id }) => id),
        slipSpots(each),
      ),
    ]),
  );
  for (const { give } of asked.sort(order)) give(nextFree('P'));

  const features: Feature[] = [];
  const slowPoints: SlowPoint[] = [];
  const slowCrossings: SlowCrossing[] = [];

  // What the legs of trap points lead to, before any of it has a name.
  const bare = (arms: readonly Arm[], at: Spot): Feature => ({ id: '', at, arms, ways: [], crossing: false });
  const stops = [
    ...ends.map(({ arm, at }) => bare([arm], at)),
    ...points.map(({ toe, legs, at }) => bare([toe, ...legs], at)),
    ...threes.map(({ toe, legs, at }) => bare([toe, ...legs], at)),
    ...crossings
      .filter((each) => crossingRecord.get(each)?.kind !== 'over')
      .map(({ lines, at }) => bare(lines.flatMap(armsOf), at)),
  ];
  const runs = points.some((each) => pointRecord.get(each)?.trap === true)
    ? joinSpans(
        tapes,
        stops,
        butts.map(({ arms }) => arms),
        [],
      )
    : [];
  const runsOut = (leg: Arm) =>
    runs.some((run) => {
      const reached = [0, 1].map((i) => stops[run.ends[i as 0 | 1]]?.arms[run.arms[i as 0 | 1]]);
      const far = reached[0] === leg ? run.ends[1] : reached[1] === leg ? run.ends[0] : ends.length;
      return far < ends.length;
    });

  for (const point of points) {
    const record = pointRecord.get(point);
    const id = pointIds.get(point)?.[0] ?? '';
    const { toe, legs } = point;
    const bend = legs.map((leg) => 180 - between(wayOf(toe), wayOf(leg)));
    const tie = Math.abs((bend[0] ?? 0) - (bend[1] ?? 0)) < SAME;
    const straighter = (bend[0] ?? 0) <= (bend[1] ?? 0) + SAME ? 0 : 1;
    let normal = straighter;
    if (record?.trap === true) {
      const [one, two] = legs.map(runsOut);
      if (one === two) open.push(`which leg of ${id} is the trap`);
      normal = one === true ? 0 : 1;
    }
    const asks = record?.normal;
    if (asks === 'left' || asks === 'right') {
      const [a, b] = legs.map((leg) => rightOf(back(wayOf(toe)), wayOf(leg)));
      normal = (a ?? 0) < (b ?? 0) === (asks === 'left') ? 0 : 1;
    } else if (asks !== undefined) {
      const named = legs.flatMap((leg, i) => (leg.tape.id === asks ? [i] : []));
      if (named.length === 1) normal = named[0] ?? 0;
      else {
        problems.push('normal-unknown');
        if (tie || named.length > 1) open.push(`normal of ${id} names both legs or neither of two equal ones`);
      }
    } else if (tie) open.push(`two legs equally straight, and no normal, at ${id}`);
    const [normalLeg, reverseLeg] = [legs[normal] ?? toe, legs[1 - normal] ?? toe];
    slowPoints.push({ id, at: point.at, of: 'point', toe, normal: normalLeg, reverse: reverseLeg });
    features.push({
      id,
      at: point.at,
      arms: [toe, normalLeg, reverseLeg],
      ways: [
        { between: [0, 1], asks: { [id]: 'normal' } },
        { between: [0, 2], asks: { [id]: 'reverse' } },
      ],
      crossing: false,
    });
  }

  for (const three of threes) {
    const [one = '', two = ''] = threeIds.get(three) ?? [];
    const { toe, legs, at } = three;
    const asks = threeRecord.get(three)?.normal;
    const bend = (leg: Arm) => 180 - between(wayOf(toe), wayOf(leg));
    const straight = [...legs].sort((a, b) => bend(a) - bend(b));
    const named = legs.filter((leg) => leg.tape.id === asks);
    const normal = (asks !== undefined && named.length === 1 ? named[0] : straight[0]) ?? toe;
    if (named.length > 1) open.push('the normal of a three-way names two of its legs');
    if (asks !== undefined && named.length === 0) problems.push('normal-unknown');
    if (named.length !== 1 && bend(straight[1] ?? toe) - bend(straight[0] ?? toe) < SAME)
      open.push(`two ways of a three-way equally straight at ${at}`);
    const [left, right] = legs
      .filter((leg) => leg !== normal)
      .sort((a, b) => rightOf(back(wayOf(toe)), wayOf(a)) - rightOf(back(wayOf(toe)), wayOf(b)));
    const [leftLeg, rightLeg] = [left ?? toe, right ?? toe];
    slowPoints.push(
      { id: one, at, of: 'three-way', toe, normal, reverse: leftLeg },
      { id: two, at, of: 'three-way', toe, normal, reverse: rightLeg },
    );
    features.push({
      id: one,
      at,
      arms: [toe, normal, leftLeg, rightLeg],
      ways: [
        { between: [0, 1], asks: { [one]: 'normal', [two]: 'normal' } },
        { between: [0, 2], asks: { [one]: 'reverse', [two]: 'normal' } },
        { between: [0, 3], asks: { [one]: 'normal', [two]: 'reverse' } },
      ],
      crossing: false,
    });
  }

  let bridges = 0;
  const plain = crossings.filter((each) => crossingRecord.get(each) === undefined).sort(order);
  const plainIds = new Map(plain.map((each) => [each, nextFree('X')]));
  for (const crossing of crossings) {
    const record = crossingRecord.get(crossing);
    const kind = record?.kind ?? 'diamond';
    if (kind === 'over') {
      bridges += 1;
      continue;
    }
    const id = record?.id ?? plainIds.get(crossing) ?? '';
    const [a, b] = crossing.lines;
    const arms = [...armsOf(a), ...armsOf(b)];
    slowCrossings.push({ id, at: crossing.at, kind, strips: [a.tape.id, b.tape.id] });
    const ways: Feature['ways'][number][] = [];
    if (kind === 'diamond') ways.push({ between: [0, 1], asks: {} }, { between: [2, 3], asks: {} });
    else {
      const [one = '', two = ''] = slipIds.get(crossing) ?? [];
      const spots = slipSpots(crossing);
      ways.push(...slipWays(crossing, arms, record, [one, two]));
      slowPoints.push(
        { id: one, at: spots[0], of: 'slip', toe: null, normal: null, reverse: null },
        { id: two, at: spots[1], of: 'slip', toe: null, normal: null, reverse: null },
      );
    }
    features.push({ id, at: crossing.at, arms, ways, crossing: true });
  }

  function slipWays(
    { at, lines }: Of<'crossing'>,
    arms: readonly Arm[],
    record: NonNullable<PanelFile['crossings']>[number] | undefined,
    [one, two]: readonly [string, string],
  ): Feature['ways'][number][] {
    const step = (i: number) => wayOf(arms[i] ?? { ...lines[0], sense: 1 });
    if (Math.min(between(step(0), step(2)), between(step(0), step(3))) > 75) open.push(`a square slip at ${at}`);
    if ([0, 2].some((i) => between(step(i), step(i + 1)) < 179.999)) open.push(`a slip at a corner at ${at}`);
    // Within half a tape of it, a corner may turn the way in which a leg is said to leave.
    const half = Math.max(lines[0].tape.half, lines[1].tape.half);
    const bent = lines.some(({ tape, s }) => tape.marks.slice(1, -1).some((mark) => Math.abs(mark - s) <= half));
    if (bent) open.push(`a slip beside a corner at ${at}`);
    const { left, right } = slipEnds(lines);
    if (record?.kind === 'double-slip') {
      const named = lines.findIndex(({ tape }) => tape.id === record.normal);
      if (lines[0].tape === lines[1].tape) open.push('a slip of a strip with itself');
      if (record.normal !== undefined && named === -1) open.push(`the normal of a slip names neither strip at ${at}`);
      const main = Math.max(named, 0);
      return [0, 1].flatMap((i) =>
        [0, 1].map((j) => ({
          between: [left[i] ?? 0, right[j] ?? 0] as const,
          // The blades of one end choose the exit at the other.
          asks: { [one]: j === main ? 'normal' : 'reverse', [two]: i === main ? 'normal' : 'reverse' } as Asks,
        })),
      );
    }
    const curve = record?.curve;
    if (curve === undefined) {
      open.push(`a single slip that does not say which curve it has at ${at}`);
      return [];
    }
    // The curve from the left end's arm i to the right end's other arm, on the side where the spot lies.
    const off: Spot = [curve[0] - at[0], curve[1] - at[1]];
    const lean = [0, 1].map((i) => {
      const [a, b] = [step(left[i] ?? 0), step(right[1 - i] ?? 0)];
      return off[0] * (a[0] + b[0]) + off[1] * (a[1] + b[1]);
    });
    if (Math.abs((lean[0] ?? 0) - (lean[1] ?? 0)) < SAME) open.push(`the curve spot is beside neither curve at ${at}`);
    const i = (lean[0] ?? 0) > (lean[1] ?? 0) ? 0 : 1;
    // Beside the curve: in the obtuse corner that it runs through.
    const [a, b] = [step(left[i] ?? 0), step(right[1 - i] ?? 0)];
    if (between(a, off) + between(off, b) > between(a, b) + 1)
      open.push(`the curve spot is beside neither curve at ${at}`);
    return [
      { between: [left[i] ?? 0, right[1 - i] ?? 0], asks: { [one]: 'reverse', [two]: 'reverse' } },
      { between: [left[i] ?? 0, right[i] ?? 0], asks: { [one]: 'normal' } },
      { between: [left[1 - i] ?? 0, right[1 - i] ?? 0], asks: { [two]: 'normal' } },
    ];
  }

  // Free ends are features too, named with the places.
  const endFeature = new Map(ends.map((end, i) => [end, features.length + i]));
  const named = ends.map(
    (end) => ({ id: '', at: end.at, arms: [end.arm], ways: [], crossing: false }) as Feature & { id: string },
  );
  features.push(...named);

  const spans = joinSpans(
    tapes,
    features,
    butts.map(({ arms }) => arms),
    open,
  );

  // Places: a record near a free end names that end, else the nearest strip's road.
  const places: SlowPlace[] = [];
  const nameOfEnd = new Map<Of<'end'>, string>();
  const endPlace = (end: Of<'end'>, id: string, name: string | null) => {
    nameOfEnd.set(end, id);
    const feature = endFeature.get(end) ?? -1;
    const span = spans.findIndex(({ ends: two }) => two.includes(feature));
    const atEnd = spans[span]?.ends[0] === feature ? 0 : (spans[span]?.length ?? 0);
    places.push({ id, name, kind: 'end', at: end.at, span, along: atEnd });
  };
  for (const record of panel.places ?? []) {
    const near = ends
      .map((end) => ({ end, gap: apart(end.at, record.at) }))
      .filter(({ end, gap }) => gap <= end.arm.tape.half + REACH + SAME)
      .sort((a, b) => a.gap - b.gap);
    const roads = tapes
      .flatMap((tape) =>
        nearest(tape, record.at)
          .slice(0, 1)
          .map((each) => ({ tape, ...each })),
      )
      .filter(({ tape, gap }) => gap <= tape.half + REACH + SAME)
      .sort((a, b) => a.gap - b.gap);
    const [end, other] = near;
    const [road, second] = roads;
    if (end !== undefined) {
      if (other !== undefined && other.gap - end.gap < SAME) open.push(`${record.id} lies between two ends`);
      if (road !== undefined && road.tape !== end.end.arm.tape && road.gap < end.gap - SAME)
        open.push(`${record.id} is near an end, and nearer another strip`);
      if (nameOfEnd.has(end.end)) {
        problems.push('records-on-one');
        open.push(`two places on one end: ${record.id}`);
      } else endPlace(end.end, record.id, record.name ?? null);
    } else if (road === undefined) problems.push('record-finds-nothing');
    else {
      if (second !== undefined && second.gap - road.gap < SAME && apart(second.at, road.at) > SAME)
        open.push(`${record.id} lies between two strips`);
      const spots = spans.flatMap((span, i) =>
        span.stretches.flatMap(({ tape, from, to, start }) =>
          tape === road.tape && road.s >= Math.min(from, to) - SAME && road.s <= Math.max(from, to) + SAME
            ? [{ span: i, along: start + Math.abs(road.s - from) }]
            : [],
        ),
      );
      const [spot] = spots;
      // A seam is the end of one stretch and the beginning of the next: one spot all the same.
      if (spots.some((each) => each.span !== spot?.span || Math.abs(each.along - spot.along) > SAME))
        open.push(`${record.id} lies at a point or crossing`);
      if (spot !== undefined) {
        if (places.some((each) => each.span === spot.span && Math.abs(each.along - spot.along) < SAME))
          open.push(`two roads at one spot`);
        places.push({ id: record.id, name: record.name ?? null, kind: 'road', at: road.at, ...spot });
      } else open.push(`${record.id} lies on a ring without points`);
    }
  }
  for (const end of ends.filter((each) => !nameOfEnd.has(each)).sort(order)) endPlace(end, nextFree('E'), null);
  ends.forEach((end, i) => {
    features[features.length - ends.length + i] = { ...(named[i] as Feature), id: nameOfEnd.get(end) ?? '' };
  });
  return {
    points: slowPoints,
    crossings: slowCrossings,
    bridges,
    butts: butts.length,
    features,
    spans,
    places,
    problems,
    open,
  };
}

/** A slip's ends are the two pairs of arms that make the acute angle, left to right, then top to bottom: the first strip's arm, then the second's. */
function slipEnds(lines: readonly [Along, Along]): {
  left: [number, number];
  right: [number, number];
  toLeft: Spot;
  toRight: Spot;
} {
  const ways = lines.flatMap((line) => armsOf(line).map(wayOf));
  const step = (i: number): Spot => ways[i] ?? [0, 0];
  const acute = between(step(0), step(2)) < between(step(0), step(3));
  const middle = ([a, b]: [number, number]): Spot => {
    const sum: Spot = [step(a)[0] + step(b)[0], step(a)[1] + step(b)[1]];
    const long = Math.hypot(...sum);
    return [sum[0] / long, sum[1] / long];
  };
  const [one, two]: [[number, number], [number, number]] = acute
    ? [
        [0, 2],
        [1, 3],
      ]
    : [
        [0, 3],
        [1, 2],
      ];
  const [m, n] = [middle(one), middle(two)];
  // Level to 0.01 mm where they lie, half a tape's width off: then the upper is first.
  const half = Math.max(...lines.map(({ tape }) => tape.half));
  const first = Math.abs(m[0] - n[0]) * half > 0.01 ? m[0] < n[0] : m[1] < n[1];
  return first ? { left: one, right: two, toLeft: m, toRight: n } : { left: two, right: one, toLeft: n, toRight: m };
}

/** Where the two ends of a slip lie: the text says only on which side each is, so half the tape's width off the crossing. */
function slipSpots({ at, lines }: Of<'crossing'>): [Spot, Spot] {
  const { toLeft, toRight } = slipEnds(lines);
  const side = Math.max(...lines.map(({ tape }) => tape.half));
  const off = ([x, y]: Spot): Spot => [at[0] + side * x, at[1] + side * y];
  return [off(toLeft), off(toRight)];
}

function idList(record: { id: string } | undefined): string[] {
  return record === undefined ? [] : [record.id];
}

function back([x, y]: Spot): Spot {
  return [-x, -y];
}

/** Every id of the file, whatever has it. */
function idsUsed(panel: PanelFile): string[] {
  const found: string[] = [...(panel.retired ?? [])];
  const look = (value: unknown): void => {
    if (Array.isArray(value)) for (const each of value) look(each);
    else if (typeof value === 'object' && value !== null)
      for (const [key, each] of Object.entries(value)) {
        if (key === 'id' && typeof each === 'string') found.push(each);
        else look(each);
      }
  };
  look(panel);
  for (const { points } of panel.threeWays ?? []) found.push(...(points ?? []));
  return found;
}

/** Follows the tape from every arm of every feature, through butts, to the next feature. */
function joinSpans(
  tapes: readonly Tape[],
  features: readonly Feature[],
  butts: readonly (readonly [Arm, Arm])[],
  open: string[],
): SlowSpan[] {
  const spans: SlowSpan[] = [];
  const stops = features.flatMap(({ arms }, feature) => arms.map((arm, index) => ({ arm, feature, index })));
  const seams = butts.flatMap(([a, b]) => [
    { arm: a, on: b },
    { arm: b, on: a },
  ]);
  const walked = new Set<(typeof stops)[number]>();
  for (const start of stops) {
    if (walked.has(start)) continue;
    const stretches: SlowSpan['stretches'][number][] = [];
    let length = 0;
    let arm = start.arm;
    for (;;) {
      const ahead = (s: number) => (s - arm.s) * arm.sense;
      const facing = (other: Arm) => other.tape === arm.tape && other.sense === -arm.sense && ahead(other.s) > SAME;
      const next = stops.filter((stop) => facing(stop.arm)).sort((a, b) => ahead(a.arm.s) - ahead(b.arm.s))[0];
      const seam = seams.find(({ arm: other }) => facing(other));
      const to = next?.arm ?? seam?.arm;
      if (to === undefined) {
        open.push(`nothing ahead on ${arm.tape.id}`);
        break;
      }
      stretches.push({ tape: arm.tape, from: arm.s, to: to.s, start: length });
      length += Math.abs(to.s - arm.s);
      if (next !== undefined) {
        walked.add(start).add(next);
        spans.push({ ends: [start.feature, next.feature], arms: [start.index, next.index], length, stretches });
        break;
      }
      if (seam === undefined) break;
      arm = seam.on;
    }
  }
  const run = spans.flatMap(({ stretches }) => stretches);
  for (const tape of tapes) {
    const covered = run
      .filter((each) => each.tape === tape)
      .reduce((sum, { from, to }) => sum + Math.abs(to - from), 0);
    if (Math.abs(covered - tape.length) > 0.001) open.push(`${tape.id} is a ring`);
  }
  return spans;
}
