/** A small stream of numbers from a seed (the mixing steps of a 32 bit Weyl sequence): the same seed, the same numbers, everywhere. */
export interface Random {
  /** At least 0, below 1. */
  next(): number;
  /** A whole number, both limits included. */
  whole(least: number, most: number): number;
  /** True in so many of a hundred cases. */
  chance(percent: number): boolean;
  pick<T>(list: readonly T[]): T;
}

export function randomOf(seed: number): Random {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  const whole = (least: number, most: number) => least + Math.floor(next() * (most - least + 1));
  return {
    next,
    whole,
    chance: (percent) => next() * 100 < percent,
    pick: (list) => {
      const found = list[whole(0, list.length - 1)];
      if (found === undefined) throw new RangeError('nothing to pick from');
      return found;
    },
  };
}
