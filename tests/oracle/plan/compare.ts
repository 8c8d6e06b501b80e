/** Reads one panel with both readers and says every difference. */
import type { PanelFile } from '../../../src/panel/index.ts';
import { type Plan, readPlan } from '../../../src/plan/index.ts';
import { countRoutes, findConflicts, listRoutes } from '../../../src/routes/index.ts';
import { printTracks } from '../../generate/tracks.ts';
import { type Arm, apart, between, type Spot, wayOf } from './face.ts';
import { readSlowly, type SlowPlan } from './read.ts';
import { inOrder, listClashes, listWays, spanName } from './ways.ts';

/** Problems that both readers look for. */
const PROBLEMS = [
  'strip-no-length',
  'end-too-square',
  'end-too-flat',
  'record-finds-nothing',
  'records-on-one',
  'normal-unknown',
];

/** Routes past this number are not compared: the plain reader would try them all day. */
const MOST = 1200;

/** Millimetres: an end of a slip may lie anywhere this near. */
const SIDE = 10;

export interface Compared {
  readonly open: readonly string[];
  readonly differences: readonly string[];
  readonly routes: number;
}

/**
 * What the two readers say differently, nothing where the text leaves the panel open. `slack` is in millimetres: 0.02 for spots that are
 * rounded to 0.01, more where ends are laid off the strips that they meet.
 */
export function compareReaders(panel: PanelFile, slack = 0.02): Compared {
  const slow = readSlowly(panel);
  if (slow.open.length > 0) return { open: slow.open, differences: [], routes: 0 };
  const plan = readPlan(panel);
  const differences: string[] = [];
  const close = (a: number, b: number, times = 1) => Math.abs(a - b) <= slack * times;
  const same = (what: string, ours: readonly string[], theirs: readonly string[]) => {
    const [a, b] = [[...ours].sort(), [...theirs].sort()];
    if (a.join('\n') !== b.join('\n')) differences.push(`${what}: slow [${a.join(' ; ')}] fast [${b.join(' ; ')}]`);
  };

  same(
    'points',
    slow.points.map(({ id, of }) => `${id} ${of}`),
    plan.points.map(({ id, of }) => `${id} ${of}`),
  );
  for (const point of slow.points) {
    const other = plan.points.find(({ id }) => id === point.id);
    if (other === undefined) continue;
    // The text says only on which side of its crossing each end of a slip lies.
    if (apart(point.at, other.at) > (point.of === 'slip' ? SIDE : slack))
      differences.push(`${point.id} lies at ${point.at}, fast ${other.at}`);
    for (const leg of ['toe', 'normal', 'reverse'] as const) {
      const arm = point[leg];
      if (arm === null) continue;
      const span = plan.spans.find(({ id }) => id === other[leg].span);
      const stretch = other[leg].end === 0 ? span?.stretches.at(0) : span?.stretches.at(-1);
      if (stretch?.strip !== arm.tape.id)
        differences.push(`${leg} of ${point.id} is on ${arm.tape.id}, fast ${stretch?.strip}`);
      if (between(wayOf(arm), other.toward[leg]) > 1)
        differences.push(`${leg} of ${point.id} leaves ${said(arm)}, fast ${other.toward[leg]}`);
    }
  }
  same('crossings', slow.crossings.map(crossingLine), plan.crossings.map(crossingLine));
  for (const crossing of slow.crossings) {
    const other = plan.crossings.find(({ id }) => id === crossing.id);
    if (other !== undefined && apart(crossing.at, other.at) > slack)
      differences.push(`${crossing.id} lies at ${crossing.at}, fast ${other.at}`);
  }
  same('bridges and butts', [`${slow.bridges} ${slow.butts}`], [`${plan.bridges.length} ${plan.butts.length}`]);

  // Spans by their ends, those of equal ends by length.
  const ours = slow.spans.map((span, i) => ({ name: spanName(slow, i), length: span.length }));
  const theirs = plan.spans.map(({ ends, length }) => ({ name: [...ends].sort(inOrder).join('/'), length }));
  const byLength = (a: { name: string; length: number }, b: { name: string; length: number }) =>
    inOrder(a.name, b.name) || a.length - b.length;
  ours.sort(byLength);
  theirs.sort(byLength);
  same(
    'spans',
    ours.map(({ name }) => name),
    theirs.map(({ name }) => name),
  );
  if (ours.length === theirs.length)
    ours.forEach(({ name, length }, i) => {
      if (!close(length, theirs[i]?.length ?? Number.NaN, 2))
        differences.push(`span ${name} is ${length} long, fast ${theirs[i]?.length}`);
    });

  const places = slow.places.map(({ id, name, kind, span }) => `${id} ${name} ${kind} on ${spanName(slow, span)}`);
  const others = plan.places.map(({ id, name, kind, span }) => `${id} ${name} ${kind} on ${endsOf(plan, span)}`);
  if (places.join() !== others.join())
    differences.push(`places: slow [${places.join(' ; ')}] fast [${others.join(' ; ')}]`);
  for (const place of slow.places) {
    const other = plan.places.find(({ id }) => id === place.id);
    if (other === undefined) continue;
    if (apart(place.at, other.at) > slack) differences.push(`${place.id} lies at ${place.at}, fast ${other.at}`);
    const [a, b] = [waysOff(slow, place.span, place.along), waysOffFast(plan, other.span, other.along)];
    if (a.some(({ feature, gap }, i) => b[i]?.feature !== feature || !close(gap, b[i]?.gap ?? Number.NaN, 2)))
      differences.push(`${place.id} is ${JSON.stringify(a)} from the ends of its span, fast ${JSON.stringify(b)}`);
  }
  const count = (codes: readonly string[]) =>
    PROBLEMS.map((code) => `${code} ${codes.filter((each) => each === code).length}`);
  same('problems', count(slow.problems), count(plan.problems.map(({ code }) => code)));
  if (differences.length > 0) return { open: [], differences, routes: 0 };

  const routes = listWays(slow, MOST);
  if (routes === null) return { open: [], differences, routes: 0 };
  const list = listRoutes(plan);
  const number = countRoutes(plan);
  if (number.counted !== 'exact' || number.count !== BigInt(routes.length))
    differences.push(`${routes.length} routes, counted fast ${number.counted} ${number.count}`);
  if (list.routes.length !== routes.length)
    differences.push(
      `${routes.length} routes, fast ${list.routes.length}: ${missing(routes.map(routeLine), list.routes.map(routeLine))}`,
    );
  else {
    // Routes that the text orders equally may stand either way about.
    const settled = routes.map((route) => ({ route, line: routeLine(route) }));
    settled.forEach(({ route, line }, i) => {
      const other = list.routes[i];
      if (other === undefined) return;
      if (line !== routeLine(other)) differences.push(`route ${i} is ${line}, fast ${routeLine(other)}`);
      else if (!close(route.faceLength, other.faceLength, 2 * route.spans.length))
        differences.push(`route ${i}, ${line}, is ${route.faceLength} long, fast ${other.faceLength}`);
    });
    const clashes = listClashes(slow, routes);
    const conflicts = findConflicts(list.routes);
    if (clashes.length !== conflicts.length) differences.push(`${clashes.length} conflicts, fast ${conflicts.length}`);
    clashes.forEach(([i, j, reasons], n) => {
      const [k, l, reason] = conflicts[n] ?? [-1, -1, ''];
      const plain = reason.startsWith('span:')
        ? (reason.slice(5).split('#')[0] ?? '').split('/').sort(inOrder).join('/')
        : reason;
      if (i !== k || j !== l || !reasons.includes(plain))
        differences.push(`conflict ${i} ${j} ${reasons}, fast ${k} ${l} ${reason}`);
    });
  }
  return { open: [], differences: differences.slice(0, 12), routes: routes.length };
}

/** The case in the track notation, with the records that it has no word for as they stand in the file. */
export function printCase(panel: PanelFile): string {
  const rest = (['points', 'crossings', 'threeWays', 'retired'] as const)
    .filter((key) => (panel[key]?.length ?? 0) > 0)
    .map((key) => `${key}: ${JSON.stringify(panel[key])}`);
  return [printTracks(panel), ...rest].join('\n');
}

function crossingLine({ id, kind, strips }: { id: string; kind: string; strips: readonly string[] }): string {
  return `${id} ${kind} ${[...strips].sort().join(' ')}`;
}

interface Told {
  readonly from: string;
  readonly to: string;
  readonly points: Readonly<Record<string, string>>;
  readonly through: readonly string[];
  readonly crossings: readonly string[];
}

function routeLine({ from, to, points, through, crossings }: Told): string {
  const lies = Object.entries(points)
    .sort(([a], [b]) => inOrder(a, b))
    .map(([id, lie]) => `${id}=${lie[0]}`);
  return `${from}>${to} ${lies.join(',')} via ${through.join(',')} over ${crossings.join(',')}`;
}

function missing(ours: readonly string[], theirs: readonly string[]): string {
  const left = ours.filter((line) => !theirs.includes(line)).slice(0, 5);
  const right = theirs.filter((line) => !ours.includes(line)).slice(0, 5);
  return `slow only [${left.join(' ; ')}] fast only [${right.join(' ; ')}]`;
}

function endsOf(plan: Plan, span: string): string {
  return [...(plan.spans.find(({ id }) => id === span)?.ends ?? [])].sort(inOrder).join('/');
}

interface Off {
  readonly feature: string;
  readonly gap: number;
}

const nearerFirst = (a: Off, b: Off) => inOrder(a.feature, b.feature) || a.gap - b.gap;

/** How far a spot of a span is from each of its ends. */
function waysOff(plan: SlowPlan, span: number, along: number): Off[] {
  const found = plan.spans[span];
  if (found === undefined) return [];
  const gaps = [along, found.length - along];
  return found.ends.map((end, i) => ({ feature: plan.features[end]?.id ?? '', gap: gaps[i] ?? 0 })).sort(nearerFirst);
}

function waysOffFast(plan: Plan, span: string, along: number): Off[] {
  const found = plan.spans.find(({ id }) => id === span);
  if (found === undefined) return [];
  const gaps = [along, found.length - along];
  return found.ends.map((feature, i) => ({ feature, gap: gaps[i] ?? 0 })).sort(nearerFirst);
}

function said(arm: Arm): Spot {
  return wayOf(arm);
}
