/** What is told of one strip: how long it is, what its ends meet, and what stands on it. From the panel as it is and its last reading. */
import { cutLength, distance, footOnPath, lampsOn, lengthOfStrip, meetingAt } from '../../laying/index.ts';
import { type PanelFile, type Strip, stripWidth } from '../../panel/index.ts';
import { byId } from '../../plan/index.ts';
import type { Degree, Millimetre, Spot } from '../../units/index.ts';
import type { LayView } from '../worker/types.ts';

/** What was read at a spot is there while it lies so near: what rounding puts between them, and a hand that drags. */
const HERE: Millimetre = 0.6;

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
  const half = stripWidth(strip) / 2;
  const on = <T extends { readonly at: Spot }>(list: readonly T[]): readonly T[] =>
    list
      .flatMap((each) => {
        const foot = footOnPath(strip.path, each.at);
        return foot === null || foot.off > half ? [] : [{ each, along: foot.along }];
      })
      .sort((a, b) => a.along - b.along)
      .map(({ each }) => each);
  const lamps = lampsOn(panel, new Set([strip.id]));
  const spoken = new Set(
    lamps.flatMap(({ shows }) => (shows === undefined ? [] : [shows].flat().flatMap((lies) => Object.keys(lies)))),
  );
  const levers = (view?.points ?? []).flatMap(({ id, lever }) => (lever !== null && spoken.has(id) ? [lever] : []));
  return {
    length: lengthOfStrip(strip),
    cut: cutLength(strip),
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
  const met = meetingAt(panel, next, at, strip.id);
  const end = { corner, at, point, onto: met?.on.strip.id ?? null, place: null };
  if (met === null) {
    const place = view?.places.find((each) => each.kind === 'end' && distance(each.at, at) <= HERE) ?? null;
    return { ...end, kind: 'free', angle: null, place };
  }
  const { angle } = met;
  const onto = met.on.strip;
  if (point !== null) return { ...end, kind: 'joins', angle };
  const first = onto.path[0];
  const last = onto.path[onto.path.length - 1];
  const atEnd = [first, last].some((other) => other !== undefined && distance(other, at) <= stripWidth(onto) / 2);
  return { ...end, kind: atEnd ? 'butts' : 'meets', angle };
}
