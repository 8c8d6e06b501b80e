/**
 * The plan as directed travel: a state is a span with a direction, 0 from its end 0 to its end 1. Flat arrays inside, ids outside.
 */
import type { Lie } from '../panel/index.ts';
import type { Place, Plan, Span } from '../plan/index.ts';

/** A way on from the end of a span. */
export interface Step {
  readonly to: number;
  /** By place in the list of points, in pairs: point, 0 normal or 1 reverse. */
  readonly asks: readonly (readonly [point: number, lie: number])[];
  /** Place in the list of crossings, or -1. */
  readonly crossing: number;
}

/** A place as met by one who travels: how far along in that direction. */
export interface Stop {
  /** Its place in the order of places. */
  readonly place: number;
  readonly along: number;
}

export interface Travel {
  readonly spans: readonly Span[];
  /** By state. */
  readonly steps: readonly (readonly Step[])[];
  /** By state: named roads met on the way, then the free end if it leads to one. */
  readonly stops: readonly (readonly Stop[])[];
  /** States that begin at a place: of a road both directions, each after it. */
  readonly starts: readonly (readonly { readonly state: number; readonly along: number }[])[];
}

export const LIES: readonly [Lie, Lie] = ['normal', 'reverse'];

export function travelOf(plan: Plan): Travel {
  const spanIndex = new Map(plan.spans.map((span, i) => [span.id, i]));
  const pointIndex = new Map(plan.points.map((point, i) => [point.id, i]));
  const crossingIndex = new Map(plan.crossings.map((crossing, i) => [crossing.id, i]));
  const indexOf = (span: string) => {
    const i = spanIndex.get(span);
    if (i === undefined) throw new RangeError(`no span ${span} among ${plan.spans.length}`);
    return i;
  };
  const steps: Step[][] = plan.spans.flatMap(() => [[], []]);
  for (const { between, asks, crossing } of plan.passages) {
    const asked = Object.entries(asks)
      .map(([id, lie]) => [pointIndex.get(id) ?? -1, lie === 'normal' ? 0 : 1] as const)
      .sort((a, b) => a[0] - b[0]);
    for (const [from, to] of [between, [between[1], between[0]] as const]) {
      const arriving = 2 * indexOf(from.span) + (from.end === 1 ? 0 : 1);
      const leaving = 2 * indexOf(to.span) + (to.end === 0 ? 0 : 1);
      steps[arriving]?.push({
        to: leaving,
        asks: asked,
        crossing: crossing === null ? -1 : (crossingIndex.get(crossing) ?? -1),
      });
    }
  }
  for (const list of steps) list.sort((a, b) => a.to - b.to || (a.asks[0]?.[1] ?? 0) - (b.asks[0]?.[1] ?? 0));

  const stops: Stop[][] = plan.spans.flatMap(() => [[], []]);
  const starts = plan.places.map((place: Place, p) => {
    const i = indexOf(place.span);
    const length = plan.spans[i]?.length ?? 0;
    if (place.kind === 'end') {
      const end = place.id === plan.spans[i]?.ends[0] && place.along === 0 ? 0 : 1;
      stops[2 * i + (end === 1 ? 0 : 1)]?.push({ place: p, along: length });
      return [{ state: 2 * i + (end === 0 ? 0 : 1), along: 0 }];
    }
    stops[2 * i]?.push({ place: p, along: place.along });
    stops[2 * i + 1]?.push({ place: p, along: length - place.along });
    return [
      { state: 2 * i, along: place.along },
      { state: 2 * i + 1, along: length - place.along },
    ];
  });
  const isEnd = (stop: Stop) => Number(plan.places[stop.place]?.kind === 'end');
  stops.forEach((list, state) => {
    // Roads on one spot are met in the order of places, and in the other order by one who comes the other way.
    const tie = state % 2 === 0 ? 1 : -1;
    list.sort((a, b) => isEnd(a) - isEnd(b) || a.along - b.along || tie * (a.place - b.place));
  });
  return { spans: plan.spans, steps, stops, starts };
}
