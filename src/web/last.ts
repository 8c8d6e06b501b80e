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

export function lastWorked(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}
