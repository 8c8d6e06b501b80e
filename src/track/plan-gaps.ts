/**
 * Which rails want cutting. A frog that changes over must not reach a rail that comes to a wire some other way: so each rail that runs
 * into it is cut, unless all that lies beyond hangs on this frog alone. A reversing section is cut in both rails at both ends.
 * With the feeds of the file: cuts are taken back one by one, in the order of spans, while no lies of the points join two wires; what
 * is left is the least in the sense that no single cut can be spared. Without feeds every piece gets droppers of its own, and no cut
 * can be spared.
 */
import type { Plan, Span } from '../plan/index.ts';
import type { Millimetre } from '../units/index.ts';
import type { Body } from './bodies.ts';
import { type ListedFrog, railsOfFrog } from './list-frogs.ts';
import { type Cut, conflictOf, type FedSpot, railNetwork } from './rail-network.ts';
import type { FoundGap, FoundSpots } from './read-spots.ts';
import { GAP_FROM_END, GAP_SHARE } from './tolerances.ts';
import type { Rail } from './types.ts';

/** One rail to cut next to one end of a span. */
export interface WantedCut extends Cut {
  readonly end: 0 | 1;
  readonly frogs: readonly string[];
  readonly section: string | null;
  readonly onlyIfLive: boolean;
  /** The gap of the file that serves, counted from 0. */
  readonly by: number | null;
}

/** Where the drawing puts a cut. */
function nextTo(span: Span, end: 0 | 1): Millimetre {
  const off = Math.min(GAP_FROM_END, span.length * GAP_SHARE);
  return end === 0 ? off : span.length - off;
}

/** In the order of spans, then ends, left before right: everything that might want a cut, matched with the gaps of the file. */
export function possibleCuts(
  plan: Plan,
  frogs: readonly ListedFrog[],
  sectionOf: ReadonlyMap<string, string>,
  spots: FoundSpots,
): readonly WantedCut[] {
  const wanted = new Map<string, { frogs: string[]; section: string | null; onlyIfLive: boolean }>();
  const keyOf = (span: string, end: number, rail: Rail) => `${span} ${end} ${rail}`;
  for (const { frog, place } of frogs) {
    if (place === null || frog.kind === 'dead') continue;
    for (const { port, rail } of railsOfFrog(place.body, place.index)) {
      const leg = place.body.ports[port]?.leg;
      if (leg !== undefined)
        wanted.set(keyOf(leg.span, leg.end, rail), {
          frogs: [frog.id],
          section: null,
          onlyIfLive: frog.kind === 'not-said',
        });
    }
  }
  for (const [span, section] of sectionOf)
    for (const end of [0, 1])
      for (const rail of ['left', 'right'] as const) {
        const key = keyOf(span, end, rail);
        wanted.set(key, { frogs: wanted.get(key)?.frogs ?? [], section, onlyIfLive: false });
      }
  const gapsOf = new Map<string, FoundGap[]>();
  for (const gap of spots.gaps)
    for (const rail of gap.rails) {
      const key = `${gap.span} ${rail}`;
      gapsOf.set(
        key,
        [...(gapsOf.get(key) ?? []), gap].sort((a, b) => a.along - b.along || a.index - b.index),
      );
    }
  return plan.spans.flatMap((span): readonly WantedCut[] =>
    (['left', 'right'] as const)
      .flatMap((rail): readonly WantedCut[] => {
        const ends = ([0, 1] as const).filter((end) => wanted.has(keyOf(span.id, end, rail)));
        const served = serve(span, ends, gapsOf.get(`${span.id} ${rail}`) ?? [], spots);
        return ends.map((end): WantedCut => {
          const what = wanted.get(keyOf(span.id, end, rail));
          const gap = served.get(end) ?? null;
          return {
            span: span.id,
            rail,
            end,
            along: gap?.along ?? nextTo(span, end),
            frogs: what?.frogs ?? [],
            section: what?.section ?? null,
            onlyIfLive: what?.onlyIfLive ?? false,
            by: gap?.index ?? null,
          };
        });
      })
      .sort((a, b) => a.end - b.end || (a.rail < b.rail ? -1 : 1)),
  );
}

/** Which gap of a rail serves which end: the nearest, with no feed in between; two ends never share one. */
function serve(
  span: Span,
  ends: readonly (0 | 1)[],
  gaps: readonly FoundGap[],
  { feeds }: FoundSpots,
): ReadonlyMap<0 | 1, FoundGap> {
  const served = new Map<0 | 1, FoundGap>();
  const fedAt = feeds.filter((feed) => feed.span === span.id).map(({ along }) => along);
  const [first, last] = [gaps[0], gaps[gaps.length - 1]];
  if (first === undefined || last === undefined) return served;
  const clear = (end: 0 | 1, gap: FoundGap) =>
    !fedAt.some((along) => (end === 0 ? along < gap.along : along > gap.along));
  const firstServes = ends.includes(0) && clear(0, first);
  const lastServes = ends.includes(1) && clear(1, last);
  const shared = first === last && firstServes && lastServes;
  if (firstServes && !(shared && first.along > span.length / 2)) served.set(0, first);
  if (lastServes && !(shared && first.along <= span.length / 2)) served.set(1, last);
  return served;
}

/** The cuts that cannot be spared with these feeds. */
export function neededCuts(
  plan: Plan,
  bodies: readonly Body[],
  frogs: readonly ListedFrog[],
  possible: readonly WantedCut[],
  feeds: readonly FedSpot[],
  otherCuts: readonly Cut[],
): readonly WantedCut[] {
  const network = railNetwork({ plan, bodies, frogs, unknown: 'live', cuts: [...possible, ...otherCuts], feeds });
  const spared = new Set<WantedCut>();
  const joints: (readonly [number, number])[] = [];
  // What the file has not is taken back before what it has.
  const order = [...possible.filter(({ by }) => by === null), ...possible.filter(({ by }) => by !== null)];
  for (const cut of order) {
    if (cut.section !== null) continue;
    const list = network.segments.get(cut.span) ?? [];
    const before = list.find(({ to }) => to === cut.along);
    const beyond = list.find(({ from }) => from === cut.along);
    if (before === undefined || beyond === undefined) continue;
    const joint = [before[cut.rail], beyond[cut.rail]] as const;
    const { ways, complete } = network.waysOf(joint[0], [...joints, joint]);
    if (!complete || conflictOf(ways) !== null) continue;
    spared.add(cut);
    joints.push(joint);
  }
  return possible.filter((cut) => !spared.has(cut));
}
