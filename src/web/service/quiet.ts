/** When somebody last edited a panel, in any window of this browser: a new build waits until the hands are still. */
import { note, noted } from '../device-notes.ts';

const NAME = 'edited';

/** So long without an edit is quiet: ms. */
export const QUIET_MS = 60_000;

/** Edits are noted this often at most: ms. */
const NOTED_MS = 1_000;

let last = Number.NEGATIVE_INFINITY;

/** Note an edit, at `now` in ms since 1970. */
export function noteEdit(now = Date.now()): void {
  if (now - last >= 0 && now - last < NOTED_MS) return;
  last = now;
  // Without storage each window knows its own edits alone.
  note(NAME, String(now));
}

/** Was no edit made within the last minute? A time that cannot be read, or lies ahead, counts as none. */
export function isQuiet(now = Date.now()): boolean {
  const edited = Math.max(last, Number(noted(NAME) ?? Number.NEGATIVE_INFINITY));
  return !(now - edited >= 0 && now - edited < QUIET_MS);
}
