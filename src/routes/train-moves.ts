/** How all lies before a train sets out, and a train's run as it is told. */
import type { Lie, Lies } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { leverSetter } from './lever-positions.ts';
import { routeOf } from './list-routes.ts';
import type { Thrown, TrainMove } from './train-types.ts';
import type { TrainWay, TrainWays } from './train-ways.ts';
import { LIES } from './travel.ts';

/** By what is thrown: 0 normal, 1 reverse, 2 neither. Levers and points that are not named lie normal. */
export function liesBefore(ways: TrainWays, levers: Thrown, points: Lies): Uint8Array {
  const before: Readonly<Record<string, Lie | 'centre'>> = { ...points, ...levers };
  return Uint8Array.from(ways.thrown.ids, (id) => {
    const lie = Object.hasOwn(before, id) ? before[id] : 'normal';
    return lie === 'reverse' ? 1 : lie === 'centre' ? 2 : 0;
  });
}

/** Tells moves of one plan. */
export function moveTeller(
  plan: Plan,
  ways: TrainWays,
): (
  train: string,
  way: TrainWay,
  head: 0 | 1 | null,
  throws: readonly (readonly [number, number])[] | null,
) => TrainMove {
  const setLevers = leverSetter(plan);
  return (train, way, head, throws) => ({
    train,
    ...routeOf(plan, ways.travel, way.way, setLevers),
    head: head === null ? null : head === way.leaves ? 'first' : 'last',
    throws:
      throws === null
        ? null
        : Object.fromEntries(
            throws.map(([thing, position]) => [ways.thrown.ids[thing] ?? '', LIES[position === 1 ? 1 : 0]]),
          ),
  });
}

/** The heading of a train after a way: one that runs head first still does, whichever way the road lies. */
export function headAfter(way: TrainWay, head: 0 | 1 | null): 0 | 1 | null {
  if (head === null) return null;
  return (head ^ way.leaves ^ way.enters) === 0 ? 0 : 1;
}
