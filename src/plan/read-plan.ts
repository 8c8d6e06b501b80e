/**
 * The plan that strips mean.
 * Idea: find where ends and interiors come together; read each such spot as a feature; name features; cut strips there and join the
 * pieces at butts into spans; settle which legs are normal; put it in order. Total: every file that can be read gives a plan, and what
 * it cannot say is a problem. About n log n in corners, for strips spread over a sheet.
 */
import { DEFAULTS, newIds, type PanelFile } from '../panel/index.ts';
import { byId } from './by-id.ts';
import { chooseNormal, type Legs, saidOf } from './choose-normal.ts';
import { byEnd } from './find-ends.ts';
import { joinSpans } from './join-spans.ts';
import { layPlaces } from './lay-places.ts';
import { readLevers } from './levers.ts';
import { compareSpots, readLines } from './line.ts';
import { recordReach } from './match-records.ts';
import { nameFeatures } from './name-features.ts';
import { crossingSlots, legSlots, type Named, nameOf, nameSpans, runsOf, type SpansMade } from './name-spans.ts';
import { type Junctions, readJunctions } from './read-junctions.ts';
import { readCrossing, readPoint, readThreeWay, sortPassages } from './read-passages.ts';
import { findPlaces } from './read-places.ts';
import type { RawPoint } from './read-sight.ts';
import { surveyLines } from './survey.ts';
import { NUMBERING_STEP } from './tolerances.ts';
import type { Passage, Plan, PlanCrossing, PlanPoint, PlanProblem, SpanEnd } from './types.ts';

/** A plan, and what was measured on the way to it, for the next reading to take over. */
export interface PlanReading {
  readonly plan: Plan;
  readonly junctions: Junctions;
  readonly spansMade: SpansMade;
}

/**
 * Reads a panel's strips and records into a plan. Pure and total: never throws on a file that can be read; the same file, the same
 * plan.
 * @example readPlan({ format: 'mimic-panel', version: 1, strips: [{ id: 'main', path: [[0, 60], [300, 60]] }] }).places.length // 2
 */
export function readPlan(panel: PanelFile): Plan {
  return rereadPlan(null, panel).plan;
}

/**
 * Reads a panel after an edit, and takes over from an earlier reading what was measured among strips that still say the same; null: there
 * is none. The plan is that of `readPlan`, to the byte, whatever the earlier reading is of. Records are never altered in place: one
 * that is the same object says the same.
 */
export function rereadPlan(before: PlanReading | null, panel: PanelFile): PlanReading {
  const { lines, empty } = readLines(panel, before?.junctions.survey.lines);
  const survey = surveyLines(lines, before?.junctions.survey);
  const junctions = readJunctions(survey, before?.junctions);
  const ids = newIds(panel);
  const features = nameFeatures(panel, junctions, ids);
  const freeEnds = [...junctions.freeEnds].sort(
    (a, b) => compareSpots(a.at, b.at, NUMBERING_STEP) || byEnd(a.end, b.end),
  );
  const found = findPlaces(panel, survey, freeEnds, recordReach(DEFAULTS.strip.width / 2));
  const endIds = freeEnds.map((_, i) => found.ends.get(i)?.id ?? ids.next('E'));
  const problems: PlanProblem[] = [
    ...empty.map((strip): PlanProblem => ({ code: 'strip-no-length', strip: strip.id, at: strip.path[0] ?? [0, 0] })),
    ...junctions.problems,
    ...features.problems,
    ...found.problems,
  ];

  const named: Named[] = [
    ...features.points.map(({ raw, id }) => nameOf(raw, id)),
    ...features.threeWays.map(({ raw, ids: [id] }) => nameOf(raw, id)),
    ...features.crossings.map(({ raw, id }) => nameOf(raw, id, crossingSlots(raw.ports))),
    ...freeEnds.map((raw, i) => nameOf(raw, endIds[i] ?? '')),
  ];
  const rawSpans = joinSpans(
    lines,
    named.map(({ raw }) => raw),
    [...junctions.joints, ...features.joints],
  );
  const runs = runsOf(rawSpans, named);

  const legs: Legs[] = [];
  const settle = (raw: RawPoint, id: string, record: { readonly said: string | undefined; readonly trap: boolean }) => {
    const f = legs.length;
    const chosen = chooseNormal(raw, record.said, record.trap, (port) => runs[f]?.[port] ?? NO_RUN);
    legs.push(chosen);
    const feature = named[f];
    if (feature !== undefined) feature.slots = legSlots(chosen, raw.ports.length);
    if (chosen.unknown) problems.push({ code: 'normal-unknown', point: id, normal: record.said ?? '', at: raw.at });
  };
  for (const { raw, id, record } of features.points) settle(raw, id, saidOf(record));
  for (const { raw, ids: pair, record } of features.threeWays)
    settle(raw, pair[0], { said: record?.normal, trap: false });

  const { spans, endOf, spanOf, made: spansMade } = nameSpans(rawSpans, named, before?.spansMade);
  const at = (f: number, port: number): SpanEnd => {
    const end = endOf[f]?.[port];
    if (end === undefined) throw new RangeError(`port ${port} of ${named[f]?.id} has no span`);
    return end;
  };

  const points: PlanPoint[] = [];
  const passages: Passage[] = [];
  const crossings: PlanCrossing[] = [];
  features.points.forEach((point, f) => readPoint(point, f, legs[f], at, points, passages));
  const past = features.points.length;
  features.threeWays.forEach((way, i) => readThreeWay(way, past + i, legs[past + i], at, points, passages));
  const beyond = past + features.threeWays.length;
  features.crossings.forEach((crossing, i) => readCrossing(crossing, beyond + i, at, points, crossings, passages));

  const firstEnd = beyond + crossings.length;
  const laid = layPlaces({ panel, freeEnds, endIds, found, spans, spanOf, endAt: (i) => at(firstEnd + i, 0) });
  problems.push(...laid.problems);
  // A name says that an end is meant to stop where it does.
  const unnamed = new Set(laid.places.filter((place) => place.name === null).map((place) => place.id));
  const idOfEnd = new Map(freeEnds.map(({ end }, i) => [end, endIds[i] ?? '']));
  for (const { end, problem } of junctions.misses) {
    if (unnamed.has(idOfEnd.get(end) ?? '')) problems.push(problem);
  }

  points.sort((a, b) => byId(a.id, b.id));
  const levers = readLevers(panel, points, ids);
  problems.push(...levers.problems);
  const plan: Plan = {
    spans,
    points,
    crossings: crossings.sort((a, b) => byId(a.id, b.id)),
    bridges: features.bridges,
    butts: [...junctions.butts].sort((a, b) => compareSpots(a.at, b.at, NUMBERING_STEP)),
    places: laid.places,
    passages: sortPassages(passages, spans),
    levers: levers.levers,
    problems: sortProblems(problems),
  };
  return { plan, junctions, spansMade };
}

const NO_RUN = { free: false, length: 0 } as const;

/** By where they are, left to right and top to bottom, those without a place last; then by code and by the ids in them. */
function sortProblems(problems: readonly PlanProblem[]): readonly PlanProblem[] {
  return problems
    .map((problem) => ({ problem, at: 'at' in problem ? problem.at : null, text: JSON.stringify(problem) }))
    .sort(
      (a, b) =>
        Number(a.at === null) - Number(b.at === null) ||
        (a.at === null || b.at === null ? 0 : compareSpots(a.at, b.at, NUMBERING_STEP)) ||
        byId(a.problem.code, b.problem.code) ||
        byId(a.text, b.text),
    )
    .map(({ problem }) => problem);
}
