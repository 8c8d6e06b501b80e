/** Choices that a seed decides, the same on every machine. */
export interface Seeded {
  /** A whole number from 0 to below `n`. */
  below(n: number): number;
  one<T>(from: readonly T[]): T;
  /** So many of the list, in a shuffled order; all where there are no more. */
  some<T>(from: readonly T[], count: number): readonly T[];
}

/** A linear congruential generator of 32 bits, multiplier and step of Numerical Recipes; its high bits are used. */
export function seeded(seed: number): Seeded {
  let state = seed >>> 0;
  const below = (n: number): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * n);
  };
  return {
    below,
    one<T>(from: readonly T[]): T {
      const chosen = from[below(from.length)];
      if (chosen === undefined) throw new RangeError('nothing to choose from');
      return chosen;
    },
    some<T>(from: readonly T[], count: number): readonly T[] {
      const left = [...from];
      const chosen: T[] = [];
      while (left.length > 0 && chosen.length < count) chosen.push(...left.splice(below(left.length), 1));
      return chosen;
    },
  };
}
