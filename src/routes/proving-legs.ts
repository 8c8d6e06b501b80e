/**
 * What a proving run has to take, and the short legs that take it.
 * A passage is a way through a point, in one direction. A hop is a leg from a stand to the very next place on the way; every leg is a row
 * of hops. A hop may be a lap: round and back to where it began. Found by walking on from each stand, depth first, to the first place met. Cost: hops, capped.
 */
import type { Plan } from '../plan/index.ts';
import { HOP_STEPS } from './limits.ts';
import { stopsAfter } from './list-routes.ts';
import { addNeeds, alongOf, needsOf, stateOf, type Thrown } from './moves-legs.ts';
import type { Step, Travel } from './travel.ts';

/** A way through points from one directed span to another. */
export interface Passing {
  readonly from: number;
  readonly step: Step;
}

export interface Hop {
  readonly from: number;
  readonly to: number;
  readonly states: readonly number[];
  /** Passages that it takes, by their place in the list. */
  readonly takes: readonly number[];
  /** What has to lie how. */
  readonly needs: readonly (readonly [thrown: number, position: number])[];
}

/** Every passage through points, by the states that it joins. */
export function passingsOf(travel: Travel): readonly Passing[] {
  return travel.steps.flatMap((list, from) =>
    list.filter((step) => step.asks.length > 0).map((step) => ({ from, step })),
  );
}

/** By the two states that it joins: the passage's place in the list. */
export function passingIndex(passings: readonly Passing[]): ReadonlyMap<string, number> {
  return new Map(passings.map(({ from, step }, i) => [`${from} ${step.to}`, i]));
}

/** The hop of these states in a row; null where it passes a span twice (but for a lap) or needs something both ways. */
export function hopOf(
  travel: Travel,
  thrown: Thrown,
  index: ReadonlyMap<string, number>,
  ends: readonly [from: number, to: number],
  states: readonly number[],
): Hop | null {
  const needs = needsOf(travel, thrown, states, true);
  if (needs === null) return null;
  const takes = states.flatMap((state, i) => index.get(`${state} ${states[i + 1]}`) ?? []);
  return { from: ends[0], to: ends[1], states, takes, needs: [...needs] };
}

/** Every hop, by the stand that it leaves; `complete` is false where the cap ended the search. */
export function everyHop(
  plan: Plan,
  travel: Travel,
  thrown: Thrown,
): { readonly hops: readonly Hop[]; readonly complete: boolean } {
  const index = passingIndex(passingsOf(travel));
  const hops: Hop[] = [];
  let steps = 0;
  let complete = true;
  const walk = (from: number, states: readonly number[], needs: ReadonlyMap<number, number>): boolean => {
    const state = states[states.length - 1] ?? 0;
    const after = states.length === 1 ? alongOf(plan, travel, from) : -1;
    const [stop] = stopsAfter(travel, state, after, from >> 1);
    if (stop !== undefined) {
      const hop = hopOf(travel, thrown, index, [from, 2 * stop.place + (state & 1)], states);
      if (hop !== null) hops.push(hop);
      return true;
    }
    for (const step of travel.steps[state] ?? []) {
      steps -= 1;
      if (steps < 0) return false;
      // Back on the first span, it is a lap: it meets a place there at once, its own or one before.
      if (states.some((passed, i) => i > 0 && passed >> 1 === step.to >> 1)) continue;
      const next = new Map(needs);
      if (addNeeds(thrown, step, next) && !walk(from, [...states, step.to], next)) return false;
    }
    return true;
  };
  for (let stand = 0; stand < 2 * plan.places.length; stand++) {
    steps = HOP_STEPS;
    if (!walk(stand, [stateOf(plan, travel, stand)], new Map())) complete = false;
  }
  return { hops, complete };
}
