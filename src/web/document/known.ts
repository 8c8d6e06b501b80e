/** The panels that this browser should have: a short list beside the database, by which it is known when the database has gone. */
import type { Surroundings } from './surroundings.ts';

/** A panel as the list has it. */
export interface Known {
  readonly id: string;
  readonly title: string;
  readonly changed: number;
}

const KEY = 'mimicwright.panels';
/** Longer lists are cut at the oldest: it is a note, no record. */
const MOST = 200;

/** The list, newest first; empty where it cannot be read. */
export function knownPanels(memory: Surroundings['memory']): readonly Known[] {
  try {
    const list: unknown = JSON.parse(memory?.getItem(KEY) ?? '[]');
    return Array.isArray(list) ? list.filter(isKnown) : [];
  } catch {
    return [];
  }
}

/** Put a panel first in the list. */
export const rememberPanel = (memory: Surroundings['memory'], { id, title, changed }: Known): void =>
  write(memory, [{ id, title, changed }, ...knownPanels(memory).filter((known) => known.id !== id)]);

export const forgetPanel = (memory: Surroundings['memory'], id: string): void =>
  write(
    memory,
    knownPanels(memory).filter((known) => known.id !== id),
  );

function write(memory: Surroundings['memory'], list: readonly Known[]): void {
  try {
    memory?.setItem(KEY, JSON.stringify(list.slice(0, MOST)));
  } catch {
    // No room for a note of a few bytes: the database says so itself.
  }
}

function isKnown(value: unknown): value is Known {
  if (typeof value !== 'object' || value === null) return false;
  return (
    'id' in value &&
    typeof value.id === 'string' &&
    'title' in value &&
    typeof value.title === 'string' &&
    'changed' in value &&
    typeof value.changed === 'number'
  );
}
