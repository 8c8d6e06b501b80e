/** When somebody last edited a panel, in any window of this browser: a new build waits until the hands are still. */

const KEY = 'mimicwright.edited';

/** So long without an edit is quiet: ms. */
export const QUIET_MS = 60_000;

/** Edits are noted this often at most: ms. */
const NOTED_MS = 1_000;

let noted = Number.NEGATIVE_INFINITY;

/** Note an edit, at `now` in ms since 1970. */
export function noteEdit(now = Date.now()): void {
  if (now - noted >= 0 && now - noted < NOTED_MS) return;
  noted = now;
  try {
    localStorage.setItem(KEY, String(now));
  } catch {
    // Without storage each window knows its own edits alone.
  }
}

/** Was no edit made within the last minute? A time that cannot be read, or lies ahead, counts as none. */
export function isQuiet(now = Date.now()): boolean {
  let last = noted;
  try {
    last = Math.max(last, Number(localStorage.getItem(KEY) ?? Number.NEGATIVE_INFINITY));
  } catch {
    // As above.
  }
  return !(now - last >= 0 && now - last < QUIET_MS);
}
