/**
 * Trees of changeover contacts: lamps that ask lies of several carriers, "each road's lamps through the contact of the point before
 * it". One tree hangs on the plus rail, one on the minus rail; a lamp hangs between a node of each. A node is joined to its rail
 * exactly when every lie of its way there holds, so a lamp is lit exactly when its whole cube holds, and no more contacts are used than
 * the best order of the carriers needs.
 */
import type { Lie } from '../panel/index.ts';
import { leastCost, searchOrders } from './search-orders.ts';
import { contactsInOrder, exactOrders, isExact, MISSING, type TreeOrders, type TreeTask } from './tree-orders.ts';

/** A lamp lit exactly when each carrier named lies as named; an empty cube is always lit. */
export interface TreeLamp {
  readonly id: string;
  /** By carrier's id. */
  readonly cube: Readonly<Record<string, Lie>>;
}

/** What has changeover contacts and lies normal or reverse: a lever's switch with spare poles, a drive with contacts. */
export interface TreeCarrier {
  readonly id: string;
  /** Changeovers that may be used. */
  readonly contacts: number;
}

/** One changeover: its common at `from`, and the nodes that it joins to that, null where nothing hangs. */
export interface TreeContact {
  readonly carrier: string;
  /** From 0, among that carrier's. */
  readonly which: number;
  readonly from: string;
  readonly normal: string | null;
  readonly reverse: string | null;
  readonly side: 'plus' | 'minus';
}

/** Nodes are named by the way from their rail: `plus`, `minus/L1=reverse/L5=normal`. */
export interface TreePlan {
  /** Plus side first; then component by component (by lowest id), carriers from the rail outwards, `which`. */
  readonly contacts: readonly TreeContact[];
  /** In the order given. Anode to plus, cathode to minus. */
  readonly lamps: readonly { readonly id: string; readonly plus: string; readonly minus: string }[];
  readonly count: number;
  /** No two trees of which each follows one order have fewer contacts than this. */
  readonly least: number;
  /** Whether `count` is `least`. */
  readonly proved: boolean;
}

/** A carrier that has fewer contacts than the trees need. */
export interface TreeShortage {
  readonly carrier: string;
  readonly needs: number;
  readonly has: number;
}

/**
 * No trees keep within the contacts that there are. The trees looked at are those that lack fewest contacts, then have fewest; the
 * carrier named is the one that lacks most of them, ties by id.
 */
export interface TreeShort extends TreeShortage {
  readonly why: 'contacts';
  /** Every carrier that lacks contacts, this one first. With what each of them needs, the trees can be made. */
  readonly all: readonly TreeShortage[];
  /** Whether it is proved that no trees keep within the contacts: always, up to ten carriers that share lamps. */
  readonly proved: boolean;
}

export interface TreeOptions {
  /**
   * `plus`: one tree, on the plus rail, for contacts that are far from the minus rail and for lamps that pass current both ways, since
   * between two trees a row of filament lamps would glow. Default `both`.
   */
  readonly sides?: 'plus' | 'both';
}

/**
 * The contacts that light every lamp exactly when its cube holds. Each carrier stands in one tree; all branches of a tree follow one
 * order. Exact for components (cubes that share carriers, directly or by others) of up to ten carriers, and of up to sixteen with up
 * to a thousand different cubes; beyond, a good plan with a proved lower bound. Of equal plans: all on the plus side, then the
 * fewest carriers on the minus side, then those latest by id; in each tree the order with the latest ids last.
 * A carrier that is not listed has no contacts. Throws a RangeError for an id listed twice.
 *
 * @example
 * planTree([{ id: 'H1', cube: { L1: 'reverse', L2: 'normal' } }], [{ id: 'L1', contacts: 1 }, { id: 'L2', contacts: 1 }])
 * // count 2; H1 hangs between plus/L1=reverse/L2=normal and minus
 */
export function planTree(
  lamps: readonly TreeLamp[],
  carriers: readonly TreeCarrier[],
  options: TreeOptions = {},
): TreePlan | TreeShort {
  refuseTwice('lamp', lamps);
  refuseTwice('carrier', carriers);
  const has = new Map(carriers.map(({ id, contacts }) => [id, contacts]));
  const parts = componentsOf(lamps).map((component) => planComponent(component, has, options.sides ?? 'both'));

  const short = parts
    .flatMap((part) => part.short)
    .sort((a, b) => lacks(b) - lacks(a) || compare(a.carrier, b.carrier));
  const [first] = short;
  if (first !== undefined) {
    return { why: 'contacts', ...first, all: short, proved: parts.some((part) => part.least >= MISSING) };
  }

  const contacts = (['plus', 'minus'] as const).flatMap((side) =>
    parts.flatMap((part) => contactsOf(side, part[side], lamps)),
  );
  const partOf = new Map(parts.flatMap((part) => part.lamps.map((id) => [id, part] as const)));
  const hung = lamps.map((lamp) => {
    const part = partOf.get(lamp.id);
    return {
      id: lamp.id,
      plus: wayOf('plus', part?.plus ?? [], lamp),
      minus: wayOf('minus', part?.minus ?? [], lamp),
    };
  });
  const least = parts.reduce((sum, part) => sum + part.least, 0);
  return { contacts, lamps: hung, count: contacts.length, least, proved: contacts.length === least };
}

interface Component {
  /** By id. */
  readonly carriers: readonly string[];
  readonly lamps: readonly TreeLamp[];
}

interface Part {
  readonly lamps: readonly string[];
  readonly plus: readonly string[];
  readonly minus: readonly string[];
  readonly least: number;
  readonly short: readonly TreeShortage[];
}

/** Lamps whose cubes share carriers, directly or by others; by the lowest id among these. Empty cubes are in none. */
function componentsOf(lamps: readonly TreeLamp[]): readonly Component[] {
  let components: Component[] = [];
  for (const lamp of lamps) {
    const asked = Object.keys(lamp.cube);
    if (asked.length === 0) continue;
    const touched = components.filter((component) => component.carriers.some((id) => asked.includes(id)));
    const carriers = [...new Set([...touched.flatMap((component) => component.carriers), ...asked])].sort(compare);
    const joined = { carriers, lamps: [...touched.flatMap((component) => component.lamps), lamp] };
    components = [...components.filter((component) => !touched.includes(component)), joined];
  }
  return components.sort((a, b) => compare(a.carriers[0] ?? '', b.carriers[0] ?? ''));
}

function planComponent({ carriers, lamps }: Component, has: ReadonlyMap<string, number>, sides: 'plus' | 'both'): Part {
  const task = taskOfLamps(carriers, lamps, has, sides);
  const exact = isExact(carriers.length, task.cubes);
  const found = exact ? exactOrders(task) : searchOrders(task);
  const named = (order: readonly number[]): readonly string[] => order.map((v) => carriers[v] as string);
  return {
    lamps: lamps.map((lamp) => lamp.id),
    plus: named(found.plus),
    minus: named(found.minus),
    least: exact ? found.cost : leastCost(task, found),
    short: shortagesOf(task, found, carriers),
  };
}

/** The component by numbers; lamps of one cube are one. */
function taskOfLamps(
  carriers: readonly string[],
  lamps: readonly TreeLamp[],
  has: ReadonlyMap<string, number>,
  sides: 'plus' | 'both',
): TreeTask {
  const codes = lamps.map((lamp) => carriers.map((id) => codeOf(lamp.cube[id])));
  const cubes = [...new Map(codes.map((code) => [code.join(''), code])).values()];
  return {
    asks: carriers.map((_, v) => Uint8Array.from(cubes, (code) => code[v] as number)),
    cubes: cubes.length,
    has: carriers.map((id) => has.get(id) ?? 0),
    sides,
  };
}

function codeOf(lie: Lie | undefined): number {
  if (lie === undefined) return 0;
  return lie === 'normal' ? 1 : 2;
}

function shortagesOf(task: TreeTask, found: TreeOrders, carriers: readonly string[]): readonly TreeShortage[] {
  return [found.plus, found.minus].flatMap((order) =>
    contactsInOrder(task, order).flatMap((needs, place) => {
      const v = order[place] as number;
      const has = task.has[v] as number;
      return needs > has ? [{ carrier: carriers[v] as string, needs, has }] : [];
    }),
  );
}

/** The node that a lamp reaches in a tree: its own lies, in the order of the tree. */
function wayOf(side: 'plus' | 'minus', order: readonly string[], lamp: TreeLamp): string {
  return order.reduce<string>(
    (node, id) => (lamp.cube[id] === undefined ? node : `${node}/${id}=${lamp.cube[id]}`),
    side,
  );
}

/** The contacts of one tree, carriers from the rail outwards, each carrier's by the node that they hang on. */
function contactsOf(
  side: 'plus' | 'minus',
  order: readonly string[],
  lamps: readonly TreeLamp[],
): readonly TreeContact[] {
  const asked = new Map(order.map((id) => [id, new Map<string, Set<Lie>>()]));
  for (const { cube } of lamps) {
    let node: string = side;
    for (const id of order) {
      const lie = cube[id];
      if (lie === undefined) continue;
      const lies = asked.get(id)?.get(node) ?? new Set();
      asked.get(id)?.set(node, lies.add(lie));
      node = `${node}/${id}=${lie}`;
    }
  }
  return [...asked].flatMap(([carrier, nodes]) =>
    [...nodes]
      .sort(([a], [b]) => compare(a, b))
      .map(([from, lies], which) => ({
        carrier,
        which,
        from,
        normal: lies.has('normal') ? `${from}/${carrier}=normal` : null,
        reverse: lies.has('reverse') ? `${from}/${carrier}=reverse` : null,
        side,
      })),
  );
}

function refuseTwice(what: string, list: readonly { readonly id: string }[]): void {
  const seen = new Set<string>();
  for (const { id } of list) {
    if (seen.has(id)) throw new RangeError(`${what} ${id} is listed twice`);
    seen.add(id);
  }
}

function lacks(shortage: TreeShortage): number {
  return shortage.needs - shortage.has;
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
