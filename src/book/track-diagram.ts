/**
 * The track of the face as a small line drawing: strips, a tag at each point, the name of each place. Rows of track are drawn further
 * apart than on the face where the lettering needs it. What finds no room is left out and named, never laid over something else.
 */
import type { Derived } from '../derive.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import type { Box } from './labels.ts';
import type { Measure } from './measure.ts';
import type { Anchor, Step } from './page.ts';
import { BLACK, FIRM, HAIR, type Pen, WHITE } from './pen.ts';
import { boxRound, meets, passes, within } from './placing.ts';
import { capitalOf } from './reading-distance.ts';
import { flattenStrokes } from './strokes.ts';

export interface DiagramStyle {
  /** No larger than this. */
  readonly most: Spot;
  /** Sizes of lettering to try, the best first: of those at which nothing is lost, the one with most tags on their points. */
  readonly sizes: readonly Millimetre[];
  /** Sizes to try where all of `sizes` lose something: the first that loses least. */
  readonly smaller?: readonly Millimetre[];
  /** What stands at a point, by its id; a point that is not here is a plain dot. */
  readonly tags: ReadonlyMap<string, string>;
  /** Without the names of places. */
  readonly nameless?: boolean;
}

export interface Diagram {
  readonly size: Spot;
  /** Of its lettering. */
  readonly letters: Millimetre;
  /** Tags and names that found no room, tags first, each in the order of the plan. */
  readonly without: { readonly tags: readonly string[]; readonly names: readonly string[] };
  /** Where a spot of the face lies in it. */
  put(spot: Spot): Spot;
  draw(pen: Pen, at: Spot): void;
}

/** Rows may be drawn so many times further apart than the face has them. */
const MOST_STRETCH = 1.7;
/** Between rows whose names stand one below the other, as a share of the size of type. */
const ROW_PITCH = 1.12;
/** A name takes no more than this share of the drawing's width. */
const NAME_SHARE = 0.3;
/** White round a name or a tag, mm. */
const CLEAR: Millimetre = 0.35;
/** Breadth of the track, mm: less where rows are close, a share of what parts them. */
const TRACK: Millimetre = 1.1;
const TRACK_SHARE = 0.42;
/** Of the steps from row to row, the one that so large a share of them is smaller than: a few rows may be closer. */
const CLOSE_ROWS = 0.3;
/** Corners no further apart than this down the face lie in one row, mm. */
const SAME_ROW: Millimetre = 1;

interface Tag {
  readonly point: string;
  readonly text: string;
  readonly toe: Spot;
  readonly at: Spot;
  readonly box: Box;
}

interface Name {
  readonly place: string;
  readonly text: string;
  readonly at: Spot;
  readonly anchor: Anchor;
  readonly box: Box;
  /** Beyond the end of its track, level with it. */
  readonly beyond: boolean;
}

interface Layout {
  readonly size: Spot;
  /** Breadth of the track. */
  readonly track: Millimetre;
  readonly tags: readonly Tag[];
  readonly names: readonly Name[];
  readonly lostTags: readonly string[];
  readonly lostNames: readonly string[];
  put(spot: Spot): Spot;
}

/** Which way the track ends at a place: a unit step off its end; null in the middle of a road. */
function outwards(derived: Derived, id: string): Spot | null {
  const place = derived.plan.places.find((each) => each.id === id);
  if (place === undefined || place.kind !== 'end') return null;
  const path = derived.plan.spans.find((span) => span.id === place.span)?.path ?? [];
  const [a, b] = place.along === 0 ? [path[1], path[0]] : [path.at(-2), path.at(-1)];
  if (a === undefined || b === undefined) return null;
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return long === 0 ? null : [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
}

/** What does not hang on the lettering. */
interface Given {
  readonly derived: Derived;
  readonly measure: Measure;
  readonly style: DiagramStyle;
  /** The strips, corner by corner. */
  readonly lines: readonly (readonly Spot[])[];
  readonly out: ReadonlyMap<string, Spot | null>;
}

/** Place everything for one size of lettering. `outside` are the ends whose names stand beyond the end of their track. */
function layOnce(given: Given, letters: Millimetre, outside: ReadonlySet<string>): Layout {
  const { derived, measure, style, lines, out: outOf } = given;
  const { plan } = derived;
  const { most, tags: tagOf, nameless = false } = style;
  const spots = [...lines.flat(), ...plan.places.map((place) => place.at)];
  const [x0, y0, x1, y1] = boxRound(spots);
  const capital = capitalOf(letters);
  // Rows of track stay apart: a crowded drawing has thin lines.
  const rows = [...new Set(lines.flat().map(([, y]) => y))].sort((a, b) => a - b);
  const steps = rows
    .slice(1)
    .map((y, i) => y - (rows[i] ?? 0))
    .filter((step) => step > SAME_ROW);
  const pitch = steps.sort((a, b) => a - b)[Math.floor(steps.length * CLOSE_ROWS)] ?? y1 - y0;
  const guess = Math.min(most[0] / Math.max(x1 - x0, 1), most[1] / Math.max(y1 - y0, 1));
  const track = Math.min(TRACK, Math.max(FIRM, pitch * guess * TRACK_SHARE));
  const gap = track / 2 + 0.9;
  const widest = most[0] * NAME_SHARE;
  const names = nameless
    ? []
    : plan.places.map((place) => {
        const set = measure.fit(place.name ?? place.id, 'text-600', letters, widest, letters);
        return {
          place,
          text: set.text,
          width: measure.width(set.text, 'text-600', letters),
          out: outOf.get(place.id) ?? null,
        };
      });
  const tagTall = capital + 1.5;
  const tagWide = (text: string): Millimetre => Math.max(tagTall, measure.width(text, 'text-700', letters) + 1.7);

  // The margins that names beyond an end need hang on the scale, and the scale on the margins: a few rounds settle both.
  const pad = Math.max(tagTall / 2, track);
  let [left, right] = [pad, pad];
  let scale = 1;
  for (let round = 0; round < 8; round++) {
    scale = (most[0] - left - right) / Math.max(x1 - x0, 1);
    let [wantLeft, wantRight] = [pad, pad];
    for (const { place, width, out } of names) {
      if (out === null || !outside.has(place.id)) continue;
      const needs = width + gap + 2 * CLEAR;
      if (out[0] < 0) wantLeft = Math.max(wantLeft, needs - (place.at[0] - x0) * scale);
      else wantRight = Math.max(wantRight, needs - (x1 - place.at[0]) * scale);
    }
    [left, right] = [wantLeft, wantRight];
  }
  const above = Math.max(pad, nameless ? 0 : capital + gap + 1);
  const room = most[1] - 2 * above;
  const across = Math.min(scale, room / Math.max(y1 - y0, 1e-6));
  const wanted = (letters * ROW_PITCH) / Math.max(pitch * across, 1e-6);
  const down = Math.min(across * Math.min(MOST_STRETCH, Math.max(1, wanted)), room / Math.max(y1 - y0, 1e-6));
  const put = ([x, y]: Spot): Spot => [left + (x - x0) * across, above + (y - y0) * down];
  const size: Spot = [left + (x1 - x0) * across + right, 2 * above + (y1 - y0) * down];
  const field: Box = [0, 0, size[0], size[1]];
  const legs = lines.flatMap((line) =>
    line.slice(1).map((to, i): readonly [Spot, Spot] => [put(line[i] ?? to), put(to)]),
  );
  const onTrack = (box: Box): boolean => {
    const grown: Box = [box[0] - track / 2, box[1] - track / 2, box[2] + track / 2, box[3] + track / 2];
    return legs.some(([a, b]) => passes(a, b, grown));
  };

  // Tags: on the point, else beside it with a line to it.
  const toes = plan.points.map((point) => put(point.at));
  const tags: Tag[] = [];
  const lostTags: string[] = [];
  for (const [i, point] of plan.points.entries()) {
    const text = tagOf.get(point.id);
    const toe = toes[i];
    if (text === undefined || toe === undefined) continue;
    const [w, h] = [tagWide(text) / 2, tagTall / 2];
    const at = (dx: Millimetre, dy: Millimetre): { readonly at: Spot; readonly box: Box } => ({
      at: [toe[0] + dx, toe[1] + dy],
      box: [toe[0] + dx - w, toe[1] + dy - h, toe[0] + dx + w, toe[1] + dy + h],
    });
    const free = ({ box }: { readonly box: Box }): boolean =>
      within(box, field) &&
      !tags.some((other) => meets(box, other.box)) &&
      !toes.some((other, j) => j !== i && meets(box, [other[0] - 0.5, other[1] - 0.5, other[0] + 0.5, other[1] + 0.5]));
    const around = [1.15, 2].flatMap((k) =>
      (
        [
          [0, -1],
          [0, 1],
          [1, -1],
          [-1, -1],
          [1, 1],
          [-1, 1],
        ] as const
      ).map(([dx, dy]) => at(dx * (w + 0.5) * k, dy * (tagTall * k))),
    );
    const found =
      [at(0, 0)].find(free) ??
      around.find((each) => free(each) && !onTrack(each.box)) ??
      around.find((each) => free(each));
    if (found === undefined) lostTags.push(point.id);
    else tags.push({ point: point.id, text, toe, ...found });
  }

  // Names: along the track, else beyond its end.
  const placed: Name[] = [];
  const lostNames: string[] = [];
  for (const { place, text, width, out } of names) {
    const [x, y] = put(place.at);
    const at = (dx: Millimetre, base: Millimetre, anchor: Anchor, beyond = false): Omit<Name, 'place' | 'text'> => {
      const start = dx - (anchor === 'start' ? 0 : anchor === 'middle' ? width / 2 : width);
      const box: Box = [start - CLEAR, base - capital - CLEAR, start + width + CLEAR, base + CLEAR];
      return { at: [dx, base], anchor, box, beyond };
    };
    const [over, under, level] = [y - gap, y + gap + capital, y + capital / 2];
    const beyond: Omit<Name, 'place' | 'text'>[] =
      out === null ? [] : out[0] < 0 ? [at(x - gap, level, 'end', true)] : [at(x + gap, level, 'start', true)];
    const inwards: Omit<Name, 'place' | 'text'>[] =
      out === null
        ? [0, -0.6, 0.6, -1.2, 1.2].flatMap((k) => [
            at(x + k * width, over, 'middle'),
            at(x + k * width, under, 'middle'),
          ])
        : out[0] < 0
          ? [at(x, over, 'start'), at(x, under, 'start')]
          : [at(x, over, 'end'), at(x, under, 'end')];
    const free = ({ box }: { readonly box: Box }): boolean =>
      within(box, field) &&
      !placed.some((other) => meets(box, other.box)) &&
      !tags.some((tag) => meets(box, tag.box)) &&
      !onTrack(box);
    const found = (outside.has(place.id) ? [...beyond, ...inwards] : [...inwards, ...beyond]).find(free);
    if (found === undefined) lostNames.push(place.id);
    else placed.push({ place: place.id, text, ...found });
  }
  return { size, track, tags, names: placed, lostTags, lostNames, put };
}

/** Rounds in which names move beyond the ends of their tracks. */
const MOST_ROUNDS = 4;
/** Ends at the same height across, so that their names stand in one column, mm on the face. */
const SAME_COLUMN: Millimetre = 1;

/** For one size: names that find no room along their track go beyond its end, and with them those of the same column. */
function layLettered(given: Given, letters: Millimetre): Layout {
  const outside = new Set<string>();
  let laid = layOnce(given, letters, outside);
  let best = laid;
  const ends = given.derived.plan.places.map((place) => ({ place, out: given.out.get(place.id) ?? null }));
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const before = outside.size;
    const moved = new Set([...laid.lostNames, ...laid.names.filter((name) => name.beyond).map((name) => name.place)]);
    for (const { place, out } of ends) {
      if (out === null || !moved.has(place.id)) continue;
      for (const other of ends)
        if (
          other.out !== null &&
          other.out[0] < 0 === out[0] < 0 &&
          Math.abs(other.place.at[0] - place.at[0]) < SAME_COLUMN
        )
          outside.add(other.place.id);
    }
    if (outside.size === before) break;
    laid = layOnce(given, letters, outside);
    if (lost(laid) <= lost(best)) best = laid;
  }
  return best;
}

const lost = (laid: Layout): number => laid.lostTags.length + laid.lostNames.length;
/** Tags that do not stand on their points. */
const beside = (laid: Layout): number => laid.tags.filter(isBeside).length;
function isBeside({ at, toe }: Tag): boolean {
  return Math.hypot(at[0] - toe[0], at[1] - toe[1]) > CLEAR;
}

/** Lay the drawing: with the first size of lettering at which everything finds room, else with that which leaves out least. */
export function layDiagram(derived: Derived, measure: Measure, style: DiagramStyle): Diagram {
  const given: Given = {
    derived,
    measure,
    style,
    lines: derived.face.strips.map((strip) => flattenStrokes(strip.strokes)),
    out: new Map(derived.plan.places.map((place) => [place.id, outwards(derived, place.id)])),
  };
  let best: { readonly laid: Layout; readonly letters: Millimetre } | null = null;
  for (const letters of style.sizes) {
    const laid = layLettered(given, letters);
    if (
      best === null ||
      lost(laid) < lost(best.laid) ||
      (lost(laid) === lost(best.laid) && beside(laid) < beside(best.laid))
    )
      best = { laid, letters };
  }
  for (const letters of style.smaller ?? []) {
    if (best !== null && lost(best.laid) === 0) break;
    const laid = layLettered(given, letters);
    if (best === null || lost(laid) < lost(best.laid)) best = { laid, letters };
  }
  if (best === null) throw new RangeError('a drawing needs a size of lettering');
  const { laid, letters } = best;
  return {
    size: laid.size,
    letters,
    without: { tags: laid.lostTags, names: laid.lostNames },
    put: laid.put,
    draw: (pen, at) => drawDiagram(pen, given, laid, letters, at),
  };
}

function drawDiagram(pen: Pen, { derived, lines }: Given, laid: Layout, letters: Millimetre, shift: Spot): void {
  const { track } = laid;
  pen.group({ shift }, (inner) => {
    for (const line of lines) {
      const steps = line.map((to, i): Step => ({ go: i === 0 ? 'move' : 'line', to: laid.put(to) }));
      inner.path(steps, { stroke: BLACK, width: track, join: 'round', cap: 'round' });
    }
    for (const place of derived.plan.places)
      if (place.kind === 'road') {
        const [x, y] = laid.put(place.at);
        inner.circle([x, y], track * 0.75, { fill: WHITE, stroke: BLACK, width: FIRM });
      }
    for (const tag of laid.tags) if (isBeside(tag)) inner.line(tag.toe, tag.at, { stroke: BLACK, width: HAIR });
    for (const point of derived.plan.points)
      inner.circle(laid.put(point.at), track * 0.5, { fill: WHITE, stroke: BLACK, width: FIRM });
  });
  // Lettering stands on the page itself, so that it is measured there.
  for (const { text, at, box } of laid.tags) {
    const [x, y] = [shift[0] + box[0], shift[1] + box[1]];
    const tall = box[3] - box[1];
    pen.rect([x, y], [box[2] - box[0], tall], { radius: tall / 2, fill: WHITE, stroke: BLACK, width: FIRM });
    pen.text([shift[0] + at[0], shift[1] + at[1] + capitalOf(letters) / 2], text, {
      font: 'text-700',
      size: letters,
      anchor: 'middle',
    });
  }
  for (const { text, at, anchor } of laid.names)
    pen.text([shift[0] + at[0], shift[1] + at[1]], text, { font: 'text-600', size: letters, anchor });
}
