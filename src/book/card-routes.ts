/** Routes as the card gives them: which come first where not all have room, and in which blocks they stand. */
import type { Lie } from '../panel/index.ts';
import { byId, type Plan } from '../plan/index.ts';
import type { Route } from '../routes/index.ts';

/** A line of the card: where to, and how each lever of the block lies; null: either will do. */
export interface CardRow {
  /** Its place in the list of routes, from 0. */
  readonly route: number;
  readonly to: string;
  /** Another way to where the row before goes, by the same roads. */
  readonly again: boolean;
  readonly cells: readonly (Lie | null)[];
}

/** Routes that have one end in common and pass the same roads, under the levers that any of them asks. */
export interface CardBlock {
  readonly from: string;
  readonly through: readonly string[];
  readonly levers: readonly string[];
  readonly rows: readonly CardRow[];
}

/**
 * The routes that levers can set, by their place in the list, the first to be shown first: one way for each two places before any
 * other way; of those, routes between two ends of track before those from or to a road; of those, in the order of the list. What
 * needs no lever comes last.
 */
export function rankRoutes(plan: Plan, routes: readonly Route[]): readonly number[] {
  const ends = new Set(plan.places.filter((place) => place.kind === 'end').map((place) => place.id));
  const known = new Set<string>();
  const ranked = routes.flatMap((route, index) => {
    if (route.levers === null) return [];
    const pair = JSON.stringify([route.from, route.to]);
    const another = known.has(pair) ? 1 : 0;
    known.add(pair);
    const idle = Object.keys(route.levers).length === 0 ? 1 : 0;
    const roads = (ends.has(route.from) ? 0 : 1) + (ends.has(route.to) ? 0 : 1);
    return [{ index, idle, another, roads }];
  });
  return ranked
    .sort((a, b) => a.idle - b.idle || a.another - b.another || a.roads - b.roads || a.index - b.index)
    .map(({ index }) => index);
}

/** A route as one of its ends sees it. */
interface Seen {
  readonly index: number;
  readonly route: Route;
  readonly to: string;
}

/**
 * Blocks of the routes of these places in the list: each under whichever of its ends makes the fewest blocks, in the order of places,
 * then with fewer roads passed. No block has more than `most` levers, but where one route alone asks for more.
 */
export function blockRoutes(
  plan: Plan,
  routes: readonly Route[],
  chosen: readonly number[],
  most: number,
): readonly CardBlock[] {
  const leverOrder = new Map(plan.levers.map((lever, i) => [lever.id, i]));
  const placeOrder = new Map(plan.places.map((place, i) => [place.id, i]));
  const orderOf = (place: string): number => placeOrder.get(place) ?? placeOrder.size;

  // Every route can stand under either end; the fullest block is taken out until none is left.
  const groups = new Map<string, { readonly from: string; readonly through: readonly string[]; seen: Seen[] }>();
  const put = (from: string, through: readonly string[], seen: Seen): void => {
    const key = JSON.stringify([from, ...through]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { from, through, seen: [seen] });
    else group.seen.push(seen);
  };
  for (const index of [...chosen].sort((a, b) => a - b)) {
    const route = routes[index];
    if (route === undefined) continue;
    put(route.from, route.through, { index, route, to: route.to });
    put(route.to, [...route.through].reverse(), { index, route, to: route.from });
  }
  const done = new Set<number>();
  const taken: { readonly from: string; readonly through: readonly string[]; readonly seen: readonly Seen[] }[] = [];
  const open = [...groups.values()];
  for (;;) {
    let fullest: (typeof open)[number] | null = null;
    for (const group of open) {
      group.seen = group.seen.filter(({ index }) => !done.has(index));
      // Of equal ones the first: routes are listed from the earlier place, so that comes first.
      if (group.seen.length > (fullest?.seen.length ?? 0)) fullest = group;
    }
    if (fullest === null) break;
    taken.push({ from: fullest.from, through: fullest.through, seen: fullest.seen });
    for (const { index } of fullest.seen) done.add(index);
  }
  taken.sort(
    (a, b) =>
      orderOf(a.from) - orderOf(b.from) ||
      a.through.length - b.through.length ||
      (a.seen[0]?.index ?? 0) - (b.seen[0]?.index ?? 0),
  );

  return taken.flatMap(({ from, through, seen }) => {
    const blocks: CardBlock[] = [];
    let part: Seen[] = [];
    let asked = new Set<string>();
    const close = (): void => {
      if (part.length === 0) return;
      const levers = [...asked].sort((a, b) => (leverOrder.get(a) ?? 0) - (leverOrder.get(b) ?? 0) || byId(a, b));
      blocks.push({
        from,
        through,
        levers,
        rows: part.map(({ index, route, to }, i) => ({
          route: index,
          to,
          again: part[i - 1]?.to === to,
          cells: levers.map((lever) => route.levers?.[lever] ?? null),
        })),
      });
      part = [];
      asked = new Set();
    };
    for (const each of [...seen].sort((a, b) => orderOf(a.to) - orderOf(b.to) || a.index - b.index)) {
      const more = new Set([...asked, ...Object.keys(each.route.levers ?? {})]);
      if (part.length > 0 && more.size > most) close();
      part.push(each);
      for (const lever of Object.keys(each.route.levers ?? {})) asked.add(lever);
    }
    close();
    return blocks;
  });
}
