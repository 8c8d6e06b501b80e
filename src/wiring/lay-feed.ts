/**
 * The feed of a lever: which supplies, and the wires from them through its poles.
 *
 * reversing: plus to tag 1 and minus to tag 4; tags 1 and 6, 3 and 4 are linked; the commons, tags 2 and 5, go to drives and lamps.
 * split: the plus of the first supply to tag 1, the minus of the second to tag 3; tag 2 to the drives, which share a return to the middle.
 * half-wave: the same from two diodes of one alternating supply.
 * pulse: plus to tag 2; tags 1 and 3 to coils N and R. charge: plus to tag 1, minus to tag 3; tag 2 through the capacitor and two
 * steering diodes to the coils. contact: minus to tag 3; tag 2 to the inputs of driver boards.
 * Lever normal: tag 2 meets tag 1.
 *
 * With a twin on another panel (twins.ts) what would come from the rails comes back from there; where a relay remembers for both, the
 * lever throws that and its contacts stand where the lever's poles would: K1.1 for the first, K1.2 for the second.
 */
import type { Latch, LeverSwitch, TwinKind } from '../contacts/index.ts';
import { type Feed, feedOf, type LeverRecord, type PanelFile, type Supply } from '../panel/index.ts';
import type { Farad } from '../units/index.ts';
import { type Join, panelJoin } from './join.ts';
import { chain, type Net, type RailName, type Rails, railNames } from './rails.ts';
import type { Terminal, WiringProblem } from './types.ts';

/** A lever's feed, its supplies found. */
export interface LeverFeed {
  readonly kind: Feed['kind'];
  readonly supplies: readonly Supply[];
  readonly farads: Farad | null;
}

/** Kinds of supply that each kind of feed can take. */
const FITS: Readonly<Record<Feed['kind'], ReadonlySet<Supply['kind']>>> = {
  reversing: new Set(['dc', 'battery']),
  split: new Set(['dc', 'battery']),
  'half-wave': new Set(['ac']),
  pulse: new Set(['dc', 'battery', 'cdu']),
  charge: new Set(['dc', 'battery']),
  contact: new Set(['dc', 'battery']),
};

/** Can a supply of this kind give a feed of that one? */
export function canFeed(feed: Feed['kind'], supply: Supply['kind']): boolean {
  return FITS[feed].has(supply);
}

/** The feed of a lever; null where none can be made, for a reason that is reported here or by contacts. */
export function feedFor(
  panel: PanelFile,
  supplies: readonly Supply[],
  record: LeverRecord | undefined,
  each: LeverSwitch,
  problems: WiringProblem[],
): LeverFeed | null {
  const feed = feedOf(panel, record);
  const lever = each.lever;
  const found: Supply[] = [];
  const wanted = feed.kind === 'split' ? feed.supplies.slice(0, 2) : feed.supplies.slice(0, 1);
  for (const id of wanted.length > 0 ? wanted : ['']) {
    const supply = supplies.find((candidate) => candidate.id === id);
    if (supply === undefined) {
      problems.push({ code: 'supply-unknown', supply: id, by: lever });
      return null;
    }
    if (!canFeed(feed.kind, supply.kind)) {
      problems.push({ code: 'supply-kind-unfit', supply: supply.id, kind: supply.kind, feed: feed.kind });
      return null;
    }
    const charger = supply.kind === 'cdu' ? supplies.find(({ id: other }) => other === supply.from) : null;
    if (charger === undefined) {
      problems.push({ code: 'supply-unknown', supply: supply.from ?? '', by: supply.id });
      return null;
    }
    found.push(supply);
  }
  if (feed.kind === 'split' && (found.length < 2 || found[0]?.id === found[1]?.id)) {
    problems.push({ code: 'feed-lacks', lever, feed: feed.kind, what: 'second-supply' });
    return null;
  }
  if (feed.kind === 'charge' && feed.farads === null) {
    problems.push({ code: 'feed-lacks', lever, feed: feed.kind, what: 'farads' });
    return null;
  }
  return each.used === 0 ? null : { kind: feed.kind, supplies: found, farads: feed.farads };
}

/** What a laid feed gives: where lamps and drives are joined. */
export interface FeedNets {
  /** The net that drives and lamps across the feed hang on; of a pulse or charge feed coil N's. */
  readonly near: Net;
  /** Where they go back to: a pole's net, or a rail. */
  readonly far: Net;
  /** Of a pulse or charge feed coil R's. */
  readonly reverse: Net | null;
  /** The rail that drives share on their way back; null where each has its own wire from the pole. */
  readonly back: RailName | null;
  /** The rail of a driver board's own volts. */
  readonly power: RailName | null;
  /** Where a lever throws a relay that holds its feed: what it pulses. */
  readonly pulses: Pick<FeedNets, 'near' | 'far' | 'reverse'> | null;
}

/** How another panel works a lever too, and the relay that remembers for both where one does. */
export interface Worked {
  readonly twin: TwinKind | null;
  readonly latch: Latch | null;
}

/** Nothing but the lever. */
export const WORKED_ALONE: Worked = { twin: null, latch: null };

/** The tag of a lever's pole, or of the contact that stands in its place: pole 1 first, `at` 1 normal, 2 common, 3 reverse. */
export function holderTag(lever: string, latch: Latch | null, pole: 1 | 2, at: 1 | 2 | 3): Terminal {
  if (latch === null) return `${lever}.t${3 * (pole - 1) + at}`;
  // A relay lies as its point does: turned over where the lever's normal asks the point to reverse.
  const side = latch.whenNormal === 'normal' ? 'ncr' : 'rcn';
  return `${latch.feed[pole - 1] ?? latch.id}.${side[at - 1]}`;
}

/** Lay the feed of a lever: from the supply to the first of its levers, from lever to lever after that; and the links. */
export function layFeed(
  lever: string,
  feed: LeverFeed,
  rails: Rails,
  joins: Join[],
  { twin, latch }: Worked = WORKED_ALONE,
): FeedNets {
  const tag = (pole: 1 | 2, at: 1 | 2 | 3) => holderTag(lever, latch, pole, at);
  const [first, second] = feed.supplies;
  const plus = railNames.plus(first?.id ?? '');
  const minus = railNames.minus(first?.id ?? '');
  // What comes back from the twin is brought by its pins.
  const reach = (net: RailName, to: Terminal) => {
    if (twin !== 'two-way') rails.reach(net, to, lever);
  };
  const alone = { reverse: null, back: null, power: null, pulses: null };
  const pulses = latch === null ? null : layPulses(lever, plus, minus, rails, joins);
  const near = chain(joins, lever, tag(1, 2));
  switch (feed.kind) {
    case 'reversing': {
      const [high, low] = twin === 'two-way' ? [tag(1, 1), tag(2, 1)] : [plus, minus];
      reach(plus, tag(1, 1));
      reach(minus, tag(2, 1));
      joins.push(panelJoin(tag(1, 1), tag(2, 3), lever, high), panelJoin(tag(2, 1), tag(1, 3), lever, low));
      return { ...alone, near, far: chain(joins, lever, tag(2, 2)), pulses };
    }
    case 'split':
      rails.tie(minus, railNames.plus(second?.id ?? ''));
      reach(plus, tag(1, 1));
      reach(railNames.minus(second?.id ?? ''), tag(1, 3));
      return { ...alone, near, far: rails.net(minus, lever), back: minus, pulses };
    case 'half-wave':
      reach(railNames.rectifiedPlus(first?.id ?? ''), tag(1, 1));
      reach(railNames.rectifiedMinus(first?.id ?? ''), tag(1, 3));
      return { ...alone, near, far: rails.net(minus, lever), back: minus, pulses };
    case 'pulse':
      return { ...alone, ...layPulses(lever, plus, minus, rails, joins), back: minus };
    case 'charge': {
      reach(plus, tag(1, 1));
      reach(minus, tag(1, 3));
      joins.push(panelJoin(tag(1, 2), `CAP-${lever}.p`, lever, tag(1, 2)));
      const [n, r, capacitor] = [`SD-${lever}n`, `SD-${lever}r`, `CAP-${lever}.m`];
      joins.push(panelJoin(capacitor, `${n}.a`, lever, capacitor), panelJoin(`${n}.a`, `${r}.k`, lever, capacitor));
      return {
        ...alone,
        near: chain(joins, lever, `${n}.k`),
        far: rails.net(minus, lever),
        reverse: chain(joins, lever, `${r}.a`),
        back: minus,
      };
    }
    case 'contact':
      reach(minus, tag(1, 3));
      return { ...alone, near, far: rails.net(minus, lever), back: minus, power: plus, pulses };
  }
}

/** Plus to the common of a lever that springs back, its two throws to what they pulse. */
function layPulses(lever: string, plus: RailName, minus: RailName, rails: Rails, joins: Join[]) {
  rails.reach(plus, `${lever}.t2`, lever);
  return {
    near: chain(joins, lever, `${lever}.t1`),
    far: rails.net(minus, lever),
    reverse: chain(joins, lever, `${lever}.t3`),
  };
}
