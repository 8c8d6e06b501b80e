/** Which kept panel was worked on last: a note beside the database, so that the window can begin with it. */
import { note, noted } from './device-notes.ts';

const NAME = 'last';

/** A browser that keeps nothing forgets it: then the demo is what the next visit begins with. */
export const rememberLast = (id: string): void => note(NAME, id);

/** No longer begin with this panel, where it is the one that was worked on last. */
export function forgetLast(id: string): void {
  // A note that can be read and not be written stays: the next visit begins with it.
  if (lastWorked() === id) note(NAME, '');
}

/** Its id; empty where it was put away since; null where there is no note: nothing was worked on, or the browser was ended before it wrote that. */
export const lastWorked = (): string | null => noted(NAME);
