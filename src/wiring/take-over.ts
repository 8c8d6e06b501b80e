/** What a wiring takes over from the one before an edit. */
import { takeOverCircuits } from './faulted-circuits.ts';
import { takeOverLoads } from './lever-loads.ts';
import type { Wiring } from './types.ts';
import { unchangedCircuits } from './unchanged.ts';

/** Makes what was prepared for circuits that are as they were serve in the wiring after an edit, and tells which these are. */
export function takeOver(before: Wiring, now: Wiring): ReadonlySet<string> {
  const unchanged = unchangedCircuits(before, now);
  takeOverLoads(before, now, unchanged);
  takeOverCircuits(before, now, unchanged);
  return unchanged;
}
