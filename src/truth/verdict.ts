/** What a lamp shows by its range, and whether a claim holds: rules 6 and 8. */
import type { LampUse } from '../lamps/index.ts';
import type { Lies } from '../panel/index.ts';
import { darkBelow } from '../parts/index.ts';
import type { Range } from './ranges.ts';

export type Verdict = 'lit' | 'dark' | 'doubtful';

/** Does every point of the claim lie so? */
export function holds(claim: Lies, lies: Lies): boolean {
  return Object.entries(claim).every(([point, lie]) => lies[point] === lie);
}

/** Lit: least at or above seen. Dark: greatest at or below a twentieth of it. Destroyed lamps are dark. Else doubtful. */
export function verdictOf(lamp: LampUse, range: Range): Verdict {
  if (range.most > 2 * lamp.part.max) return 'dark';
  if (range.low >= lamp.part.seen) return 'lit';
  return range.high <= darkBelow(lamp.part) ? 'dark' : 'doubtful';
}
