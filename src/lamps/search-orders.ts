/**
 * Good trees of contacts where there are too many carriers to try all orders, and a number of contacts below which no trees can be.
 *
 * Search: carriers are put in one after the other, each where it costs least; then each is taken out and put where it costs least, and
 * each tree that is small enough gets its best order, until nothing more is gained. From three first orders, and once more with all on
 * the plus side; the cheapest stays, of equal ones that on the plus side.
 * Bound: leave out all carriers but some, and no carrier that stays gets more contacts. So blocks of carriers, each solved exactly
 * by itself, add up to no more than the whole costs. And different cubes hang between different pairs of nodes, of which a tree has
 * two for each contact and its rail.
 * Cost: n^2 places a round, each n steps a cube, under a limit of steps.
 */
import { costInOrder, exactOrders, isExact, type TreeOrders, type TreeTask, taskOf } from './tree-orders.ts';

/** Carriers times cubes that one search may walk: some seconds on one core. After it, what was found stands. */
const SEARCH_STEPS = 3e8;

/** Carriers of one block of the bound: solved exactly within some hundredths of a second each. */
const BLOCK = 12;

/** Good trees, not proved to be the best. The same for the same task. */
export function searchOrders(task: TreeTask): TreeOrders {
  const plain = searchSide({ ...task, sides: 'plus' });
  if (task.sides === 'plus') return plain;
  const split = searchSide(task);
  return split.cost < plain.cost ? split : plain;
}

/** A cost below which no trees for the task can be, given trees that were found. */
export function leastCost(task: TreeTask, found: TreeOrders): number {
  const carriers = [...found.plus, ...found.minus];
  let blocks = 0;
  let from = 0;
  // Neighbours in the order found are those that multiply each other.
  while (from < carriers.length) {
    let size = Math.min(BLOCK, carriers.length - from);
    let block = taskOf(task, carriers.slice(from, from + size));
    while (!isExact(size, block.cubes)) block = taskOf(task, carriers.slice(from, from + --size));
    blocks += exactOrders(block).cost;
    from += size;
  }
  return Math.max(blocks, leastForNodes(task));
}

/** Contacts that give each cube a pair of nodes of its own; the pair of the rails is no cube's. */
function leastForNodes(task: TreeTask): number {
  if (task.sides === 'plus') return Math.ceil(task.cubes / 2);
  let contacts = 0;
  while ((1 + 2 * Math.floor(contacts / 2)) * (1 + 2 * Math.ceil(contacts / 2)) - 1 < task.cubes) contacts++;
  return contacts;
}

/** The two trees while they are searched. */
interface Trees {
  orders: [readonly number[], readonly number[]];
  costs: [number, number];
}

function searchSide(task: TreeTask): TreeOrders {
  const n = task.has.length;
  const byNumber = Array.from({ length: n }, (_, v) => v);
  const asked = task.asks.map((list) => list.reduce((sum, lie) => sum + (lie === 0 ? 0 : 1), 0));
  const mostAsked = [...byNumber].sort((a, b) => (asked[b] as number) - (asked[a] as number) || a - b);
  const steps = { left: SEARCH_STEPS };
  let best: TreeOrders | null = null;
  for (const first of [mostAsked, byNumber, [...mostAsked].reverse()]) {
    const trees: Trees = { orders: [[], []], costs: [0, 0] };
    for (const carrier of first) Object.assign(trees, putIn(task, trees, carrier, steps));
    const cost = improve(task, trees, byNumber, steps);
    if (best === null || cost < best.cost) best = { plus: trees.orders[0], minus: trees.orders[1], cost };
  }
  if (best === null) throw new RangeError('no first order to search from');
  return best;
}

/** The trees with one more carrier where it costs least: first on the plus side, first near the rail. */
function putIn(task: TreeTask, trees: Trees, carrier: number, steps: { left: number }): Trees {
  let best: Trees | null = null;
  for (const side of task.sides === 'both' ? ([0, 1] as const) : ([0] as const)) {
    const order = trees.orders[side];
    for (let place = 0; place <= order.length; place++) {
      // Without steps left there is one place for each: the end of the plus tree.
      if (steps.left <= 0 && (best !== null || place < order.length)) continue;
      const longer = [...order.slice(0, place), carrier, ...order.slice(place)];
      steps.left -= longer.length * task.cubes;
      const next = withSide(trees, side, longer, costInOrder(task, longer));
      if (best === null || total(next) < total(best)) best = next;
    }
  }
  if (best === null) throw new RangeError(`no place for carrier ${carrier}`);
  return best;
}

/** Moves single carriers and sorts whole trees until nothing is gained or no steps are left. Gives the cost. */
function improve(task: TreeTask, trees: Trees, carriers: readonly number[], steps: { left: number }): number {
  let before: number;
  do {
    before = total(trees);
    for (const carrier of carriers) {
      if (steps.left <= 0) break;
      const side = trees.orders[0].includes(carrier) ? 0 : 1;
      const shorter = trees.orders[side].filter((other) => other !== carrier);
      const moved = putIn(task, withSide(trees, side, shorter, costInOrder(task, shorter)), carrier, steps);
      if (total(moved) < total(trees)) Object.assign(trees, moved);
    }
    for (const side of [0, 1] as const) {
      const order = [...trees.orders[side]].sort((a, b) => a - b);
      if (steps.left <= 0 || !isExact(order.length, task.cubes)) continue;
      const sorted = exactOrders({ ...taskOf(task, order), sides: 'plus' });
      if (sorted.cost >= trees.costs[side]) continue;
      const better = sorted.plus.map((place) => order[place] as number);
      Object.assign(trees, withSide(trees, side, better, sorted.cost));
    }
  } while (total(trees) < before);
  return before;
}

function withSide(trees: Trees, side: 0 | 1, order: readonly number[], cost: number): Trees {
  return side === 0
    ? { orders: [order, trees.orders[1]], costs: [cost, trees.costs[1]] }
    : { orders: [trees.orders[0], order], costs: [trees.costs[0], cost] };
}

function total(trees: Trees): number {
  return trees.costs[0] + trees.costs[1];
}
