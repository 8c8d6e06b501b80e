import { describe, expect, it } from 'vitest';
import { CONNECTORS, neighbours } from './connectors.ts';
import type { ConnectorPart } from './types.ts';

function connector(id: string): ConnectorPart {
  const found = CONNECTORS.find((each) => each.id === id);
  if (found === undefined) throw new RangeError(`no connector ${id}`);
  return found;
}
const next = (id: string, way: number) => neighbours(connector(id), way);

describe('positions', () => {
  it('has one spot for each way, no two alike', () => {
    for (const each of CONNECTORS) {
      expect(each.at).toHaveLength(each.ways);
      expect(new Set(each.at.map(String)).size, each.id).toBe(each.ways);
    }
  });
  it('has odd and even rows of a header on a grid of 2.54', () => {
    const { at } = connector('header-10');
    expect(at.slice(0, 4)).toEqual([
      [0, 2.54],
      [0, 0],
      [2.54, 2.54],
      [2.54, 0],
    ]);
  });
  it('has the pins of a DIN plug over the top, from right to left', () => {
    // From memory: on the face of the plug, pins uppermost, 1 4 2 5 3 run from right to left.
    const { at } = connector('din-5');
    expect([at[0], at[1], at[2]]).toEqual([
      [3.5, 0],
      [0, -3.5],
      [-3.5, 0],
    ]);
    const six = connector('din-8').at[5] ?? [0, 0];
    expect([six[0] > 0, six[1] > 0]).toEqual([true, true]);
  });
});

describe('neighbours', () => {
  it('takes the row and the row beside it, set in by half a pitch', () => {
    expect(next('dsub-9', 1)).toEqual([2, 6]);
    expect(next('dsub-9', 3)).toEqual([2, 4, 7, 8]);
    expect(next('dsub-9', 9)).toEqual([4, 5, 8]);
    expect(next('dsub-25', 13)).toEqual([12, 25]);
  });
  it('takes three rows of fifty', () => {
    expect(next('dsub-50', 1)).toEqual([2, 18]);
    expect(next('dsub-50', 18)).toEqual([1, 2, 19, 34, 35]);
    expect(next('dsub-50', 34)).toEqual([18, 35]);
  });
  it('takes no diagonal of a square grid', () => {
    expect(next('header-10', 1)).toEqual([2, 3]);
    expect(next('header-10', 4)).toEqual([2, 3, 6]);
    expect(next('screw-4', 2)).toEqual([1, 3]);
  });
  it('goes round a DIN circle, and the middle of eight is next to all', () => {
    expect([1, 2, 3, 4, 5].map((way) => next('din-5', way))).toEqual([[4], [4, 5], [5], [1, 2], [2, 3]]);
    expect(next('din-8', 6)).toEqual([1, 8]);
    expect(next('din-8', 2)).toEqual([4, 5, 8]);
    expect(next('din-8', 8)).toEqual([1, 2, 3, 4, 5, 6, 7]);
  });
  it('is the same from both sides, and no way is its own', () => {
    for (const each of CONNECTORS) {
      for (const [i] of each.at.entries()) {
        const ways = neighbours(each, i + 1);
        expect(ways.length, `${each.id} ${i + 1}`).toBeGreaterThan(0);
        expect(ways).not.toContain(i + 1);
        for (const other of ways) expect(neighbours(each, other)).toContain(i + 1);
      }
    }
  });
  it('is empty for a way that is not there', () => {
    for (const way of [0, 10, -1, 1.5, Number.NaN]) expect(next('dsub-9', way)).toEqual([]);
  });
});
