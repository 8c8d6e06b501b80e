/**
 * The shortest legs from a stand to every other.
 * Idea: Dijkstra over directed spans gives the shortest walk to each stand. Where that is no leg (a span twice, or something needed both
 * ways) the best leg is searched for among simple ways, by the length so far and the walk still ahead, which is never too much (A*).
 * Cost: spans for each stand; where walks are no legs, the ways that are shorter than the best leg, capped.
 */
import type { Plan } from '../plan/index.ts';
import { LEG_STEPS } from './limits.ts';
import { stopsAfter } from './list-routes.ts';
import { addNeeds, alongOf, needsOf, stateOf, type Thrown } from './moves-legs.ts';
import { LeastFirst } from './moves-queue.ts';
import type { Travel } from './travel.ts';

/** A leg as it is found, in the length of the face. */
export interface FoundLeg {
  readonly from: number;
  readonly to: number;
  readonly states: readonly number[];
  readonly length: number;
}

export interface Legs {
  readonly legs: readonly FoundLeg[];
  /** False where the cap ended a search, so that a leg may be missing or a shorter one be there. */
  readonly complete: boolean;
}

/** The shortest leg from a stand to each stand that `wanted` says, by place, then heading. */
export function shortestLegs(
  plan: Plan,
  travel: Travel,
  thrown: Thrown,
  from: number,
  wanted: (to: number) => boolean,
): Legs {
  const first = stateOf(plan, travel, from);
  const along = alongOf(plan, travel, from);
  const ahead = lengthOf(travel, first) - along;
  const { entry, before } = walks(travel, first, ahead);
  const legs: FoundLeg[] = [];
  let complete = true;

  for (const { place, along: at } of stopsAfter(travel, first, along, from >> 1)) {
    const to = 2 * place + (first & 1);
    if (wanted(to)) legs.push({ from, to, states: [first], length: at - along });
  }
  const here = new Set(legs.map(({ to }) => to));
  travel.stops.forEach((stops, state) => {
    const reached = entry[state] ?? Number.POSITIVE_INFINITY;
    // Back to the span of the stand no leg leads: it is passed already.
    if (!Number.isFinite(reached) || state >> 1 === first >> 1) return;
    for (const stop of stops) {
      const to = 2 * stop.place + (state & 1);
      if (here.has(to) || !wanted(to)) continue;
      const states = [state];
      for (let s = before[state] ?? -1; s >= 0; s = before[s] ?? -1) states.unshift(s);
      states.unshift(first);
      if (needsOf(travel, thrown, states) !== null) {
        legs.push({ from, to, states, length: reached + stop.along });
        continue;
      }
      const best = simpleWay(travel, thrown, first, ahead, state);
      complete &&= best.complete;
      if (best.states !== null) legs.push({ from, to, states: best.states, length: best.length + stop.along });
    }
  });
  return { legs: legs.sort((a, b) => a.to - b.to), complete };
}

/** By state: the length of the shortest walk to where it is entered, and the state before it (-1: the first). */
function walks(travel: Travel, first: number, ahead: number): { readonly entry: number[]; readonly before: number[] } {
  const entry = travel.steps.map(() => Number.POSITIVE_INFINITY);
  const before = travel.steps.map(() => -1);
  const queue = new LeastFirst<{ readonly state: number; readonly by: number }>();
  const enter = (state: number, by: number, length: number) => {
    if (length < (entry[state] ?? 0)) queue.put([length], { state, by });
  };
  for (const { to } of travel.steps[first] ?? []) enter(to, -1, ahead);
  for (let next = queue.take(); next !== undefined; next = queue.take()) {
    const { state, by } = next.item;
    const [length = 0] = next.cost;
    if (length >= (entry[state] ?? 0)) continue;
    entry[state] = length;
    before[state] = by;
    for (const { to } of travel.steps[state] ?? []) enter(to, state, length + lengthOf(travel, state));
  }
  return { entry, before };
}

interface Label {
  readonly state: number;
  readonly by: Label | null;
  readonly length: number;
  readonly needs: ReadonlyMap<number, number>;
}

/** The shortest leg that enters `target` last, from the end of `first`, `ahead` off; null where there is none. */
function simpleWay(
  travel: Travel,
  thrown: Thrown,
  first: number,
  ahead: number,
  target: number,
): { readonly states: readonly number[] | null; readonly length: number; readonly complete: boolean } {
  const still = lengthsTo(travel, target);
  const queue = new LeastFirst<Label>();
  queue.put([0], { state: first, by: null, length: 0, needs: new Map() });
  let steps = LEG_STEPS;
  for (let next = queue.take(); next !== undefined; next = queue.take()) {
    const label = next.item;
    if (label.state === target && label.by !== null) {
      const states: number[] = [];
      for (let each: Label | null = label; each !== null; each = each.by) states.unshift(each.state);
      return { states, length: label.length, complete: true };
    }
    steps -= 1;
    if (steps < 0) return { states: null, length: 0, complete: false };
    const length = label.by === null ? ahead : label.length + lengthOf(travel, label.state);
    for (const step of travel.steps[label.state] ?? []) {
      const least = length + (still[step.to] ?? Number.POSITIVE_INFINITY);
      if (!Number.isFinite(least) || passed(label, step.to >> 1)) continue;
      const needs = new Map(label.needs);
      if (addNeeds(thrown, step, needs)) queue.put([least], { state: step.to, by: label, length, needs });
    }
  }
  return { states: null, length: 0, complete: true };
}

function passed(label: Label, span: number): boolean {
  for (let each: Label | null = label; each !== null; each = each.by) if (each.state >> 1 === span) return true;
  return false;
}

/** By state: the length of the shortest walk from where it is entered to where `target` is. */
function lengthsTo(travel: Travel, target: number): readonly number[] {
  const before: number[][] = travel.steps.map(() => []);
  travel.steps.forEach((list, state) => {
    for (const { to } of list) before[to]?.push(state);
  });
  const lengths = travel.steps.map(() => Number.POSITIVE_INFINITY);
  const queue = new LeastFirst<number>();
  queue.put([0], target);
  for (let next = queue.take(); next !== undefined; next = queue.take()) {
    const [length = 0] = next.cost;
    if (length >= (lengths[next.item] ?? 0)) continue;
    lengths[next.item] = length;
    for (const state of before[next.item] ?? []) queue.put([length + lengthOf(travel, state)], state);
  }
  return lengths;
}

function lengthOf(travel: Travel, state: number): number {
  return travel.spans[state >> 1]?.length ?? 0;
}
