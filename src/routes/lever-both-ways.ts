/** Routes and moves that one lever bars from each other. */
import type { Route } from './types.ts';

type Levers = Pick<Route, 'levers'>;

/** `lever:L4`: the first lever of one that would have to lie otherwise for the other; null where none would, or no lever sets one of them. */
export function leverBothWays({ levers }: Levers, other: Levers): string | null {
  const lever = Object.entries(levers ?? {}).find(
    ([id, position]) => other.levers !== null && Object.hasOwn(other.levers, id) && other.levers[id] !== position,
  );
  return lever === undefined ? null : `lever:${lever[0]}`;
}
