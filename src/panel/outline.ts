import * as z from 'zod';
import { panelSchema } from './schema.ts';

/** The shape of the file in the few words that reading order, writing order and hints need. Taken once from the schema. */
export type Outline =
  | { readonly kind: 'object'; readonly keys: ReadonlyMap<string, Outline> }
  | { readonly kind: 'list'; readonly item: Outline }
  | { readonly kind: 'table'; readonly value: Outline }
  | { readonly kind: 'either'; readonly list: Outline; readonly other: Outline }
  | { readonly kind: 'leaf' };

const LEAF: Outline = { kind: 'leaf' };

function outlineOf(schema: unknown): Outline {
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodNullable) return outlineOf(schema.unwrap());
  if (schema instanceof z.ZodObject) {
    return {
      kind: 'object',
      keys: new Map(Object.entries(schema.shape).map(([key, value]) => [key, outlineOf(value)])),
    };
  }
  if (schema instanceof z.ZodArray) return { kind: 'list', item: outlineOf(schema.element) };
  if (schema instanceof z.ZodTuple) return { kind: 'list', item: LEAF };
  if (schema instanceof z.ZodRecord) return { kind: 'table', value: outlineOf(schema.valueType) };
  if (schema instanceof z.ZodUnion) {
    const options = schema.options.map(outlineOf);
    const list = options.find((o) => o.kind === 'list') ?? LEAF;
    return { kind: 'either', list, other: options.find((o) => o.kind !== 'list') ?? LEAF };
  }
  return LEAF;
}

/** The outline of the whole file. */
export const panelOutline: Outline = outlineOf(panelSchema);

/** The outline one step further down, as far as it is known. */
export function stepInto(outline: Outline, step: string | number): Outline {
  if (outline.kind === 'either') return stepInto(typeof step === 'number' ? outline.list : outline.other, step);
  if (outline.kind === 'list') return outline.item;
  if (outline.kind === 'table') return outline.value;
  if (outline.kind === 'object' && typeof step === 'string') return outline.keys.get(step) ?? LEAF;
  return LEAF;
}

/** The keys that the schema knows here, in its order; null where keys are free (tables, unknown things). */
export function knownKeys(outline: Outline): ReadonlyMap<string, Outline> | null {
  if (outline.kind === 'either') return knownKeys(outline.other);
  return outline.kind === 'object' ? outline.keys : null;
}

/** Compares names as a reader does: runs of figures by their number, so P2 stands before P10; ties by code unit. */
function byName(a: string, b: string): number {
  const one = a.match(/\d+|\D+/g) ?? [];
  const two = b.match(/\d+|\D+/g) ?? [];
  for (let i = 0; i < Math.min(one.length, two.length); i++) {
    const x = one[i] ?? '';
    const y = two[i] ?? '';
    if (x === y) continue;
    const figures = /^\d/.test(x) && /^\d/.test(y);
    if (figures && Number(x) !== Number(y)) return Number(x) - Number(y);
    return x < y ? -1 : 1;
  }
  if (one.length !== two.length) return one.length - two.length;
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Keys of an object in the order of the file: those of the schema, then the others by name; absent ones left out. */
export function keysInOrder(value: object, outline: Outline): string[] {
  const known = knownKeys(outline);
  const present = new Set(Object.keys(value));
  const first: string[] = [];
  if (known) {
    for (const key of known.keys()) if (present.delete(key)) first.push(key);
  }
  return [...first, ...[...present].sort(byName)];
}
