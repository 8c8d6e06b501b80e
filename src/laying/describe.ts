/**
 * Everything on the face in reading order, as facts without words: what a screen reader says of it is made of these. From the top row to the
 * bottom, in a row from left to right; of things at one spot what stands first in the order of kinds.
 */
import {
  DEFAULTS,
  type LampRecord,
  type Lie,
  type Lies,
  type PanelFile,
  type Strip,
  stripWidth,
} from '../panel/index.ts';
import { byId, type Lever, type Place, type Plan, type PlanPoint, type Span, type SpanEnd } from '../plan/index.ts';
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import { distance } from './geometry.ts';
import { lengthOfStrip } from './measure.ts';
import { halfWidest, stripAt } from './on-strips.ts';
import { showsAt } from './shows.ts';
import { END_ON, LAMP_REACH, ROW, STRIP_REACH } from './tolerances.ts';

/** Something by its id, and what the builder calls it; null where it has no name. */
export interface Called {
  readonly id: string;
  readonly name: string | null;
}

/** Where a leg leads: the strip that it begins on, a named place on the way or at its far end, and the feature at its far end. */
export interface Leads {
  readonly strip: Called;
  readonly place: Called | null;
  /** The point, crossing or free end where the span ends. */
  readonly far: string;
}

/** What lies at an end of a strip. */
export type StripEndFacts =
  | { readonly at: Spot; readonly makes: 'point' | 'crossing'; readonly id: string; readonly onto: Called | null }
  | { readonly at: Spot; readonly makes: 'place'; readonly id: string; readonly name: string | null }
  | { readonly at: Spot; readonly makes: 'butt'; readonly onto: Called }
  | { readonly at: Spot; readonly makes: 'nothing' };

interface Facts<Kind extends string, F> {
  readonly kind: Kind;
  /** Its id, or its index where its kind has none. */
  readonly id: string | number;
  readonly at: Spot;
  readonly facts: F;
}

export type Described =
  | Facts<
      'strip',
      {
        readonly name: string | null;
        readonly tape: string;
        readonly width: Millimetre;
        /** As its tape lies. */
        readonly length: Millimetre;
        readonly layoutLength: Millimetre | null;
        readonly ends: readonly [StripEndFacts, StripEndFacts];
        /** By their distance from the left end; ids. */
        readonly points: readonly string[];
        readonly crossings: readonly string[];
        readonly places: readonly Called[];
        readonly lamps: readonly string[];
      }
    >
  | Facts<
      'point',
      {
        readonly name: string | null;
        readonly of: PlanPoint['of'];
        /** The strip of its toe. */
        readonly on: Called;
        readonly normal: Leads;
        readonly reverse: Leads;
        readonly hand: PlanPoint['hand'];
        readonly angle: Degree;
        readonly trap: boolean;
        readonly workedBy: readonly (Called & { readonly whenNormal: Lie })[];
        readonly setBy: readonly Called[];
        /** Part or record; null where the file says nothing. */
        readonly drive: string | null;
      }
    >
  | Facts<
      'crossing',
      { readonly of: 'diamond' | 'single-slip' | 'double-slip' | 'bridge'; readonly strips: readonly [Called, Called] }
    >
  | Facts<
      'place',
      {
        readonly name: string | null;
        readonly of: 'end' | 'road';
        readonly strip: Called | null;
        readonly length: Millimetre | null;
      }
    >
  | Facts<
      'lamp',
      {
        readonly name: string | null;
        readonly part: string;
        readonly strip: Called | null;
        /** Alternatives; of two colours those of each element. Empty: it claims nothing. */
        readonly shows: readonly Lies[];
        readonly elements: readonly { readonly colour: string; readonly shows: readonly Lies[] }[];
        /** Does the file say what it shows, or the leg under it? */
        readonly said: boolean;
        readonly claims: string | null;
      }
    >
  | Facts<
      'lever',
      {
        readonly name: string | null;
        readonly angle: Degree;
        readonly works: readonly { readonly point: string; readonly whenNormal: Lie }[];
        readonly others: readonly { readonly what: 'signal' | 'section' | 'uncoupler'; readonly id: string }[];
        readonly switch: string | null;
        /** False for one that its point has by default. */
        readonly recorded: boolean;
      }
    >
  | Facts<'button', { readonly name: string | null; readonly part: string; readonly sets: Lies }>
  | Facts<'plate', { readonly text: string }>
  | Facts<'platform', { readonly size: Spot; readonly names: readonly string[] }>
  | Facts<'fixing', { readonly drill: Millimetre }>
  | Facts<'keepOut', { readonly size: Spot }>;

const KINDS: readonly Described['kind'][] = [
  'platform',
  'strip',
  'place',
  'point',
  'crossing',
  'lamp',
  'lever',
  'button',
  'plate',
  'fixing',
  'keepOut',
];

/** Everything on the face, in reading order. `plan` is the reading of the panel. */
export function describeFace(panel: PanelFile, plan: Plan): readonly Described[] {
  const teller = new Teller(panel, plan);
  const { lamps = [], buttons = [], plates = [], platforms = [], face } = panel;
  const all: Described[] = [
    ...panel.strips.filter(({ path }) => path.length > 0).map((strip) => teller.strip(strip)),
    ...plan.points.map((point) => teller.point(point)),
    ...plan.crossings.map(
      ({ id, at, kind, strips: [a, b] }): Described => ({
        kind: 'crossing',
        id,
        at,
        facts: { of: kind, strips: [teller.called(a), teller.called(b)] },
      }),
    ),
    ...plan.bridges.map(
      ({ at, strips: [a, b], record }): Described => ({
        kind: 'crossing',
        id: record.id,
        at,
        facts: { of: 'bridge', strips: [teller.called(a), teller.called(b)] },
      }),
    ),
    ...plan.places.map(
      ({ id, name, at, kind, length }): Described => ({
        kind: 'place',
        id,
        at,
        facts: { name, of: kind, strip: teller.under(at), length },
      }),
    ),
    ...lamps.map((lamp): Described => {
      const here = showsAt(plan, lamp.at);
      const said = listOf(lamp.shows);
      return {
        kind: 'lamp',
        id: lamp.id,
        at: lamp.at,
        facts: {
          name: lamp.name ?? null,
          part: lamp.part ?? DEFAULTS.lamp.part,
          strip: teller.under(lamp.at),
          shows: lamp.shows !== undefined ? said : here === null || lamp.elements !== undefined ? [] : [here],
          elements: (lamp.elements ?? []).map(({ colour, shows }) => ({ colour, shows: listOf(shows) })),
          said: lamp.shows !== undefined || lamp.elements !== undefined,
          claims: lamp.claims ?? null,
        },
      };
    }),
    ...plan.levers.map((lever) => teller.lever(lever)),
    ...buttons.map(
      ({ id, at, name, part, sets }): Described => ({
        kind: 'button',
        id,
        at,
        facts: { name: name ?? null, part: part ?? DEFAULTS.button.part, sets: sets ?? {} },
      }),
    ),
    ...plates.map(({ at, text }, id): Described => ({ kind: 'plate', id, at, facts: { text } })),
    ...platforms.map(
      ({ at, size, names }, id): Described => ({
        kind: 'platform',
        id,
        at,
        facts: { size, names: (names ?? []).map(({ text }) => text) },
      }),
    ),
    ...(face?.fixings ?? []).map(({ at, drill }, id): Described => ({ kind: 'fixing', id, at, facts: { drill } })),
    ...(face?.keepOut ?? []).map(({ at, size }, id): Described => ({ kind: 'keepOut', id, at, facts: { size } })),
  ];
  return inReadingOrder(all);
}

/** Rows from the top: what lies within a row's height of its first thing stands in it. */
function inReadingOrder(all: readonly Described[]): readonly Described[] {
  const down = [...all].sort((a, b) => a.at[1] - b.at[1] || compare(a, b));
  const rows: Described[][] = [];
  let top = -Infinity;
  for (const each of down) {
    const row = rows[rows.length - 1];
    if (row === undefined || each.at[1] > top + ROW) {
      rows.push([each]);
      top = each.at[1];
    } else row.push(each);
  }
  return rows.flatMap((row) => row.sort((a, b) => a.at[0] - b.at[0] || compare(a, b)));
}

function compare(a: Described, b: Described): number {
  return KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind) || byId(String(a.id), String(b.id));
}

function listOf(shows: Lies | readonly Lies[] | undefined): readonly Lies[] {
  if (shows === undefined) return [];
  return Array.isArray(shows) ? shows : [shows as Lies];
}

class Teller {
  private readonly panel: PanelFile;
  private readonly plan: Plan;
  private readonly strips: ReadonlyMap<string, Strip>;
  private readonly spans: ReadonlyMap<string, Span>;
  /** Strips at each point, of its toe and of both legs. */
  private readonly atPoint: ReadonlyMap<string, ReadonlySet<string>>;
  private readonly onStrip: {
    readonly points: ReadonlyMap<string, readonly PlanPoint[]>;
    readonly places: ReadonlyMap<string, readonly Place[]>;
    readonly lamps: ReadonlyMap<string, readonly LampRecord[]>;
  };

  constructor(panel: PanelFile, plan: Plan) {
    this.panel = panel;
    this.plan = plan;
    this.strips = new Map(panel.strips.map((strip) => [strip.id, strip]));
    this.spans = new Map(plan.spans.map((span) => [span.id, span]));
    this.atPoint = new Map(
      plan.points.map((point) => {
        const toe = this.stripAtEnd(point.toe);
        return [point.id, new Set([point.normalStrip, point.reverseStrip, ...(toe === undefined ? [] : [toe])])];
      }),
    );
    const under = ({ at }: { readonly at: Spot }) => {
      const on = stripAt(panel, at, 0);
      return on === null ? [] : [on.strip.id];
    };
    this.onStrip = {
      points: grouped(plan.points, ({ id }) => this.atPoint.get(id) ?? []),
      places: grouped(plan.places, under),
      lamps: grouped(panel.lamps ?? [], under),
    };
  }

  called(strip: string): Called {
    return { id: strip, name: this.strips.get(strip)?.name ?? null };
  }

  /** The strip under a spot. */
  under(spot: Spot): Called | null {
    const on = stripAt(this.panel, spot, LAMP_REACH);
    return on === null ? null : this.called(on.strip.id);
  }

  strip(strip: Strip): Described {
    const { id, path } = strip;
    const first: Spot = path[0] ?? [0, 0];
    const last: Spot = path[path.length - 1] ?? first;
    const left: Spot = last[0] < first[0] || (last[0] === first[0] && last[1] < first[1]) ? last : first;
    const right: Spot = left === last ? first : last;
    const near = (a: { readonly at: Spot }, b: { readonly at: Spot }) => distance(a.at, left) - distance(b.at, left);
    const { points, places, lamps } = this.onStrip;
    return {
      kind: 'strip',
      id,
      at: left,
      facts: {
        name: strip.name ?? null,
        tape: strip.tape ?? DEFAULTS.strip.tape,
        width: stripWidth(strip),
        length: lengthOfStrip(strip),
        layoutLength: strip.layoutLength ?? null,
        ends: [this.end(id, left), this.end(id, right)],
        points: [...(points.get(id) ?? [])].sort(near).map((point) => point.id),
        crossings: this.plan.crossings
          .filter(({ strips }) => strips.includes(id))
          .sort(near)
          .map((crossing) => crossing.id),
        places: [...(places.get(id) ?? [])].sort(near).map((place) => ({ id: place.id, name: place.name })),
        lamps: [...(lamps.get(id) ?? [])].sort(near).map((lamp) => lamp.id),
      },
    };
  }

  point(point: PlanPoint): Described {
    const { id, name, at, of, hand, angle, trap, record } = point;
    return {
      kind: 'point',
      id,
      at,
      facts: {
        name,
        of,
        on: this.called(this.stripAtEnd(point.toe) ?? point.normalStrip),
        normal: this.leads(point.normal, point.normalStrip),
        reverse: this.leads(point.reverse, point.reverseStrip),
        hand,
        angle,
        trap,
        workedBy: this.plan.levers.flatMap((lever) => {
          const worked = lever.works.find((each) => each.point === id);
          return worked === undefined ? [] : [{ id: lever.id, name: lever.name, whenNormal: worked.whenNormal }];
        }),
        setBy: (this.panel.buttons ?? [])
          .filter(({ sets }) => sets !== undefined && Object.hasOwn(sets, id))
          .map((button) => ({ id: button.id, name: button.name ?? null })),
        drive: record?.drive ?? null,
      },
    };
  }

  lever({ id, name, at, angle, works, switch: part, recorded }: Lever): Described {
    const record = this.panel.levers?.find((each) => each.id === id);
    const others = (record?.works ?? []).flatMap((work) =>
      (['signal', 'section', 'uncoupler'] as const).flatMap((what) => {
        const other = work[what];
        return other === undefined ? [] : [{ what, id: other }];
      }),
    );
    return { kind: 'lever', id, at, facts: { name, angle, works, others, switch: part, recorded } };
  }

  /** Where a leg leads: along its span, the nearest named place first. */
  private leads(leg: SpanEnd, strip: string): Leads {
    const span = this.spans.get(leg.span);
    const far = span?.ends[leg.end === 0 ? 1 : 0] ?? '';
    const off = (along: Millimetre) => (leg.end === 0 ? along : (span?.length ?? 0) - along);
    const [place] = this.plan.places
      .filter((each) => each.span === leg.span && each.name !== null)
      .sort((a, b) => off(a.along) - off(b.along));
    return {
      strip: this.called(strip),
      place: place === undefined ? null : { id: place.id, name: place.name },
      far,
    };
  }

  private stripAtEnd({ span, end }: SpanEnd): string | undefined {
    const stretches = this.spans.get(span)?.stretches ?? [];
    return (end === 0 ? stretches[0] : stretches[stretches.length - 1])?.strip;
  }

  private end(strip: string, at: Spot): StripEndFacts {
    // What an end makes stands on the middle of the tape that it meets.
    const reach = (other: Spot) => distance(other, at) <= STRIP_REACH + halfWidest(this.panel);
    const place = this.plan.places.find((each) => each.kind === 'end' && distance(each.at, at) <= END_ON);
    if (place !== undefined) return { at, makes: 'place', id: place.id, name: place.name };
    const point = (this.onStrip.points.get(strip) ?? []).find((each) => reach(each.at));
    const crossing = this.plan.crossings.find((each) => reach(each.at) && each.strips.includes(strip));
    const butt = this.plan.butts.find((each) => reach(each.at) && each.strips.includes(strip));
    const onto = stripAt(this.panel, at, 0, new Set([strip]));
    const other = onto === null ? null : this.called(onto.strip.id);
    if (point !== undefined) return { at, makes: 'point', id: point.id, onto: other };
    if (butt !== undefined) {
      const met = butt.strips.find((each) => each !== strip) ?? strip;
      return { at, makes: 'butt', onto: this.called(met) };
    }
    if (crossing !== undefined) return { at, makes: 'crossing', id: crossing.id, onto: other };
    return { at, makes: 'nothing' };
  }
}

/** Things by the strips that they are on, in their order. */
function grouped<T>(things: readonly T[], stripsOf: (thing: T) => Iterable<string>): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const thing of things) {
    for (const strip of stripsOf(thing)) {
      const group = groups.get(strip);
      if (group === undefined) groups.set(strip, [thing]);
      else group.push(thing);
    }
  }
  return groups;
}
