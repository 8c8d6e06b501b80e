/**
 * The plan that strips mean.
 * Idea: find where ends and interiors come together; read each such spot as a feature; name features; cut strips there and join the
 * pieces at butts into spans; settle which legs are normal; put it in order. Total: every file that can be read gives a plan, and what
 * it cannot say is a problem. About n log n in corners, for strips spread over a sheet.
 */
import { DEFAULTS, type PanelFile, type PointRecord } from '../panel/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { angleOfLines } from './branch.ts';
import { byId } from './by-id.ts';
import { chooseNormal, type Legs, saidOf } from './choose-normal.ts';
import { joinSpans, type Piece, type RawSpan } from './join-spans.ts';
import { readLevers } from './levers.ts';
import { angleBetween, clockwise, compareSpots, cornersBetween, readLines } from './line.ts';
import { recordReach } from './match-records.ts';
import { type NamedCrossing, type NamedPoint, type NamedThreeWay, nameFeatures } from './name-features.ts';
import { newIds } from './new-ids.ts';
import type { Port } from './port.ts';
import { type RawEnd, type RawFeature, type RawPoint, readJunctions } from './read-junctions.ts';
import { findPlaces, type RawRoad } from './read-places.ts';
import { NUMBERING_STEP } from './tolerances.ts';
import type {
  Passage,
  Place,
  Plan,
  PlanCrossing,
  PlanPoint,
  PlanProblem,
  Span,
  SpanEnd,
  StripStretch,
} from './types.ts';

/** A feature with its id and the order in which spans name its ports: toe, normal, reverse; of a crossing line by line. */
interface Named {
  readonly raw: RawFeature;
  readonly id: string;
  readonly rank: number;
  /** By place in the list of ports: its place in that order. */
  slots: readonly number[];
}

/** Ends of a span are named in this order of kinds, then by id. */
const RANK = { point: 0, 'three-way': 0, crossing: 1, end: 2 } as const;

/**
 * Reads a panel's strips and records into a plan. Pure and total: never throws on a file that can be read; the same file, the same
 * plan.
 * @example readPlan({ format: 'mimic-panel', version: 1, strips: [{ id: 'main', path: [[0, 60], [300, 60]] }] }).places.length // 2
 */
export function readPlan(panel: PanelFile): Plan {
  const { lines, empty } = readLines(panel);
  const junctions = readJunctions(lines);
  const ids = newIds(panel);
  const features = nameFeatures(panel, junctions, ids);
  const freeEnds = [...junctions.freeEnds].sort(
    (a, b) => compareSpots(a.at, b.at, NUMBERING_STEP) || a.end.index - b.end.index,
  );
  const found = findPlaces(panel, lines, freeEnds, recordReach(DEFAULTS.strip.width / 2));
  const endIds = freeEnds.map((_, i) => found.ends.get(i)?.id ?? ids.next('E'));
  const problems: PlanProblem[] = [
    ...empty.map((strip): PlanProblem => ({ code: 'strip-no-length', strip: strip.id, at: strip.path[0] ?? [0, 0] })),
    ...junctions.problems,
    ...features.problems,
    ...found.problems,
  ];

  const named: Named[] = [
    ...features.points.map(({ raw, id }) => name(raw, id)),
    ...features.threeWays.map(({ raw, ids: [id] }) => name(raw, id)),
    ...features.crossings.map(({ raw, id }) => name(raw, id, crossingSlots(raw.ports))),
    ...freeEnds.map((raw, i) => name(raw, endIds[i] ?? '')),
  ];
  const rawSpans = joinSpans(
    lines,
    named.map(({ raw }) => raw),
    junctions.joints,
  );
  const runs = runsOf(rawSpans, named);

  const legs: Legs[] = [];
  const settle = (raw: RawPoint, id: string, record: { readonly said: string | undefined; readonly trap: boolean }) => {
    const f = legs.length;
    const chosen = chooseNormal(raw, record.said, record.trap, (port) => runs.get(portKey(f, port)) ?? NO_RUN);
    legs.push(chosen);
    const feature = named[f];
    if (feature !== undefined) feature.slots = legSlots(chosen, raw.ports.length);
    if (chosen.unknown) problems.push({ code: 'normal-unknown', point: id, normal: record.said ?? '', at: raw.at });
  };
  for (const { raw, id, record } of features.points) settle(raw, id, saidOf(record));
  for (const { raw, ids: pair, record } of features.threeWays)
    settle(raw, pair[0], { said: record?.normal, trap: false });

  const { spans, endOf, spanOf } = nameSpans(rawSpans, named);
  const at = (f: number, port: number): SpanEnd => {
    const end = endOf.get(portKey(f, port));
    if (end === undefined) throw new RangeError(`port ${port} of ${named[f]?.id} has no span`);
    return end;
  };

  const points: PlanPoint[] = [];
  const passages: Passage[] = [];
  const crossings: PlanCrossing[] = [];
  features.points.forEach((point, f) => readPoint(point, f, legs[f], at, points, passages));
  const past = features.points.length;
  features.threeWays.forEach((way, i) => readThreeWay(way, past + i, legs[past + i], at, points, passages));
  const beyond = past + features.threeWays.length;
  features.crossings.forEach((crossing, i) => readCrossing(crossing, beyond + i, at, points, crossings, passages));

  const { places, problems: placeProblems } = layPlaces(panel, freeEnds, endIds, found, beyond + crossings.length, at);
  problems.push(...placeProblems);
  const unnamed = new Set(places.filter((place) => place.name === null).map((place) => place.id));
  for (const { end, problem } of junctions.misses) {
    const i = freeEnds.findIndex((free) => free.end === end);
    if (unnamed.has(endIds[i] ?? '')) problems.push(problem);
  }

  points.sort((a, b) => byId(a.id, b.id));
  const levers = readLevers(panel, points, ids);
  problems.push(...levers.problems);
  return {
    spans,
    points,
    crossings: crossings.sort((a, b) => byId(a.id, b.id)),
    bridges: features.bridges,
    butts: [...junctions.butts].sort((a, b) => compareSpots(a.at, b.at, NUMBERING_STEP)),
    places,
    passages: passages.sort(comparePassages),
    levers: levers.levers,
    problems: sortProblems(problems),
  };

  function layPlaces(
    file: PanelFile,
    ends: readonly RawEnd[],
    names: readonly string[],
    { ends: records, roads }: { readonly ends: ReadonlyMap<number, unknown>; readonly roads: readonly RawRoad[] },
    firstEnd: number,
    endAt: (f: number, port: number) => SpanEnd,
  ): { readonly places: readonly Place[]; readonly problems: readonly PlanProblem[] } {
    const byRecord = new Map<string, Place>();
    const others: Place[] = [];
    const told: PlanProblem[] = [];
    const lengthOf = new Map(spans.map((span) => [span.id, span.length]));
    const recordOf = new Map((file.places ?? []).map((record) => [record.id, record]));
    ends.forEach((free, i) => {
      const id = names[i] ?? '';
      const record = records.has(i) ? (recordOf.get(id) ?? null) : null;
      const { span, end } = endAt(firstEnd + i, 0);
      const place: Place = {
        id,
        name: record?.name ?? null,
        at: free.at,
        kind: 'end',
        span,
        along: end === 0 ? 0 : (lengthOf.get(span) ?? 0),
        length: record?.length ?? null,
        record,
      };
      if (record === null) others.push(place);
      else byRecord.set(id, place);
      if (place.name === null && (record === null || NUMBERED_END.test(id)))
        told.push({ code: 'place-unnamed', place: id, strip: free.end.line.id, at: free.at });
    });
    for (const road of roads) {
      const spot = spanOf(road);
      if (spot === null) {
        told.push({
          code: 'record-finds-nothing',
          kind: 'place',
          id: road.record.id,
          at: road.record.at,
          reach: recordReach(road.line.half),
        });
        continue;
      }
      byRecord.set(road.record.id, {
        id: road.record.id,
        name: road.record.name ?? null,
        at: road.at,
        kind: 'road',
        ...spot,
        length: road.record.length ?? null,
        record: road.record,
      });
    }
    const recorded = (file.places ?? []).flatMap((record) => byRecord.get(record.id) ?? []);
    return { places: [...recorded, ...others], problems: told };
  }
}

/** An id that the tool gives a free end: it says nothing of what the end is. */
const NUMBERED_END = /^E\d+$/i;

const NO_RUN = { free: false, length: 0 } as const;

function name(raw: RawFeature, id: string, slots?: readonly number[]): Named {
  return { raw, id, rank: RANK[raw.kind], slots: slots ?? raw.ports.map((_, i) => i) };
}

function portKey(feature: number, port: number): string {
  return `${feature}.${port}`;
}

/** Line by line, of each the leg further left (then further up) first: strips may be laid either way. */
function crossingSlots(ports: readonly Port[]): readonly number[] {
  const order = ports.map((_, i) => i);
  const of = (i: number): Spot => ports[i]?.toward ?? [0, 0];
  order.sort((a, b) => (a >> 1) - (b >> 1) || compareSpots(of(a), of(b), 1e-9));
  return invert(order);
}

function legSlots(legs: Legs, count: number): readonly number[] {
  const order = [legs.toe, legs.normal, ...legs.others];
  return order.length === count ? invert(order) : order;
}

function invert(order: readonly number[]): readonly number[] {
  const slots = order.map(() => 0);
  order.forEach((port, slot) => {
    slots[port] = slot;
  });
  return slots;
}

function lengthOfPieces(pieces: readonly Piece[]): Millimetre {
  return pieces.reduce((sum, piece) => sum + Math.abs(piece.to - piece.from), 0);
}

/** Of each port: does its span run to a free end, and how far is it. */
function runsOf(rawSpans: readonly RawSpan[], named: readonly Named[]) {
  const runs = new Map<string, { readonly free: boolean; readonly length: Millimetre }>();
  for (const { ends, pieces } of rawSpans) {
    const length = lengthOfPieces(pieces);
    for (const [one, other] of [ends, [ends[1], ends[0]] as const]) {
      runs.set(portKey(one.feature, one.port), { free: named[other.feature]?.raw.kind === 'end', length });
    }
  }
  return runs;
}

/** Spans with their ids, in their order; where each port leads; and where on a span a spot of a strip lies. */
function nameSpans(rawSpans: readonly RawSpan[], named: readonly Named[]) {
  const turned = rawSpans.map(({ ends, pieces }) => {
    const [a, b] = ends;
    const flip = compareEnds(named[a.feature], a.port, named[b.feature], b.port) > 0;
    const back = [...pieces].reverse().map(({ line, from, to }) => ({ line, from: to, to: from }));
    return flip ? { ends: [b, a] as const, pieces: back } : { ends, pieces };
  });
  turned.sort(
    (x, y) =>
      compareEnds(named[x.ends[0].feature], 0, named[y.ends[0].feature], 0, true) ||
      compareEnds(named[x.ends[1].feature], 0, named[y.ends[1].feature], 0, true) ||
      slotOf(named, x.ends[0]) - slotOf(named, y.ends[0]) ||
      slotOf(named, x.ends[1]) - slotOf(named, y.ends[1]),
  );
  const endOf = new Map<string, SpanEnd>();
  const on = new Map<number, { low: Millimetre; high: Millimetre; span: string; start: Millimetre; piece: Piece }[]>();
  const repeats = new Map<string, number>();
  const spans = turned.map(({ ends, pieces }): Span => {
    const features = [named[ends[0].feature]?.id ?? '', named[ends[1].feature]?.id ?? ''] as const;
    const pair = features.join('/');
    const repeat = (repeats.get(pair) ?? 0) + 1;
    repeats.set(pair, repeat);
    const id = repeat === 1 ? pair : `${pair}#${repeat}`;
    endOf.set(portKey(ends[0].feature, ends[0].port), { span: id, end: 0 });
    endOf.set(portKey(ends[1].feature, ends[1].port), { span: id, end: 1 });
    let start = 0;
    for (const piece of pieces) {
      const entry = {
        low: Math.min(piece.from, piece.to),
        high: Math.max(piece.from, piece.to),
        span: id,
        start,
        piece,
      };
      const known = on.get(piece.line.index);
      if (known === undefined) on.set(piece.line.index, [entry]);
      else known.push(entry);
      start += Math.abs(piece.to - piece.from);
    }
    const stretches = pieces.map(stretchOf);
    return {
      id,
      ends: features,
      path: pathOf(pieces),
      length: start,
      layoutLength: stretches.reduce<Millimetre | null>(
        (sum, each) => (sum === null || each.layoutLength === null ? null : sum + each.layoutLength),
        0,
      ),
      stretches,
    };
  });
  spans.sort((a, b) => byId(a.id, b.id));
  return {
    spans,
    endOf,
    spanOf: ({ line, along }: RawRoad): { readonly span: string; readonly along: Millimetre } | null => {
      const held = (on.get(line.index) ?? []).filter(({ low, high }) => along >= low && along <= high);
      held.sort((a, b) => a.low - b.low || a.high - b.high || byId(a.span, b.span));
      const [first] = held;
      return first === undefined ? null : { span: first.span, along: first.start + Math.abs(along - first.piece.from) };
    },
  };
}

function slotOf(named: readonly Named[], { feature, port }: { readonly feature: number; readonly port: number }) {
  return named[feature]?.slots[port] ?? 0;
}

function compareEnds(a: Named | undefined, p: number, b: Named | undefined, q: number, idsOnly = false): number {
  if (a === undefined || b === undefined) throw new RangeError('a span without a feature at its end');
  const order = a.rank - b.rank || byId(a.id, b.id);
  return order !== 0 || idsOnly ? order : (a.slots[p] ?? 0) - (b.slots[q] ?? 0);
}

function stretchOf({ line, from, to }: Piece): StripStretch {
  const share = Math.abs(to - from) / line.length;
  return { strip: line.id, from, to, layoutLength: line.layoutLength === null ? null : line.layoutLength * share };
}

function pathOf(pieces: readonly Piece[]): readonly Spot[] {
  const path: Spot[] = [];
  for (const { line, from, to } of pieces) {
    for (const spot of cornersBetween(line, from, to)) {
      const last = path[path.length - 1];
      if (last === undefined || last[0] !== spot[0] || last[1] !== spot[1]) path.push(spot);
    }
  }
  const [only] = path;
  return path.length === 1 && only !== undefined ? [only, only] : path;
}

type EndAt = (f: number, port: number) => SpanEnd;

function readPoint(
  { raw, id, record }: NamedPoint,
  f: number,
  legs: Legs | undefined,
  at: EndAt,
  points: PlanPoint[],
  passages: Passage[],
): void {
  const [reverse] = legs?.others ?? [];
  if (legs === undefined || reverse === undefined) throw new RangeError(`point ${id} has no legs`);
  points.push(pointOf(raw, f, id, record, 'point', legs.toe, legs.normal, reverse, at));
  const toe = at(f, legs.toe);
  passages.push(
    { feature: id, between: [toe, at(f, legs.normal)], asks: { [id]: 'normal' }, crossing: null },
    { feature: id, between: [toe, at(f, reverse)], asks: { [id]: 'reverse' }, crossing: null },
  );
}

function readThreeWay(
  { raw, ids, records }: NamedThreeWay,
  f: number,
  legs: Legs | undefined,
  at: EndAt,
  points: PlanPoint[],
  passages: Passage[],
): void {
  const [left, right] = legs?.others ?? [];
  if (legs === undefined || left === undefined || right === undefined)
    throw new RangeError(`three-way ${ids[0]} has no legs`);
  const [one, two] = ids;
  points.push(
    pointOf(raw, f, one, records[0], 'three-way', legs.toe, legs.normal, left, at),
    pointOf(raw, f, two, records[1], 'three-way', legs.toe, legs.normal, right, at),
  );
  const toe = at(f, legs.toe);
  const way = (port: number, asks: Passage['asks']): Passage => ({
    feature: one,
    between: [toe, at(f, port)],
    asks,
    crossing: null,
  });
  passages.push(
    way(legs.normal, { [one]: 'normal', [two]: 'normal' }),
    way(left, { [one]: 'reverse', [two]: 'normal' }),
    way(right, { [one]: 'normal', [two]: 'reverse' }),
  );
}

function pointOf(
  raw: { readonly at: Spot; readonly ports: readonly Port[] },
  f: number,
  id: string,
  record: PointRecord | null,
  of: PlanPoint['of'],
  toe: number,
  normal: number,
  reverse: number,
  at: EndAt,
): PlanPoint {
  const port = (i: number): Port => {
    const found = raw.ports[i];
    if (found === undefined) throw new RangeError(`point ${id} has no port ${i}`);
    return found;
  };
  const [n, r] = [port(normal), port(reverse)];
  return {
    id,
    name: record?.name ?? null,
    at: raw.at,
    toe: at(f, toe),
    normal: at(f, normal),
    reverse: at(f, reverse),
    normalStrip: n.line.id,
    reverseStrip: r.line.id,
    toward: { toe: port(toe).toward, normal: n.toward, reverse: r.toward },
    angle: angleBetween(n.toward, r.toward),
    hand: clockwise(n.toward, r.toward) > 0 ? 'right' : 'left',
    record,
    of,
    trap: record?.trap === true,
  };
}

function readCrossing(
  { raw, id, record, slip }: NamedCrossing,
  f: number,
  at: EndAt,
  points: PlanPoint[],
  crossings: PlanCrossing[],
  passages: Passage[],
): void {
  const [a, , c] = raw.ports;
  if (a === undefined || c === undefined) throw new RangeError(`crossing ${id} has ${raw.ports.length} ports`);
  crossings.push({
    id,
    at: raw.at,
    kind: slip?.kind ?? 'diamond',
    strips: [raw.lines[0].id, raw.lines[1].id],
    angle: angleOfLines(a.toward, c.toward).acute,
    record,
  });
  const way = (p: number, q: number, asks: Passage['asks']): Passage => ({
    feature: id,
    between: [at(f, p), at(f, q)],
    asks,
    crossing: id,
  });
  if (slip === null) {
    passages.push(way(0, 1, {}), way(2, 3, {}));
    return;
  }
  const [one, two] = slip.ids;
  const [m1, o1] = slip.first;
  const [m2, o2] = slip.second;
  const [recordOne, recordTwo] = slip.ids.map((end, i): PointRecord => {
    const said = record?.ends?.[i];
    return {
      id: end,
      at: [...(slip.at[i] ?? raw.at)],
      ...(said?.drive === undefined ? {} : { drive: said.drive }),
      ...(said?.sense === undefined ? {} : { sense: said.sense }),
    };
  });
  const end = (i: 0 | 1, pointRecord: PointRecord | undefined, toe: number, normal: number, reverse: number) =>
    points.push(
      pointOf({ ...raw, at: slip.at[i] }, f, slip.ids[i], pointRecord ?? null, 'slip', toe, normal, reverse, at),
    );
  end(0, recordOne, m1, m2, o2);
  if (slip.kind === 'double-slip') {
    end(1, recordTwo, m2, m1, o1);
    passages.push(
      way(m1, m2, { [one]: 'normal', [two]: 'normal' }),
      way(m1, o2, { [one]: 'reverse', [two]: 'normal' }),
      way(o1, m2, { [one]: 'normal', [two]: 'reverse' }),
      way(o1, o2, { [one]: 'reverse', [two]: 'reverse' }),
    );
    return;
  }
  // The curve joins m1 and o2: each straight way has only the blades of its own end in it.
  end(1, recordTwo, o2, o1, m1);
  passages.push(
    way(m1, m2, { [one]: 'normal' }),
    way(o1, o2, { [two]: 'normal' }),
    way(m1, o2, { [one]: 'reverse', [two]: 'reverse' }),
  );
}

function comparePassages(a: Passage, b: Passage): number {
  const key = (end: SpanEnd) => `${end.span} ${end.end}`;
  return (
    byId(a.feature, b.feature) ||
    byId(key(a.between[0]), key(b.between[0])) ||
    byId(key(a.between[1]), key(b.between[1]))
  );
}

/** By where they are, left to right and top to bottom, those without a place last; then by code and by the ids in them. */
function sortProblems(problems: readonly PlanProblem[]): readonly PlanProblem[] {
  return problems
    .map((problem) => ({ problem, at: 'at' in problem ? problem.at : null, text: JSON.stringify(problem) }))
    .sort(
      (a, b) =>
        Number(a.at === null) - Number(b.at === null) ||
        (a.at === null || b.at === null ? 0 : compareSpots(a.at, b.at, NUMBERING_STEP)) ||
        byId(a.problem.code, b.problem.code) ||
        byId(a.text, b.text),
    )
    .map(({ problem }) => problem);
}
