import fc from 'fast-check';
import { expect, test } from 'vitest';
import { deltaOf, withDelta } from './delta.ts';

const SEED = 61;

const leaf = fc.oneof(fc.integer({ min: 0, max: 3 }), fc.constantFrom('a', 'b', ''), fc.boolean(), fc.constant(null));
const { tree } = fc.letrec<{ tree: unknown }>((tie) => ({
  tree: fc.oneof(
    { maxDepth: 3 },
    leaf,
    fc.array(tie('tree'), { maxLength: 4 }),
    fc.dictionary(fc.constantFrom('id', 'at', 'path', 'name'), tie('tree'), { maxKeys: 4, noNullPrototype: true }),
  ),
}));

const copy = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

test(`any state is told from any other, to the order of its keys (seed ${SEED})`, () => {
  fc.assert(
    fc.property(tree, tree, (before, after) => {
      // As a message would pass it.
      const passed = structuredClone(deltaOf(before, after));
      expect(JSON.stringify(withDelta(before, passed))).toBe(JSON.stringify(after));
    }),
    { seed: SEED, numRuns: 3000 },
  );
});

test(`alike states differ by nothing (seed ${SEED})`, () => {
  fc.assert(
    fc.property(tree, (state) => {
      expect(deltaOf(state, copy(state))).toBeNull();
      expect(withDelta(state, null)).toBe(state);
    }),
    { seed: SEED, numRuns: 500 },
  );
});

test('what an edit left alone stays the same object, and only what it touched is told', () => {
  const before = {
    name: 'Bramble Siding',
    strips: Array.from({ length: 500 }, (_, i) => ({ id: `S${i}`, path: [[i, 0] as const, [i, 9] as const] })),
    lamps: Array.from({ length: 500 }, (_, i) => ({ id: `H${i}`, at: [i, 5] as const })),
  };
  const after = {
    ...before,
    strips: before.strips.map((strip, i) =>
      i === 250
        ? {
            ...strip,
            path: [
              [250, 0],
              [251, 9],
            ] as const,
          }
        : strip,
    ),
  };
  const delta = deltaOf(before, copy(after));
  expect(JSON.stringify(delta).length).toBeLessThan(200);
  const made = withDelta(before, delta);
  expect(made).toEqual(after);
  expect(made.lamps).toBe(before.lamps);
  expect(made.strips[249]).toBe(before.strips[249]);
  expect(made.strips[251]).toBe(before.strips[251]);
});

test('a strip that is laid or lifted in the middle leaves those on either side', () => {
  const before = ['A', 'B', 'D'].map((id) => ({ id }));
  const [a, b, d] = before;
  const laid = withDelta(before, deltaOf(before, [{ id: 'A' }, { id: 'B' }, { id: 'C' }, { id: 'D' }]));
  expect(laid.map(({ id }) => id)).toEqual(['A', 'B', 'C', 'D']);
  expect([laid[0], laid[1], laid[3]].map((each, i) => each === [a, b, d][i])).toEqual([true, true, true]);
  const lifted = withDelta(before, deltaOf(before, [{ id: 'A' }, { id: 'D' }]));
  expect([lifted[0] === a, lifted[1] === d, lifted.length]).toEqual([true, true, 2]);
});

test('a change that was made from something else is refused', () => {
  expect(() => withDelta<unknown>(null, deltaOf({ a: 1 }, { a: 2 }))).toThrow(
    'a change of a record was made to object',
  );
  expect(() => withDelta<unknown>({}, deltaOf([1], [2]))).toThrow('a change of a list was made to object');
});
