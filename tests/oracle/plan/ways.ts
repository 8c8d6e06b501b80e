/** Every way from place to place by trying each turn, and every pair of them that cannot stand together, by asking each pair. */
import { SAME } from './face.ts';
import type { Asks, Lie, SlowPlan } from './read.ts';

export interface SlowRoute {
  readonly from: string;
  readonly to: string;
  readonly points: Readonly<Record<string, Lie>>;
  readonly through: readonly string[];
  readonly faceLength: number;
  readonly spans: readonly number[];
  readonly crossings: readonly string[];
}

/** Ids with their figures as numbers: P2 before P10. */
export const inOrder = (a: string, b: string) => a.localeCompare(b, 'en', { numeric: true, sensitivity: 'base' });

/** All routes, or null when there are more than `most`. */
export function listWays(plan: SlowPlan, most = Number.POSITIVE_INFINITY, steps = 200_000): SlowRoute[] | null {
  const routes: SlowRoute[] = [];
  let left = steps;
  plan.places.forEach((from, first) => {
    const later = new Set(plan.places.slice(first + 1).map(({ id }) => id));
    const length = plan.spans[from.span]?.length ?? 0;
    const ways: (0 | 1)[] = from.kind === 'road' ? [0, 1] : from.along < SAME ? [1] : [0];
    // Both ends of a span may be the very ends of one strip: then each is its own way on.
    for (const towards of ways) {
      enter(from.span, towards, from.along, towards === 1 ? length - from.along : from.along, {
        points: {},
        through: [],
        length: 0,
        spans: [],
        crossings: [],
      });
    }

    interface Way {
      points: Asks;
      through: readonly string[];
      length: number;
      spans: readonly number[];
      crossings: readonly string[];
    }

    /** Runs along a span towards one of its ends from a spot on it, stopping at every place that lies ahead. */
    function enter(span: number, towards: 0 | 1, along: number, ahead: number, way: Way): void {
      left -= 1;
      if (left < 0 || routes.length > most) return;
      const spans = [...way.spans, span];
      const passed = plan.places
        .filter((place) => place.span === span && place.id !== from.id)
        .map((place) => ({ place, gap: (place.along - along) * (towards === 1 ? 1 : -1) }))
        .filter(({ gap }) => gap >= 0)
        .sort((a, b) => a.gap - b.gap);
      let { through } = way;
      for (const { place, gap } of passed) {
        if (later.has(place.id))
          routes.push({
            from: from.id,
            to: place.id,
            points: way.points,
            through,
            faceLength: way.length + gap,
            spans,
            crossings: [...new Set(way.crossings)].sort(inOrder),
          });
        if (place.kind === 'road') through = [...through, place.id];
      }
      const index = plan.spans[span]?.ends[towards] ?? -1;
      const feature = plan.features[index];
      const arm = plan.spans[span]?.arms[towards] ?? -1;
      if (feature === undefined) return;
      for (const turn of feature.ways) {
        const [a, b] = turn.between;
        if (a !== arm && b !== arm) continue;
        const out = a === arm ? b : a;
        if (Object.entries(turn.asks).some(([id, lie]) => (way.points[id] ?? lie) !== lie)) continue;
        const next = plan.spans.findIndex(
          ({ ends, arms }) => (ends[0] === index && arms[0] === out) || (ends[1] === index && arms[1] === out),
        );
        const on = plan.spans[next];
        if (on === undefined || spans.includes(next)) continue;
        const begins = on.ends[0] === index && on.arms[0] === out;
        enter(next, begins ? 1 : 0, begins ? 0 : on.length, on.length, {
          points: { ...way.points, ...turn.asks },
          through,
          length: way.length + ahead,
          spans,
          crossings: feature.crossing ? [...way.crossings, feature.id] : way.crossings,
        });
      }
    }
  });
  if (left < 0 || routes.length > most) return null;
  const at = (id: string) => plan.places.findIndex((place) => place.id === id);
  const ids = [...new Set(plan.points.map(({ id }) => id))].sort(inOrder);
  const turned = (route: SlowRoute) => Object.values(route.points).filter((lie) => lie === 'reverse').length;
  const rank = (lie: Lie | undefined) => (lie === undefined ? 2 : lie === 'reverse' ? 1 : 0);
  return routes.sort((a, b) => {
    const plain = at(a.from) - at(b.from) || at(a.to) - at(b.to) || turned(a) - turned(b);
    if (plain !== 0) return plain;
    for (const id of ids) {
      const gap = rank(a.points[id]) - rank(b.points[id]);
      if (gap !== 0) return gap;
    }
    return 0;
  });
}

/** Every pair of routes that cannot stand together, and why. */
export function listClashes(plan: SlowPlan, routes: readonly SlowRoute[]): [number, number, string[]][] {
  const found: [number, number, string[]][] = [];
  routes.forEach((one, i) => {
    routes.forEach((two, j) => {
      if (j <= i) return;
      const points = Object.keys(one.points).filter((id) => (two.points[id] ?? one.points[id]) !== one.points[id]);
      const crossings = one.crossings.filter((id) => two.crossings.includes(id));
      const spans = one.spans.filter((span) => two.spans.includes(span));
      const [point] = points.sort(inOrder);
      const [crossing] = crossings.sort(inOrder);
      if (point !== undefined) found.push([i, j, [`point:${point}`]]);
      else if (crossing !== undefined) found.push([i, j, [`crossing:${crossing}`]]);
      else if (spans.length > 0) found.push([i, j, spans.map((span) => spanName(plan, span))]);
    });
  });
  return found;
}

/** The ids at a span's two ends. */
export function spanName(plan: SlowPlan, span: number): string {
  const [a, b] = plan.spans[span]?.ends ?? [-1, -1];
  return [plan.features[a]?.id ?? '', plan.features[b]?.id ?? ''].sort(inOrder).join('/');
}
