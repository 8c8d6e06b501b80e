import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addressOf, lastAddress, lowestFree, readAddress } from './addresses.ts';
import type { Numbering } from './types.ts';

const NUMBERINGS: readonly Numbering[] = ['board-1', 'board-0'];

describe.each(NUMBERINGS)('addresses, %s', (numbering) => {
  it('[DC3] every address of the 2040 or 2044 leads to a pair and back', () => {
    const pairs = new Set<string>();
    for (let address = 1; address <= lastAddress(numbering); address++) {
      const read = readAddress(address, numbering);
      if (read.kind !== 'pair') throw new Error(`${address} is ${read.kind}`);
      pairs.add(`${read.place.board}/${read.place.pair}`);
      expect(addressOf(read.place, numbering)).toBe(address);
    }
    expect(pairs.size).toBe(lastAddress(numbering));
  });

  it('[DC2] the four addresses above the last are the broadcast, and all others nothing', () => {
    const last = lastAddress(numbering);
    for (let more = 1; more <= 4; more++) expect(readAddress(last + more, numbering)).toEqual({ kind: 'broadcast' });
    for (const none of [last + 5, 0, -1, -3, -4, 1.5, Number.NaN, Infinity, -Infinity, 2 ** 53])
      expect(readAddress(none, numbering), String(none)).toEqual({ kind: 'out-of-range' });
    for (let pair = 0; pair < 4; pair++) expect(addressOf({ board: 511, pair }, numbering)).toBeNull();
  });

  it('the lowest free address is free, and all below it are taken (seed 921)', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -3, max: 40 }), { maxLength: 60 }), (taken) => {
        const free = lowestFree(taken, numbering);
        if (free === null) throw new Error('60 addresses are not all');
        expect(taken).not.toContain(free);
        for (let address = 1; address < free; address++) expect(taken).toContain(address);
      }),
      { seed: 921, numRuns: 200 },
    );
    const every = Array.from({ length: lastAddress(numbering) }, (_, i) => i + 1);
    expect(lowestFree(every, numbering)).toBeNull();
    expect(lowestFree(every.slice(0, -1), numbering)).toBe(lastAddress(numbering));
  });
});

describe('both numberings', () => {
  it('[DC1] one pair has addresses four apart', () => {
    for (let board = 1; board <= 510; board++)
      for (let pair = 0; pair < 4; pair++) {
        const one = addressOf({ board, pair }, 'board-1');
        const nought = addressOf({ board, pair }, 'board-0');
        expect(one).toBe(4 * (board - 1) + pair + 1);
        expect((nought ?? 0) - (one ?? 0)).toBe(4);
      }
    expect(addressOf({ board: 0, pair: 3 }, 'board-1')).toBeNull();
    expect(addressOf({ board: 0, pair: 3 }, 'board-0')).toBe(4);
  });

  it.each([
    { board: 512, pair: 0 },
    { board: -1, pair: 0 },
    { board: 1.5, pair: 0 },
    { board: 1, pair: 4 },
    { board: 1, pair: -1 },
    { board: 1, pair: Number.NaN },
  ])('no pair is thrown back: board $board, pair $pair', (place) => {
    expect(() => addressOf(place, 'board-1')).toThrow(RangeError);
  });
});
