/**
 * Legs: ways without turning back from where a train stands to where it stands next, and what has to be set for one.
 * A stand is a place and a heading: 2 x place + direction along its span, so that `stand ^ 1` is the same place, headed the other way.
 */
import type { Lie } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { stopsAfter, type Way } from './list-routes.ts';
import type { Step, Travel } from './travel.ts';

/** What is thrown: a lever, or a point that nothing works, which is thrown where it is. */
export interface Thrown {
  readonly ids: readonly string[];
  /** Of a lie (0 normal, 1 reverse) of a point by its place in the list: what has to lie how (0 normal, 1 reverse). */
  needs(point: number, lie: number): readonly [thrown: number, position: number];
}

/**
 * By levers: points that one lever works go together, by the first lever that works each. By points: each goes alone, whatever levers
 * there are.
 */
export function thrownBy(plan: Plan, by: 'levers' | 'points'): Thrown {
  const ids: string[] = [];
  const of = new Map<string, readonly [number, Lie]>();
  if (by === 'levers') {
    for (const { id, works } of plan.levers) {
      const fresh = works.filter(({ point }) => !of.has(point));
      if (fresh.length === 0) continue;
      for (const { point, whenNormal } of fresh) of.set(point, [ids.length, whenNormal]);
      ids.push(id);
    }
  }
  const table = plan.points.map(({ id }): readonly [number, number] => {
    const [thrown, whenNormal] = of.get(id) ?? [ids.push(id) - 1, 'normal'];
    return [thrown, whenNormal === 'normal' ? 0 : 1];
  });
  return {
    ids,
    needs: (point, lie) => {
      const [thrown, turned] = table[point] ?? [-1, 0];
      return [thrown, lie ^ turned];
    },
  };
}

/** The step from one state to the next. */
export function stepBetween(travel: Travel, from: number, to: number): Step {
  const step = travel.steps[from]?.find((each) => each.to === to);
  if (step === undefined) throw new RangeError(`no step from state ${from} to ${to}`);
  return step;
}

/**
 * What these states in a row need thrown; null where they pass a span twice or would need something both ways. Of a `lap` the last span
 * may be the first again.
 */
export function needsOf(
  travel: Travel,
  thrown: Thrown,
  states: readonly number[],
  lap = false,
): ReadonlyMap<number, number> | null {
  const needs = new Map<number, number>();
  const spans = new Set<number>();
  for (const [i, state] of states.entries()) {
    const next = states[i + 1];
    const isBack = lap && i > 0 && next === undefined && state >> 1 === (states[0] ?? 0) >> 1;
    if (spans.has(state >> 1) && !isBack) return null;
    spans.add(state >> 1);
    if (next !== undefined && !addNeeds(thrown, stepBetween(travel, state, next), needs)) return null;
  }
  return needs;
}

/** Add what a step needs; false where that is already needed the other way. */
export function addNeeds(thrown: Thrown, step: Step, needs: Map<number, number>): boolean {
  for (const [point, lie] of step.asks) {
    const [key, position] = thrown.needs(point, lie);
    if ((needs.get(key) ?? position) !== position) return false;
    needs.set(key, position);
  }
  return true;
}

/** The directed span that a stand is on. */
export function stateOf(plan: Plan, travel: Travel, stand: number): number {
  const start = travel.starts[stand >> 1]?.[0]?.state;
  if (start === undefined) throw new RangeError(`no place ${stand >> 1} of ${plan.places.length}`);
  return (start & ~1) | (stand & 1);
}

/** How far along its directed span a stand is. */
export function alongOf(plan: Plan, travel: Travel, stand: number): number {
  const state = stateOf(plan, travel, stand);
  const length = travel.spans[state >> 1]?.length ?? 0;
  const start = travel.starts[stand >> 1]?.find((each) => each.state === state);
  // One who stands at a free end, headed for it, is at the end of the span.
  return start?.along ?? length;
}

/** Stands from which a train can set out from a place: both headings of a road, of a free end the one inward. */
export function standsAt(travel: Travel, place: number): readonly number[] {
  return (travel.starts[place] ?? []).map(({ state }) => 2 * place + (state & 1));
}

/** A leg as a way: states in a row from one stand to another. */
export function wayOf(plan: Plan, travel: Travel, from: number, states: readonly number[], to: number): Way {
  const lies = new Uint8Array(plan.points.length).fill(2);
  const crossings: number[] = [];
  const through: number[] = [];
  const last = states.length - 1;
  states.forEach((state, i) => {
    for (const { place } of stopsAfter(travel, state, i === 0 ? 0 : -1, from >> 1)) {
      if (i === last && place === to >> 1) break;
      through.push(place);
    }
    const next = states[i + 1];
    if (next === undefined) return;
    const step = stepBetween(travel, state, next);
    for (const [point, lie] of step.asks) lies[point] = lie;
    if (step.crossing >= 0) crossings.push(step.crossing);
  });
  return {
    from: from >> 1,
    to: to >> 1,
    states,
    start: alongOf(plan, travel, from),
    end: alongOf(plan, travel, to),
    lies,
    reverses: lies.filter((lie) => lie === 1).length,
    crossings,
    through,
  };
}
