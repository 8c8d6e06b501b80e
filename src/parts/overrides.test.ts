import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type OwnPart, resolveCatalogue, TYPICAL_PARTS } from './catalogue.ts';
import { figureFacts } from './figure-facts.ts';
import { figureMayBe, figureNames, isForeign, overlay } from './figures.ts';
import type { Part } from './types.ts';

/** A part as a list of fields, to be compared one by one. */
const fieldsOf = (part: Part | undefined): ReadonlyMap<string, unknown> => new Map(Object.entries(part ?? {}));

/** What a figure of a part is now, with what it leaves unsaid. */
function now(part: Part, figure: string): unknown {
  const own = fieldsOf(part).get(figure);
  if (own !== undefined) return own;
  const value = figureFacts(part).find((fact) => fact.figure === figure)?.value;
  return Array.isArray(value) ? value[0] : value;
}

/** Whole numbers: one less would be a part without poles, one more a part that cannot be had. */
const WHOLE: ReadonlySet<string> = new Set(['poles', 'contacts', 'coils']);

/** Another sound value of a figure. */
function other(figure: string, value: unknown): unknown {
  if (figure === 'plating') return value === 'gold' ? 'silver' : 'gold';
  if (typeof value === 'boolean') return !value;
  if (typeof value === 'string') return `${value} of mine`;
  if (Array.isArray(value)) return value.map((each: number) => each + 0.5);
  if (typeof value === 'number') return WHOLE.has(figure) ? (value === 1 ? 2 : 1) : (value || 1) * 1.05;
  if (typeof value === 'object' && value !== null && 'low' in value && 'high' in value)
    return { low: Number(value.low) - 0.5, high: Number(value.high) + 0.5 };
  // A held relay says no pulse.
  return 0.02;
}

const cases = TYPICAL_PARTS.flatMap((part) =>
  figureNames(part.kind)
    .filter((figure) => !isForeign(part, figure))
    .map((figure) => ({ part, figure, value: other(figure, now(part, figure)) })),
);

/** What a figure of a diode also moves. */
const follows = (part: Part, figure: string): readonly string[] =>
  part.kind === 'diode' && ['vf', 'at', 'n', 'rs'].includes(figure) ? ['law', 'vf', 'at'] : [];

describe('every figure of every part', () => {
  it('is tried', () => {
    expect(cases.length).toBeGreaterThan(1000);
    for (const { part, figure, value } of cases) expect(value, `${part.id} ${figure}`).not.toEqual(now(part, figure));
  });

  it('can be overridden under the id of the typical part, and moves nothing else', () => {
    for (const { part, figure, value } of cases) {
      const catalogue = resolveCatalogue([{ id: part.id, [figure]: value }]);
      expect(catalogue.problems, `${part.id} ${figure}`).toEqual([]);
      const changed = catalogue.find(part.kind, part.id);
      const [before, after] = [fieldsOf(part), fieldsOf(changed)];
      // `n` and `rs` of a diode live in its law.
      if (part.kind === 'diode' && (figure === 'n' || figure === 'rs'))
        expect(changed && figureFacts(changed).find((fact) => fact.figure === figure)?.value).toEqual([value]);
      else expect(after.get(figure), `${part.id} ${figure}`).toEqual(value);
      const moved = [...new Set([...before.keys(), ...after.keys()])].filter(
        (key) => JSON.stringify(before.get(key)) !== JSON.stringify(after.get(key)),
      );
      expect(moved.filter((key) => key !== figure && !follows(part, figure).includes(key))).toEqual([]);
    }
  });

  it('can be given to a part of another id, which leaves the typical one alone', () => {
    for (const part of TYPICAL_PARTS) {
      const mine = cases.filter(
        (each) => each.part === part && !['at', 'vf', 'seen', 'max', 'dark'].includes(each.figure),
      );
      const own: OwnPart = {
        id: 'mine',
        like: part.id,
        ...Object.fromEntries(mine.map((each) => [each.figure, each.value])),
      };
      const catalogue = resolveCatalogue([own]);
      expect(catalogue.problems, part.id).toEqual([]);
      const made = fieldsOf(catalogue.find(part.kind, 'mine'));
      for (const { figure, value } of mine)
        if (part.kind !== 'diode' || !['n', 'rs'].includes(figure)) expect(made.get(figure), figure).toEqual(value);
      expect(catalogue.find(part.kind, part.id)).toBe(part);
      expect(catalogue.all(part.kind).map((each) => each.id)).toContain('mine');
    }
  });

  it('of the wrong type is a problem that says what it should be, and changes nothing', () => {
    for (const { part, figure, value } of cases) {
      const wrong: readonly unknown[] = [
        null,
        { odd: 1 },
        [],
        Number.NaN,
        -1,
        ...(typeof value === 'string' ? [7, '', ' '] : ['12', '']),
        ...(typeof value === 'boolean' ? [1, 'yes'] : [true]),
      ];
      for (const bad of wrong) {
        const catalogue = resolveCatalogue([{ id: part.id, [figure]: bad }]);
        expect(catalogue.problems, `${part.id} ${figure} ${String(bad)}`).toEqual([
          { code: 'part-figure-bad', id: part.id, figure, expected: figureMayBe(part.kind, figure) },
        ]);
        expect(catalogue.find(part.kind, part.id)).toEqual(part);
      }
    }
  });

  it('that another kind has and this one has not is a problem', () => {
    const all = new Set(TYPICAL_PARTS.flatMap((part) => figureNames(part.kind)));
    for (const part of TYPICAL_PARTS) {
      const foreign = [...all].filter((figure) => !figureNames(part.kind).includes(figure) || isForeign(part, figure));
      expect(foreign.length).toBeGreaterThan(5);
      const catalogue = resolveCatalogue([
        { id: part.id, ...Object.fromEntries(foreign.map((figure) => [figure, 1])) },
      ]);
      expect(catalogue.problems.map((each) => each.code)).toEqual(foreign.map(() => 'part-figure-unknown'));
      expect(catalogue.find(part.kind, part.id)).toEqual(part);
    }
  });
});

describe('whatever stands in parts', () => {
  const ids = ['mine', 'yours', ...TYPICAL_PARTS.map((part) => part.id)];
  const names = [...new Set(TYPICAL_PARTS.flatMap((part) => figureNames(part.kind)))];
  const record = fc
    .record({
      id: fc.constantFrom(...ids),
      like: fc.option(fc.constantFrom(...ids, 'nothing'), { nil: undefined }),
      figures: fc.dictionary(
        fc.constantFrom(...names, 'odd', 'law', 'at', 'tags'),
        fc.oneof(fc.jsonValue(), fc.double({ min: 0, max: 30 })),
      ),
    })
    .map(({ id, like, figures }): OwnPart => ({ ...figures, id, like }));

  it('makes parts that can stand as they are, with every fault told (seed 11)', () => {
    fc.assert(
      fc.property(fc.array(record, { maxLength: 6 }), (own) => {
        const catalogue = resolveCatalogue(own);
        for (const part of TYPICAL_PARTS) expect(catalogue.find(part.kind, part.id)).toBeDefined();
        for (const kind of KINDS) {
          for (const part of catalogue.all(kind)) {
            const said = new Map(
              [...fieldsOf(part)].filter(([name, value]) => figureNames(kind).includes(name) && value !== null),
            );
            expect(overlay(part, part.id, said)).toEqual({ part, problems: [] });
          }
        }
      }),
      { seed: 11, numRuns: 60 },
    );
  });
  it('is told where figures cannot stand together', () => {
    const of = (own: OwnPart) => resolveCatalogue([own]).problems.map((each) => 'figure' in each && each.figure);
    expect(of({ id: 'toggle-2p', leastAmps: 0.5, amps: 0.4 })).toEqual(['leastAmps', 'amps']);
    expect(of({ id: 'relay-2p', leastAmps: 0.5 })).toEqual([]);
    expect(of({ id: 'x', like: 'nothing', leastAmps: 0.5 })).toEqual([false]);
  });
});

const KINDS: readonly Part['kind'][] = [...new Set(TYPICAL_PARTS.map((part) => part.kind))];
