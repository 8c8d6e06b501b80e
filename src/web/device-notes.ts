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
