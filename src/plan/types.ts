import type { CrossingRecord, Lie, PlaceRecord, PointRecord } from '../panel/index.ts';
import type { Degree, Millimetre, Spot } from '../units/index.ts';

/** One end of a span: 0 is where its path begins, 1 where it ends. */
export interface SpanEnd {
  readonly span: string;
  readonly end: 0 | 1;
}

/** A stretch of one strip that a span runs along, by millimetres from the strip's first corner (from > to: run backwards). */
export interface StripStretch {
  readonly strip: string;
  readonly from: Millimetre;
  readonly to: Millimetre;
  /** Its share of the strip's `layoutLength`, by face length; null where the strip says none. */
  readonly layoutLength: Millimetre | null;
}

/** The track between two features (points, crossings, free ends). */
export interface Span {
  /** "P1/E1": the ids at its two ends, sorted, with "#2" and so on where two spans join the same two. */
  readonly id: string;
  readonly ends: readonly [feature: string, feature: string];
  /** Corners along it, in the order of its ends, unrounded. */
  readonly path: readonly Spot[];
  readonly length: Millimetre;
  /** On the layout, where every strip along it says its `layoutLength` (shared out by face length); else null. */
  readonly layoutLength: Millimetre | null;
  readonly stretches: readonly StripStretch[];
}

/** A way through a feature that the lies in `asks` allow. Both directions are meant. */
export interface Passage {
  readonly feature: string;
  readonly between: readonly [SpanEnd, SpanEnd];
  readonly asks: Readonly<Record<string, Lie>>;
  /** A crossing or slip that it passes, for conflicts; null at a point. */
  readonly crossing: string | null;
}

export interface PlanPoint {
  readonly id: string;
  readonly name: string | null;
  readonly at: Spot;
  readonly toe: SpanEnd;
  readonly normal: SpanEnd;
  readonly reverse: SpanEnd;
  /** Strip of each heel leg. */
  readonly normalStrip: string;
  readonly reverseStrip: string;
  /** Unit directions away from the spot, for drawing fingers. */
  readonly toward: { readonly toe: Spot; readonly normal: Spot; readonly reverse: Spot };
  /** Between the two heel legs. */
  readonly angle: Degree;
  /** The hand of the reverse leg seen from the toe. */
  readonly hand: 'left' | 'right';
  /** The file's record, when there is one. */
  readonly record: PointRecord | null;
  /** How it works: a point of its own, one end of a slip, or one of a three-way's two. */
  readonly of: 'point' | 'slip' | 'three-way';
  readonly trap: boolean;
}

export interface PlanCrossing {
  readonly id: string;
  readonly at: Spot;
  readonly kind: 'diamond' | 'single-slip' | 'double-slip';
  readonly strips: readonly [string, string];
  readonly angle: Degree;
  readonly record: CrossingRecord | null;
}

export interface Bridge {
  readonly at: Spot;
  readonly strips: readonly [string, string];
  /** The record of the file that makes a bridge of the crossing. */
  readonly record: CrossingRecord;
}

export interface Butt {
  readonly at: Spot;
  readonly strips: readonly [string, string];
  /** How far the two are from one straight line. */
  readonly kink: Degree;
}

export interface Place {
  /** Its record's id, or "E1"... for a free end without one. */
  readonly id: string;
  readonly name: string | null;
  readonly at: Spot;
  readonly kind: 'end' | 'road';
  /** The span it stands on, and how far along (0 or the length for an end). */
  readonly span: string;
  readonly along: Millimetre;
  /** How long a train may stand there, on the layout; null where the file does not say. */
  readonly length: Millimetre | null;
  readonly record: PlaceRecord | null;
}

/** One point that a lever works, and the lie of it when the lever is normal. */
export interface Worked {
  readonly point: string;
  readonly whenNormal: Lie;
}

/** A lever of the panel: its record, or the one a point has by default. */
export interface Lever {
  readonly id: string;
  readonly name: string | null;
  readonly at: Spot;
  readonly angle: Degree;
  /** The switch part that the file asks for; null: the smallest that serves. */
  readonly switch: string | null;
  readonly works: readonly Worked[];
  readonly recorded: boolean;
}

/** The graph that strips mean. Lists are sorted by id in the order of `byId` unless said otherwise. */
export interface Plan {
  readonly spans: readonly Span[];
  readonly points: readonly PlanPoint[];
  readonly crossings: readonly PlanCrossing[];
  readonly bridges: readonly Bridge[];
  readonly butts: readonly Butt[];
  /** In the order of the file, then free ends without a record. */
  readonly places: readonly Place[];
  readonly passages: readonly Passage[];
  readonly levers: readonly Lever[];
  readonly problems: readonly PlanProblem[];
}

/** What the plan could not read, or read with a doubt; checks turns each into a finding. */
export type PlanProblem =
  | { readonly code: 'strip-no-length'; readonly strip: string; readonly at: Spot }
  | {
      readonly code: 'end-too-square';
      readonly strip: string;
      readonly onto: string;
      readonly at: Spot;
      readonly angle: Degree;
      readonly swingTo: Spot;
    }
  | {
      readonly code: 'end-too-flat';
      readonly strip: string;
      readonly onto: string;
      readonly at: Spot;
      readonly angle: Degree;
    }
  | {
      readonly code: 'end-misses';
      readonly strip: string;
      readonly onto: string;
      readonly at: Spot;
      readonly gap: Millimetre;
      readonly snapTo: Spot;
    }
  | { readonly code: 'butt-kink'; readonly strips: readonly [string, string]; readonly at: Spot; readonly kink: Degree }
  | { readonly code: 'ends-ambiguous'; readonly strips: readonly string[]; readonly at: Spot }
  | {
      readonly code: 'strips-overlap';
      readonly strips: readonly [string, string];
      readonly at: Spot;
      readonly length: Millimetre;
    }
  | { readonly code: 'crossing-unreadable'; readonly strips: readonly string[]; readonly at: Spot }
  | {
      readonly code: 'record-finds-nothing';
      readonly kind: 'place' | 'point' | 'crossing' | 'threeWay';
      readonly id: string;
      readonly at: Spot;
      readonly reach: Millimetre;
    }
  | {
      readonly code: 'records-on-one';
      readonly kind: 'place' | 'point' | 'crossing' | 'threeWay';
      readonly ids: readonly string[];
      readonly at: Spot;
    }
  | { readonly code: 'normal-unknown'; readonly point: string; readonly normal: string; readonly at: Spot }
  | { readonly code: 'place-unnamed'; readonly place: string; readonly strip: string; readonly at: Spot }
  | { readonly code: 'lever-works-nothing-there'; readonly lever: string; readonly point: string }
  | { readonly code: 'lever-works-nothing'; readonly lever: string }
  | {
      readonly code: 'point-worked-twice';
      readonly point: string;
      readonly levers: readonly string[];
      readonly at: Spot;
    }
  | { readonly code: 'point-worked-by-none'; readonly point: string; readonly at: Spot };
