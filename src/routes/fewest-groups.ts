/**
 * The fewest groups for members of which some may lie alike, some opposite, some neither way, in one group: colouring with signs.
 * Idea: (1) a member that may go wherever another goes is laid beside it and forgotten; (2) members that no chain of allowed pairs joins
 * never share a group, so that each such island is solved alone and the numbers add up; (3) in an island members of which no two may share
 * give the least that is possible; (4) the rest by branch and bound: the member with the fewest ways left goes next (the rule of
 * D. Brélaz, "New methods to color the vertices of a graph", 1979, from memory), into each group and lie that all its members allow, then
 * into a group of its own; a branch ends where the groups so far, and members that none of them takes and of which no two may share, are
 * no better than the best. All the members of a group are held against each other, with their lies: three that may share pairwise may be
 * at odds together. Cost: exponential in the largest island at worst, stopped after a fixed amount of work; memory members squared.
 */

/** Ways in which two members may share a group, to be added: with like lies, with opposite ones. */
export const ALIKE = 1;
export const OPPOSITE = 2;

/**
 * Elementary steps of the search in one call: some two seconds of work. Counted, not timed, so that the answer does not depend on the
 * machine.
 */
const MOST_STEPS = 400_000_000;

export interface FewestGroups {
  /** Members by place, groups by their first member; the first lies as it is (false), the others turned against it or not. */
  readonly groups: readonly (readonly { readonly member: number; readonly turned: boolean }[])[];
  /** No fewer groups are possible. */
  readonly atLeast: number;
  /** True where the number of groups is the smallest there is. */
  readonly proved: boolean;
}

/** What is allowed when one of the two is turned round. */
const SWAPPED = [0, OPPOSITE, ALIKE, ALIKE | OPPOSITE] as const;

function swapped(bits: number): number {
  return SWAPPED[bits] ?? 0;
}

/**
 * The fewest groups of `size` members. `allowed` has a byte for each ordered pair, at `a * size + b`: `ALIKE`, `OPPOSITE`, both or 0; it
 * must be the same both ways round. What stands at a member against itself is not looked at. Where the search had to stop, the best found.
 */
export function fewestGroups(size: number, allowed: Uint8Array, most: number = MOST_STEPS): FewestGroups {
  if (allowed.length !== size * size) throw new RangeError(`${allowed.length} pairs for ${size} members`);
  const at = (a: number, b: number): number => allowed[a * size + b] ?? 0;
  const { alive, laidBeside } = layBeside(size, at);
  const groupOf = new Int32Array(size).fill(-1);
  const turned = new Uint8Array(size);
  let [groups, atLeast, proved, left] = [0, 0, true, most];
  for (const island of islandsOf(alive, at)) {
    const solved = solveIsland(island, at, left);
    island.forEach((member, i) => {
      groupOf[member] = groups + (solved.groupOf[i] ?? 0);
      turned[member] = solved.turned[i] ?? 0;
    });
    groups += solved.groups;
    atLeast += solved.atLeast;
    proved = proved && solved.proved;
    left = Math.max(0, left - solved.steps);
  }
  // The last laid aside goes back first: what it lies beside was still there.
  for (const { member, beside, opposite } of [...laidBeside].reverse()) {
    groupOf[member] = groupOf[beside] ?? 0;
    turned[member] = (turned[beside] ?? 0) ^ (opposite ? 1 : 0);
  }
  const lists = new Map<number, { member: number; turned: boolean }[]>();
  const first = new Map<number, number>();
  for (let member = 0; member < size; member++) {
    const group = groupOf[member] ?? 0;
    if (!first.has(group)) first.set(group, turned[member] ?? 0);
    const list = lists.get(group) ?? [];
    list.push({ member, turned: (turned[member] ?? 0) !== first.get(group) });
    lists.set(group, list);
  }
  return { groups: [...lists.values()], atLeast: proved ? groups : atLeast, proved };
}

interface Beside {
  readonly member: number;
  readonly beside: number;
  readonly opposite: boolean;
}

/** Members that may go wherever one that stays goes: any group that takes that one takes them too. */
function layBeside(
  size: number,
  at: (a: number, b: number) => number,
): { readonly alive: readonly number[]; readonly laidBeside: readonly Beside[] } {
  let alive = Array.from({ length: size }, (_, i) => i);
  const laidBeside: Beside[] = [];
  const followsIn = (p: number, q: number, opposite: boolean): boolean =>
    alive.every((r) => {
      if (r === p || r === q) return true;
      const needs = opposite ? swapped(at(q, r)) : at(q, r);
      return (needs & ~at(p, r)) === 0;
    });
  for (let again = true; again; ) {
    again = false;
    for (const p of [...alive]) {
      for (const q of alive) {
        if (q === p) continue;
        const opposite = [false, true].find(
          (each) => (at(p, q) & (each ? OPPOSITE : ALIKE)) !== 0 && followsIn(p, q, each),
        );
        if (opposite === undefined) continue;
        laidBeside.push({ member: p, beside: q, opposite });
        alive = alive.filter((each) => each !== p);
        again = true;
        break;
      }
    }
  }
  return { alive, laidBeside };
}

/** Members joined by chains of pairs that may share, each island rising, by its first member. */
function islandsOf(members: readonly number[], at: (a: number, b: number) => number): readonly (readonly number[])[] {
  const islands: number[][] = [];
  let left = [...members];
  while (left.length > 0) {
    const [first = 0] = left;
    const island = [first];
    left = left.slice(1);
    for (let i = 0; i < island.length; i++) {
      const from = island[i] ?? 0;
      island.push(...left.filter((each) => at(from, each) !== 0));
      left = left.filter((each) => at(from, each) === 0);
    }
    islands.push(island.sort((a, b) => a - b));
  }
  return islands;
}

/** Of these, some of which no two may share: those with the fewest who may share with them first. */
function apart(members: readonly number[], at: (a: number, b: number) => number): readonly number[] {
  const degree = new Map(members.map((a) => [a, members.filter((b) => b !== a && at(a, b) !== 0).length]));
  const chosen: number[] = [];
  for (const a of [...members].sort((x, y) => (degree.get(x) ?? 0) - (degree.get(y) ?? 0) || x - y)) {
    if (chosen.every((b) => at(a, b) === 0)) chosen.push(a);
  }
  return chosen;
}

interface Island {
  readonly groupOf: Int32Array;
  readonly turned: Uint8Array;
  readonly groups: number;
  readonly atLeast: number;
  readonly proved: boolean;
  readonly steps: number;
}

function solveIsland(island: readonly number[], outer: (a: number, b: number) => number, most: number): Island {
  const n = island.length;
  const table = new Uint8Array(n * n);
  island.forEach((a, i) => {
    island.forEach((b, j) => {
      table[i * n + j] = outer(a, b);
    });
  });
  const at = (a: number, b: number): number => table[a * n + b] ?? 0;
  const seeds = apart(
    Array.from({ length: n }, (_, i) => i),
    at,
  );
  const atLeast = seeds.length;

  let best = n + 1;
  const bestGroup = new Int32Array(n);
  const bestTurned = new Uint8Array(n);
  const groupOf = new Int32Array(n).fill(-1);
  const turned = new Uint8Array(n);
  // By member and group: the lies, against the first of the group, that all of the group allow.
  const open = new Uint8Array(n * n).fill(ALIKE | OPPOSITE);
  let [groups, placed, steps] = [0, 0, 0];
  let stopped = false;

  const put = (v: number, group: number, turn: number): Uint8Array => {
    groupOf[v] = group;
    turned[v] = turn;
    placed++;
    const before = new Uint8Array(n);
    for (let u = 0; u < n; u++) {
      const was = open[u * n + group] ?? 0;
      before[u] = was;
      open[u * n + group] = was & (turn === 0 ? at(u, v) : swapped(at(u, v)));
    }
    return before;
  };
  const take = (v: number, group: number, before: Uint8Array): void => {
    groupOf[v] = -1;
    placed--;
    for (let u = 0; u < n; u++) open[u * n + group] = before[u] ?? 0;
  };
  const waysOf = (v: number): number => {
    let ways = 0;
    for (let group = 0; group < groups; group++) {
      const bits = open[v * n + group] ?? 0;
      ways += (bits & 1) + (bits >> 1);
    }
    return ways;
  };

  const search = (): void => {
    if (placed === n) {
      if (groups < best) {
        best = groups;
        bestGroup.set(groupOf);
        bestTurned.set(turned);
      }
      return;
    }
    // The first descent always ends: there is a grouping to give whatever the budget.
    if (best <= n && steps > most) {
      stopped = true;
      return;
    }
    steps += n * (groups + 1);
    let [chosen, fewest] = [-1, Infinity];
    const homeless: number[] = [];
    for (let v = 0; v < n; v++) {
      if (groupOf[v] !== -1) continue;
      const ways = waysOf(v);
      if (ways === 0) homeless.push(v);
      if (ways < fewest) [chosen, fewest] = [v, ways];
    }
    if (homeless.length > 0) {
      steps += homeless.length * homeless.length;
      if (groups + apart(homeless, at).length >= best) return;
    }
    for (let group = 0; group < groups; group++) {
      for (const turn of [0, 1] as const) {
        if (((open[chosen * n + group] ?? 0) & (turn === 0 ? ALIKE : OPPOSITE)) === 0) continue;
        const before = put(chosen, group, turn);
        search();
        take(chosen, group, before);
        if (stopped || best === atLeast || groups >= best) return;
      }
    }
    if (groups + 1 >= best) return;
    const group = groups++;
    const before = put(chosen, group, 0);
    search();
    take(chosen, group, before);
    groups--;
  };

  // Members of which no two may share begin a group each.
  for (const v of seeds) put(v, groups++, 0);
  search();
  return {
    groupOf: bestGroup,
    turned: bestTurned,
    groups: best,
    atLeast,
    proved: best === atLeast || !stopped,
    steps,
  };
}
