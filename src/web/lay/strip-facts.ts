/** What is told of one strip: how long it is, what its ends meet, and what stands on it. From the panel as it is and its last reading. */
import { lampsOn, lengthOfStrip, stripAt } from '../../laying/index.ts';
import { type PanelFile, type Strip, stripWidth } from '../../panel/index.ts';
import { byId } from '../../plan/index.ts';
import type { Degree, Millimetre, Spot } from '../../units/index.ts';
import type { LayView } from '../worker/types.ts';

/** What was read at a spot is there while it lies so near: what rounding puts between them, and a hand that drags. */
const HERE: Millimetre = 0.6;

/** Tape is cut longer by its own width at both ends, to tuck under and to trim, and up to this: common practice, no source. */
const CUT_STEP: Millimetre = 10;

/** One end of a strip. */
export interface StripEnd {
  /** Its corner, from 0. */
  readonly corner: number;
  readonly at: Spot;
  /** `joins`: read as a point or one leg of it; `meets`: an end that cannot be read; `butts`: goes on as another strip; `free`. */
  readonly kind: 'joins' | 'meets' | 'butts' | 'free';
  readonly point: string | null;
  /** The strip that it meets. */
  readonly onto: string | null;
  /** Between the two, 0 to 90. */
  readonly angle: Degree | null;
  /** The place that a free end is. */
  readonly place: LayView['places'][number] | null;
}

export interface StripFacts {
  /** Along its middle, bends as arcs. */
  readonly length: Millimetre;
  readonly cut: Millimetre;
  readonly ends: readonly StripEnd[];
  /** Points whose spots lie on it, along it. */
  readonly points: readonly string[];
  readonly places: readonly LayView['places'][number][];
  readonly lamps: readonly string[];
  /** Levers that work points which these lamps speak of, by id. */
  readonly levers: readonly string[];
}

/** What is told of a strip. `view` null: nothing is read yet, and only what the panel itself says is there. */
export function stripFacts(panel: PanelFile, view: LayView | null, strip: Strip): StripFacts {
  const length = lengthOfStrip(strip);
  const half = stripWidth(strip) / 2;
  const on = <T extends { readonly at: Spot }>(list: readonly T[]): readonly T[] =>
    list
      .map((each) => ({ each, foot: footOf(strip.path, each.at) }))
      .filter(({ foot }) => foot.off <= half)
      .sort((a, b) => a.foot.along - b.foot.along)
      .map(({ each }) => each);
  const lamps = lampsOn(panel, new Set([strip.id]));
  const spoken = new Set(
    lamps.flatMap(({ shows }) => (shows === undefined ? [] : [shows].flat().flatMap((lies) => Object.keys(lies)))),
  );
  const levers = (view?.points ?? []).flatMap(({ id, lever }) => (lever !== null && spoken.has(id) ? [lever] : []));
  return {
    length,
    cut: Math.ceil((length + 2 * stripWidth(strip)) / CUT_STEP) * CUT_STEP,
    ends: [0, strip.path.length - 1].flatMap((corner) => endOf(panel, view, strip, corner) ?? []),
    points: on(view?.points ?? []).map(({ id }) => id),
    places: on(view?.places ?? []),
    lamps: lamps.map(({ id }) => id),
    levers: [...new Set(levers)].sort(byId),
  };
}

function endOf(panel: PanelFile, view: LayView | null, strip: Strip, corner: number): StripEnd | null {
  const { path } = strip;
  const [at, next] = [path[corner], path[corner === 0 ? 1 : corner - 1]];
  if (at === undefined || next === undefined) return null;
  const point = view?.points.find((each) => distance(each.at, at) <= HERE)?.id ?? null;
  const met = stripAt(panel, at, 0, new Set([strip.id]));
  const end = { corner, at, point, onto: met?.strip.id ?? null, place: null };
  if (met === null) {
    const place = view?.places.find((each) => each.kind === 'end' && distance(each.at, at) <= HERE) ?? null;
    return { ...end, kind: 'free', angle: null, place };
  }
  const [a, b] = [met.strip.path[met.segment], met.strip.path[met.segment + 1]];
  const angle = a === undefined || b === undefined ? null : acute([next, at], [a, b]);
  if (point !== null) return { ...end, kind: 'joins', angle };
  const first = met.strip.path[0];
  const last = met.strip.path[met.strip.path.length - 1];
  const atEnd = [first, last].some((other) => other !== undefined && distance(other, at) <= stripWidth(met.strip) / 2);
  return { ...end, kind: atEnd ? 'butts' : 'meets', angle };
}

/** The spot of a strip's middle nearest to a spot: how far off, and how far along. */
export function footOf(path: readonly Spot[], spot: Spot): { readonly off: Millimetre; readonly along: Millimetre } {
  let best = { off: Infinity, along: 0 };
  let run = 0;
  for (let k = 1; k < path.length; k++) {
    const [a, b] = [path[k - 1], path[k]];
    if (a === undefined || b === undefined) continue;
    const length = distance(a, b);
    const share =
      length === 0 ? 0 : ((spot[0] - a[0]) * (b[0] - a[0]) + (spot[1] - a[1]) * (b[1] - a[1])) / length ** 2;
    const t = Math.max(0, Math.min(1, share));
    const off = distance(spot, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
    if (off < best.off) best = { off, along: run + t * length };
    run += length;
  }
  return best;
}

/** The spot so far along a path, from its first corner; null on a path of fewer than two. */
export function alongPath(path: readonly Spot[], along: Millimetre): Spot | null {
  let left = along;
  for (let k = 1; k < path.length; k++) {
    const [a, b] = [path[k - 1], path[k]];
    if (a === undefined || b === undefined) continue;
    const length = distance(a, b);
    if (left <= length || k === path.length - 1) {
      const t = length === 0 ? 0 : Math.min(1, left / length);
      return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    }
    left -= length;
  }
  return null;
}

/** Length along the corners. */
export function cornersLength(path: readonly Spot[]): Millimetre {
  return path.slice(1).reduce((sum, spot, k) => sum + distance(path[k] ?? spot, spot), 0);
}

export function distance(a: Spot, b: Spot): Millimetre {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

type Segment = readonly [Spot, Spot];

/** The acute angle between two lines; null where one has no direction. */
function acute([a, b]: Segment, [c, d]: Segment): Degree | null {
  const [u, v]: Segment = [
    [b[0] - a[0], b[1] - a[1]],
    [d[0] - c[0], d[1] - c[1]],
  ];
  const cross = Math.abs(u[0] * v[1] - u[1] * v[0]);
  const dot = Math.abs(u[0] * v[0] + u[1] * v[1]);
  return cross === 0 && dot === 0 ? null : (Math.atan2(cross, dot) * 180) / Math.PI;
}
