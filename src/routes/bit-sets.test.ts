import fc from 'fast-check';
import { expect, it } from 'vitest';
import { addAll, addBit, bitSet, bitsOfWord, eachBit, hasBit, haveCommon, keepOnly, takeAll } from './bit-sets.ts';

const of = (numbers: readonly number[]) => {
  const set = bitSet(100);
  for (const each of numbers) addBit(set, each);
  return set;
};
const list = (set: ReturnType<typeof of>, start = 0) => {
  const found: number[] = [];
  eachBit(set, start, (bit) => found.push(bit));
  return found;
};

it('sets of numbers are those of the language (seed 8)', () => {
  const numbers = fc.array(fc.nat(99));
  fc.assert(
    fc.property(numbers, numbers, fc.nat(99), (a, b, start) => {
      const rising = (each: Iterable<number>) => [...new Set(each)].sort((x, y) => x - y);
      expect(list(of(a))).toEqual(rising(a));
      expect(list(of(a), start)).toEqual(rising(a).filter((x) => x >= start));
      expect(hasBit(of(a), start)).toBe(a.includes(start));
      expect(haveCommon(of(a), of(b))).toBe(a.some((x) => b.includes(x)));
      const [all, less, both] = [of(a), of(a), of(a)];
      addAll(all, of(b));
      takeAll(less, of(b));
      keepOnly(both, of(b));
      expect(list(all)).toEqual(rising([...a, ...b]));
      expect(list(less)).toEqual(rising(a.filter((x) => !b.includes(x))));
      expect(list(both)).toEqual(rising(a.filter((x) => b.includes(x))));
    }),
    { seed: 8 },
  );
});

it('bits of a word are counted (seed 9)', () => {
  fc.assert(
    fc.property(fc.integer({ min: -(2 ** 31), max: 2 ** 31 - 1 }), (word) => {
      expect(bitsOfWord(word)).toBe([...(word >>> 0).toString(2)].filter((digit) => digit === '1').length);
    }),
    { seed: 9 },
  );
});
