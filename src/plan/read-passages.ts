/** Points, crossings and the ways through them, from named features and the spans at their ports. */
import type { PointRecord } from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import { angleOfLines } from './branch.ts';
import { sortedById } from './by-id.ts';
import type { Legs } from './choose-normal.ts';
import { angleBetween, clockwise } from './line.ts';
import type { NamedCrossing, NamedPoint, NamedThreeWay } from './name-features.ts';
import type { Port } from './port.ts';
import type { Passage, PlanCrossing, PlanPoint, Span, SpanEnd } from './types.ts';

export type EndAt = (f: number, port: number) => SpanEnd;

export function readPoint(
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

export function readThreeWay(
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

export function readCrossing(
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

/** By feature, then by the spans' ends that they join. `spans`: in the order of their ids. */
export function sortPassages(passages: readonly Passage[], spans: readonly Span[]): readonly Passage[] {
  const place = new Map(spans.map(({ id }, i) => [id, i]));
  const order = (a: SpanEnd, b: SpanEnd) => (place.get(a.span) ?? 0) - (place.get(b.span) ?? 0) || a.end - b.end;
  const byFeature = new Map<string, Passage[]>();
  for (const passage of passages) {
    const known = byFeature.get(passage.feature);
    if (known === undefined) byFeature.set(passage.feature, [passage]);
    else known.push(passage);
  }
  return sortedById([...byFeature], ([feature]) => feature).flatMap(([, of]) =>
    of.sort((a, b) => order(a.between[0], b.between[0]) || order(a.between[1], b.between[1])),
  );
}
