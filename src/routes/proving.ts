/**
 * The proving run: a train over every leg of every point, facing and trailing, with the fewest reversals, then the fewest throws.
 * The model is that of moves: an engine alone, or what is short enough to stand at any place, goes from place to place; levers are thrown
 * while it stands. It begins where it likes, every lever normal; over to track that nothing joins it is carried, which is no reversal.
 * Points of one slip or three-way count by the ways through them. A leg is missed where no way from place to place takes it.
 * Small plans (20 directed passages: five points) are searched exactly. For others a run is laid on the cheapest flow, and one hop by
 * hop; the better is improved by leaving out and changing order. Beside it stands what no run can do without: `bound`.
 */
import type { Lie } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { leverSetter } from './lever-positions.ts';
import { GREEDY_IMPROVED, GREEDY_STARTS } from './limits.ts';
import { routeOf } from './list-routes.ts';
import { needsOf, type Thrown, thrownBy, wayOf } from './moves-legs.ts';
import { exactWalk } from './proving-exact.ts';
import { boundOf } from './proving-flow.ts';
import { greedyWalk } from './proving-greedy.ts';
import { everyHop, type Hop, type Passing, passingsOf } from './proving-legs.ts';
import { costOf, improveWalk, isCheaper, throwFor } from './proving-walk.ts';
import { LIES, type Travel, travelOf } from './travel.ts';
import type { ProvedLeg, ProvingMove, ProvingRun } from './types.ts';

/**
 * A run over all that can be taken, as moves to print, and what is missed, with why. `proved`: no run has fewer reversals, nor as many
 * and fewer throws; else it may be as much dearer as it stands above `bound`.
 * @example provingRun(readPlan(panel)).moves.length
 */
export function provingRun(plan: Plan): ProvingRun {
  const travel = travelOf(plan);
  const thrown = thrownBy(plan, 'levers');
  const passings = passingsOf(travel);
  const { hops, complete } = everyHop(plan, travel, thrown);
  const positions = new Int8Array(thrown.ids.length);
  const walks: (readonly Hop[])[] = [];
  let boundReversals = 0;
  let proved = complete;
  const needs = (passage: number) => passings[passage]?.step.asks.map(([point, lie]) => thrown.needs(point, lie)) ?? [];

  const parts = partsOf(hops);
  for (const part of parts) {
    const { walk, bound, exact } = walkOf(plan, travel, thrown, part, needs, positions);
    walks.push(walk);
    boundReversals += bound;
    proved &&= exact;
    for (const hop of walk) throwFor(hop, positions);
  }
  // Levers that work points of several parts: another order of the parts could save throws.
  const sharing = parts.map((part) => new Set(part.flatMap((hop) => hop.needs.map(([key]) => key))));
  const isShared = sharing.some((keys, i) =>
    sharing.slice(i + 1).some((other) => [...keys].some((key) => other.has(key))),
  );

  const covered = new Set(walks.flat().flatMap(({ takes }) => takes));
  const boundThrows = thrown.ids.filter((_, key) =>
    [...covered].some((passage) => needs(passage).some(([k, position]) => k === key && position === 1)),
  ).length;
  const total = { reversals: 0, throws: 0 };
  const lie = new Int8Array(thrown.ids.length);
  for (const walk of walks) {
    const cost = costOf(walk, lie);
    total.reversals += cost.reversals;
    total.throws += cost.throws;
  }
  const atBound = complete && total.reversals === boundReversals && total.throws === boundThrows;
  const isProved = (proved && !isShared) || atBound;
  return {
    moves: movesOf(plan, travel, thrown, passings, walks),
    legs: { covered: covered.size, all: passings.length },
    missed: missedOf(plan, travel, passings, covered, complete),
    reversals: total.reversals,
    throws: total.throws,
    bound: isProved
      ? { reversals: total.reversals, throws: total.throws }
      : { reversals: complete ? boundReversals : 0, throws: boundThrows },
    proved: isProved,
  };
}

/** Hops by what hangs together, in the order of places; only parts with a point in them. */
function partsOf(hops: readonly Hop[]): readonly (readonly Hop[])[] {
  const parent = new Map<number, number>();
  const root = (place: number): number => {
    let at = place;
    for (let up = parent.get(at); up !== undefined; up = parent.get(at)) at = up;
    return at;
  };
  for (const { from, to } of hops) {
    const [a, b] = [root(from >> 1), root(to >> 1)];
    if (a !== b) parent.set(Math.max(a, b), Math.min(a, b));
  }
  const parts = new Map<number, Hop[]>();
  for (const hop of hops) {
    const key = root(hop.from >> 1);
    const known = parts.get(key);
    if (known === undefined) parts.set(key, [hop]);
    else known.push(hop);
  }
  return [...parts]
    .sort(([a], [b]) => a - b)
    .map(([, part]) => part)
    .filter((part) => part.some(({ takes }) => takes.length > 0));
}

/** The best run over one part, from these positions. */
function walkOf(
  plan: Plan,
  travel: Travel,
  thrown: Thrown,
  part: readonly Hop[],
  needs: (passage: number) => readonly (readonly [number, number])[],
  positions: Int8Array,
): { readonly walk: readonly Hop[]; readonly bound: number; readonly exact: boolean } {
  const { reversals: bound, walk: laid } = boundOf(plan, travel, thrown, part);
  const cost = (walk: readonly Hop[]) => costOf(walk, positions.slice());
  const stands = [...new Set(part.map(({ from }) => from))];
  const stride = Math.ceil(stands.length / GREEDY_STARTS);
  const greedy = stands
    .filter((_, i) => i % stride === 0)
    .map((stand) => greedyWalk(part, stand, positions))
    .sort((a, b) => cost(a).reversals - cost(b).reversals || cost(a).throws - cost(b).throws)
    .slice(0, GREEDY_IMPROVED);
  const takenBy = (walk: readonly Hop[]) => new Set(walk.flatMap(({ takes }) => takes)).size;
  const tried = [...(laid === null ? [] : [laid]), ...greedy];
  // All is taken, but where the search for hops was cut: then what takes the most.
  const most = Math.max(...tried.map(takenBy));
  const found = tried.filter((walk) => takenBy(walk) === most).map((walk) => improveWalk(walk, positions));
  const [first, ...others] = found;
  if (first === undefined) throw new RangeError(`no run over a part of ${part.length} hops`);
  const best = others.reduce((least, walk) => (isCheaper(cost(walk), cost(least)) ? walk : least), first);
  const exact = exactWalk(part, needs, positions, cost(best));
  return { walk: exact === null || exact === 'known' ? best : exact, bound, exact: exact !== null };
}

/** Hops in a row as moves: joined where the train goes on and one way can be set for all of them. */
function movesOf(
  plan: Plan,
  travel: Travel,
  thrown: Thrown,
  passings: readonly Passing[],
  walks: readonly (readonly Hop[])[],
): readonly ProvingMove[] {
  const setLevers = leverSetter(plan);
  const positions = new Int8Array(thrown.ids.length);
  const taken = new Set<number>();
  const moves: ProvingMove[] = [];
  for (const walk of walks) {
    let before = -1;
    for (let i = 0; i < walk.length; ) {
      const [first] = walk.slice(i, i + 1);
      if (first === undefined) break;
      let { to } = first;
      let states: readonly number[] = first.states;
      const takes = [...first.takes];
      for (i += 1; i < walk.length; i++) {
        const next = walk[i];
        if (next === undefined || next.from !== to) break;
        const joined = [...states, ...next.states.slice(1)];
        if (needsOf(travel, thrown, joined, first.from === next.to) === null) break;
        states = joined;
        takes.push(...next.takes);
        to = next.to;
      }
      const throws: Record<string, Lie> = {};
      for (const [key, position] of [...(needsOf(travel, thrown, states, true) ?? [])].sort((a, b) => a[0] - b[0])) {
        if (positions[key] === position) continue;
        positions[key] = position;
        throws[thrown.ids[key] ?? ''] = LIES[position === 1 ? 1 : 0];
      }
      moves.push({
        ...routeOf(plan, travel, wayOf(plan, travel, first.from, states, to), setLevers),
        turns: before === (first.from ^ 1),
        carried: before < 0 && moves.length > 0,
        throws,
        takes: takes
          .filter((passage) => !taken.has(passage) && taken.add(passage))
          .flatMap((passage) => told(plan, travel, passings[passage])),
      });
      before = to;
    }
  }
  return moves;
}

/** A passage in words' stead. */
function told(plan: Plan, travel: Travel, passing: Passing | undefined): readonly ProvedLeg[] {
  if (passing === undefined) return [];
  const points: Record<string, Lie> = {};
  let way: ProvedLeg['way'] = 'trailing';
  for (const [i, lie] of passing.step.asks) {
    const point = plan.points[i];
    if (point === undefined) continue;
    points[point.id] = LIES[lie === 1 ? 1 : 0];
    const { toe } = point;
    const arrives = travel.spans[passing.from >> 1]?.id === toe.span && (passing.from & 1) === (toe.end === 1 ? 0 : 1);
    if (point.of === 'slip') way = 'across';
    else if (arrives) way = 'facing';
  }
  const span = (state: number) => travel.spans[state >> 1]?.id ?? '';
  return [{ points, way, from: span(passing.from), to: span(passing.step.to) }];
}

function missedOf(
  plan: Plan,
  travel: Travel,
  passings: readonly Passing[],
  covered: ReadonlySet<number>,
  complete: boolean,
): ProvingRun['missed'] {
  if (covered.size === passings.length) return [];
  // What could be taken if every point were thrown alone is held up by the levers.
  const alone = thrownBy(plan, 'points');
  const free = everyHop(plan, travel, alone);
  const setLevers = leverSetter(plan);
  return passings.flatMap((passing, i) => {
    if (covered.has(i)) return [];
    const hop = free.hops.find(({ takes }) => takes.includes(i));
    const set = hop && routeOf(plan, travel, wayOf(plan, travel, hop.from, hop.states, hop.to), setLevers);
    const why =
      set?.why ??
      (complete && free.complete
        ? 'no way from place to place takes it: give a road or an end on either side a name'
        : 'none found: too many ways between places without a name');
    return told(plan, travel, passing).map((leg) => ({ ...leg, why }));
  });
}
