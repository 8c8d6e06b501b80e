import * as z from 'zod';
import { type Note, notes } from './notes.ts';
import { panelSchema, VERSION } from './schema.ts';

/** A JSON Schema, as plain JSON. */
export type JsonSchema = Readonly<Record<string, unknown>>;

/**
 * The JSON Schema (draft 2020-12) of a panel file, from the same schema that the reader checks by. It says nothing of what no JSON
 * Schema can say: that ids differ by more than case and that retired ones are not used again.
 */
export function panelJsonSchema(): JsonSchema {
  const made: JsonSchema = z.toJSONSchema(panelSchema, {
    target: 'draft-2020-12',
    io: 'input',
    metadata: notes,
    override: ({ jsonSchema }) => {
      const { fallback, description } = jsonSchema as typeof jsonSchema & Note;
      if (typeof fallback !== 'string') return;
      Object.assign(jsonSchema, { description: `${description} Default: ${fallback}.` });
      delete jsonSchema.fallback;
    },
  });
  return { ...made, title: 'Mimic panel', description: `A panel file (NAME.mimic.json), version ${VERSION}.` };
}
