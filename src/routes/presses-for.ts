/** Routes that levers alone cannot set, because push buttons throw some of their points. */
import type { Lie, Lies } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { leverSetter } from './lever-positions.ts';
import type { Route } from './types.ts';

/** A push button and what it throws. */
export interface Pressed {
  readonly id: string;
  readonly sets?: Lies | undefined;
}

/** Levers that lie so, and buttons that are pressed once, in the order of the file. */
export interface Presses {
  readonly levers: Readonly<Record<string, Lie>>;
  readonly buttons: readonly string[];
}

/**
 * From the lies that a route asks to levers, for the points that levers work, and buttons for the rest. A button that would throw another
 * point of the route the other way is not pressed. Null where a point is left, and where the levers cannot have it.
 */
export function presser(plan: Plan, buttons: readonly Pressed[]): (points: Route['points']) => Presses | null {
  const setLevers = leverSetter(plan);
  const worked = new Set(plan.levers.flatMap(({ works }) => works.map(({ point }) => point)));
  return (points) => {
    const asked = Object.entries(points);
    const byLevers: Lies = Object.fromEntries(asked.filter(([point]) => worked.has(point)));
    const { levers } = setLevers(byLevers);
    if (levers === null) return null;
    const left = new Set(asked.map(([point]) => point).filter((point) => !worked.has(point)));
    const pressed: string[] = [];
    for (const { id, sets = {} } of buttons) {
      const thrown = Object.entries(sets);
      if (thrown.some(([point, lie]) => points[point] !== undefined && points[point] !== lie)) continue;
      if (!thrown.some(([point]) => left.has(point))) continue;
      for (const [point] of thrown) left.delete(point);
      pressed.push(id);
    }
    return left.size > 0 ? null : { levers, buttons: pressed };
  };
}
