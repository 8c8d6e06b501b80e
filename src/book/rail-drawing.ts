/**
 * The plan with its two rails: which bus wire feeds each, where a rail is cut, where droppers go, frogs, reversing sections. Rows are
 * drawn further apart than they are, and cuts further from their points, so that their numbers have room; what still finds none is
 * left out and counted. Track that is too large for one drawing is cut into windows.
 */
import type { Derived } from '../derive.ts';
import type { SpanEnd } from '../plan/index.ts';
import type { BusWire, TrackFeed } from '../track/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import type { FontRole } from './fonts.ts';
import type { Box } from './labels.ts';
import type { Measure } from './measure.ts';
import { BLACK, FIRM, HAIR, type Pen, SMALLEST, WHITE } from './pen.ts';
import { boxRound, meets, passes, within } from './placing.ts';
import { capitalOf } from './reading-distance.ts';
import { ranges } from './words.ts';

/** Between the two rails, mm. */
const GAUGE: Millimetre = 2.3;
/** How each wire's rail is drawn: by weight and by dashes, never by colour. */
const INKS: Readonly<
  Record<BusWire, { readonly stroke: string; readonly width: number; readonly dash?: readonly number[] }>
> = {
  A: { stroke: BLACK, width: 0.65 },
  B: { stroke: BLACK, width: 0.3, dash: [1.5, 0.7] },
};
/** A rail whose wire changes over. */
const CHANGED = { stroke: BLACK, width: 0.3 };
/** A cut is drawn no nearer to the end of its span than this, where the span is long enough. */
const CUT_FROM_END: Millimetre = 5;
const MOST_CUT_SHARE = 0.4;
/** Below this scale numbers find no room: the track is cut into windows. */
const LEAST_SCALE = 0.19;
const WINDOW_SCALE = 0.23;
const WINDOW_STRETCH = 1.5;
/** Rows are drawn up to so many times further apart. */
const MOST_STRETCH = 2.4;
/** White round the drawing for lettering, mm. */
const PAD: Millimetre = 7;
const LETTERS = SMALLEST;

/** One drawing, of all the track or of a window of it. */
export interface RailPicture {
  readonly size: Spot;
  /** Labels that found no room. */
  readonly lost: number;
  /** "x 0 to 620, y 0 to 300 mm" where it is a window; null where it is the whole. */
  readonly window: readonly [left: Millimetre, top: Millimetre, right: Millimetre, bottom: Millimetre] | null;
  draw(pen: Pen, at: Spot): void;
}

interface Window {
  readonly from: Spot;
  readonly to: Spot;
  readonly across: number;
  readonly down: number;
}

interface Label {
  readonly text: string;
  readonly font: FontRole;
  readonly boxed: boolean;
  readonly at: Spot;
  readonly box: Box;
  readonly leader: Spot | null;
}

/** What one drawing shows, all in its own millimetres. */
interface Drawn {
  readonly bands: readonly { readonly line: readonly Spot[]; readonly bars: readonly (readonly [Spot, Spot])[] }[];
  readonly rails: readonly { readonly line: readonly Spot[]; readonly bus: BusWire | null }[];
  readonly cuts: readonly { readonly at: Spot; readonly along: Spot; readonly half: Millimetre }[];
  readonly feeds: readonly Spot[];
  readonly frogs: readonly Spot[];
  readonly labels: readonly Label[];
  readonly lost: number;
}

const minus = (a: Spot, b: Spot): Spot => [a[0] - b[0], a[1] - b[1]];
const unit = ([x, y]: Spot): Spot => {
  const long = Math.hypot(x, y);
  return long === 0 ? [1, 0] : [x / long, y / long];
};
/** To the left of the way one goes, on a page with y down. */
const leftOf = ([x, y]: Spot): Spot => [y, -x];
const lengthOf = (line: readonly Spot[]): number =>
  line.slice(1).reduce((sum, to, i) => sum + Math.hypot(...minus(to, line[i] ?? to)), 0);

/** The spot so far along the line, and the way it goes there. */
function alongLine(line: readonly Spot[], distance: number): { readonly at: Spot; readonly way: Spot } {
  let left = distance;
  for (const [i, to] of line.slice(1).entries()) {
    const from = line[i] ?? to;
    const long = Math.hypot(...minus(to, from));
    const way = unit(minus(to, from));
    if (left <= long || i === line.length - 2)
      return { at: [from[0] + way[0] * Math.min(left, long), from[1] + way[1] * Math.min(left, long)], way };
    left -= long;
  }
  return { at: line[0] ?? [0, 0], way: [1, 0] };
}

/** The line moved to its left by so much; corners are mitred. */
export function besideLine(line: readonly Spot[], by: Millimetre): readonly Spot[] {
  return line.map((spot, i) => {
    const before = i > 0 ? unit(minus(spot, line[i - 1] ?? spot)) : null;
    const after = i < line.length - 1 ? unit(minus(line[i + 1] ?? spot, spot)) : null;
    const [a, b] = [leftOf(before ?? after ?? [1, 0]), leftOf(after ?? before ?? [1, 0])];
    const bisector = unit([a[0] + b[0], a[1] + b[1]]);
    const reach = by / Math.max(0.35, bisector[0] * a[0] + bisector[1] * a[1]);
    return [spot[0] + bisector[0] * reach, spot[1] + bisector[1] * reach];
  });
}

/** All of the track in one drawing, or in windows in the order of reading. */
export function layRails(derived: Derived, measure: Measure, most: Spot): readonly RailPicture[] {
  const { plan } = derived;
  const spots = plan.spans.flatMap((span) => span.path);
  if (spots.length === 0) return [];
  const [x0, y0, x1, y1] = boxRound(spots);
  const [w, h] = [Math.max(x1 - x0, 1), Math.max(y1 - y0, 1)];
  const room: Spot = [most[0] - 2 * PAD, most[1] - 2 * PAD];
  const scale = Math.min(room[0] / w, room[1] / h);
  const windows: Window[] = [];
  if (scale >= LEAST_SCALE)
    windows.push({ from: [x0, y0], to: [x1, y1], across: scale, down: Math.min(scale * MOST_STRETCH, room[1] / h) });
  else {
    const down = WINDOW_SCALE * WINDOW_STRETCH;
    const columns = Math.ceil((w * WINDOW_SCALE) / room[0]);
    for (const [top, bottom] of bandsOf(
      spots.map(([, y]) => y),
      room[1] / down,
    ))
      for (let column = 0; column < columns; column++) {
        const from: Spot = [x0 + (w * column) / columns, top];
        const to: Spot = [x0 + (w * (column + 1)) / columns, bottom];
        const field: Box = [...from, ...to];
        if (plan.spans.some((span) => span.path.slice(1).some((b, i) => passes(span.path[i] ?? b, b, field))))
          windows.push({ from, to, across: WINDOW_SCALE, down });
      }
  }
  return windows.map((window): RailPicture => {
    const drawn = layWindow(derived, derived.track(), measure, window);
    const size: Spot = [
      (window.to[0] - window.from[0]) * window.across + 2 * PAD,
      (window.to[1] - window.from[1]) * window.down + 2 * PAD,
    ];
    return {
      size,
      lost: drawn.lost,
      window: windows.length === 1 ? null : [...window.from, ...window.to],
      draw: (pen, at) => drawWindow(pen, drawn, size, at),
    };
  });
}

/** Heights of the corners cut into bands no taller than `most`, each cut where rows are furthest apart in the latter half of a band. */
export function bandsOf(
  heights: readonly Millimetre[],
  most: Millimetre,
): readonly (readonly [Millimetre, Millimetre])[] {
  const rows = [...new Set(heights)].sort((a, b) => a - b);
  const bands: (readonly [Millimetre, Millimetre])[] = [];
  let start = 0;
  while (start < rows.length) {
    const top = rows[start] ?? 0;
    let end = start;
    while (end + 1 < rows.length && (rows[end + 1] ?? 0) - top <= most) end += 1;
    let last = end;
    if (end + 1 < rows.length) {
      let widest = -1;
      for (let i = Math.ceil((start + end) / 2); i <= end; i++) {
        const step = (rows[i + 1] ?? 0) - (rows[i] ?? 0);
        if (step > widest) [widest, last] = [step, i];
      }
    }
    bands.push([top, rows[last] ?? top]);
    start = last + 1;
  }
  return bands;
}

/** Ways from a mark in which its number is sought, and how far. */
const DIRECTIONS = 16;
const RINGS: readonly Millimetre[] = [0.5, 1.6, 3, 4.6, 6.5, 8.5];

function layWindow(derived: Derived, feed: TrackFeed, measure: Measure, window: Window): Drawn {
  const { plan } = derived;
  const put = ([x, y]: Spot): Spot => [
    PAD + (x - window.from[0]) * window.across,
    PAD + (y - window.from[1]) * window.down,
  ];
  const [right, bottom] = put(window.to);
  const field: Box = [0, 0, right + PAD, bottom + PAD];
  const core: Box = [PAD - 0.01, PAD - 0.01, field[2] - PAD + 0.01, field[3] - PAD + 0.01];
  const inCore = ([x, y]: Spot): boolean => within([x, y, x, y], core);
  const lines = new Map(plan.spans.map((span) => [span.id, span.path.map(put)]));
  const spanOf = new Map(plan.spans.map((span) => [span.id, span]));

  // A leg's rails begin where they leave those of the toe: as at a corner of one line from there.
  const toeOf = new Map<string, Spot>(
    plan.points
      .filter((point) => point.of === 'point')
      .flatMap((point) => {
        const [x, y] = point.toward.toe;
        const way = unit([x * window.across, y * window.down]);
        return [point.normal, point.reverse].map(({ span, end }) => [`${span} ${end}`, way] as const);
      }),
  );
  const rails = feed.rails.flatMap((each) => {
    const line = lines.get(each.span) ?? [];
    const [before, after] = [0, 1].map((end) => {
      const spot = end === 0 ? line[0] : line.at(-1);
      const toe = toeOf.get(`${each.span} ${end}`);
      return spot === undefined || toe === undefined ? [] : [[spot[0] + toe[0], spot[1] + toe[1]] as const];
    });
    const long = [...(before ?? []), ...line, ...(after ?? [])];
    const beside = (by: Millimetre): readonly Spot[] => {
      const from = before?.length ?? 0;
      return besideLine(long, by).slice(from, from + line.length);
    };
    return [
      { line: beside(GAUGE / 2), bus: each.left },
      { line: beside(-GAUGE / 2), bus: each.right },
    ];
  });
  const legs = rails.flatMap(({ line }) => line.slice(1).map((b, i): readonly [Spot, Spot] => [line[i] ?? b, b]));

  const bands = feed.sections.map((section) => {
    const line = lines.get(section.span) ?? [];
    const long = lengthOf(line);
    const bars = [
      Math.min(CUT_FROM_END, long * MOST_CUT_SHARE),
      long - Math.min(CUT_FROM_END, long * MOST_CUT_SHARE),
    ].map((distance): readonly [Spot, Spot] => {
      const { at, way } = alongLine(line, distance);
      const [nx, ny] = leftOf(way);
      return [
        [at[0] + nx * GAUGE * 1.1, at[1] + ny * GAUGE * 1.1],
        [at[0] - nx * GAUGE * 1.1, at[1] - ny * GAUGE * 1.1],
      ];
    });
    return { id: section.id, line, bars };
  });

  const cuts = feed.gaps.flatMap((gap) => {
    const line = lines.get(gap.span);
    const span = spanOf.get(gap.span);
    if (line === undefined || span === undefined) return [];
    const long = lengthOf(line);
    const fromEnd = ((gap.end === 0 ? gap.along : span.length - gap.along) * long) / Math.max(span.length, 1e-9);
    const distance = Math.max(fromEnd, Math.min(CUT_FROM_END, long * MOST_CUT_SHARE));
    const { at, way } = alongLine(line, gap.end === 0 ? distance : long - distance);
    const [nx, ny] = leftOf(way);
    const side = gap.rail === 'both' ? 0 : gap.rail === 'left' ? 1 : -1;
    const spot: Spot = [at[0] + (nx * side * GAUGE) / 2, at[1] + (ny * side * GAUGE) / 2];
    return [
      {
        no: gap.no,
        at: spot,
        along: way,
        half: gap.rail === 'both' ? GAUGE / 2 + 0.9 : 0.9,
        out: (side === 0 ? [nx, ny] : [nx * side, ny * side]) as Spot,
      },
    ];
  });

  const feeds = feed.droppers.flatMap((dropper) => {
    const line = lines.get(dropper.span);
    const span = spanOf.get(dropper.span);
    if (line === undefined || span === undefined) return [];
    const { at, way } = alongLine(line, (dropper.along * lengthOf(line)) / Math.max(span.length, 1e-9));
    const [nx, ny] = leftOf(way);
    return [
      {
        no: dropper.no,
        at,
        ends: [1, -1].map((side): Spot => [at[0] + (nx * side * GAUGE) / 2, at[1] + (ny * side * GAUGE) / 2]),
        out: [nx, ny] as Spot,
      },
    ];
  });

  // Frogs of one feature share a mark, but those of a point, which stands where its inner rails cross.
  const wayOf = ({ span, end }: SpanEnd): Spot => {
    const line = lines.get(span) ?? [];
    const [a, b] = end === 0 ? [line[0], line[1]] : [line.at(-1), line.at(-2)];
    return a === undefined || b === undefined ? [1, 0] : unit(minus(b, a));
  };
  const frogs = new Map<string, { at: Spot; ids: string[] }>();
  for (const frog of feed.frogs) {
    let at = put(frog.at);
    const [one, other] = frog.legs;
    if (frog.what === 'point' && one !== undefined && other !== undefined) {
      const [a, b] = [wayOf(one), wayOf(other)];
      const middle = unit([a[0] + b[0], a[1] + b[1]]);
      const half = Math.acos(Math.max(-1, Math.min(1, a[0] * middle[0] + a[1] * middle[1])));
      const reach = Math.min(CUT_FROM_END, GAUGE / 2 / Math.max(0.1, Math.sin(half)));
      at = [at[0] + middle[0] * reach, at[1] + middle[1] * reach];
    }
    const key = `${Math.round(at[0] * 10)} ${Math.round(at[1] * 10)}`;
    const known = frogs.get(key);
    if (known === undefined) frogs.set(key, { at, ids: [frog.id] });
    else known.ids.push(frog.id);
  }

  // Lettering: frogs, then cuts, sections, droppers, places; each where it first finds room.
  const marks: Box[] = [
    ...cuts.map(({ at }): Box => [at[0] - 0.8, at[1] - 0.8, at[0] + 0.8, at[1] + 0.8]),
    ...feeds.flatMap(({ ends }) => ends.map(([x, y]): Box => [x - 0.7, y - 0.7, x + 0.7, y + 0.7])),
    ...[...frogs.values()].map(({ at }): Box => [at[0] - 1, at[1] - 1, at[0] + 1, at[1] + 1]),
  ];
  const labels: Label[] = [];
  let lost = 0;
  const capital = capitalOf(LETTERS);
  const place = (text: string, spot: Spot, out: Spot, font: FontRole, clear: Millimetre, boxed = false): void => {
    const pad = boxed ? 0.75 : 0.3;
    const [w, h] = [measure.width(text, font, LETTERS) / 2 + pad, capital / 2 + pad];
    const begin = Math.atan2(out[1], out[0]);
    const turns = Array.from({ length: DIRECTIONS }, (_, i) => (i % 2 === 0 ? 1 : -1) * Math.ceil(i / 2));
    for (const [ring, more] of RINGS.entries())
      for (const turn of turns) {
        const angle = begin + (turn * 2 * Math.PI) / DIRECTIONS;
        const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
        // So far out that the box just clears a circle round the spot.
        const reach = clear + more + Math.min(w / Math.max(1e-6, Math.abs(cos)), h / Math.max(1e-6, Math.abs(sin)));
        const at: Spot = [spot[0] + cos * reach, spot[1] + sin * reach];
        const box: Box = [at[0] - w, at[1] - h, at[0] + w, at[1] + h];
        if (
          !within(box, field) ||
          labels.some((other) => meets(box, other.box)) ||
          marks.some((mark) => meets(box, mark))
        )
          continue;
        const grown: Box = [box[0] - 0.25, box[1] - 0.25, box[2] + 0.25, box[3] + 0.25];
        if (legs.some(([a, b]) => passes(a, b, grown))) continue;
        labels.push({ text, font, boxed, at, box, leader: ring === 0 ? null : spot });
        return;
      }
    lost += 1;
  };
  for (const { at, ids } of frogs.values()) if (inCore(at)) place(ranges(ids), at, [0, -1], 'text-700', 0.8);
  for (const { no, at, out } of cuts) if (inCore(at)) place(String(no), at, out, 'text-400', 0.8);
  for (const { id, bars } of bands)
    for (const [i, [a]] of bars.entries())
      if (inCore(a)) place(`${id} ${i === 0 ? 'begins' : 'ends'}`, a, [0, -1], 'text-700', 0.8);
  for (const { no, ends, out } of feeds) {
    const [end] = ends;
    if (end !== undefined && inCore(end)) place(String(no), end, out, 'text-700', 0.8, true);
  }
  for (const each of plan.places) {
    const at = put(each.at);
    if (inCore(at))
      place(
        each.name ?? each.id,
        at,
        each.kind === 'end' ? [at[0] < field[2] / 2 ? 1 : -1, -1.2] : [0, -1],
        'text-600',
        GAUGE / 2 + 0.5,
      );
  }
  return {
    bands,
    rails,
    cuts,
    feeds: feeds.flatMap(({ ends }) => ends),
    frogs: [...frogs.values()].map(({ at }) => at),
    labels,
    lost,
  };
}

/** A rail cut through: white between two short bars. */
export function drawCut(pen: Pen, at: Spot, along: Spot, half: Millimetre): void {
  const [nx, ny] = leftOf(along);
  const bar = (shift: number): readonly [Spot, Spot] => {
    const [x, y] = [at[0] + along[0] * shift, at[1] + along[1] * shift];
    return [
      [x + nx * half, y + ny * half],
      [x - nx * half, y - ny * half],
    ];
  };
  const [a, b] = bar(-0.45);
  const [c, d] = bar(0.45);
  pen.polyline([a, b, d, c], { closed: true, fill: WHITE });
  for (const [from, to] of [bar(-0.45), bar(0.45)]) pen.line(from, to, { stroke: BLACK, width: FIRM });
}

/** A dropper's joint. */
export function drawFeed(pen: Pen, at: Spot): void {
  pen.circle(at, 0.62, { fill: WHITE, stroke: BLACK, width: FIRM });
}

/** A frog: a filled diamond. */
export function drawFrog(pen: Pen, [x, y]: Spot): void {
  const r = 1;
  pen.polyline(
    [
      [x - r, y],
      [x, y - r],
      [x + r, y],
      [x, y + r],
    ],
    { closed: true, fill: BLACK },
  );
}

/** A piece of rail as the drawings show it. */
export function drawRail(pen: Pen, line: readonly Spot[], bus: BusWire | null): void {
  pen.polyline(line, bus === null ? CHANGED : INKS[bus]);
}

function drawWindow(pen: Pen, drawn: Drawn, size: Spot, shift: Spot): void {
  pen.group(
    { shift, clip: { at: [PAD - 3, PAD - 3], size: [size[0] - 2 * PAD + 6, size[1] - 2 * PAD + 6] } },
    (inner) => {
      for (const { line } of drawn.bands) inner.polyline(line, { stroke: '#dcdcdc', width: GAUGE + 2.2, cap: 'butt' });
      for (const { line, bus } of drawn.rails) drawRail(inner, line, bus);
      for (const { bars } of drawn.bands) for (const [a, b] of bars) inner.line(a, b, { stroke: BLACK, width: 0.7 });
      for (const { at, along, half } of drawn.cuts) drawCut(inner, at, along, half);
      for (const at of drawn.feeds) drawFeed(inner, at);
      for (const at of drawn.frogs) drawFrog(inner, at);
    },
  );
  const moved = ([x, y]: Spot): Spot => [x + shift[0], y + shift[1]];
  for (const { leader, at } of drawn.labels)
    if (leader !== null) pen.line(moved(leader), moved(at), { stroke: '#8a8a8a', width: HAIR });
  for (const { text, font, boxed, at, box } of drawn.labels) {
    const ink = boxed ? { fill: WHITE, stroke: BLACK, width: HAIR } : { fill: WHITE };
    pen.rect(moved([box[0], box[1]]), [box[2] - box[0], box[3] - box[1]], ink);
    pen.text(moved([at[0], at[1] + capitalOf(LETTERS) / 2]), text, { font, size: LETTERS, anchor: 'middle' });
  }
}
