import type { ContactBudget } from '../contacts/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import type { SpanEnd } from '../plan/index.ts';
import type { Ampere, Millimetre, Ohm, Spot, Volt } from '../units/index.ts';

/**
 * One of the two bus wires. By NEM 631 the right-hand rail in the direction of travel is the positive one: in each connected piece of
 * track A is what feeds the right-hand rail of the strip laid first, seen from its first corner to its last; B feeds the other.
 */
export type BusWire = 'A' | 'B';

/** A rail by its hand; seen which way is said where it is used. */
export type Rail = 'left' | 'right';

/** The two rails of a span, seen from its end 0 to its end 1. */
export interface SpanRails {
  readonly span: string;
  /** Null inside a reversing section, whose rails change over. */
  readonly left: BusWire | null;
  readonly right: BusWire | null;
  /** Id of the reversing section that the span is; null for other track. */
  readonly section: string | null;
}

/** Something the file does not say and that an answer hangs on. */
export interface TrackQuestion {
  /** The key of the file that would answer it: "track.bus.length", "strips.loop.layoutLength". */
  readonly key: string;
  /** In words, with its unit: "How long is the bus, one way, in mm on the layout?" */
  readonly text: string;
}

/** One of the two cuts of a reversing section: both rails. */
export interface SectionEnd {
  /** The point or crossing at that end of the span. */
  readonly feature: string;
  readonly at: Spot;
  readonly end: 0 | 1;
}

/** A span that is fed through something that changes its two rails over, since a train comes back over it turned round. */
export interface ReversingSection {
  /** "RS1"..., in the order of spans. */
  readonly id: string;
  readonly span: string;
  /** Where it begins and ends, at the span's end 0 and end 1. */
  readonly begins: SectionEnd;
  readonly ends: SectionEnd;
  /** On the layout; null where the file does not say. */
  readonly length: Millimetre | null;
  /** The longest train of the file; null where no train has a length. */
  readonly train: { readonly id: string; readonly length: Millimetre } | null;
  /** It must hold the longest train; never judged by tape. */
  readonly verdict: 'holds' | 'too-short' | 'not-asked-for';
  /** Whether the gaps of the file cut it off; null where the file lists no gaps. */
  readonly cut: boolean | null;
  /** What would settle it; empty when it is settled. */
  readonly questions: readonly TrackQuestion[];
}

/** What a frog's rail must be in one case. */
export interface FrogCase {
  /** The lies that tell the case; empty where no lie does. */
  readonly when: Lies;
  /** The leg that is used then, or, of a diamond, the span before it on the line in use. */
  readonly leg: SpanEnd;
  /** Of a diamond, the strip of the line in use; else null. */
  readonly strip: string | null;
  /**
   * The rail whose polarity the frog takes: of a point or three-way seen from the toe towards the frog, of a slip from its middle
   * towards that end, of a diamond along the line in use, from its span's end into the crossing.
   */
  readonly rail: Rail;
  /** The bus wire of that rail; null inside a reversing section. */
  readonly bus: BusWire | null;
}

/** One crossing of two rails. */
export interface TrackFrog {
  /** The record's id, or a derived one ("F-P1", "F-P30-2", "F-X1-3"). */
  readonly id: string;
  /** The record of the file that speaks of it; null: nothing is said. */
  readonly record: string | null;
  /** The point (of a slip: the end; of a three-way: whose contact it goes by) or diamond that it belongs to. */
  readonly of: string;
  /** On the face: at its feature; frogs of one feature share a spot. */
  readonly at: Spot;
  readonly what: 'point' | 'slip-end' | 'three-way' | 'diamond-acute' | 'diamond-obtuse';
  /** Legs whose inner rails run into it, left then right as `rail` is seen; of a diamond its four ways, strip by strip. */
  readonly legs: readonly SpanEnd[];
  /** As the file says; 'not-said' where it says nothing: all else about it then reads "if it is live". */
  readonly kind: 'live' | 'dead' | 'module' | 'not-said';
  /** The point whose lie tells which rail it takes: of a slip the other end's. Null where no point tells it. */
  readonly toldBy: string | null;
  /** By `toldBy` normal and reverse; of a diamond that no point tells, its first and its second strip in use. */
  readonly normal: FrogCase;
  readonly reverse: FrogCase;
  /** True where both cases ask one bus wire: then it is joined to that, and needs no contact. */
  readonly fixed: boolean;
  /** The contact that changes it over: stated by the file, or the tool's proposal. Null: none, or none is free. */
  readonly contact: { readonly id: string; readonly stated: boolean } | null;
  /** What it still wants if it is live: nothing, a contact (`proposed` in `contact`, or none is free: then a module or relay), a module. */
  readonly wants: 'nothing' | 'contact' | 'module';
  /**
   * Lies to set besides those that a way asks, for the frog to suit it: a single slip's straight ways want the other end reverse.
   * With them not set so, the frog is wrong for that way.
   */
  readonly care: readonly { readonly way: Lies; readonly set: Lies }[];
}

/** A cut in one rail or both, at a spot of a span. */
export interface TrackGap {
  /** 1..., in the order of spans, then ends: the number on the drawing. */
  readonly no: number;
  readonly span: string;
  /** The end of the span that it is next to. */
  readonly end: 0 | 1;
  /** Along the span from its end 0, on the face: where the drawing puts it. */
  readonly along: Millimetre;
  readonly at: Spot;
  /** Seen from the span's end 0 to its end 1. */
  readonly rail: Rail | 'both';
  /** The same as a file says it: seen along the strip there, from its first corner to its last. */
  readonly stripRail: Rail | 'both';
  /** What it is for: frogs and reversing sections by id. */
  readonly for: readonly string[];
  /** Every frog that it is for is of a kind that the file does not say: it is wanted only if that one is live. */
  readonly onlyIfLive: boolean;
  /** 'there': the file has it; 'missing': the file lists gaps and has it not; 'to-cut': the file lists no gaps. */
  readonly state: 'there' | 'missing' | 'to-cut';
  /** Counted from 0 in `track.gaps`: those that serve. */
  readonly by: readonly number[];
}

/** A gap of the file for which the tool knows no need, or that lies on no span. */
export interface OtherGap {
  /** Counted from 0 in `track.gaps`. */
  readonly index: number;
  readonly at: Spot;
  readonly span: string | null;
  readonly why: 'need-unknown' | 'finds-no-track';
}

/** A pair of droppers: one to each rail. */
export interface TrackDropper {
  /** 1..., in the order of the file, else of spans: the number on the drawing. */
  readonly no: number;
  readonly span: string;
  readonly along: Millimetre;
  readonly at: Spot;
  /** Wires to the rails, seen from the span's end 0 to its end 1; null in a reversing section: from what changes it over. */
  readonly left: BusWire | null;
  readonly right: BusWire | null;
  readonly section: string | null;
  /** From the file's `feeds`, or planned by the tool. */
  readonly from: 'file' | 'tool';
}

/** How a leg stands in one lie of its point: 'depends' on other points. */
export type LegState = 'alive' | 'dead' | 'short' | 'depends';

/** One heel leg and when a train finds power on it, on its longest stretch between gaps. */
export interface LegFeed {
  /** Of a slip the point whose blades choose it; of a three-way the one whose reverse it is, else the first. */
  readonly point: string;
  readonly lie: Lie;
  /** The lies that set it: of a three-way both points'. */
  readonly asks: Lies;
  readonly span: string;
  readonly end: 0 | 1;
  /** Its two rails are on opposite wires when any of these holds; `[{}]` always, `[]` never. */
  readonly alive: readonly Lies[];
  /** One of its rails is on both wires at once when any of these holds. */
  readonly shorts: readonly Lies[];
  /** With the points set for it. */
  readonly whenSet: LegState;
  /** By `point` alone. */
  readonly whenNormal: LegState;
  readonly whenReverse: LegState;
  /** False where too many points have a say: then it was not worked out, and the states are 'depends'. */
  readonly complete: boolean;
}

/** Rails that lie on both wires at once. */
export interface TrackShort {
  /** When all of these hold; empty: always. */
  readonly when: Lies;
  /** Frogs that join them, in order. */
  readonly frogs: readonly string[];
  readonly spans: readonly string[];
  readonly at: Spot;
}

/** One line of a sum, ready to print: `2 x 8 m of 1.5 mm2` = 0.184 ohm. */
export interface SumStep {
  readonly what: string;
  readonly sum: string;
  readonly value: number;
  readonly unit: 'ohm' | 'V' | 'A';
}

/** The bus of one booster, to its far end. */
export interface BusSum {
  /** The booster's record; null where the file has none. */
  readonly booster: string | null;
  readonly steps: readonly SumStep[];
  /** Bus and droppers, there and back; null where something is not said. */
  readonly ohms: Ohm | null;
  /** The most it gives before it trips: at these amps the drop is counted. */
  readonly amps: Ampere | null;
  readonly drop: Volt | null;
  /** Share of the booster's volts; null where those are not said. */
  readonly dropShare: number | null;
  /**
   * Through a coin across the rails at the far end; what limits the booster itself is not counted. Where what is known is too much
   * already it is the most that there can be.
   */
  readonly shortAmps: Ampere | null;
  /** `tripAmps` with the margin: what the short must reach to be seen. */
  readonly neededAmps: Ampere | null;
  readonly verdict: 'trips' | 'does-not-trip' | 'not-asked-for';
  /** What the bus wire is made for, by the thickest wire of the catalogue that is no thicker; null where nothing is said or known. */
  readonly wireAmps: Ampere | null;
  readonly questions: readonly TrackQuestion[];
}

/** All that the track wants of wire. Lists stand in the order of plan ids unless said otherwise. */
export interface TrackFeed {
  readonly system: string | null;
  /** By span, in the order of the plan. */
  readonly rails: readonly SpanRails[];
  readonly sections: readonly ReversingSection[];
  /** No fewer sections will do; false: the search was cut, and there may be fewer. */
  readonly sectionsProved: boolean;
  /**
   * True where the gaps of the file cut every loop off, but not span by span as `sections` proposes: then the file's own cuts stand,
   * no gap is asked for a section, and legs and shorts are not worked out.
   */
  readonly sectionsByFile: boolean;
  readonly frogs: readonly TrackFrog[];
  /** What contacts each drive has and owes, in the order of the wiring. */
  readonly contacts: readonly ContactBudget[];
  readonly gaps: readonly TrackGap[];
  readonly otherGaps: readonly OtherGap[];
  readonly droppers: readonly TrackDropper[];
  /** Feeds of the file that lie on no span, counted from 0. */
  readonly lostFeeds: readonly number[];
  readonly legs: readonly LegFeed[];
  /** With the feeds, gaps and frogs that stand in the file; empty where it has no feeds, or says nothing of gaps. */
  readonly shorts: readonly TrackShort[];
  /** One a booster, in the order of the file; one without where there is none. */
  readonly buses: readonly BusSum[];
  /** Everything that was not asked for, once each: of sections, of buses, of districts. */
  readonly questions: readonly TrackQuestion[];
  /** To print beside the work. */
  readonly cautions: readonly string[];
}
