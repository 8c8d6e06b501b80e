/**
 * The switch of another panel that works a lever's circuit: out to it and back by pins, as plugs and cables go.
 *
 * two-way: it stands before ours. The two rails go out to it, it is linked crosswise as any reversing switch, and what comes back takes
 * their place at our switch; a driver board's input is closed through one changeover after the other. beside, latch: plus goes out, and
 * the two throws come back beside ours.
 */
import { polesForTwin, type TwinKind, twinId } from '../contacts/index.ts';
import { DEFAULTS, type Feed } from '../panel/index.ts';
import { type Catalogue, smallestToggle } from '../parts/index.ts';
import { type Join, panelJoin } from './join.ts';
import type { LeverFeed } from './lay-feed.ts';
import { type RailName, railNames } from './rails.ts';
import type { Terminal, WiredSwitch } from './types.ts';

/** Wires to a twin and back: where each ends, and the net that it comes from or brings. */
export interface TwinLeads {
  readonly to: readonly Terminal[];
  readonly nets: readonly Terminal[];
}

/** The rail that a feed's second outer tag hangs on. */
export function lowRail({ kind, supplies: [first, second] }: LeverFeed): RailName {
  if (kind === 'split') return railNames.minus(second?.id ?? '');
  if (kind === 'half-wave') return railNames.rectifiedMinus(first?.id ?? '');
  return railNames.minus(first?.id ?? '');
}

/** The rail that its first outer tag hangs on. */
export function highRail({ kind, supplies: [first] }: LeverFeed): RailName {
  return kind === 'half-wave' ? railNames.rectifiedPlus(first?.id ?? '') : railNames.plus(first?.id ?? '');
}

/**
 * The wires of a lever's twin, in the order of its pins. Of a two-way on a reversing feed, or on two rails: two out, two back; of any other one
 * out, two back. A charge feed has no twin.
 */
export function twinLeads(lever: string, twin: TwinKind, feed: LeverFeed): TwinLeads {
  const there = (number: number) => `${twinId(lever)}.t${number}`;
  const here = (number: number) => `${lever}.t${number}`;
  const [high, low] = [highRail(feed), lowRail(feed)];
  // Plus goes out, and comes back on the throw that it makes.
  if (twin !== 'two-way') return { to: [there(2), there(1), there(3)], nets: [high, here(1), here(3)] };
  // An input is open while both lie normal: what the twin's normal closes is our reverse.
  if (feed.kind === 'contact') return { to: [there(2), there(1), there(3)], nets: [low, here(3), here(1)] };
  const second = feed.kind === 'reversing' ? here(4) : here(3);
  return { to: [there(1), there(4), there(2), there(5)], nets: [high, low, here(1), second] };
}

/** The two links that make a reversing switch of a twin; none where it changes one wire over. */
export function twinLinks(lever: string, twin: TwinKind, feed: LeverFeed): readonly Join[] {
  if (polesForTwin(twin, feed.kind) < 2) return [];
  const there = (number: number) => `${twinId(lever)}.t${number}`;
  return [
    { ...panelJoin(there(1), there(6), lever, highRail(feed)), side: 'layout' },
    { ...panelJoin(there(4), there(3), lever, lowRail(feed)), side: 'layout' },
  ];
}

/** The cable to another panel: as long (mm) and as thick (mm2) as a drive's wires are where the file says nothing of them. */
export const TWIN_CABLE = { wire: DEFAULTS.wire };

/** The switch itself: the smallest toggle that serves, as typical of what stands on the other panel. Throws where the catalogue has none. */
export function twinSwitch(catalogue: Catalogue, lever: string, twin: TwinKind, feed: Feed['kind']): WiredSwitch {
  const id = twinId(lever);
  const wanted = smallestToggle(polesForTwin(twin, feed), twin === 'two-way' ? 'held' : 'sprung');
  const part = wanted === null ? undefined : catalogue.find('switch', wanted);
  if (part === undefined) throw new RangeError(`the catalogue holds no toggle for ${id}`);
  return {
    id,
    part,
    twinOf: lever,
    poles: Array.from({ length: part.poles }, (_, i) => ({
      id: `${id}.${i + 1}`,
      normal: `${id}.t${3 * i + 1}`,
      common: `${id}.t${3 * i + 2}`,
      reverse: `${id}.t${3 * i + 3}`,
      use: 'feed' as const,
    })),
  };
}
