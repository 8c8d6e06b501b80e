/** Lamps laid in even rows: along a strip, along a whole leg, along both legs of a point. */
import { guidePath, type Stroke } from '../face/index.ts';
import { editOf, type LampRecord, type Lies, type PanelFile, stripBend, type Transaction } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { finish, freshNames, planOf } from './edits.ts';
import { writtenSpot } from './geometry.ts';
import { stripOf } from './on-strips.ts';
import { showsAt, showsOf } from './shows.ts';
import { alongNearest, lengthOfStrokes, spotAlongStrokes } from './strokes.ts';
import { LAMP_APART, LAMP_CLEAR, MOST_LAMPS } from './tolerances.ts';

export interface Strewing {
  /** As many lamps as are wanted; where they would stand nearer than `apart` to each other, as many as fit. */
  readonly count: number;
  readonly apart?: Millimetre;
  /** What every one of them says beside: its part, its current. */
  readonly lamp?: {
    readonly part?: string;
    readonly current?: number;
    readonly claims?: NonNullable<LampRecord['claims']>;
  };
}

/** So many lamps on a strip from one spot to another, both included; one lamp stands midway. What each shows is what the leg under it asks. */
export function strewAlong(
  panel: PanelFile,
  { strip: id, from, to }: { readonly strip: string; readonly from: Spot; readonly to: Spot },
  how: Strewing,
): Transaction | null {
  const strip = stripOf(panel, id);
  if (strip === undefined || strip.path.length < 2) return null;
  const strokes = guidePath(strip.path, stripBend(strip));
  const [a, b] = [alongNearest(strokes, from), alongNearest(strokes, to)];
  if (a === null || b === null) return null;
  const plan = planOf(panel);
  const spots = evenly(a, b, how).map((along) => spotAlongStrokes(strokes, along));
  return layLamps(panel, spots, (spot) => showsAt(plan, spot), how, 'lamp.strew');
}

/**
 * So many lamps along a whole leg: the span between two features, clear of both by 12 mm, or by a quarter of the span where it is short. All
 * show what the span asks.
 */
export function strewSpan(panel: PanelFile, span: string, how: Strewing): Transaction | null {
  const plan = planOf(panel);
  const line = spanLine(panel, plan, span);
  if (line === null) return null;
  const shows = showsOf(plan, span);
  return layLamps(panel, spotsOnSpan(line, how, null), () => shows, how, 'lamp.strew');
}

/**
 * Lamps along both heel legs of a point, as opposed pairs: as many on the one as on the other, equally far from the toe, those of the normal leg
 * first. Each pair shows the two lies of the point alone. Null where a leg has no room.
 */
export function strewLegs(panel: PanelFile, id: string, how: Strewing): Transaction | null {
  const plan = planOf(panel);
  const point = plan.points.find((each) => each.id === id);
  if (point === undefined || point.normal.span === point.reverse.span) return null;
  const legs = [point.normal, point.reverse].map(({ span, end }) => ({ line: spanLine(panel, plan, span), end }));
  const lengths = legs.map(({ line }) => (line === null ? 0 : line.length));
  const room = Math.min(...lengths);
  const pairs = legs.map(({ line, end }) => (line === null ? [] : spotsOnSpan(line, how, { end, room })));
  const [normal = [], reverse = []] = pairs;
  if (normal.length === 0 || normal.length !== reverse.length) return null;
  const spots = normal.flatMap((spot, i) => [spot, reverse[i] ?? null]);
  const lies = new Map<Spot | null, Lies>();
  for (const spot of normal) lies.set(spot, { [id]: 'normal' });
  for (const spot of reverse) lies.set(spot, { [id]: 'reverse' });
  return layLamps(panel, spots, (spot) => lies.get(spot) ?? null, how, 'lamp.strew');
}

/** How many lamps of a row fit on so many millimetres, both ends included. */
export function lampsThatFit(length: Millimetre, { count, apart = LAMP_APART }: Strewing): number {
  // A share of the spacing keeps a row that fits exactly from losing its last lamp to rounding.
  const most = length < 0 || !(apart > 0) ? 0 : Math.floor(length / apart + 1e-6) + 1;
  return Math.max(0, Math.min(Math.floor(count), most, MOST_LAMPS));
}

function evenly(a: Millimetre, b: Millimetre, how: Strewing): readonly Millimetre[] {
  const count = lampsThatFit(Math.abs(b - a), how);
  if (count === 1) return [(a + b) / 2];
  return Array.from({ length: count }, (_, i) => a + ((b - a) * i) / (count - 1));
}

interface SpanLine {
  readonly strokes: readonly Stroke[];
  readonly length: Millimetre;
}

/** A span as its tape lies, bends round; null where there is no such span. */
function spanLine(panel: PanelFile, plan: Plan, id: string): SpanLine | null {
  const span = plan.spans.find((each) => each.id === id);
  if (span === undefined) return null;
  const strip = stripOf(panel, span.stretches[0]?.strip ?? '');
  const strokes = guidePath(span.path, strip === undefined ? 0 : stripBend(strip));
  const length = lengthOfStrokes(strokes);
  return length > 0 ? { strokes, length } : null;
}

/** `from`: counted from that end of the span, within so much room; null: over the whole of it. */
function spotsOnSpan(
  { strokes, length }: SpanLine,
  how: Strewing,
  from: { readonly end: 0 | 1; readonly room: Millimetre } | null,
): readonly (Spot | null)[] {
  const room = from?.room ?? length;
  const clear = Math.min(LAMP_CLEAR, room / 4);
  return evenly(clear, room - clear, how).map((along) =>
    spotAlongStrokes(strokes, from?.end === 1 ? length - along : along),
  );
}

function layLamps(
  panel: PanelFile,
  spots: readonly (Spot | null)[],
  showsOn: (spot: Spot) => Lies | null,
  how: Strewing,
  name: string,
): Transaction | null {
  const ids = freshNames(panel);
  const edit = editOf(panel);
  for (const spot of spots) {
    if (spot === null) continue;
    const shows = how.lamp?.claims === undefined ? showsOn(spot) : null;
    edit.add('lamps', {
      id: ids.next('H'),
      at: writtenSpot(spot),
      ...how.lamp,
      ...(shows === null ? {} : { shows: { ...shows } }),
    });
  }
  return finish(panel, edit, name);
}
