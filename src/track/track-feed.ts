/**
 * All that the track wants of wire, in one pass: two rails through the plan, reversing sections, frogs, gaps, droppers, which legs are
 * dead when, and the bus. Pure; costs some milliseconds for a hundred points.
 */
import { newIds, type PanelFile } from '../panel/index.ts';
import type { Catalogue } from '../parts/index.ts';
import { alongSpan, type Plan, type Span } from '../plan/index.ts';
import type { RouteList } from '../routes/index.ts';
import type { Wiring } from '../wiring/index.ts';
import { type Body, other, readBodies } from './bodies.ts';
import { contactBudget } from './contact-budget.ts';
import { type BothCuts, everyLoopIsCut, findSections } from './find-sections.ts';
import { listFrogs } from './list-frogs.ts';
import { listLegs, listShorts } from './list-legs.ts';
import { nameWires } from './name-wires.ts';
import { fedSpot, listDroppers, planFeeds } from './plan-droppers.ts';
import { neededCuts, possibleCuts, type WantedCut } from './plan-gaps.ts';
import { type Cut, railNetwork } from './rail-network.ts';
import { type FoundSpots, isBackwards, readSpots } from './read-spots.ts';
import { sumBuses } from './sum-bus.ts';
import type { OtherGap, ReversingSection, SectionEnd, TrackFeed, TrackGap, TrackQuestion } from './types.ts';

export interface TrackInput {
  readonly panel: PanelFile;
  readonly catalogue: Catalogue;
  readonly plan: Plan;
  readonly wiring: Wiring;
  /** Asked only where a diamond is: its frogs go by the routes over its lines. */
  readonly routes: () => RouteList;
}

export function trackFeed({ panel, catalogue, plan, wiring, routes }: TrackInput): TrackFeed {
  const bodies = readBodies(plan);
  const spots = readSpots(panel, plan);
  const saysGaps = panel.track?.gaps !== undefined;
  // A list without feeds says as little as none: no track is built that nothing feeds.
  const saysFeeds = (panel.track?.feeds?.length ?? 0) > 0;
  const train = longestTrain(panel);

  const bothCuts = cutsThroughBoth(spots);
  const chosen = findSections(plan, bodies, train?.length ?? null, bothCuts);
  const asProposed = chosen.spans.every((span) => (bothCuts.get(span) ?? 0) > 1);
  const loopsCut = chosen.spans.length > 0 && everyLoopIsCut(plan, bodies, bothCuts);
  const sectionsByFile = loopsCut && !asProposed;
  const names = newIds(panel);
  const sectionOf = new Map(chosen.spans.map((span) => [span, names.next('RS')]));
  const sections = [...sectionOf].map(([span, id]) =>
    sectionFor(
      panel,
      plan,
      bodies,
      id,
      span,
      train,
      !saysGaps ? null : sectionsByFile || (bothCuts.get(span) ?? 0) > 1,
    ),
  );

  const rails = nameWires(panel, plan, bodies, sectionOf);
  const railsOf = new Map(rails.map((each) => [each.span, each]));
  const listed = listFrogs({ panel, plan, wiring, routes }, bodies, railsOf);

  const own: readonly Cut[] = spots.gaps.flatMap(({ span, along, rails: cut }) =>
    cut.map((rail): Cut => ({ span, rail, along })),
  );
  const possible = possibleCuts(plan, listed, sectionsByFile ? new Map() : sectionOf, spots);
  const serving = new Set(possible.flatMap(({ span, rail, by }) => (by === null ? [] : [`${span} ${rail} ${by}`])));
  const idle = spots.gaps.flatMap(({ index, span, along, rails: cut }) =>
    cut.filter((rail) => !serving.has(`${span} ${rail} ${index}`)).map((rail): Cut => ({ span, rail, along })),
  );
  const network = (unknown: 'live' | 'dead', cuts: readonly Cut[], feeds: readonly ReturnType<typeof fedSpot>[]) =>
    railNetwork({ plan, bodies, frogs: listed, unknown, cuts, feeds });
  const planned = saysFeeds ? null : planFeeds(plan, network('live', [...possible, ...idle], []));
  const feeds = (planned ?? spots.feeds).map(({ span, along }) => fedSpot(railsOf, span, along));
  const needed = saysFeeds ? neededCuts(plan, bodies, listed, possible, feeds, idle) : possible;

  const asBuilt = saysGaps && saysFeeds;
  const told = network('dead', asBuilt ? own : [...needed, ...idle], feeds);
  const atFrog = new Map(listed.map(({ frog }) => [frog.id, frog.at]));
  const buses = sumBuses(panel, catalogue);
  const frogs = listed.map(({ frog }) => frog);
  return {
    system: panel.track?.system ?? null,
    rails,
    sections,
    sectionsProved: chosen.proved,
    sectionsByFile,
    frogs,
    contacts: contactBudget(panel, wiring, frogs),
    gaps: listGaps(plan, needed, saysGaps),
    otherGaps: othersOf(panel, spots, needed),
    droppers: listDroppers(plan, railsOf, spots, planned),
    lostFeeds: spots.lostFeeds,
    legs: sectionsByFile ? [] : listLegs(bodies, told),
    shorts: asBuilt && !sectionsByFile ? listShorts(plan, told, atFrog) : [],
    buses,
    questions: distinct([
      ...sections.flatMap(({ questions }) => questions),
      ...buses.flatMap(({ questions }) => questions),
    ]),
    cautions: cautionsFor(panel, sections.length > 0),
  };
}

/** How often each span is cut through both rails: by gaps of both, or by one of each rail. */
function cutsThroughBoth({ gaps }: FoundSpots): BothCuts {
  const left = new Map<string, number>();
  const right = new Map<string, number>();
  for (const { span, rails } of gaps)
    for (const rail of rails) {
      const counts = rail === 'left' ? left : right;
      counts.set(span, (counts.get(span) ?? 0) + 1);
    }
  return new Map([...left].map(([span, count]) => [span, Math.min(count, right.get(span) ?? 0)]));
}

function longestTrain(panel: PanelFile): ReversingSection['train'] {
  let best: ReversingSection['train'] = null;
  for (const { id, length } of panel.trains ?? [])
    if (length !== undefined && (best === null || length > best.length)) best = { id, length };
  return best;
}

function sectionFor(
  panel: PanelFile,
  plan: Plan,
  bodies: readonly Body[],
  id: string,
  spanId: string,
  train: ReversingSection['train'],
  cut: boolean | null,
): ReversingSection {
  const span = spanOf(plan, spanId);
  const feature = (end: 0 | 1): SectionEnd => {
    const body = bodies.find(({ ports }) => ports.some(({ leg }) => leg.span === spanId && leg.end === end));
    const spot = span.path[end === 0 ? 0 : span.path.length - 1];
    if (body === undefined || spot === undefined) throw new RangeError(`reversing section ${spanId} ends nowhere`);
    return { feature: body.feature, at: spot, end };
  };
  const questions: TrackQuestion[] = [];
  if (span.layoutLength === null) {
    for (const strip of new Set(span.stretches.map((stretch) => stretch.strip)))
      if (panel.strips.find((each) => each.id === strip)?.layoutLength === undefined)
        questions.push({
          key: `strips.${strip}.layoutLength`,
          text: `How long is the track that strip ${strip} stands for, on the layout, in mm?`,
        });
  }
  if (train === null)
    questions.push({ key: 'trains', text: 'How long is the longest train, over all, on the layout, in mm?' });
  const verdict =
    span.layoutLength === null || train === null
      ? 'not-asked-for'
      : train.length <= span.layoutLength
        ? 'holds'
        : 'too-short';
  return {
    id,
    span: spanId,
    begins: feature(0),
    ends: feature(1),
    length: span.layoutLength,
    train,
    verdict,
    cut,
    questions,
  };
}

function spanOf(plan: Plan, id: string): Span {
  const span = plan.spans.find((each) => each.id === id);
  if (span === undefined) throw new RangeError(`no span ${id}`);
  return span;
}

/** Cuts of both rails at one spot are one gap. */
function listGaps(plan: Plan, cuts: readonly WantedCut[], saysGaps: boolean): readonly TrackGap[] {
  const spans = new Map(plan.spans.map((span) => [span.id, span]));
  const groups: WantedCut[][] = [];
  for (const cut of cuts) {
    const last = groups[groups.length - 1];
    const [first] = last ?? [];
    const same = first?.span === cut.span && first.end === cut.end && first.along === cut.along && first.by === cut.by;
    if (last === undefined || !same) groups.push([cut]);
    else last.push(cut);
  }
  return groups.flatMap((group, i): readonly TrackGap[] => {
    const [first] = group;
    const span = spans.get(first?.span ?? '');
    if (first === undefined || span === undefined) return [];
    return [
      {
        no: i + 1,
        span: span.id,
        end: first.end,
        along: first.along,
        at: alongSpan(span, first.along).at,
        rail: group.length > 1 ? 'both' : first.rail,
        stripRail: group.length > 1 ? 'both' : isBackwards(span, first.along) ? other(first.rail) : first.rail,
        for: [...new Set(group.flatMap(({ frogs, section }) => (section === null ? frogs : [...frogs, section])))],
        onlyIfLive: group.every(({ onlyIfLive }) => onlyIfLive),
        state: first.by !== null ? 'there' : saysGaps ? 'missing' : 'to-cut',
        by: [...new Set(group.flatMap(({ by }) => (by === null ? [] : [by])))],
      },
    ];
  });
}

function othersOf(panel: PanelFile, spots: FoundSpots, needed: readonly WantedCut[]): readonly OtherGap[] {
  const serving = new Set(needed.flatMap(({ by }) => (by === null ? [] : [by])));
  const spanAt = new Map(spots.gaps.map(({ index, span }) => [index, span]));
  return (panel.track?.gaps ?? []).flatMap(({ at }, index): readonly OtherGap[] => {
    const span = spanAt.get(index);
    if (span === undefined) return [{ index, at, span: null, why: 'finds-no-track' }];
    return serving.has(index) ? [] : [{ index, at, span, why: 'need-unknown' }];
  });
}

function distinct(questions: readonly TrackQuestion[]): readonly TrackQuestion[] {
  return [...new Map(questions.map((question) => [question.key, question])).values()];
}

/** Low volts, many amps. */
function cautionsFor(panel: PanelFile, reverses: boolean): readonly string[] {
  return [
    'Low volts still burn: a short that the booster does not see puts all its amps into one thin wire or joint. Lay a coin across the rails at the far end of every run before trains do, and never leave a layout on that has not tripped.',
    'The wire of the bus and of every dropper is thick enough for what the booster gives before it trips, or a fuse stands before it that is not above what the wire is made for.',
    'The feed of a frog stays under the layout: never through the connector of the panel. Its contact carries what the booster gives before it trips.',
    ...((panel.track?.boosters?.length ?? 0) > 1
      ? [
          'Two boosters never meet in one rail: cut both rails wherever the part of one ends and that of the next begins. The file does not say where that is.',
        ]
      : []),
    ...(reverses
      ? [
          'A train that stands over a gap of a reversing section joins what is apart: the section changes over only while it holds the whole train.',
        ]
      : []),
  ];
}
