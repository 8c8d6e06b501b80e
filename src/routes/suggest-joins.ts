/**
 * Which two levers could be made one, what that would lose beyond what is lost already, and what it would save.
 * For two levers made one the lost routes are those that ask contrary positions of the two; the lost pairs are those that can be set
 * together now, of which one asks a position of the first lever and the other the contrary one of the second. Whether there is any is
 * seen from sets, one for each position of each lever; how many is counted route by route. Cost: levers squared by routes / 32, and for
 * the count routes, by the levers that each asks something of, by levers, by routes / 32. Memory: levers squared by routes / 8 bytes.
 */
import type { Lie } from '../panel/index.ts';
import type { Lever, Plan } from '../plan/index.ts';
import {
  addAll,
  addBit,
  type BitSet,
  bitSet,
  bitsOfWord,
  eachBit,
  hasBit,
  haveCommon,
  keepOnly,
  takeAll,
} from './bit-sets.ts';
import { endToEndOf, leverSets } from './lever-sets.ts';
import { MOST_LEVERS_JOINED } from './limits.ts';
import { standingTogether } from './standing-together.ts';
import type { Route } from './types.ts';

/** Two levers as one. */
export interface Join {
  /** The one that stays, then the one that goes. */
  readonly levers: readonly [stays: string, goes: string];
  /** True: what the second did normal, the one does when it lies reverse. */
  readonly opposite: boolean;
  /** What is lost beyond what the present levers lose: all 0 where nothing is. */
  readonly loses: { readonly routes: number; readonly pairs: number; readonly meets: number };
  /** The price of the switch that goes, in the user's money; null where it is not known. */
  readonly saves: number | null;
}

export interface JoinList {
  /** Those that lose nothing first, then by routes, pairs and meets lost, most saved, then by lever, alike before opposite. */
  readonly joins: readonly Join[];
  /** True where the panel has so many levers that only joins that lose nothing are given. */
  readonly onlyFree: boolean;
}

export interface JoinOptions {
  /** The price of a lever's switch, in the user's money; null or left out: not known. */
  readonly priceOf?: (lever: string) => number | null;
  /** Levers that stay by themselves. */
  readonly without?: ReadonlySet<string>;
}

/** The levers with two of them made one. The one that stays keeps its id, name and place. */
export function joinLevers(levers: readonly Lever[], { levers: [stays, goes], opposite }: Join): readonly Lever[] {
  const gone = levers.find(({ id }) => id === goes);
  if (gone === undefined || !levers.some(({ id }) => id === stays))
    throw new RangeError(`no ${stays} and ${goes} among ${levers.length} levers`);
  const moved = gone.works.map(({ point, whenNormal }) => ({ point, whenNormal: turn(whenNormal, opposite) }));
  return levers
    .filter((lever) => lever !== gone)
    .map((lever) => (lever.id === stays ? { ...lever, works: [...lever.works, ...moved] } : lever));
}

function turn(lie: Lie, turned: boolean): Lie {
  return (lie === 'normal') === turned ? 'reverse' : 'normal';
}

/** One position of one lever: the settable routes that ask it, and those that can be set beside one of them, themselves included. */
interface Asked {
  readonly asks: BitSet;
  readonly beside: BitSet;
}

/**
 * Every two levers of the plan as one, alike and opposite, with what that loses of these routes. Levers that work no point are passed over.
 */
export function suggestJoins(plan: Plan, routes: readonly Route[], options: JoinOptions = {}): JoinList {
  const levers = plan.levers.filter(({ id, works }) => works.length > 0 && options.without?.has(id) !== true);
  const onlyFree = levers.length > MOST_LEVERS_JOINED;
  const { positions, settable, asking, contrary } = leverSets(plan, routes, plan.levers);
  const together = standingTogether(routes);
  const place = new Map(levers.map(({ id }, k) => [id, k]));
  /** Routes that can be set beside route i, and now can be set at the same time. */
  const besides = (i: number): BitSet => {
    const set = together(i);
    keepOnly(set, settable);
    const against = contrary(i);
    if (against !== null) takeAll(set, against);
    return set;
  };

  const empty = bitSet(routes.length);
  const asked = levers.flatMap(({ id }) =>
    (['normal', 'reverse'] as const).map(
      (position): Asked => ({ asks: asking.get(id)?.[position] ?? empty, beside: bitSet(routes.length) }),
    ),
  );
  const asks = (lever: number, side: number): BitSet => asked[2 * lever + side]?.asks ?? empty;
  const beside = (lever: number, side: number): BitSet => asked[2 * lever + side]?.beside ?? empty;
  positions.forEach((lies, i) => {
    if (lies === null) return;
    const set = besides(i);
    addBit(set, i);
    for (const [id, lie] of Object.entries(lies)) {
      const lever = place.get(id);
      if (lever !== undefined) addAll(beside(lever, sideOf(lie)), set);
    }
  });

  const clashing: Candidate[][] = levers.map(() => []);
  const all: Candidate[] = [];
  for (let a = 0; a < levers.length; a++) {
    for (let b = a + 1; b < levers.length; b++) {
      for (const opposite of [false, true]) {
        const sides = [0, 1].map((side) => [side, opposite ? side : 1 - side] as const);
        const free = sides.every(([x, y]) => !haveCommon(beside(a, x), asks(b, y)));
        if (onlyFree && !free) continue;
        const lost = free ? empty : bitSet(routes.length);
        if (!free) {
          for (const [x, y] of sides) {
            const both = Int32Array.from(asks(a, x));
            keepOnly(both, asks(b, y));
            addAll(lost, both);
          }
        }
        const candidate: Candidate = { a, b, opposite, lost, loses: { routes: 0, pairs: 0, meets: 0 } };
        eachBit(lost, 0, () => candidate.loses.routes++);
        all.push(candidate);
        if (!free) clashing[a]?.push(candidate);
      }
    }
  }

  const endToEnd = endToEndOf(plan, routes);
  positions.forEach((lies, i) => {
    if (lies === null) return;
    let set: BitSet | null = null;
    for (const [id, lie] of Object.entries(lies)) {
      for (const candidate of clashing[place.get(id) ?? -1] ?? []) {
        if (hasBit(candidate.lost, i)) continue;
        set ??= besides(i);
        const side = sideOf(lie);
        const others = asks(candidate.b, candidate.opposite ? side : 1 - side);
        const through = hasBit(endToEnd, i);
        for (let w = 0; w < set.length; w++) {
          const found = (set[w] ?? 0) & (others[w] ?? 0) & ~(candidate.lost[w] ?? 0);
          if (found === 0) continue;
          const pairs = through ? bitsOfWord(found & (endToEnd[w] ?? 0)) : 0;
          candidate.loses.pairs += pairs;
          candidate.loses.meets += bitsOfWord(found) - pairs;
        }
      }
    }
  });

  const joins = all
    .sort((p, q) => {
      const [m, n] = [p.loses, q.loses];
      return (
        m.routes - n.routes ||
        m.pairs - n.pairs ||
        m.meets - n.meets ||
        (savingOf(q) ?? 0) - (savingOf(p) ?? 0) ||
        p.a - q.a ||
        p.b - q.b ||
        Number(p.opposite) - Number(q.opposite)
      );
    })
    .map(
      (each): Join => ({
        levers: [levers[each.a]?.id ?? '', levers[each.b]?.id ?? ''],
        opposite: each.opposite,
        loses: each.loses,
        saves: savingOf(each),
      }),
    );
  return { joins, onlyFree };

  function savingOf({ b }: Candidate): number | null {
    return options.priceOf?.(levers[b]?.id ?? '') ?? null;
  }
}

interface Candidate {
  readonly a: number;
  readonly b: number;
  readonly opposite: boolean;
  /** Routes that ask contrary positions of the two. */
  readonly lost: BitSet;
  readonly loses: { routes: number; pairs: number; meets: number };
}

function sideOf(lie: Lie): number {
  return lie === 'normal' ? 0 : 1;
}
