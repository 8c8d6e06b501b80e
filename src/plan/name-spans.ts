/** Spans with their ids, ends and order. */
import type { Millimetre, Spot } from '../units/index.ts';
import { byId, sortedById } from './by-id.ts';
import type { Legs } from './choose-normal.ts';
import type { Piece, RawSpan } from './join-spans.ts';
import { compareSpots, cornersBetween } from './line.ts';
import type { Port } from './port.ts';
import type { RawFeature } from './read-junctions.ts';
import type { RawRoad } from './read-places.ts';
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

export function portKey(feature: number, port: number): string {
  return `${feature}.${port}`;
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

/** Of each port: does its span run to a free end, and how far is it. */
export function runsOf(rawSpans: readonly RawSpan[], named: readonly Named[]) {
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
export function nameSpans(rawSpans: readonly RawSpan[], named: readonly Named[]) {
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
  return {
    spans: sortedById(spans, (span) => span.id),
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
