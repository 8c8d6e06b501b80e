/**
 * Small notes that this device keeps from visit to visit, by name. Storage can be barred by the user, or full: then there is no note, and what was
 * to be noted holds until the window closes. Uses `localStorage`.
 */

/** What was noted; null where nothing was, or it cannot be read. */
export function noted(name: string): string | null {
  try {
    return localStorage.getItem(`mimicwright.${name}`);
  } catch {
    return null;
  }
}

/** Note it; null takes the note away. */
export function note(name: string, text: string | null): void {
  try {
    if (text === null) localStorage.removeItem(`mimicwright.${name}`);
    else localStorage.setItem(`mimicwright.${name}`, text);
  } catch {
    // Nothing is lost but the note.
  }
}

/** What one note says, in another as well; where there is none, the other stays as it is. */
export function copyNote(from: string, to: string): void {
  const text = noted(from);
  if (text !== null) note(to, text);
}
