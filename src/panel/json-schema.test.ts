import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type JsonSchema, panelJsonSchema } from './json-schema.ts';
import { checkPanel } from './read.ts';

const SEED = 20260304;
const sample: unknown = JSON.parse(
  readFileSync(new URL('../../tests/panels/old/version-1.mimic.json', import.meta.url), 'utf8'),
);

// The keywords that a schema here may use, from JSON Schema draft 2020-12: Core 8 and 10, Validation 6 and 9.
const KEYWORDS = new Set(
  `$schema title description type const enum properties required additionalProperties propertyNames items prefixItems
   minItems maxItems minimum maximum exclusiveMinimum exclusiveMaximum pattern anyOf`.split(/\s+/),
);
const TYPES = ['null', 'boolean', 'object', 'array', 'number', 'string', 'integer'];

const isTable = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const tableOf = (value: unknown) => (isTable(value) ? value : {});
const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

/** Is the value valid? Written from the draft's text for the keywords above, and from nothing of ours. */
function valid(schema: unknown, value: unknown): boolean {
  if (typeof schema === 'boolean') return schema;
  const s = tableOf(schema);
  if ('type' in s && !listOf(Array.isArray(s.type) ? s.type : [s.type]).some((type) => isOfType(type, value)))
    return false;
  if ('const' in s && s.const !== value) return false;
  if ('enum' in s && !listOf(s.enum).includes(value)) return false;
  if ('anyOf' in s && !listOf(s.anyOf).some((one) => valid(one, value))) return false;
  if (typeof value === 'number') {
    if (typeof s.minimum === 'number' && value < s.minimum) return false;
    if (typeof s.maximum === 'number' && value > s.maximum) return false;
    if (typeof s.exclusiveMinimum === 'number' && value <= s.exclusiveMinimum) return false;
    if (typeof s.exclusiveMaximum === 'number' && value >= s.exclusiveMaximum) return false;
  }
  if (typeof value === 'string' && typeof s.pattern === 'string' && !new RegExp(s.pattern, 'u').test(value))
    return false;
  if (Array.isArray(value)) {
    const list: readonly unknown[] = value;
    const first = listOf(s.prefixItems);
    if (typeof s.minItems === 'number' && list.length < s.minItems) return false;
    if (typeof s.maxItems === 'number' && list.length > s.maxItems) return false;
    return list.every((item, i) =>
      i < first.length ? valid(first[i], item) : !('items' in s) || valid(s.items, item),
    );
  }
  if (isTable(value)) {
    if (listOf(s.required).some((key) => typeof key === 'string' && !Object.hasOwn(value, key))) return false;
    const properties = tableOf(s.properties);
    return Object.entries(value).every(([key, item]) => {
      if ('propertyNames' in s && !valid(s.propertyNames, key)) return false;
      if (Object.hasOwn(properties, key)) return valid(properties[key], item);
      return !('additionalProperties' in s) || valid(s.additionalProperties, item);
    });
  }
  return true;
}

function isOfType(type: unknown, value: unknown): boolean {
  if (type === 'null') return value === null;
  if (type === 'array') return Array.isArray(value);
  if (type === 'object') return isTable(value);
  if (type === 'integer') return Number.isInteger(value);
  return typeof value === type;
}

/** Every schema inside a schema, with its path. */
function* schemasIn(schema: unknown, path: string): Generator<readonly [string, Readonly<Record<string, unknown>>]> {
  if (!isTable(schema)) return;
  yield [path, schema];
  for (const [key, inner] of Object.entries(tableOf(schema.properties))) yield* schemasIn(inner, `${path}.${key}`);
  for (const key of ['items', 'additionalProperties', 'propertyNames']) yield* schemasIn(schema[key], `${path}/${key}`);
  for (const key of ['prefixItems', 'anyOf']) {
    for (const [i, inner] of listOf(schema[key]).entries()) yield* schemasIn(inner, `${path}/${key}${i}`);
  }
}

describe('panelJsonSchema', () => {
  const schema: JsonSchema = panelJsonSchema();

  it('[DS1] is of draft 2020-12 and uses its keywords rightly', () => {
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    for (const [path, inner] of schemasIn(schema, '')) {
      expect(
        Object.keys(inner).filter((key) => !KEYWORDS.has(key)),
        path,
      ).toEqual([]);
      for (const type of listOf(Array.isArray(inner.type) ? inner.type : [inner.type ?? 'null']))
        expect(TYPES, path).toContain(type);
      for (const key of listOf(inner.required)) expect(Object.keys(tableOf(inner.properties)), path).toContain(key);
      if (typeof inner.pattern === 'string') expect(() => new RegExp(String(inner.pattern), 'u')).not.toThrow();
    }
    expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
  });

  it('[DS1] describes every key', () => {
    const bare: string[] = [];
    for (const [path, inner] of schemasIn(schema, '')) {
      for (const [key, value] of Object.entries(tableOf(inner.properties))) {
        if (typeof tableOf(value).description !== 'string') bare.push(`${path}.${key}`);
      }
    }
    expect(bare).toEqual([]);
  });

  it('[DS1] asks for the three keys of the least valid file', () => {
    expect(schema.required).toEqual(['format', 'version', 'strips']);
    expect(valid(schema, { format: 'mimic-panel', version: 1, strips: [] })).toBe(true);
    expect(valid(schema, sample)).toBe(true);
  });

  it(`[DS1] agrees with the reader on files with one value altered (seed ${SEED})`, () => {
    const odd = fc.oneof(
      fc.constantFrom<unknown>(
        null,
        true,
        0,
        -1,
        0.5,
        1e10,
        'normal',
        'dc',
        'A',
        '9',
        '',
        [],
        {},
        [1, 2],
        [1, 2, 3],
        [[1, 2]],
      ),
      fc.jsonValue({ maxDepth: 1 }),
    );
    let refusedByBoth = 0;
    fc.assert(
      fc.property(fc.nat(299), odd, (at, value) => {
        const file = replaceNth(sample, at, value);
        const read = checkPanel(file);
        const byReader = read.ok ? [] : read.problems.filter(({ message }) => !message.startsWith('the id '));
        // Keys called __proto__ and what ids ask of one another are beyond a JSON Schema.
        if (byReader.some(({ message }) => message.includes('__proto__'))) return;
        expect(valid(schema, file), JSON.stringify(byReader)).toBe(byReader.length === 0);
        if (byReader.length > 0) refusedByBoth += 1;
      }),
      { seed: SEED, numRuns: 1500 },
    );
    expect(refusedByBoth).toBeGreaterThan(100);
  });
});

/** A copy of a value with its n-th inner value, in the order of a walk, replaced. */
function replaceNth(value: unknown, n: number, by: unknown): unknown {
  let left = n;
  const copy = (inner: unknown): unknown => {
    left -= 1;
    if (left === -1) return by;
    if (Array.isArray(inner)) return inner.map(copy);
    if (typeof inner !== 'object' || inner === null) return inner;
    return Object.fromEntries(Object.entries(inner).map(([key, item]) => [key, copy(item)]));
  };
  return copy(value);
}
