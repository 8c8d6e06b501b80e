/**
 * The fewest throws among plans whose standings are given, and the plan.
 * Idea: uniform cost over pairs of a standing and how all lies, by throws. What no plan from a standing on asks about is left out of how all
 * lies. A pair is dropped where another at the same standing could be thrown into it for no more than it cost: whatever follows costs the
 * first no more, since a throw that is put off until it is asked for costs the same. A lever that lies centre counts as lying neither way.
 * Exact where it runs to its end. Cost: standings on plans of fewest moves, by the ways of lying that matter there.
 */
import { bitsOfWord } from './bit-sets.ts';
import { Board, type StandingsModel, type WayGroup } from './standings-model.ts';
import { eachMove, type StandingsSearch } from './standings-search.ts';
import type { TrainWay } from './train-ways.ts';

/** One move of a plan. */
export interface PlannedMove {
  readonly train: number;
  readonly way: TrainWay;
}

export interface FewestThrows {
  readonly moves: readonly PlannedMove[];
  readonly throws: number;
}

interface Label {
  readonly state: number;
  readonly throws: number;
  /** Bits: lying reverse; then bits: lying one way or the other. Only what is asked about from here on. */
  readonly lies: Int32Array;
  readonly by: Label | null;
  readonly move: PlannedMove | null;
}

/** `rank`: by standing, of the search; those of -1 are left out. `lies`: by what is thrown, 0 normal, 1 reverse, 2 neither. Null where `most` labels are made without reaching the end. */
export function fewestThrows(
  model: StandingsModel,
  { store }: StandingsSearch,
  rank: Int32Array,
  lies: ArrayLike<number>,
  most: number,
): FewestThrows | null {
  const words = (lies.length + 31) >> 5;
  const board = new Board(model);
  const next = new Board(model);
  const codes = new Int32Array(model.trains);
  /** Moves from a standing to one of the next rank. */
  const eachAlive = (state: number, each: (after: number, train: number, group: WayGroup) => void): void => {
    board.read(store.codes, state * store.width);
    eachMove(model, board, next, store, state, (train, group) => {
      next.write(codes, 0);
      const after = store.find(codes);
      if (after >= 0 && rank[after] === (rank[state] ?? -1) + 1) each(after, train, group);
      return undefined;
    });
  };

  const asked = new Map<number, Int32Array>();
  const alive = [...rank.keys()].filter((state) => (rank[state] ?? -1) >= 0);
  alive.sort((a, b) => (rank[b] ?? 0) - (rank[a] ?? 0));
  const last = rank[alive[0] ?? 0] ?? 0;
  for (const state of alive) {
    const mask = new Int32Array(words);
    if (rank[state] !== last) {
      eachAlive(state, (after, _train, { ways }) => {
        asked.get(after)?.forEach((word, w) => {
          mask[w] = (mask[w] ?? 0) | word;
        });
        for (const way of ways) {
          if (!board.isClear(way)) continue;
          for (const [thing] of way.needs ?? []) mask[thing >> 5] = (mask[thing >> 5] ?? 0) | (1 << (thing & 31));
        }
      });
    }
    asked.set(state, mask);
  }

  const kept = new Map<number, Label[]>();
  const isServed = ({ state, throws, lies: wanted }: Label): boolean =>
    kept.get(state)?.some((other) => other.throws + between(other.lies, wanted, words) <= throws) === true;
  const open: Label[][] = [];
  const put = (label: Label): void => {
    const bucket = open[label.throws];
    if (bucket === undefined) open[label.throws] = [label];
    else bucket.push(label);
  };
  const begin = new Int32Array(2 * words);
  const mask = asked.get(0) ?? new Int32Array(words);
  for (let thing = 0; thing < lies.length; thing++) {
    const [w, bit] = [thing >> 5, (1 << (thing & 31)) & (mask[thing >> 5] ?? 0)];
    if (lies[thing] === 1) begin[w] = (begin[w] ?? 0) | bit;
    if (lies[thing] !== 2) begin[words + w] = (begin[words + w] ?? 0) | bit;
  }
  put({ state: 0, throws: 0, lies: begin, by: null, move: null });
  let made = 1;
  for (let throws = 0; throws < open.length; throws++) {
    const bucket = open[throws] ?? [];
    for (let label = bucket.pop(); label !== undefined; label = bucket.pop()) {
      const here: Label = label;
      if (rank[here.state] === last) return { moves: movesOf(here), throws };
      if (isServed(here)) continue;
      const known = kept.get(here.state);
      if (known === undefined) kept.set(here.state, [here]);
      else known.push(here);
      eachAlive(here.state, (after, train, { ways }) => {
        const later = asked.get(after) ?? new Int32Array(words);
        for (const way of ways) {
          if (!board.isClear(way)) continue;
          const there = here.lies.slice();
          let more = 0;
          for (const [thing, position] of way.needs ?? []) {
            const [w, bit] = [thing >> 5, 1 << (thing & 31)];
            const isKnown = ((there[words + w] ?? 0) & bit) !== 0;
            if (!isKnown || (((there[w] ?? 0) & bit) !== 0) !== (position === 1)) more += 1;
            there[words + w] = (there[words + w] ?? 0) | bit;
            there[w] = position === 1 ? (there[w] ?? 0) | bit : (there[w] ?? 0) & ~bit;
          }
          for (let w = 0; w < words; w++) {
            there[w] = (there[w] ?? 0) & (later[w] ?? 0);
            there[words + w] = (there[words + w] ?? 0) & (later[w] ?? 0);
          }
          const reached: Label = { state: after, throws: throws + more, lies: there, by: here, move: { train, way } };
          if (isServed(reached)) continue;
          made += 1;
          put(reached);
        }
      });
      if (made > most) return null;
    }
  }
  throw new RangeError(`no plan among ${alive.length} standings of ${last} moves`);
}

/** Throws from one way of lying to another; what lies neither way in the second is thrown when it is asked for. */
function between(from: Int32Array, to: Int32Array, words: number): number {
  let sum = 0;
  for (let w = 0; w < words; w++) {
    const known = to[words + w] ?? 0;
    const differs = ((from[w] ?? 0) ^ (to[w] ?? 0)) | ~(from[words + w] ?? 0);
    sum += bitsOfWord(known & differs);
  }
  return sum;
}

function movesOf(last: Label): readonly PlannedMove[] {
  const moves: PlannedMove[] = [];
  for (let label: Label | null = last; label !== null; label = label.by)
    if (label.move !== null) moves.unshift(label.move);
  return moves;
}
