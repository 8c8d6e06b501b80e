/**
 * The fewest moves from one standing to another.
 * Idea: A* over standings by moves made and a guess of those ahead that is never too many (`Board.ahead`); a standing that is met again with
 * fewer moves is taken up again, so that the guess need not be consistent. It goes on until every standing that can lie on a plan of
 * fewest moves has been followed, since the plans among which throws are counted are all of them. Of equal standings the one met last is
 * followed first. In a hurry the guess is weighted and the first plan is taken.
 * Cost: standings by ways; each standing some hundred bytes.
 * Reference: Hart, Nilsson, Raphael, A formal basis for the heuristic determination of minimum cost paths, 1968, from memory.
 */
import { Board, type StandingsModel, type WayGroup } from './standings-model.ts';

export interface StandingsSearch {
  /** Null: there is no plan, or none was found in so many standings. */
  readonly moves: number | null;
  /** True where it ran to its end: the moves are the fewest, or there is no plan. */
  readonly complete: boolean;
  /** No plan has fewer moves. */
  readonly atLeast: number;
  /** By standing, how many moves of a plan of fewest moves lead to it; -1: it lies on none. In a hurry that of `chain`. */
  readonly rank: Int32Array;
  /** The same, of one plan alone. */
  readonly chain: Int32Array;
  readonly store: StandingsStore;
  /** By train, 1 where it left its place in any standing looked at. */
  readonly moved: Uint8Array;
}

/** Standings met, each by a number. */
export class StandingsStore {
  readonly #known = new Map<number | string, number>();
  readonly #base: number;
  readonly #asNumber: boolean;
  readonly width: number;
  codes: Int32Array;
  size = 0;

  constructor({ trains, places }: StandingsModel) {
    this.width = trains;
    this.#base = 2 * trains * places;
    this.#asNumber = this.#base ** trains <= Number.MAX_SAFE_INTEGER;
    this.codes = new Int32Array(1024 * Math.max(1, trains));
  }

  #key(codes: Int32Array, at: number): number | string {
    if (!this.#asNumber) return String.fromCodePoint(...codes.subarray(at, at + this.width));
    let key = 0;
    for (let i = 0; i < this.width; i++) key = key * this.#base + (codes[at + i] ?? 0);
    return key;
  }

  /** -1 where it has not been met. */
  find(codes: Int32Array): number {
    return this.#known.get(this.#key(codes, 0)) ?? -1;
  }

  add(codes: Int32Array): number {
    if ((this.size + 1) * this.width > this.codes.length) {
      const wider = new Int32Array(2 * this.codes.length);
      wider.set(this.codes);
      this.codes = wider;
    }
    this.codes.set(codes, this.size * this.width);
    this.#known.set(this.#key(codes, 0), this.size);
    this.size += 1;
    return this.size - 1;
  }
}

/** Every standing one move from that of `board`, with the train and the ways there that are clear of trains. */
export function eachMove(
  model: StandingsModel,
  board: Board,
  next: Board,
  store: StandingsStore,
  at: number,
  each: (train: number, group: WayGroup) => boolean | undefined,
): void {
  for (let train = 0; train < model.trains; train++) {
    for (const group of model.groups[board.place[train] ?? 0] ?? []) {
      if (!board.mayGo(train, group) || !group.ways.some((way) => board.isClear(way))) continue;
      next.read(store.codes, at * store.width);
      next.run(train, group);
      if (each(train, group) === true) return;
    }
  }
}

/** Moves that a search may count to; far beyond what a store of standings can hold. */
const NEVER = 0x3fffffff;

export function searchStandings(model: StandingsModel, most: number, weight = 1): StandingsSearch {
  const store = new StandingsStore(model);
  const board = new Board(model);
  const next = new Board(model);
  const codes = new Int32Array(model.trains);
  const made: number[] = [];
  const guess: number[] = [];
  const by: number[] = [];
  /** Moves made when it was last followed. */
  const followed: number[] = [];
  const moved = new Uint8Array(model.trains);
  const open: number[][] = [];
  const put = (state: number, f: number) => {
    const bucket = open[f];
    if (bucket === undefined) open[f] = [state];
    else bucket.push(state);
  };
  const meet = (moves: number, before: number, from: number): void => {
    next.write(codes, 0);
    let state = store.find(codes);
    if (state < 0) {
      const ahead = next.isWanted() ? 0 : next.ahead();
      if (ahead === Number.POSITIVE_INFINITY) return;
      state = store.add(codes);
      guess[state] = ahead;
      followed[state] = NEVER;
    } else if (moves >= (made[state] ?? NEVER)) return;
    made[state] = moves;
    by[state] = before;
    put(state, Math.max(from, moves + weight * (guess[state] ?? 0)));
  };

  next.begin();
  meet(0, -1, 0);
  let goal = -1;
  let fewest = NEVER;
  let stoppedAt = -1;
  search: for (let f = 0; f < open.length && f <= fewest; f++) {
    const bucket = open[f] ?? [];
    for (let state = bucket.pop(); state !== undefined; state = bucket.pop()) {
      const moves = made[state] ?? NEVER;
      if (moves >= (followed[state] ?? NEVER)) continue;
      followed[state] = moves;
      board.read(store.codes, state * store.width);
      if (board.isWanted()) {
        if (moves < fewest) [goal, fewest] = [state, moves];
        if (weight !== 1) break search;
        continue;
      }
      eachMove(model, board, next, store, state, (train) => {
        moved[train] = 1;
        meet(moves + 1, state, f);
        return undefined;
      });
      if (store.size >= most) {
        stoppedAt = f;
        break search;
      }
    }
  }

  const complete = stoppedAt < 0;
  const found = goal >= 0;
  const chain = rankChain(store.size, by, goal);
  const rank = weight === 1 && found ? rankAlive(model, store, board, next, made, followed, fewest) : chain;
  return {
    moves: found ? fewest : null,
    complete,
    atLeast: complete && found ? fewest : Math.max(0, stoppedAt),
    rank,
    chain,
    store,
    moved,
  };
}

/** The standings of the one plan found. */
function rankChain(size: number, by: readonly number[], goal: number): Int32Array {
  const rank = new Int32Array(size).fill(-1);
  const chain: number[] = [];
  for (let state = goal; state >= 0; state = by[state] ?? -1) chain.unshift(state);
  chain.forEach((state, i) => {
    rank[state] = i;
  });
  return rank;
}

/** The standings of every plan of fewest moves that was followed to its end. */
function rankAlive(
  model: StandingsModel,
  store: StandingsStore,
  board: Board,
  next: Board,
  made: readonly number[],
  followed: readonly number[],
  fewest: number,
): Int32Array {
  const rank = new Int32Array(store.size).fill(-1);
  const layers: number[][] = Array.from({ length: fewest + 1 }, () => []);
  for (let state = 0; state < store.size; state++) {
    if (followed[state] === made[state]) layers[made[state] ?? 0]?.push(state);
  }
  const codes = new Int32Array(model.trains);
  for (let moves = fewest; moves >= 0; moves--) {
    for (const state of layers[moves] ?? []) {
      board.read(store.codes, state * store.width);
      if (moves === fewest) {
        if (board.isWanted()) rank[state] = moves;
        continue;
      }
      eachMove(model, board, next, store, state, () => {
        next.write(codes, 0);
        const after = store.find(codes);
        if (after < 0 || rank[after] !== moves + 1) return false;
        rank[state] = moves;
        return true;
      });
    }
  }
  return rank;
}
