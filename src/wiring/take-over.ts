/** What a wiring takes over from the one before an edit. */
import type { Wiring } from './types.ts';
import { unchangedCircuits } from './unchanged.ts';

/** Makes what was prepared for circuits that are as they were serve in the wiring after an edit, and tells which these are. */
export function takeOver(before: Wiring, now: Wiring): ReadonlySet<string> {
  return unchangedCircuits(before, now);
}
