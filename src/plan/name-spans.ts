/** Spans with their ids, ends and order. */
import type { Millimetre, Spot } from '../units/index.ts';
import { byId, sortedById } from './by-id.ts';
import type { LegRun, Legs } from './choose-normal.ts';
import type { Piece, PortName, RawSpan } from './join-spans.ts';
import { compareSpots, cornersBetween, type Line } from './line.ts';
import type { Port } from './port.ts';
import type { RawRoad } from './read-places.ts';
import type { RawFeature } from './read-sight.ts';
import type { Span, SpanEnd, StripStretch } from './types.ts';

/** A feature with its id and the order in which spans name its ports: toe, normal, reverse; of a crossing line by line. */
export interface Named {
  readonly raw: RawFeature;
  readonly id: string;
  readonly rank: number;
  /** By place in the list of ports: its place in that order. */
  slots: readonly number[];
}

/** Ends of a span are named in this order of kinds, then by id. */
const RANK = { point: 0, 'three-way': 0, crossing: 1, end: 2 } as const;

export function nameOf(raw: RawFeature, id: string, slots?: readonly number[]): Named {
  return { raw, id, rank: RANK[raw.kind], slots: slots ?? raw.ports.map((_, i) => i) };
}

/** Line by line, of each the leg further left (then further up) first: strips may be laid either way. */
export function crossingSlots(ports: readonly Port[]): readonly number[] {
  const order = ports.map((_, i) => i);
  const of = (i: number): Spot => ports[i]?.toward ?? [0, 0];
  order.sort((a, b) => (a >> 1) - (b >> 1) || compareSpots(of(a), of(b), 1e-9));
  return invert(order);
}

export function legSlots(legs: Legs, count: number): readonly number[] {
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

/** Of each port, by feature: does its span run to a free end, and how far is it. */
export function runsOf(rawSpans: readonly RawSpan[], named: readonly Named[]): readonly (readonly LegRun[])[] {
  const runs = named.map((): LegRun[] => []);
  for (const { ends, pieces } of rawSpans) {
    const length = lengthOfPieces(pieces);
    const [one, two] = ends;
    const run = (to: PortName): LegRun => ({ free: named[to.feature]?.raw.kind === 'end', length });
    put(runs, one, run(two));
    put(runs, two, run(one));
  }
  return runs;
}

function put<T>(table: readonly T[][], { feature, port }: PortName, value: T): void {
  const row = table[feature];
  if (row !== undefined) row[port] = value;
}

/** A piece of a line as a span has it. */
interface Held {
  readonly low: Millimetre;
  readonly high: Millimetre;
  readonly span: string;
  /** How far along the span the piece begins. */
  readonly start: Millimetre;
  readonly from: Millimetre;
}

/** Spans by id, with the pieces of which each was made. */
export type SpansMade = ReadonlyMap<string, { readonly span: Span; readonly pieces: readonly Piece[] }>;

/** Spans with their ids, in their order; where each port leads, by feature; and where on a span a spot of a strip lies. */
interface SpansNamed {
  readonly spans: readonly Span[];
  readonly endOf: readonly (readonly SpanEnd[])[];
  /** Null on a closed line without features. */
  readonly spanOf: (road: RawRoad) => { readonly span: string; readonly along: Millimetre } | null;
  readonly made: SpansMade;
}

/** With `before`: a span of the same id and the same pieces of the same lines is taken over, the very same object. */
export function nameSpans(
  rawSpans: readonly RawSpan[],
  named: readonly Named[],
  before: SpansMade | null = null,
): SpansNamed {
  const places = placesOf(named);
  const slot = ({ feature, port }: PortName) => named[feature]?.slots[port] ?? 0;
  const place = ({ feature }: PortName) => places[feature] ?? 0;
  const turned = rawSpans.map((raw): RawSpan => {
    const [a, b] = raw.ends;
    if ((place(a) - place(b) || slot(a) - slot(b)) <= 0) return raw;
    const back = [...raw.pieces].reverse().map(({ line, from, to }) => ({ line, from: to, to: from }));
    return { ends: [b, a], pieces: back };
  });
  turned.sort(
    ({ ends: [a, b] }, { ends: [c, d] }) =>
      place(a) - place(c) || place(b) - place(d) || slot(a) - slot(c) || slot(b) - slot(d),
  );
  const endOf = named.map((): SpanEnd[] => []);
  const on = new Map<Line, Held[]>();
  const made = new Map<string, { readonly span: Span; readonly pieces: readonly Piece[] }>();
  const repeats = new Map<string, number>();
  const spans = turned.map(({ ends, pieces }): Span => {
    const features = [named[ends[0].feature]?.id ?? '', named[ends[1].feature]?.id ?? ''] as const;
    const pair = `${features[0]}/${features[1]}`;
    const repeat = (repeats.get(pair) ?? 0) + 1;
    repeats.set(pair, repeat);
    const id = repeat === 1 ? pair : `${pair}#${repeat}`;
    put(endOf, ends[0], { span: id, end: 0 });
    put(endOf, ends[1], { span: id, end: 1 });
    let start = 0;
    for (const { line, from, to } of pieces) {
      const held = { low: Math.min(from, to), high: Math.max(from, to), span: id, start, from };
      const known = on.get(line);
      if (known === undefined) on.set(line, [held]);
      else known.push(held);
      start += Math.abs(to - from);
    }
    const known = before?.get(id);
    const span =
      known !== undefined && samePieces(known.pieces, pieces) ? known.span : makeSpan(id, features, pieces, start);
    made.set(id, { span, pieces });
    return span;
  });
  return {
    spans: sortedById(spans, (span) => span.id),
    endOf,
    made,
    spanOf: ({ line, along }) => {
      const held = (on.get(line) ?? []).filter(({ low, high }) => along >= low && along <= high);
      held.sort((a, b) => a.low - b.low || a.high - b.high || byId(a.span, b.span));
      const [first] = held;
      return first === undefined ? null : { span: first.span, along: first.start + Math.abs(along - first.from) };
    },
  };
}

function makeSpan(id: string, ends: Span['ends'], pieces: readonly Piece[], length: Millimetre): Span {
  const stretches = pieces.map(stretchOf);
  const layoutLength = stretches.reduce<Millimetre | null>(
    (sum, each) => (sum === null || each.layoutLength === null ? null : sum + each.layoutLength),
    0,
  );
  return { id, ends, path: pathOf(pieces), length, layoutLength, stretches };
}

function samePieces(a: readonly Piece[], b: readonly Piece[]): boolean {
  return (
    a.length === b.length &&
    a.every(({ line, from, to }, i) => line === b[i]?.line && from === b[i]?.from && to === b[i]?.to)
  );
}

/** The place of each feature in the order in which spans name their ends: points, crossings, free ends; each by id. */
function placesOf(named: readonly Named[]): readonly number[] {
  const places = named.map(() => 0);
  const order = sortedById(
    named.map(({ id, rank }, f) => ({ id, rank, f })),
    ({ id }) => id,
  ).sort((a, b) => a.rank - b.rank);
  order.forEach(({ f }, i) => {
    places[f] = i;
  });
  return places;
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
