/** Which kept panel was worked on last: a note beside the database, so that the window can begin with it. Uses `localStorage`. */

const KEY = 'mimicwright.last';

/** A browser that keeps nothing forgets it: then the demo is what the next visit begins with. */
export function rememberLast(id: string): void {
  try {
    localStorage.setItem(KEY, id);
  } catch {
    // Nothing is lost but the note.
  }
}

/** No longer begin with this panel, where it is the one that was worked on last. */
export function forgetLast(id: string): void {
  if (lastWorked() !== id) return;
  try {
    localStorage.setItem(KEY, '');
  } catch {
    // It could be read and cannot be written: the next visit begins with it.
  }
}

/** Its id; empty where it was put away since; null where there is no note: nothing was worked on, or the browser was ended before it wrote that. */
export function lastWorked(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}
