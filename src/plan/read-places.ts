/** Places: free ends, named or numbered, and named roads. */
import type { PanelFile, PlaceRecord } from '../panel/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { distance, type Line, spotAlong } from './line.ts';
import { recordReach } from './match-records.ts';
import type { RawEnd } from './read-sight.ts';
import { footOn } from './segment-grid.ts';
import type { Survey } from './survey.ts';
import { RECORD_REACH, SAME_SPOT } from './tolerances.ts';
import type { PlanProblem } from './types.ts';

/** A named road: a spot on a strip. */
export interface RawRoad {
  readonly record: PlaceRecord;
  readonly line: Line;
  readonly along: Millimetre;
  readonly at: Spot;
}

export interface PlacesFound {
  /** By the place of the free end in the list. */
  readonly ends: ReadonlyMap<number, PlaceRecord>;
  readonly roads: readonly RawRoad[];
  readonly problems: readonly PlanProblem[];
}

/**
 * What each record names: of the strips within reach of it the nearest decides; where the record lies within reach of a free end of
 * that strip, the nearest of all free ends in reach, else the road. Of two equally near the end, then the strip laid first. The first
 * of two records on one thing has it.
 */
export function findPlaces(
  panel: PanelFile,
  { lines, grid }: Survey,
  freeEnds: readonly RawEnd[],
  defaultReach: Millimetre,
): PlacesFound {
  const records = panel.places ?? [];
  const ends = new Map<number, PlaceRecord>();
  const roads: RawRoad[] = [];
  const problems: PlanProblem[] = [];
  if (records.length === 0) return { ends, roads, problems };
  const widest = lines.reduce((most, line) => Math.max(most, line.half), 0);
  const endsOf = new Map<Line, number[]>();
  freeEnds.forEach(({ end }, i) => endsOf.set(end.line, [...(endsOf.get(end.line) ?? []), i]));
  const sharers = new Map<string, { ids: string[]; at: Spot }>();
  const taken = new Map<string, PlaceRecord>();

  for (const record of records) {
    const thing = nearest(record);
    if (thing === null) {
      problems.push({ code: 'record-finds-nothing', kind: 'place', id: record.id, at: record.at, reach: defaultReach });
      continue;
    }
    const first = taken.get(thing.key);
    if (first !== undefined) {
      const known = sharers.get(thing.key) ?? { ids: [first.id], at: thing.at };
      known.ids.push(record.id);
      sharers.set(thing.key, known);
      continue;
    }
    taken.set(thing.key, record);
    if (thing.end === null) roads.push({ record, line: thing.line, along: thing.along, at: thing.at });
    else ends.set(thing.end, record);
  }
  for (const { ids, at } of sharers.values()) problems.push({ code: 'records-on-one', kind: 'place', ids, at });
  return { ends, roads, problems };

  function nearest(record: PlaceRecord) {
    const feet = new Map<Line, { along: Millimetre; distance: Millimetre }>();
    for (const index of grid.near(record.at, widest + RECORD_REACH + SAME_SPOT)) {
      const segment = grid.segments[index];
      if (segment === undefined) continue;
      const foot = footOn(segment, record.at);
      if (foot.distance > recordReach(segment.line.half) + SAME_SPOT) continue;
      const known = feet.get(segment.line);
      if (known === undefined || foot.distance < known.distance) feet.set(segment.line, foot);
    }
    const candidates = [...feet].map(([line, foot]) => {
      let end: number | null = null;
      let gap = Infinity;
      for (const i of endsOf.get(line) ?? []) {
        const off = distance(freeEnds[i]?.at ?? [Infinity, Infinity], record.at);
        if (off <= recordReach(line.half) + SAME_SPOT && off < gap) [end, gap] = [i, off];
      }
      return { line, foot, end, gap };
    });
    // Equally near: within one spot, since what sums round off decides nothing.
    const least = candidates.reduce((low, { foot }) => Math.min(low, foot.distance), Infinity);
    const [nearestOne] = candidates
      .filter(({ foot }) => foot.distance <= least + SAME_SPOT)
      .sort((a, b) => Number(a.end === null) - Number(b.end === null) || a.line.order - b.line.order);
    if (nearestOne === undefined) return null;
    // An end: then the nearest of all in reach, and of several on one spot one that no other record has.
    const closest = candidates.reduce((low, { gap }) => Math.min(low, gap), Infinity);
    const [best = nearestOne] =
      nearestOne.end === null
        ? []
        : candidates
            .filter(({ gap }) => gap <= closest + SAME_SPOT)
            .sort((a, b) => Number(hasRecord(a.end)) - Number(hasRecord(b.end)) || a.line.order - b.line.order);
    const { line, foot, end } = best;
    if (end !== null) return { end, line, along: 0, at: freeEnds[end]?.at ?? record.at, key: `end ${end}` };
    const spot = Math.round(foot.along / SAME_SPOT);
    return { end: null, line, along: foot.along, at: spotAlong(line, foot.along), key: `road ${line.order} ${spot}` };
  }

  function hasRecord(end: number | null): boolean {
    return end !== null && ends.has(end);
  }
}
