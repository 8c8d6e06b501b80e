import { describe, expect, it } from 'vitest';
import type { Lie } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { growTrees, polesOf } from './grow-trees.ts';
import type { Carrier, LampUse } from './types.ts';

const found = resolveCatalogue(undefined).find('lamp', 'led-3-red');
if (found === undefined) throw new Error('no lamp');
const part = found;

/** A carrier with so many contacts: "L1" a lever, "D1" a drive that L1 works, "P1" a drive that a hand works. */
function carrier(id: string, contacts: number, lever: string | null = id): Carrier {
  const kind = id.startsWith('L') ? 'lever' : 'drive';
  const point = `P${id.slice(1)}`;
  return {
    id,
    kind,
    contacts: Array.from({ length: contacts }, (_, i) => (kind === 'lever' ? `${id}.${i + 3}` : `${id}.c${i + 1}`)),
    points: [{ point, whenNormal: 'normal' }],
    lever,
    whenNormal: 'normal',
  };
}

function use(id: string, supply: string): LampUse {
  return {
    id,
    of: id,
    element: null,
    scheme: 'tree',
    circuit: null,
    hang: null,
    supply,
    at: [0, 0],
    part,
    claim: [],
    kind: 'leg',
    basis: 'asked',
    from: 'shows',
    span: null,
    lever: null,
    lie: null,
    current: 0.002,
    speaksWhenDark: false,
  };
}

/** Lamps as [id, supply, lies of carriers]. */
function grow(
  lamps: readonly (readonly [string, string, ReadonlyMap<Carrier, Lie>])[],
  sides: 'plus' | 'both' = 'plus',
) {
  let next = 0;
  return growTrees(
    lamps.map(([id, supply]) => use(id, supply)),
    new Map(lamps.map(([id, , cube]) => [id, cube])),
    { next: (prefix) => `${prefix}${++next}` },
    sides,
  );
}

const lies = (...pairs: readonly (readonly [Carrier, Lie])[]) => new Map(pairs);

describe('growTrees', () => {
  it('[CT10] both throws of one contact light both legs; what is on each node is told', () => {
    const L1 = carrier('L1', 2);
    const { trees, hangs, left } = grow([
      ['H1', 'S1', lies([L1, 'normal'])],
      ['H2', 'S1', lies([L1, 'reverse'])],
    ]);
    expect(left).toEqual([]);
    expect(trees).toMatchObject([
      {
        circuit: 'L1',
        supply: 'S1',
        links: [{ id: 'L1.3', from: 'plus', normal: 'plus/L1=normal', reverse: 'plus/L1=reverse' }],
        lamps: ['H1', 'H2'],
        least: 1,
        proved: true,
      },
    ]);
    expect(hangs.get('H2')).toEqual({
      plus: 'plus/L1=reverse',
      minus: 'minus',
      side: 'reverse',
      contact: 'L1.3',
      cube: { L1: 'reverse' },
    });
  });

  it('[CT11] lamps of two supplies hang in two trees, the second on the contacts that the first leaves', () => {
    const L1 = carrier('L1', 2);
    const { trees } = grow([
      ['H1', 'S1', lies([L1, 'normal'])],
      ['H2', 'S2', lies([L1, 'normal'])],
      ['H3', 'S1', lies([L1, 'reverse'])],
    ]);
    expect(trees.map(({ supply, lamps, links }) => [supply, lamps, links.map(({ id }) => id)])).toEqual([
      ['S1', ['H1', 'H3'], ['L1.3']],
      ['S2', ['H2'], ['L1.4']],
    ]);
  });

  it('[CT11] those that share no carrier grow apart; one lamp that wants both joins them, in the order of the lamps', () => {
    const [L1, L2] = [carrier('L1', 2), carrier('L2', 2)];
    const apart = grow([
      ['H1', 'S1', lies([L1, 'normal'])],
      ['H2', 'S1', lies([L2, 'normal'])],
    ]);
    expect(apart.trees.map(({ circuit, lamps }) => [circuit, lamps])).toEqual([
      ['L1', ['H1']],
      ['L2', ['H2']],
    ]);
    const joined = grow([
      ['H1', 'S1', lies([L1, 'normal'])],
      ['H2', 'S1', lies([L2, 'normal'])],
      ['H3', 'S1', lies([L1, 'reverse'], [L2, 'reverse'])],
    ]);
    expect(joined.trees.map(({ circuit, lamps }) => [circuit, lamps])).toEqual([['TR1', ['H1', 'H2', 'H3']]]);
  });

  it('[CT12] a tree is called by the lever that decides it, by the point where none does, else by a name of its own', () => {
    const circuit = (...cube: readonly (readonly [Carrier, Lie])[]) =>
      grow([['H1', 'S1', lies(...cube)]]).trees[0]?.circuit;
    const [byLever, byHand] = [carrier('D1', 1, 'L7'), carrier('D2', 1, null)];
    expect(circuit([byLever, 'normal'])).toBe('L7');
    expect(circuit([byLever, 'normal'], [carrier('L7', 1), 'normal'])).toBe('L7');
    expect(circuit([byHand, 'normal'])).toBe('P2');
    expect(circuit([byHand, 'normal'], [byLever, 'normal'])).toBe('TR1');
    expect(circuit([byHand, 'normal'], [carrier('D3', 1, null), 'normal'])).toBe('TR1');
  });

  it('[CT13] lamps for which no contact is left are left out: those of many lies before those of one', () => {
    const D1 = carrier('D1', 1);
    const [D2] = [carrier('D2', 1)];
    // One contact of each serves a road behind the other, but not both H2 and H3, which want D2 on either throw of D1.
    const { trees, left, hangs } = grow([
      ['H1', 'S1', lies([D1, 'normal'])],
      ['H2', 'S1', lies([D1, 'normal'], [D2, 'normal'])],
      ['H3', 'S2', lies([D1, 'reverse'])],
    ]);
    expect(trees.map(({ lamps }) => lamps)).toEqual([['H1', 'H2']]);
    expect(left.map(({ lamp, carrier: { id }, needs }) => [lamp, id, needs])).toEqual([['H3', 'D1', 1]]);
    expect([...hangs.keys()]).toEqual(['H1', 'H2']);
    const crossed = grow([
      ['H1', 'S1', lies([D1, 'normal'])],
      ['H2', 'S1', lies([D1, 'normal'], [D2, 'normal'])],
      ['H3', 'S1', lies([D1, 'reverse'], [D2, 'normal'])],
      ['H4', 'S1', lies([D2, 'reverse'])],
    ]);
    // Any order wants two contacts of what stands further out. Out go the two of two lies.
    expect(crossed.left.map(({ lamp, needs }) => [lamp, needs])).toEqual([
      ['H2', 2],
      ['H3', 2],
    ]);
    expect(crossed.trees.flatMap(({ lamps }) => lamps)).toEqual(['H1', 'H4']);
  });

  it('[CT14] counts the poles that trees take of each lever, and nothing of drives', () => {
    const [L1, L2, D3] = [carrier('L1', 2), carrier('L2', 2), carrier('D3', 2)];
    const { trees } = grow([
      ['H1', 'S1', lies([L1, 'normal'], [D3, 'normal'])],
      ['H2', 'S2', lies([L1, 'normal'])],
      ['H3', 'S1', lies([L2, 'reverse'])],
    ]);
    expect([...polesOf(trees)].sort()).toEqual([
      ['L1', 2],
      ['L2', 1],
    ]);
    expect([...polesOf([])]).toEqual([]);
  });
});
