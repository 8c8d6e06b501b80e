import { describe, expect, it } from 'vitest';
import { resolveCatalogue, TYPICAL_PARTS } from './catalogue.ts';
import { type FigureFact, figureFacts } from './figure-facts.ts';
import { figureNames, isForeign } from './figures.ts';
import type { Part } from './types.ts';

const typical = resolveCatalogue(undefined);

function factOf(kind: Part['kind'], id: string, figure: string): FigureFact {
  const part = typical.find(kind, id);
  const fact = part && figureFacts(part).find((each) => each.figure === figure);
  if (fact === undefined) throw new RangeError(`no ${figure} of ${id}`);
  return fact;
}

describe('figureFacts', () => {
  it.each(TYPICAL_PARTS)('gives every figure of $id with a unit, a range that holds it and a source', (part) => {
    const facts = figureFacts(part);
    // A held relay has no pulse; all else that the kind may be given and that is not foreign to the part is there.
    const wanted = figureNames(part.kind).filter(
      (figure) =>
        figure !== 'name' &&
        figure !== 'source' &&
        !isForeign(part, figure) &&
        !(figure === 'pulseSeconds' && part.kind === 'relay' && !part.latching),
    );
    expect([...facts.map((fact) => fact.figure)].sort()).toEqual([...wanted].sort());
    for (const { figure, what, value, range, source } of facts) {
      expect(what.length, figure).toBeGreaterThan(8);
      expect(source.length, figure).toBeGreaterThan(7);
      if (typeof value === 'string' || typeof value === 'boolean') {
        expect(range, figure).toBeNull();
        continue;
      }
      expect(range, figure).toHaveLength(value.length);
      for (const [i, each] of value.entries()) {
        const [low, high] = range?.[i] ?? [Number.NaN, Number.NaN];
        expect(low, figure).toBeLessThanOrEqual(each);
        expect(high, figure).toBeGreaterThanOrEqual(each);
      }
    }
  });

  it('has a unit for all that is no count, share, price or word', () => {
    const bare = new Set(['price', 'n', 'poles', 'coils', 'contacts', 'tolerance', 'stallTolerance']);
    for (const part of TYPICAL_PARTS)
      for (const { figure, value, unit } of figureFacts(part))
        expect(unit === '', `${part.id} ${figure}`).toBe(!Array.isArray(value) || bare.has(figure));
  });

  // File format, what the circuits take: vf +-0.1 V, stall current +-20 %.
  it('fills in what a part leaves unsaid, and says that it does', () => {
    expect(factOf('lamp', 'led-3-red', 'vfTolerance')).toMatchObject({ value: [0.1], derived: true });
    expect(factOf('drive', 'stall-2-wire', 'stallTolerance')).toMatchObject({ value: [0.2], derived: true });
    expect(factOf('drive', 'stall-2-wire', 'stallAmps')).toMatchObject({ value: [0.015], derived: false });
  });

  // Data sheets of low-current lamps: 1.8 V red and green, 1.9 V yellow, at 2 mA. Published tables of drives' currents: none found.
  it.each([
    ['led-3-red', 1.8],
    ['led-3-yellow', 1.9],
    ['led-3-green', 1.8],
  ])('holds what data sheets say of %s', (id, volts) => {
    const [low, high] = factOf('lamp', id, 'vf').range?.[0] ?? [0, 0];
    expect(low).toBeLessThanOrEqual(volts);
    expect(high).toBeGreaterThanOrEqual(volts);
  });
});

describe('contacts', () => {
  it.each([
    ['switch', 'toggle-2p', 3],
    ['button', 'push-1p', 1],
    ['relay', 'relay-2p', 1],
    ['drive', 'stall-2-wire', 1],
  ] as const)('%s %s makes more than it carries and wants something to clear the film', (kind, id, amps) => {
    // Common practice, no source: a pulse may be several times the rating; silver wants about a milliamp, gold far less.
    expect(factOf(kind, id, 'makeAmps').value).toEqual([5 * amps]);
    expect(factOf(kind, id, 'leastAmps').value).toEqual([0.001]);
    const gold = resolveCatalogue([{ id, plating: 'gold' }]).find(kind, id);
    expect(gold && figureFacts(gold).find((fact) => fact.figure === 'leastAmps')?.value).toEqual([0.00001]);
  });
});
