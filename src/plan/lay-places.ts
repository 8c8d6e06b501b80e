/** Places of the plan: free ends and named roads on their spans. */
import type { PanelFile } from '../panel/index.ts';
import type { Millimetre } from '../units/index.ts';
import { recordReach } from './match-records.ts';
import type { PlacesFound, RawRoad } from './read-places.ts';
import type { RawEnd } from './read-sight.ts';
import type { Place, PlanProblem, Span, SpanEnd } from './types.ts';

interface PlacesInput {
  readonly panel: PanelFile;
  readonly freeEnds: readonly RawEnd[];
  /** In step with the free ends. */
  readonly endIds: readonly string[];
  readonly found: PlacesFound;
  readonly spans: readonly Span[];
  /** Where on a span a spot of a strip lies; null on a closed line without features. */
  readonly spanOf: (road: RawRoad) => { readonly span: string; readonly along: Millimetre } | null;
  readonly endAt: (freeEnd: number) => SpanEnd;
}

/** In the order of the file, then free ends without a record. */
export function layPlaces({ panel, freeEnds, endIds, found, spans, spanOf, endAt }: PlacesInput): {
  readonly places: readonly Place[];
  readonly problems: readonly PlanProblem[];
} {
  const byRecord = new Map<string, Place>();
  const others: Place[] = [];
  const problems: PlanProblem[] = [];
  const lengthOf = new Map(spans.map((span) => [span.id, span.length]));
  freeEnds.forEach((free, i) => {
    const record = found.ends.get(i) ?? null;
    const id = endIds[i] ?? '';
    const { span, end } = endAt(i);
    const place: Place = {
      id,
      name: record?.name ?? null,
      at: free.at,
      kind: 'end',
      span,
      along: end === 0 ? 0 : (lengthOf.get(span) ?? 0),
      length: record?.length ?? null,
      record,
    };
    if (record === null) others.push(place);
    else byRecord.set(id, place);
    if (place.name === null && (record === null || NUMBERED_END.test(id)))
      problems.push({ code: 'place-unnamed', place: id, strip: free.end.line.id, at: free.at });
  });
  for (const road of found.roads) {
    const { record, line } = road;
    const spot = spanOf(road);
    if (spot === null) {
      const reach = recordReach(line.half);
      problems.push({ code: 'record-finds-nothing', kind: 'place', id: record.id, at: record.at, reach });
      continue;
    }
    byRecord.set(record.id, {
      id: record.id,
      name: record.name ?? null,
      at: road.at,
      kind: 'road',
      ...spot,
      length: record.length ?? null,
      record,
    });
  }
  const recorded = (panel.places ?? []).flatMap((record) => byRecord.get(record.id) ?? []);
  return { places: [...recorded, ...others], problems };
}

/** An id that the tool gives a free end: it says nothing of what the end is. */
const NUMBERED_END = /^E\d+$/i;
