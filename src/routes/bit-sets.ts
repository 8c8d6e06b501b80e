/** Sets of whole numbers below a fixed one, 32 to a word, for lists of thousands of routes. */

export type BitSet = Int32Array;

/** An empty set of numbers below `size`. */
export function bitSet(size: number): BitSet {
  return new Int32Array((size + 31) >> 5);
}

export function addBit(set: BitSet, bit: number): void {
  set[bit >> 5] = (set[bit >> 5] ?? 0) | (1 << (bit & 31));
}

export function hasBit(set: BitSet, bit: number): boolean {
  return ((set[bit >> 5] ?? 0) & (1 << (bit & 31))) !== 0;
}

/** Put all of one set into another of the same size. */
export function addAll(into: BitSet, from: BitSet): void {
  for (let w = 0; w < into.length; w++) into[w] = (into[w] ?? 0) | (from[w] ?? 0);
}

/** Take all of one set out of another of the same size. */
export function takeAll(outOf: BitSet, what: BitSet): void {
  for (let w = 0; w < outOf.length; w++) outOf[w] = (outOf[w] ?? 0) & ~(what[w] ?? 0);
}

/** Leave only what another set of the same size has too. */
export function keepOnly(set: BitSet, what: BitSet): void {
  for (let w = 0; w < set.length; w++) set[w] = (set[w] ?? 0) & (what[w] ?? 0);
}

/** Whether two sets of the same size have a number in common. */
export function haveCommon(a: BitSet, b: BitSet): boolean {
  for (let w = 0; w < a.length; w++) if (((a[w] ?? 0) & (b[w] ?? 0)) !== 0) return true;
  return false;
}

/** How many bits of a word are set (Warren, Hacker's Delight, section 5-1, from memory). */
export function bitsOfWord(word: number): number {
  let x = word - ((word >>> 1) & 0x55555555);
  x = (x & 0x33333333) + ((x >>> 2) & 0x33333333);
  return Math.imul((x + (x >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}

/** Call `each` for every number in the set from `start` up, in rising order. */
export function eachBit(set: BitSet, start: number, each: (bit: number) => void): void {
  for (let w = start >> 5; w < set.length; w++) {
    let word = set[w] ?? 0;
    if (w === start >> 5) word &= -1 << (start & 31);
    while (word !== 0) {
      const low = word & -word;
      each(32 * w + 31 - Math.clz32(low));
      word ^= low;
    }
  }
}
