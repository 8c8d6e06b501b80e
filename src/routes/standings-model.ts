/**
 * A search over standings as numbers: what trains there are, where each may go, what each place holds, what is wanted, and a guess of the
 * moves still ahead that is never too many.
 */
import type { Plan } from '../plan/index.ts';
import { fitOf, type Stands } from './train-stands.ts';
import { type TrainWay, type TrainWays, waysWorthTaking } from './train-ways.ts';

/** Ways from one place to another that leave and come in alike: to where trains stand they are one. */
export interface WayGroup {
  readonly to: number;
  readonly leaves: number;
  readonly enters: number;
  readonly ways: readonly TrainWay[];
}

/** What is wanted of a train: a place and a heading by number, -1 for any. */
export interface Want {
  readonly place: number;
  readonly head: number;
}

export interface StandingsModel {
  readonly trains: number;
  readonly places: number;
  readonly start: Stands;
  /** By place. */
  readonly groups: readonly (readonly WayGroup[])[];
  /** By train x places + place: it may come to stand there where nobody does. */
  readonly alone: Uint8Array;
  /** By place, mm; below 0 where only one train may stand. By train, mm. */
  readonly room: Float64Array;
  readonly lengths: Float64Array;
  readonly wants: readonly Want[];
  /** By place, trains wanted there in the order that they must have along the span; only where an order is asked for. */
  readonly orders: readonly (readonly number[])[];
  /** By train, then (place x 2 + heading): moves that it needs if it were alone; infinite where none do. */
  readonly alonest: readonly Float64Array[];
  /** By train, then place: places that it cannot get round on its way. */
  readonly onTheWay: readonly (readonly (readonly number[])[])[];
}

/** `hoped`: lengths that are not given are taken for long, or short, enough. */
export function standingsModel(
  plan: Plan,
  ways: TrainWays,
  start: Stands,
  wants: readonly Want[],
  orders: readonly (readonly number[])[],
  hoped: boolean,
): StandingsModel {
  const [trains, places] = [start.trains.length, plan.places.length];
  const groups = ways.from.map((list) => groupsOf(waysWorthTaking(list)));
  const alone = new Uint8Array(trains * places);
  start.trains.forEach((train, i) => {
    for (let place = 0; place < places; place++) {
      const fit = fitOf(plan, place, [train]);
      alone[i * places + place] = Number(fit === 'yes' || (hoped && fit === 'asked'));
    }
  });
  const model = {
    trains,
    places,
    start,
    groups,
    alone,
    room: Float64Array.from(plan.places, ({ length }) => length ?? -1),
    // A length that is not given: nothing where one hopes, else more than any road has.
    lengths: Float64Array.from(start.trains, ({ length }) => length ?? (hoped ? 0 : Number.POSITIVE_INFINITY)),
    wants,
    orders,
  };
  const mayStop = (train: number) => (place: number) => alone[train * places + place] === 1;
  return {
    ...model,
    alonest: wants.map((want, train) => movesAlone(groups, want, mayStop(train))),
    onTheWay: wants.map((want, train) => unavoidable(groups, want, mayStop(train))),
  };
}

function groupsOf(list: readonly TrainWay[]): readonly WayGroup[] {
  const groups = new Map<string, { to: number; leaves: number; enters: number; ways: TrainWay[] }>();
  for (const way of list) {
    const key = `${way.to} ${way.leaves} ${way.enters}`;
    const known = groups.get(key);
    if (known === undefined) groups.set(key, { to: way.to, leaves: way.leaves, enters: way.enters, ways: [way] });
    else known.ways.push(way);
  }
  return [...groups.values()];
}

type MayStop = (place: number) => boolean;

/** The moves of a train that is alone, to what is wanted, from each place x 2 + heading. */
function movesAlone(groups: StandingsModel['groups'], want: Want, mayStop: MayStop): Float64Array {
  const moves = new Float64Array(2 * groups.length).fill(want.place < 0 ? 0 : Number.POSITIVE_INFINITY);
  if (want.place < 0) return moves;
  const before: number[][] = Array.from({ length: 2 * groups.length }, () => []);
  groups.forEach((list, from) => {
    for (const { to, leaves, enters } of list) {
      if (!mayStop(to)) continue;
      for (const head of [0, 1]) before[2 * to + (head ^ leaves ^ enters)]?.push(2 * from + head);
    }
  });
  let edge = [0, 1].flatMap((head) => (want.head < 0 || want.head === head ? [2 * want.place + head] : []));
  for (const node of edge) moves[node] = 0;
  for (let step = 1; edge.length > 0; step++) {
    const next: number[] = [];
    for (const node of edge) {
      for (const earlier of before[node] ?? []) {
        if (moves[earlier] !== Number.POSITIVE_INFINITY) continue;
        moves[earlier] = step;
        next.push(earlier);
      }
    }
    edge = next;
  }
  return moves;
}

/** By place: other places, without which there is no way from it to what is wanted, neither past nor by stopping. */
function unavoidable(groups: StandingsModel['groups'], want: Want, mayStop: MayStop): readonly (readonly number[])[] {
  const lists: number[][] = groups.map(() => []);
  if (want.place < 0) return lists;
  const reachedWithout = (gone: number): Uint8Array => {
    const before: number[][] = groups.map(() => []);
    groups.forEach((list, from) => {
      if (from === gone) return;
      for (const { to, ways } of list) {
        if (to === gone || !mayStop(to) || !ways.some(({ through }) => !through.includes(gone))) continue;
        before[to]?.push(from);
      }
    });
    const reached = new Uint8Array(groups.length);
    const ahead = [want.place];
    reached[want.place] = 1;
    for (let place = ahead.pop(); place !== undefined; place = ahead.pop()) {
      for (const earlier of before[place] ?? []) {
        if (reached[earlier] === 1) continue;
        reached[earlier] = 1;
        ahead.push(earlier);
      }
    }
    return reached;
  };
  for (let gone = 0; gone < groups.length; gone++) {
    if (gone === want.place) continue;
    const reached = reachedWithout(gone);
    lists.forEach((list, place) => {
      if (place !== gone && reached[place] === 0) list.push(gone);
    });
  }
  for (const [place, list] of lists.entries()) if (place !== want.place) list.push(want.place);
  return lists;
}

/** A standing laid out: by train its place, its turn along the road from the span's end 0, and its heading (0 where none matters). */
export class Board {
  readonly place: Int32Array;
  readonly turn: Int32Array;
  readonly head: Int32Array;
  /** By place. */
  readonly count: Int32Array;
  readonly load: Float64Array;
  readonly #model: StandingsModel;
  readonly #mustMove: Uint8Array;

  constructor(model: StandingsModel) {
    this.#model = model;
    this.place = new Int32Array(model.trains);
    this.turn = new Int32Array(model.trains);
    this.head = new Int32Array(model.trains);
    this.count = new Int32Array(model.places);
    this.load = new Float64Array(model.places);
    this.#mustMove = new Uint8Array(model.trains);
  }

  /** The standing at the beginning. */
  begin(): void {
    const { start, wants } = this.#model;
    start.rows.forEach((row, place) => {
      row.forEach((train, turn) => {
        this.place[train] = place;
        this.turn[train] = turn;
        this.head[train] = (wants[train]?.head ?? -1) < 0 ? 0 : (start.heads[train] ?? 0);
      });
    });
    this.#count();
  }

  /** One number a train, as `read` takes it back. */
  write(codes: Int32Array, at: number): void {
    const { trains } = this.#model;
    for (let i = 0; i < trains; i++)
      codes[at + i] = (((this.place[i] ?? 0) * trains + (this.turn[i] ?? 0)) << 1) | (this.head[i] ?? 0);
  }

  read(codes: Int32Array, at: number): void {
    const { trains } = this.#model;
    for (let i = 0; i < trains; i++) {
      const code = codes[at + i] ?? 0;
      this.head[i] = code & 1;
      this.turn[i] = (code >> 1) % trains;
      this.place[i] = Math.floor((code >> 1) / trains);
    }
    this.#count();
  }

  #count(): void {
    this.count.fill(0);
    this.load.fill(0);
    for (let i = 0; i < this.#model.trains; i++) {
      const place = this.place[i] ?? 0;
      this.count[place] = (this.count[place] ?? 0) + 1;
      this.load[place] = (this.load[place] ?? 0) + (this.#model.lengths[i] ?? 0);
    }
  }

  /** Whether a train can leave that way and has room where it would go; the ways between are not looked at. */
  mayGo(train: number, { to, leaves }: WayGroup): boolean {
    const { alone, places, room, lengths } = this.#model;
    const here = this.place[train] ?? 0;
    if (this.turn[train] !== (leaves === 0 ? (this.count[here] ?? 0) - 1 : 0)) return false;
    if (alone[train * places + to] !== 1) return false;
    return this.count[to] === 0 || (this.load[to] ?? 0) + (lengths[train] ?? 0) <= (room[to] ?? 0);
  }

  isClear(way: TrainWay): boolean {
    for (const place of way.through) if (this.count[place] !== 0) return false;
    return true;
  }

  /** Run a train; `mayGo` has been asked. */
  run(train: number, { to, leaves, enters }: WayGroup): void {
    const from = this.place[train] ?? 0;
    for (let i = 0; i < this.place.length; i++) {
      // The one that leaves stood first or last; the one that comes stands first or last.
      if (this.place[i] === from && leaves === 1) this.turn[i] = (this.turn[i] ?? 0) - 1;
      else if (this.place[i] === to && enters === 0) this.turn[i] = (this.turn[i] ?? 0) + 1;
    }
    this.place[train] = to;
    this.turn[train] = enters === 0 ? 0 : (this.count[to] ?? 0);
    if ((this.#model.wants[train]?.head ?? -1) >= 0) this.head[train] = (this.head[train] ?? 0) ^ leaves ^ enters;
    const length = this.#model.lengths[train] ?? 0;
    this.count[from] = (this.count[from] ?? 0) - 1;
    this.count[to] = (this.count[to] ?? 0) + 1;
    this.load[from] = (this.load[from] ?? 0) - length;
    this.load[to] = (this.load[to] ?? 0) + length;
  }

  isWanted(): boolean {
    const { wants, orders } = this.#model;
    for (let i = 0; i < wants.length; i++) {
      const want = wants[i];
      if (want === undefined || want.place < 0) continue;
      if (this.place[i] !== want.place || (want.head >= 0 && this.head[i] !== want.head)) return false;
    }
    for (const order of orders) {
      for (let i = 0; i + 1 < order.length; i++) {
        if ((this.turn[order[i] ?? 0] ?? 0) > (this.turn[order[i + 1] ?? 0] ?? 0)) return false;
      }
    }
    return true;
  }

  /**
   * Moves still ahead, never too many: every move is one train's. A train that is not where it is wanted needs at least what it needs
   * alone. One that stands where another cannot but pass, or behind which another is shut in, has to move: once, or twice where it stands
   * where it is wanted, since no move ends where it began. Each train is counted once, with the most that is known of it. Infinite where
   * what is wanted cannot be had.
   */
  ahead(): number {
    const { trains, wants, alonest, onTheWay, room, lengths, groups } = this.#model;
    const mustMove = this.#mustMove.fill(0);
    let sum = 0;
    for (let i = 0; i < trains; i++) {
      const here = this.place[i] ?? 0;
      const moves = alonest[i]?.[2 * here + (this.head[i] ?? 0)] ?? 0;
      if (moves === Number.POSITIVE_INFINITY) return moves;
      sum += moves;
      if (moves === 0) continue;
      const inTheWay = here === wants[i]?.place ? [] : (onTheWay[i]?.[here] ?? []);
      for (let j = 0; j < trains; j++) {
        if (i === j) continue;
        const there = this.place[j] ?? 0;
        if (there === here) {
          // Out at the one end only: those that stand nearer to it must go first.
          const leaves = groups[here]?.[0]?.leaves;
          const shut = groups[here]?.every((group) => group.leaves === leaves) === true;
          const nearer =
            leaves === 0 ? (this.turn[j] ?? 0) > (this.turn[i] ?? 0) : (this.turn[j] ?? 0) < (this.turn[i] ?? 0);
          if (shut && nearer) mustMove[j] = 1;
        } else if ((lengths[i] ?? 0) + (lengths[j] ?? 0) > (room[there] ?? 0) && inTheWay.includes(there))
          mustMove[j] = 1;
      }
    }
    for (let j = 0; j < trains; j++) {
      if (mustMove[j] === 0) continue;
      const moves = alonest[j]?.[2 * (this.place[j] ?? 0) + (this.head[j] ?? 0)] ?? 0;
      if (moves === 0) sum += (wants[j]?.place ?? -1) < 0 ? 1 : 2;
    }
    return sum;
  }
}
