/**
 * Moves with reversals, for a train of a given length.
 * The model: a train stands at a place (a free end or a named road) and is headed one way along it. A leg takes it to another place
 * without turning back, and asks of points what a route asks: it passes no span twice and needs nothing both ways. Between two legs it
 * stands, clear of every point, and turns back or goes on; so it must be no longer than the place's `length`, and so where it ends. It
 * may set out either way, and where it sets out it stands already: that length is not looked at.
 * Search: uniform cost over stands (place and heading), by reversals, then length on the face, then legs; legs are the shortest.
 * Not promised: that roads are empty, that an engine is at the right end, that a train can be held on a gradient, anything about curves.
 */
import type { Plan } from '../plan/index.ts';
import type { Millimetre } from '../units/index.ts';
import { leverSetter } from './lever-positions.ts';
import { routeOf } from './list-routes.ts';
import { standsAt, type Thrown, thrownBy, wayOf } from './moves-legs.ts';
import { compareCosts, LeastFirst } from './moves-queue.ts';
import { type FoundLeg, type Legs, shortestLegs } from './moves-shortest.ts';
import { travelOf } from './travel.ts';
import type { Leg, Moves } from './types.ts';

export interface MovesAsked {
  /** Ids of places. */
  readonly from: string;
  readonly to: string;
  /** Of the train, on the layout; null: short enough to stand anywhere. */
  readonly length: Millimetre | null;
}

/** A move as it is found: its legs and what it costs, by reversals, length, legs. */
interface Move {
  readonly cost: readonly number[];
  readonly legs: readonly FoundLeg[];
}

/** What a place says of a train that would stand there. */
type Holds = 'yes' | 'unknown' | 'no';

/**
 * The move from place to place with the fewest reversals, then the shortest on the face, then of fewest legs. `found`: legs in order,
 * each as a route in its own direction; only where the levers can set no move are there legs with `levers` null. Lengths that are not
 * given are asked for: `asked` where no move does without them, else beside a move that they could better. `refused` says why in words.
 * @example findMoves(readPlan(panel), { from: 'platform', to: 'yard', length: 900 }).legs.length
 */
export function findMoves(plan: Plan, { from, to, length }: MovesAsked): Moves {
  const answer = { from, to, length, reversals: null, legs: [], asks: [], why: [], complete: true } as const;
  const start = plan.places.findIndex((place) => place.id === from);
  const target = plan.places.findIndex((place) => place.id === to);
  const missing = [start < 0 ? from : null, target < 0 ? to : null].filter((id) => id !== null);
  if (missing.length > 0) return { ...answer, outcome: 'refused', why: missing.map((id) => `there is no place ${id}`) };
  if (start === target)
    return { ...answer, outcome: 'refused', why: [`the train stands at ${nameOf(plan, start)} already`] };

  const holds = plan.places.map((place): Holds => {
    if (length === null) return 'yes';
    if (place.length === null) return 'unknown';
    return place.length >= length ? 'yes' : 'no';
  });
  const search = searcher(plan, start, target);
  for (const by of ['levers', 'points'] as const) {
    const known = search(by, (place) => holds[place] === 'yes');
    const hoped = search(by, (place) => holds[place] !== 'no');
    const complete = known.complete && hoped.complete;
    const asks =
      hoped.move !== null && (known.move === null || compareCosts(hoped.move.cost, known.move.cost) < 0)
        ? standsOf(hoped.move).filter((place) => holds[place] === 'unknown')
        : [];
    if (known.move === null && hoped.move === null) continue;
    return {
      ...answer,
      outcome: known.move === null ? 'asked' : 'found',
      reversals: known.move?.cost[0] ?? null,
      legs: known.move === null ? [] : legsTold(plan, known.move),
      asks: asks.map((place) => ({
        place: placeId(plan, place),
        question: `How long may a train be to stand at ${nameOf(plan, place)}?`,
      })),
      complete,
    };
  }
  const { move, complete } = search('points', () => true);
  const short = move === null ? [] : standsOf(move).filter((place) => holds[place] === 'no');
  return {
    ...answer,
    outcome: 'refused',
    why:
      move === null
        ? [`no way leads from ${nameOf(plan, start)} to ${nameOf(plan, target)}, turning back or not`]
        : short.map((place) => {
            const most = plan.places[place]?.length ?? 0;
            return `${nameOf(plan, place)} holds ${most} mm, the train is ${length ?? 0} mm`;
          }),
    complete,
  };
}

/** Searches from one place to another; legs are computed once for each stand. */
function searcher(plan: Plan, start: number, target: number) {
  const travel = travelOf(plan);
  const kept = new Map<string, Legs>();
  const thrown: Readonly<Record<'levers' | 'points', Thrown>> = {
    levers: thrownBy(plan, 'levers'),
    points: thrownBy(plan, 'points'),
  };

  return (
    by: 'levers' | 'points',
    mayStand: (place: number) => boolean,
  ): { readonly move: Move | null; readonly complete: boolean } => {
    const done = new Set<number>();
    const queue = new LeastFirst<{ readonly stand: number; readonly by: Node | null; readonly leg: FoundLeg | null }>();
    let complete = true;
    if (!mayStand(target)) return { move: null, complete };

    const setOut = (stand: number, node: Node | null, [reversals = 0, length = 0, legs = 0]: readonly number[]) => {
      const key = `${by} ${stand}`;
      const known = kept.get(key) ?? shortestLegs(plan, travel, thrown[by], stand, (to) => to >> 1 !== start);
      kept.set(key, known);
      complete &&= known.complete;
      for (const leg of known.legs) {
        if (done.has(leg.to) || !mayStand(leg.to >> 1)) continue;
        queue.put([reversals, length + leg.length, legs + 1], { stand: leg.to, by: node, leg });
      }
    };
    for (const stand of standsAt(travel, start)) setOut(stand, null, [0, 0, 0]);
    for (let next = queue.take(); next !== undefined; next = queue.take()) {
      const { stand, by: before, leg } = next.item;
      if (leg === null || done.has(stand)) continue;
      done.add(stand);
      const node: Node = { leg, by: before };
      if (stand >> 1 === target) return { move: { cost: next.cost, legs: inOrder(node) }, complete };
      const [reversals = 0, length = 0, legs = 0] = next.cost;
      setOut(stand, node, next.cost);
      setOut(stand ^ 1, node, [reversals + 1, length, legs]);
    }
    return { move: null, complete };
  };
}

interface Node {
  readonly leg: FoundLeg;
  readonly by: Node | null;
}

function inOrder(last: Node): readonly FoundLeg[] {
  const legs: FoundLeg[] = [];
  for (let node: Node | null = last; node !== null; node = node.by) legs.unshift(node.leg);
  return legs;
}

/** Places where the train comes to stand, in order. */
function standsOf(move: Move): readonly number[] {
  return [...new Set(move.legs.map(({ to }) => to >> 1))];
}

function legsTold(plan: Plan, move: Move): readonly Leg[] {
  const travel = travelOf(plan);
  const setLevers = leverSetter(plan);
  return move.legs.map((leg, i) => {
    const before = move.legs[i - 1];
    return {
      ...routeOf(plan, travel, wayOf(plan, travel, leg.from, leg.states, leg.to), setLevers),
      turns: before !== undefined && before.to !== leg.from,
    };
  });
}

function placeId(plan: Plan, place: number): string {
  return plan.places[place]?.id ?? '';
}

function nameOf(plan: Plan, place: number): string {
  return plan.places[place]?.name ?? placeId(plan, place);
}
