import type { Lie, Lies } from '../../panel/index.ts';
import type { Position } from '../../wiring/index.ts';

/** What is thrown, as lies: a point in the middle lies neither way. Points that no lever works go by the same names as levers. */
export function liesIn(thrown: Readonly<Record<string, Position>>): Lies {
  return Object.fromEntries(Object.entries(thrown).filter((pair): pair is [string, Lie] => pair[1] !== 'centre'));
}
