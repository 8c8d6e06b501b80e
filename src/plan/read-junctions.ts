/**
 * From what lies near to what it means: points, three-ways, crossings, butts and free ends, and what cannot be read.
 * Each sight is read for itself; branches are gathered by the strip that they leave; then what is joined is told from what crosses.
 * Nothing is numbered here. Rules: SPEC.md, JN and CR.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import type { Branch } from './branch.ts';
import type { Hit } from './find-crossings.ts';
import { byEnd, type LineEnd } from './find-ends.ts';
import { distance, heading, type Line, spotAlong, type Way } from './line.ts';
import type { Port } from './port.ts';
import {
  ambiguous,
  crossingOf,
  legsApart,
  type RawCrossing,
  type RawEnd,
  type RawPoint,
  readSight,
  type Together,
  type Told,
} from './read-sight.ts';
import type { Survey } from './survey.ts';
import { JOINT_TAIL, MOST_CROSSINGS, SAME_SPOT } from './tolerances.ts';
import type { Butt, PlanProblem } from './types.ts';

export interface Junctions {
  readonly points: readonly RawPoint[];
  readonly crossings: readonly RawCrossing[];
  readonly freeEnds: readonly RawEnd[];
  /** Pairs of ends that carry on into each other. */
  readonly joints: readonly (readonly [LineEnd, LineEnd])[];
  readonly butts: readonly Butt[];
  readonly problems: readonly PlanProblem[];
  /** Free ends that nearly join something; a place with a name takes the doubt away. */
  readonly misses: readonly { readonly end: LineEnd; readonly problem: PlanProblem }[];
  /** What each sight, each spot of branches and each crossing told: taken over where it is seen again. */
  readonly told: ReadonlyMap<object, readonly Told[]>;
  readonly survey: Survey;
}

/** With `before`: what an earlier reading made of the very same sights is taken over. A function of the survey alone. */
export function readJunctions(survey: Survey, before: Junctions | null = null): Junctions {
  if (before?.survey === survey) return before;
  const told = new Map<object, readonly Told[]>();
  const points: RawPoint[] = [];
  const crossings: RawCrossing[] = [];
  const freeEnds: RawEnd[] = [];
  const joints: (readonly [LineEnd, LineEnd])[] = [];
  const butts: Butt[] = [];
  const problems: PlanProblem[] = [];
  const missed: { readonly end: LineEnd; readonly to: LineEnd | null; readonly problem: PlanProblem }[] = [];
  const branches: Branch[] = [];
  /** What lies together at one spot: interiors do not cross where they are joined. */
  const attached = new Map<Line, { readonly along: Millimetre; readonly group: object; readonly half: Millimetre }[]>();

  for (const sight of survey.ends.sights) take(tell(sight, () => readSight(sight)));
  for (const spot of spotsOf(branches)) {
    const [only] = spot;
    take(spot.length === 1 && only !== undefined ? tell(only, () => readSpot(spot)) : readSpot(spot));
  }
  readContacts();
  return { points, crossings, freeEnds, joints, butts, problems, misses: missesOf(missed), told, survey };

  /** What a thing told before, else what it tells now. */
  function tell(thing: object, read: () => readonly Told[]): readonly Told[] {
    const known = before?.told.get(thing) ?? read();
    told.set(thing, known);
    return known;
  }

  function take(all: readonly Told[]): void {
    for (const one of all) {
      if (one.kind === 'together') attach(one);
      else if (one.kind === 'crossing') crossings.push(one);
      else if (one.kind === 'end') freeEnds.push(one);
      else if (one.kind === 'joint') joints.push(one.ends);
      else if (one.kind === 'butt') butts.push(one.butt);
      else if (one.kind === 'problem') problems.push(one.problem);
      else if (one.kind === 'branch') branches.push(one.branch);
      else if (one.kind === 'miss') missed.push({ end: one.end, to: one.miss.end, problem: one.problem });
      else points.push(one);
    }
  }

  function attach(group: Together): void {
    for (const { line, along } of group.spots) {
      const entry = { along, group, half: group.half };
      const known = attached.get(line);
      if (known === undefined) attached.set(line, [entry]);
      else known.push(entry);
    }
  }

  function readContacts(): void {
    let hits = 0;
    let last: Hit | null = null;
    for (const contact of survey.crossings.contacts) {
      for (const hit of contact.hits) {
        if (hits >= MOST_CROSSINGS) break;
        hits += 1;
        last = hit;
        if (!joinedNear(hit)) take(tell(hit, () => readHit(hit)));
      }
      const { overlap } = contact;
      if (overlap === null) continue;
      const { at, length } = overlap;
      problems.push({ code: 'strips-overlap', strips: [overlap.lines[0].id, overlap.lines[1].id], at, length });
    }
    if (last !== null && (survey.crossings.cut || hits >= MOST_CROSSINGS))
      problems.push({ code: 'crossing-unreadable', strips: last.lines.map((line) => line.id), at: last.spot });
  }

  function joinedNear({ lines, alongs }: Hit): boolean {
    const [one, two] = lines.map((line, i) =>
      (attached.get(line) ?? []).filter(({ along, half }) => Math.abs(along - (alongs[i] ?? 0)) <= JOINT_TAIL * half),
    );
    return (one ?? []).some((a) => (two ?? []).some((b) => b !== a && b.group === a.group));
  }
}

/** A gap between two ends that miss each other is told once, by the first. */
function missesOf(
  missed: readonly { readonly end: LineEnd; readonly to: LineEnd | null; readonly problem: PlanProblem }[],
): Junctions['misses'] {
  const toward = new Map(missed.map(({ end, to }) => [end, to]));
  return missed
    .filter(({ end, to }) => to === null || byEnd(to, end) > 0 || toward.get(to) !== end)
    .map(({ end, problem }) => ({ end, problem }));
}

/** Branches by the strip that they leave, those within half its width of the next together. */
function spotsOf(branches: readonly Branch[]): readonly (readonly Branch[])[] {
  const byLine = new Map<Line, Branch[]>();
  for (const branch of branches) {
    const known = byLine.get(branch.met.line);
    if (known === undefined) byLine.set(branch.met.line, [branch]);
    else known.push(branch);
  }
  const spots: Branch[][] = [];
  for (const [line, on] of byLine) {
    on.sort((a, b) => a.met.along - b.met.along || byEnd(a.end, b.end));
    let last: Branch | undefined;
    for (const branch of on) {
      if (last !== undefined && branch.met.along - last.met.along <= line.half) spots[spots.length - 1]?.push(branch);
      else spots.push([branch]);
      last = branch;
    }
  }
  return spots;
}

/** Branches at one spot of a strip: alone a point; two that leave the same way a three-way. */
function readSpot(spot: readonly Branch[]): readonly Told[] {
  const [first, second] = spot;
  if (first === undefined) return [];
  const { line } = first.met;
  const spots = spot.flatMap(({ end, met }) => [end, met]).map((each) => ({ line: each.line, along: each.along }));
  const together: Together = { kind: 'together', spots, half: line.half };
  const readable = spot.length === 2 && second !== undefined && first.way === second.way;
  if (spot.length > 1 && !(readable && legsApart([first.leg, second.leg]))) {
    const ends = spot.map((branch) => branch.end);
    return [together, ...ambiguous(ends, [line])];
  }
  const along = spot.reduce((sum, branch) => sum + branch.met.along, 0) / spot.length;
  const port = (way: Way): Port => ({ line, along, way, toward: heading(line, along, way, line.half) });
  const given = spot.map((branch) => branch.end.spot);
  const point: RawPoint = {
    kind: spot.length === 1 ? 'point' : 'three-way',
    at: tidySpot(spotAlong(line, along), given),
    half: line.half,
    ports: [port(first.way === 1 ? -1 : 1), port(first.way), ...spot.map((branch) => branch.leg)],
  };
  return [together, point];
}

function readHit({ lines: [a, b], alongs, spot, crosses }: Hit): readonly Told[] {
  if (!crosses) {
    const strips = [...new Set([a.id, b.id])];
    return [{ kind: 'problem', problem: { code: 'crossing-unreadable', strips, at: spot } }];
  }
  const half = Math.max(a.half, b.half);
  const port = (way: Way): Port => ({ line: a, along: alongs[0], way, toward: heading(a, alongs[0], way, half) });
  return [crossingOf(spot, [b, alongs[1]], [port(-1), port(1)], a)];
}

/** A spot as the file has it, where the sum along a strip comes to the same but for rounding. */
function tidySpot(spot: Spot, given: readonly Spot[]): Spot {
  return given.find((other) => distance(other, spot) <= SAME_SPOT) ?? spot;
}
