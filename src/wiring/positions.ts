import type { Position } from './types.ts';

/** Positions of levers by id. */
export type Positions = Readonly<Record<string, Position>>;

/** How a lever lies: normal where it is not named. Ids are the user's, and some are names that every object has. */
export function positionIn(levers: Positions, id: string): Position {
  return (Object.hasOwn(levers, id) ? levers[id] : undefined) ?? 'normal';
}
