/**
 * Every way from place to place without turning back.
 * Idea: from each place, walk on depth first, span by span, never the same one twice and never asking two lies of one point; each place
 * met on the way that stands later in the order of places ends one route. A way is left off at once where no place that is wanted can be
 * reached any more, whatever has been passed. Cost: what is listed, and the ways that run into spans already passed; both are capped.
 */
import type { Lie } from '../panel/index.ts';
import type { Plan, Span } from '../plan/index.ts';
import { leverSetter } from './lever-positions.ts';
import { LENGTH_STEP, MOST_ROUTES, STEPS_A_ROUTE } from './limits.ts';
import { LIES, type Step, type Stop, type Travel, travelOf } from './travel.ts';
import type { Route, RouteList } from './types.ts';

export interface RouteOptions {
  /** Most routes listed; 5,000 where it is not said. */
  readonly limit?: number;
  /** Ids of places: only routes between these two, or with this one at an end. Either order: routes stand from the earlier place. */
  readonly from?: string;
  readonly to?: string;
}

/** A route as it is found. */
export interface Way {
  readonly from: number;
  readonly to: number;
  readonly states: readonly number[];
  readonly start: number;
  readonly end: number;
  /** By point: 0 normal, 1 reverse, 2 not passed. */
  readonly lies: Uint8Array;
  readonly reverses: number;
  readonly crossings: readonly number[];
  readonly through: readonly number[];
}

const NORMAL = 0;
const REVERSE = 1;
const NOT_PASSED = 2;

/**
 * Routes by from, to, fewest reverse lies, then lies by point (ids in order, normal first, not passed last), then spans. One direction
 * only: `from` stands before `to` in the order of places. `cut` is true when there may be more than are listed.
 * @example listRoutes(readPlan(panel), { limit: 100 }).routes[0]?.points
 */
export function listRoutes(plan: Plan, options: RouteOptions = {}): RouteList {
  const limit = options.limit ?? MOST_ROUTES;
  const travel = travelOf(plan);
  const { ways, cut } = findWays(plan, travel, limit, options);
  ways.sort(compareWays);
  const setLevers = leverSetter(plan);
  return { routes: ways.map((way) => routeOf(plan, travel, way, setLevers)), cut, limit };
}

/** Ways as they are found, unsorted, at most `limit`. */
export function findWays(
  plan: Plan,
  travel: Travel,
  limit: number,
  options: RouteOptions,
): { readonly ways: Way[]; readonly cut: boolean } {
  const placeIndex = new Map(plan.places.map((place, i) => [place.id, i]));
  const asked = [options.from, options.to].flatMap((id) => (id === undefined ? [] : [placeIndex.get(id) ?? -1]));
  if (asked.includes(-1) || (asked.length === 2 && asked[0] === asked[1])) return { ways: [], cut: false };
  /** Is a route between these two asked for? */
  const wanted = (from: number, to: number) => from < to && asked.every((place) => place === from || place === to);
  const greatest = asked.length === 0 ? greatestAhead(travel, plan.places.length) : null;
  const ways: Way[] = [];
  let steps = limit * STEPS_A_ROUTE + plan.spans.length;
  for (let from = 0; from < plan.places.length; from++) {
    const targets = plan.places.map((_, to) => wanted(from, to));
    if (!targets.includes(true)) continue;
    const hopeful = greatest === null ? statesBefore(travel, targets) : greatest.map((place) => Number(place > from));
    for (const start of travel.starts[from] ?? []) {
      if (!walk(from, start.state, start.along, targets, hopeful)) return { ways, cut: true };
    }
  }
  return { ways, cut: false };

  /** False when a cap is reached. */
  function walk(
    from: number,
    first: number,
    along: number,
    targets: readonly boolean[],
    hopeful: ArrayLike<number>,
  ): boolean {
    const used = new Uint8Array(plan.spans.length);
    const lies = new Uint8Array(plan.points.length).fill(NOT_PASSED);
    const held = new Uint16Array(plan.points.length);
    const states: number[] = [first];
    const crossings: number[] = [];
    const through: number[] = [];
    /** One entry for each span entered: what comes next, and what to undo. */
    const stack: { next: number; readonly through: number; readonly step: Step | null }[] = [];
    let reverses = 0;
    used[first >> 1] = 1;
    if (!meet(first, along)) return false;
    stack.push({ next: 0, through: 0, step: null });
    for (let top = stack[0]; top !== undefined; top = stack[stack.length - 1]) {
      const state = states[states.length - 1] ?? 0;
      const step = travel.steps[state]?.[top.next];
      if (step === undefined) {
        stack.pop();
        states.pop();
        used[state >> 1] = 0;
        through.length = top.through;
        if (top.step !== null) undo(top.step);
        continue;
      }
      top.next += 1;
      if (used[step.to >> 1] === 1 || hopeful[step.to] === 0 || denied(step)) continue;
      steps -= 1;
      if (steps < 0) return false;
      take(step);
      used[step.to >> 1] = 1;
      states.push(step.to);
      stack.push({ next: 0, through: through.length, step });
      if (!meet(step.to, -1)) return false;
    }
    return true;

    /** Places on a span entered `after` so far along; beyond a road one goes on, at a free end no step leads on. */
    function meet(state: number, after: number): boolean {
      for (const stop of stopsAfter(travel, state, after, from)) {
        if (targets[stop.place] === true) {
          if (ways.length >= limit) return false;
          ways.push({
            from,
            to: stop.place,
            states: [...states],
            start: along,
            end: stop.along,
            lies: lies.slice(),
            reverses,
            crossings: [...crossings],
            through: [...through],
          });
        }
        through.push(stop.place);
      }
      return true;
    }

    function denied(step: Step): boolean {
      return step.asks.some(([point, lie]) => lies[point] !== NOT_PASSED && lies[point] !== lie);
    }

    function take(step: Step): void {
      for (const [point, lie] of step.asks) {
        if (held[point] === 0) {
          lies[point] = lie;
          if (lie === REVERSE) reverses += 1;
        }
        held[point] = (held[point] ?? 0) + 1;
      }
      if (step.crossing >= 0) crossings.push(step.crossing);
    }

    function undo(step: Step): void {
      for (const [point, lie] of step.asks) {
        held[point] = (held[point] ?? 1) - 1;
        if (held[point] !== 0) continue;
        lies[point] = NOT_PASSED;
        if (lie === REVERSE) reverses -= 1;
      }
      if (step.crossing >= 0) crossings.pop();
    }
  }
}

/** Places met on a span, beyond where one starts on it; `after` -1: entered from a feature, so all of them. */
export function stopsAfter(travel: Travel, state: number, after: number, from: number): readonly Stop[] {
  const stops = travel.stops[state] ?? [];
  if (after < 0) return stops;
  const here = stops.findIndex((stop) => stop.place === from);
  return here >= 0 ? stops.slice(here + 1) : stops;
}

/** States from which a wanted place can be reached by steps alone, those that stand before it on its own span too. */
function statesBefore(travel: Travel, targets: readonly boolean[]): Uint8Array {
  const before: number[][] = travel.steps.map(() => []);
  travel.steps.forEach((list, state) => {
    for (const { to } of list) before[to]?.push(state);
  });
  const reached = new Uint8Array(travel.steps.length);
  const ahead: number[] = [];
  travel.stops.forEach((list, state) => {
    if (!list.some((stop) => targets[stop.place] === true)) return;
    reached[state] = 1;
    ahead.push(state);
  });
  for (let state = ahead.pop(); state !== undefined; state = ahead.pop()) {
    for (const earlier of before[state] ?? []) {
      if (reached[earlier] === 1) continue;
      reached[earlier] = 1;
      ahead.push(earlier);
    }
  }
  return reached;
}

/** By state: the last place in their order that can be reached from it by steps alone, -1 for none. */
function greatestAhead(travel: Travel, places: number): Int32Array {
  const before: number[][] = travel.steps.map(() => []);
  travel.steps.forEach((list, state) => {
    for (const { to } of list) before[to]?.push(state);
  });
  const at: number[][] = Array.from({ length: places }, () => []);
  travel.stops.forEach((list, state) => {
    for (const { place } of list) at[place]?.push(state);
  });
  const greatest = new Int32Array(travel.steps.length).fill(-1);
  // From the last place down: what is marked already reaches a later one.
  for (let place = places - 1; place >= 0; place--) {
    const ahead = (at[place] ?? []).filter((state) => greatest[state] === -1);
    for (const state of ahead) greatest[state] = place;
    for (let state = ahead.pop(); state !== undefined; state = ahead.pop()) {
      for (const earlier of before[state] ?? []) {
        if (greatest[earlier] !== -1) continue;
        greatest[earlier] = place;
        ahead.push(earlier);
      }
    }
  }
  return greatest;
}

export function compareWays(a: Way, b: Way): number {
  const order = a.from - b.from || a.to - b.to || a.reverses - b.reverses;
  if (order !== 0) return order;
  // NORMAL < REVERSE < NOT_PASSED, point by point.
  for (let i = 0; i < a.lies.length; i++) {
    const difference = (a.lies[i] ?? NOT_PASSED) - (b.lies[i] ?? NOT_PASSED);
    if (difference !== 0) return difference;
  }
  for (let i = 0; i < Math.min(a.states.length, b.states.length); i++) {
    const difference = (a.states[i] ?? 0) - (b.states[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return a.states.length - b.states.length;
}

/** A way with all that is told of a route; in its own direction. */
export function routeOf(plan: Plan, travel: Travel, way: Way, setLevers: ReturnType<typeof leverSetter>): Route {
  const points: Record<string, Lie> = {};
  plan.points.forEach((point, i) => {
    const lie = way.lies[i] ?? NOT_PASSED;
    if (lie === NORMAL || lie === REVERSE) points[point.id] = LIES[lie];
  });
  let faceLength = 0;
  let layoutLength: number | null = 0;
  const path: [number, number][] = [];
  const last = way.states.length - 1;
  way.states.forEach((state, i) => {
    const span = spanOf(travel, state);
    const from = i === 0 ? way.start : 0;
    const to = i === last ? way.end : span.length;
    faceLength += to - from;
    const forward = state % 2 === 0;
    const [low, high] = forward ? [from, to] : [span.length - to, span.length - from];
    const layout = layoutBetween(span, low, high);
    layoutLength = layoutLength === null || layout === null ? null : layoutLength + layout;
    const corners = cornersBetween(span, low, high);
    for (const spot of forward ? corners : corners.reverse()) {
      const before = path[path.length - 1];
      if (before === undefined || Math.hypot(before[0] - spot[0], before[1] - spot[1]) > LENGTH_STEP)
        path.push([spot[0], spot[1]]);
    }
  });
  return {
    from: placeId(plan, way.from),
    to: placeId(plan, way.to),
    points,
    ...setLevers(points),
    through: way.through.map((place) => placeId(plan, place)),
    faceLength,
    layoutLength,
    spans: way.states.map((state) => spanOf(travel, state).id),
    crossings: [...new Set(way.crossings)].sort((a, b) => a - b).flatMap((i) => plan.crossings[i]?.id ?? []),
    path,
  };
}

function placeId(plan: Plan, place: number): string {
  return plan.places[place]?.id ?? '';
}

function spanOf(travel: Travel, state: number): Span {
  const span = travel.spans[state >> 1];
  if (span === undefined) throw new RangeError(`no span ${state >> 1} of ${travel.spans.length}`);
  return span;
}

/** Layout length of part of a span, from its end 0; null where a strip on the way says none. */
function layoutBetween(span: Span, low: number, high: number): number | null {
  let start = 0;
  let sum = 0;
  for (const { from, to, layoutLength } of span.stretches) {
    const length = Math.abs(to - from);
    const part = Math.min(high, start + length) - Math.max(low, start);
    start += length;
    if (part <= 0) continue;
    if (layoutLength === null) return null;
    sum += (layoutLength * part) / length;
  }
  return sum;
}

/** Corners of a span between two spots on it, the spots included. */
function cornersBetween(span: Span, low: number, high: number): (readonly [number, number])[] {
  const path: (readonly [number, number])[] = [];
  let along = 0;
  for (let i = 0; i + 1 < span.path.length; i++) {
    const [a, b] = [span.path[i], span.path[i + 1]];
    if (a === undefined || b === undefined) continue;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const at = (t: number): readonly [number, number] =>
      t <= 0 || length === 0
        ? a
        : t >= length
          ? b
          : [a[0] + ((b[0] - a[0]) * t) / length, a[1] + ((b[1] - a[1]) * t) / length];
    const isLast = i + 2 === span.path.length;
    if (along <= high && (along + length >= low || isLast)) {
      if (path.length === 0) path.push(at(low - along));
      path.push(at(high - along));
    }
    along += length;
  }
  return path;
}
