import * as z from 'zod';

/** What the description of the file says of a key: one sentence, and the default in words where there is one. */
export interface Note {
  readonly description: string;
  readonly fallback?: string;
}

/** Kept apart from zod's global registry, so that nothing outside this folder sees it. */
export const notes = z.registry<Note>();

/** The same kind of value with a sentence of its own, and what holds where the key is absent. */
export function note<T extends z.ZodType>(schema: T, description: string, fallback?: string): T {
  const own = schema.clone();
  notes.add(own, fallback === undefined ? { description } : { description, fallback });
  return own;
}
