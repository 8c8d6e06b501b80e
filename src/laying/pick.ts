/** What lies under a spot: a hit test over everything on the face, all of it in order, so that a second tap takes the next. */
import { type Face, guidePath } from '../face/index.ts';
import { type PanelFile, stripBend, stripWidth } from '../panel/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { type BoxGrid, gridOf, type Held } from './box-grid.ts';
import { type Box, distance, footOn, fromBox } from './geometry.ts';
import { halfWidest } from './on-strips.ts';
import { type PickList, present, recordOf, type Selection } from './picked.ts';
import { alongNearest, spotAlongStrokes } from './strokes.ts';
import { HALF_THING, MARK } from './tolerances.ts';

export type HitKind =
  | 'handle'
  | 'lamp'
  | 'lever'
  | 'button'
  | 'fixing'
  | 'plate'
  | 'point'
  | 'crossing'
  | 'place'
  | 'strip'
  | 'platform'
  | 'keepOut'
  | 'face';

/** What is met first under a finger: small things that stand on others before what they stand on. */
const ORDER: readonly HitKind[] = [
  'handle',
  'lamp',
  'lever',
  'button',
  'fixing',
  'plate',
  'point',
  'crossing',
  'place',
  'strip',
  'platform',
  'keepOut',
  'face',
];

/** One thing under a spot. */
export interface Hit {
  readonly kind: HitKind;
  /** Where its record stands; points and crossings may have none. A plate of a lever or a place stands for that. */
  readonly list: PickList | 'points' | 'crossings' | 'face';
  /** Its id, or its index where its kind has none; of the face 'face'. */
  readonly id: string | number;
  /** Of a handle the corner of its strip. */
  readonly part?: number;
  /** From the spot to its edge; nought on it. */
  readonly off: Millimetre;
}

interface Target extends Omit<Hit, 'off' | 'part'> {
  readonly held: Held;
  readonly from: (spot: Spot) => Millimetre;
}

/** Made once for each state of the panel. */
export interface PickIndex {
  readonly panel: PanelFile;
  readonly targets: readonly Target[];
  readonly grid: BoxGrid;
  readonly sheet: Box | null;
}

interface Mark {
  readonly id: string;
  readonly at: Spot;
}

/** What the plan reads on the sheet, as far as a hand can hit it: a plan, or what of it is at hand. */
export interface PickMarks {
  readonly levers: readonly Mark[];
  readonly points: readonly Mark[];
  readonly crossings: readonly Mark[];
  readonly places: readonly Mark[];
}

/** Sizes are those of the face as it is laid out; where that is not at hand (null) every thing is a fingertip wide. */
export function pickIndex(panel: PanelFile, plan: PickMarks, face: Face | null): PickIndex {
  const targets: Target[] = [];
  const round = (kind: HitKind, list: Target['list'], id: string | number, at: Spot, radius: Millimetre) =>
    targets.push({ kind, list, id, ...disc(at, radius) });
  const oblong = (kind: HitKind, list: Target['list'], id: string | number, box: Box) =>
    targets.push({ kind, list, id, held: box, from: (spot) => fromBox(spot, box) });

  const domes = new Map(face?.lamps.map(({ id, drill }) => [id, drill / 2]));
  for (const { id, at } of panel.lamps ?? [])
    round('lamp', 'lamps', id, at, domes.get(id) ?? domes.get(`${id}A`) ?? HALF_THING / 4);
  const nuts = new Map(face?.levers.map(({ id, nut }) => [id, nut / 2]));
  for (const { id, at } of plan.levers) round('lever', 'levers', id, at, nuts.get(id) ?? HALF_THING);
  for (const { id, at } of panel.buttons ?? []) round('button', 'buttons', id, at, HALF_THING);
  for (const [i, { at, drill }] of (panel.face?.fixings ?? []).entries()) round('fixing', 'fixings', i, at, drill / 2);
  let written = 0;
  for (const { id, kind, at, width, height } of face?.plates ?? []) {
    const box = {
      left: at[0] - width / 2,
      top: at[1] - height / 2,
      right: at[0] + width / 2,
      bottom: at[1] + height / 2,
    };
    if (kind === 'place') oblong('plate', 'places', id, box);
    else if (kind === 'lever') oblong('plate', 'levers', id, box);
    else oblong('plate', 'plates', written++, box);
  }
  if (face === null)
    for (const [i, { at }] of (panel.plates ?? []).entries()) round('plate', 'plates', i, at, HALF_THING);
  for (const { id, at } of plan.points) round('point', 'points', id, at, MARK);
  for (const { id, at } of plan.crossings) round('crossing', 'crossings', id, at, MARK);
  for (const { id, at } of plan.places) round('place', 'places', id, at, MARK);
  for (const strip of panel.strips) {
    const half = stripWidth(strip) / 2;
    for (const stroke of guidePath(strip.path, stripBend(strip))) {
      targets.push({
        kind: 'strip',
        list: 'strips',
        id: strip.id,
        held:
          stroke.kind === 'line' ? { a: stroke.from, b: stroke.to } : grown([stroke.from, stroke.to], stroke.radius),
        from: (spot) => {
          if (stroke.kind === 'line') return Math.max(0, footOn(stroke.from, stroke.to, spot).off - half);
          const along = alongNearest([stroke], spot);
          const at = along === null ? null : spotAlongStrokes([stroke], along);
          return at === null ? Infinity : Math.max(0, distance(at, spot) - half);
        },
      });
    }
  }
  for (const [i, { at, size }] of (panel.platforms ?? []).entries())
    oblong('platform', 'platforms', i, { left: at[0], top: at[1], right: at[0] + size[0], bottom: at[1] + size[1] });
  for (const [i, { at, size }] of (panel.face?.keepOut ?? []).entries())
    oblong('keepOut', 'keepOut', i, { left: at[0], top: at[1], right: at[0] + size[0], bottom: at[1] + size[1] });
  const sheet = face === null ? null : { left: 0, top: 0, right: face.width, bottom: face.height };
  return { panel, targets, grid: gridOf(targets.map(({ held }) => held)), sheet };
}

/**
 * Everything within reach of a spot: handles of what is selected, lamps, levers, buttons, screws, plates, points, crossings, places, strips, platforms,
 * keep-outs, and last the face where the spot is on it. In a kind the nearest first, of those equally near the one on top. Each thing once.
 */
export function pickAt(index: PickIndex, spot: Spot, reach: Millimetre, selected: Selection = []): readonly Hit[] {
  const hits: { readonly hit: Hit; readonly rank: number; readonly top: number }[] = [];
  for (const picked of present(index.panel, selected)) {
    if (picked.list !== 'strips') continue;
    const path = recordOf(index.panel, picked)?.path ?? [];
    for (const [part, corner] of path.entries()) {
      const off = distance(corner, spot);
      if (off <= reach)
        hits.push({ hit: { kind: 'handle', list: 'strips', id: picked.id, part, off }, rank: 0, top: part });
    }
  }
  // Strips are held by their middle line.
  for (const i of index.grid.near(spot, reach + halfWidest(index.panel))) {
    const target = index.targets[i];
    if (target === undefined) continue;
    const { kind, list, id, from } = target;
    const off = from(spot);
    if (off <= reach) hits.push({ hit: { kind, list, id, off }, rank: ORDER.indexOf(kind), top: i });
  }
  if (index.sheet !== null && fromBox(spot, index.sheet) === 0)
    hits.push({ hit: { kind: 'face', list: 'face', id: 'face', off: 0 }, rank: ORDER.indexOf('face'), top: 0 });
  hits.sort((a, b) => a.rank - b.rank || a.hit.off - b.hit.off || b.top - a.top);
  const seen = new Set<string>();
  return hits.flatMap(({ hit }) => {
    const key = `${hit.kind} ${hit.list} ${hit.id} ${hit.part ?? ''}`;
    if (seen.has(key)) return [];
    seen.add(key);
    return [hit];
  });
}

function disc(at: Spot, radius: Millimetre): Pick<Target, 'held' | 'from'> {
  return { held: grown([at], radius), from: (spot) => Math.max(0, distance(spot, at) - radius) };
}

function grown(spots: readonly Spot[], by: Millimetre): Box {
  const [xs, ys] = [spots.map(([x]) => x), spots.map(([, y]) => y)];
  return {
    left: Math.min(...xs) - by,
    top: Math.min(...ys) - by,
    right: Math.max(...xs) + by,
    bottom: Math.max(...ys) + by,
  };
}
