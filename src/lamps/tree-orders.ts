/**
 * The best two trees of changeover contacts for lamps that ask lies of several carriers: exact.
 *
 * Idea: in one tree whose branches all follow one order, the contacts of a carrier are as many as there are different ways in which
 * the cubes that ask it restrict themselves to the carriers before it. That number knows the set of those before, not their order; so
 * the best tree of a set is the best, over its last carrier, of the tree without it: a table of all sets. Two trees, one on each rail,
 * share nothing: the best pair is the best split of the carriers.
 * Sets are walked in the order of their numbers, the parting of the cubes refined by one carrier at each step.
 * Cost: 2^n sets, at each one step a cube and one for each carrier that it still asks.
 * Reference: the least size over orders of a decision diagram by a table of sets, Friedman and Supowit 1990, from memory; here parts of
 * the diagram are not shared, so that it stays a tree.
 */

/** What one contact too many weighs against contacts: more than there can be contacts, and exact in a double. */
export const MISSING = 2 ** 26;

/** Carriers up to which every split and every order are tried; above it the table of sets would be felt on a screen. */
const EXACT_CARRIERS = 16;

/** Sets times cubes up to which they are tried: about a second on one core. Ten carriers with all their 3^10 cubes stay below it. */
const EXACT_STEPS = 2 ** 26;

/** Carriers that share cubes, by number. */
export interface TreeTask {
  /** By carrier, then by cube: 0 not asked, 1 normal, 2 reverse. The cubes differ from each other. */
  readonly asks: readonly Uint8Array[];
  readonly cubes: number;
  /** Changeovers that each carrier has. */
  readonly has: readonly number[];
  readonly sides: 'plus' | 'both';
}

/** The carriers of each tree, from its rail outwards. */
export interface TreeOrders {
  readonly plus: readonly number[];
  readonly minus: readonly number[];
  /** Contacts, and MISSING for each one that a carrier does not have. */
  readonly cost: number;
}

/** What so many contacts of a carrier cost that has so many. */
export function costOf(contacts: number, has: number): number {
  return contacts + MISSING * Math.max(0, contacts - has);
}

/** Whether a task of so many carriers and cubes is small enough for `exactOrders`. */
export function isExact(carriers: number, cubes: number): boolean {
  return carriers <= EXACT_CARRIERS && 2 ** carriers * cubes <= EXACT_STEPS;
}

/** Parts cubes further by what they ask of one carrier. `seen` holds 3 x groups numbers. Gives the number of groups after. */
function refine(group: Int32Array, groups: number, asks: Uint8Array, into: Int32Array, seen: Int32Array): number {
  seen.fill(-1, 0, 3 * groups);
  let next = 0;
  for (let c = 0; c < group.length; c++) {
    const key = 3 * (group[c] as number) + (asks[c] as number);
    let to = seen[key] as number;
    if (to < 0) {
      to = next++;
      seen[key] = to;
    }
    into[c] = to;
  }
  return next;
}

/** Contacts of each carrier of one tree, in its order. */
export function contactsInOrder(task: TreeTask, order: readonly number[]): readonly number[] {
  const group = new Int32Array(task.cubes);
  const seen = new Int32Array(3 * task.cubes);
  const counted = new Int32Array(task.cubes).fill(-1);
  let groups = 1;
  return order.map((carrier, place) => {
    const asks = task.asks[carrier] as Uint8Array;
    let contacts = 0;
    for (let c = 0; c < task.cubes; c++) {
      if (asks[c] === 0 || counted[group[c] as number] === place) continue;
      counted[group[c] as number] = place;
      contacts++;
    }
    groups = refine(group, groups, asks, group, seen);
    return contacts;
  });
}

/** What one tree costs, its carriers in this order. */
export function costInOrder(task: TreeTask, order: readonly number[]): number {
  return contactsInOrder(task, order).reduce(
    (sum, contacts, k) => sum + costOf(contacts, task.has[order[k] as number] as number),
    0,
  );
}

/** The task that is left when only these carriers are asked: never costs more than they do in the whole. */
export function taskOf(task: TreeTask, carriers: readonly number[]): TreeTask {
  const group = new Int32Array(task.cubes);
  const seen = new Int32Array(3 * task.cubes);
  let groups = 1;
  for (const carrier of carriers) groups = refine(group, groups, task.asks[carrier] as Uint8Array, group, seen);
  // One cube stands for all that ask the same of these carriers.
  const firsts: number[] = [];
  group.forEach((g, c) => {
    firsts[g] ??= c;
  });
  return {
    asks: carriers.map((carrier) => Uint8Array.from(firsts, (c) => (task.asks[carrier] as Uint8Array)[c] as number)),
    cubes: groups,
    has: carriers.map((carrier) => task.has[carrier] as number),
    sides: task.sides,
  };
}

/**
 * The trees of least cost over every split of the carriers and every order of each tree. Of equal ones: all on the plus side; then the
 * fewest carriers on the minus side, then those that come last; in each tree the last carrier as late as can be, then the one before.
 * Throws a RangeError for a task that `isExact` denies.
 */
export function exactOrders(task: TreeTask): TreeOrders {
  const n = task.has.length;
  if (!isExact(n, task.cubes))
    throw new RangeError(`${n} carriers with ${task.cubes} cubes: too many to try all orders`);
  const all = 2 ** n - 1;
  const { best, last } = bestOfSets(task, n);
  let minus = 0;
  let cost = best[all] as number;
  if (task.sides === 'both') {
    let fewest = 0;
    for (let set = 1; set <= all; set++) {
      const both = (best[set] as number) + (best[all ^ set] as number);
      if (both > cost) continue;
      const size = bitsOf(set);
      if (both === cost && size > fewest) continue;
      [minus, cost, fewest] = [set, both, size];
    }
  }
  return { plus: orderOf(last, all ^ minus), minus: orderOf(last, minus), cost };
}

/** By set of carriers: what its best tree costs, and which carrier comes last in it. */
function bestOfSets(task: TreeTask, n: number): { readonly best: Float64Array; readonly last: Uint8Array } {
  const { asks, cubes, has } = task;
  const best = new Float64Array(2 ** n).fill(Number.POSITIVE_INFINITY);
  const last = new Uint8Array(2 ** n);
  best[0] = 0;
  const asked = new Int32Array(cubes);
  asks.forEach((list, v) => {
    list.forEach((lie, c) => {
      if (lie !== 0) asked[c] = (asked[c] as number) | (1 << v);
    });
  });
  const seen = new Int32Array(3 * cubes);
  const union = new Int32Array(cubes);
  const contacts = new Int32Array(n);
  // One parting of the cubes for each depth: the walk comes back to those above.
  const parting = Array.from({ length: n + 1 }, () => new Int32Array(cubes));

  // Highest carrier first and without it first: sets come in the order of their numbers, so all parts of a set before it.
  const walk = (v: number, set: number, depth: number, groups: number): void => {
    const group = parting[depth] as Int32Array;
    if (v < 0) {
      visit(set, group, groups);
      return;
    }
    walk(v - 1, set, depth, groups);
    const finer = parting[depth + 1] as Int32Array;
    walk(v - 1, set | (1 << v), depth + 1, refine(group, groups, asks[v] as Uint8Array, finer, seen));
  };

  // Each carrier that may come next after a set: one contact for each group of cubes that asks it.
  const visit = (set: number, group: Int32Array, groups: number): void => {
    union.fill(0, 0, groups);
    for (let c = 0; c < cubes; c++)
      union[group[c] as number] = (union[group[c] as number] as number) | (asked[c] as number);
    contacts.fill(0);
    for (let g = 0; g < groups; g++) {
      for (let left = (union[g] as number) & ~set; left !== 0; left &= left - 1) {
        const v = 31 - Math.clz32(left & -left);
        contacts[v] = (contacts[v] as number) + 1;
      }
    }
    for (let v = 0; v < n; v++) {
      if ((set >> v) & 1) continue;
      const to = set | (1 << v);
      const cost = (best[set] as number) + costOf(contacts[v] as number, has[v] as number);
      // The set without its latest carrier comes first, so that among equals the latest stays last.
      if (cost >= (best[to] as number)) continue;
      best[to] = cost;
      last[to] = v;
    }
  };

  walk(n - 1, 0, 0, 1);
  return { best, last };
}

function orderOf(last: Uint8Array, set: number): readonly number[] {
  const order: number[] = [];
  for (let left = set; left !== 0; left ^= 1 << (last[left] as number)) order.push(last[left] as number);
  return order.reverse();
}

function bitsOf(set: number): number {
  let bits = 0;
  for (let left = set; left !== 0; left &= left - 1) bits++;
  return bits;
}
