/**
 * How many routes there are, without listing them.
 * Idea: seen without a direction, a route is a string of spans, each once, joined at features by the passages that they allow. Features are
 * taken one after another; at each, every set of passages that does not need a span's end twice or two lies of one point is tried. All
 * that matters of what is behind is which of the spans cut through (the frontier) are in use and which of those belong to one string:
 * ways behind that agree in it are counted as one. A string that joins two places, with nothing left over, is a route.
 * Cost: features x states of the frontier. Yards and loops in a row have narrow frontiers whatever their number of routes; a grid of n by n
 * points has states by the power of n. Past a limit only the fullest states are kept: the number is then one that there are at least.
 * Reference: Knuth, The Art of Computer Programming 4A, 7.1.4, exercise 225 (simple paths by frontier), from memory.
 */
import type { Plan } from '../plan/index.ts';
import { type Joint, jointsOf, orderJoints } from './joints.ts';
import { COUNT_STATES, COUNT_STATES_LATE, COUNT_WORK, MOST_ROUTES } from './limits.ts';
import { findWays, type RouteOptions } from './list-routes.ts';
import { travelOf } from './travel.ts';

/** How many routes: exactly, or at least so many where the plan is too tangled to count out. */
export interface RouteCount {
  readonly count: bigint;
  readonly counted: 'exact' | 'at least';
}

/** Not in use; one end of a string that begins at a place; from 2 up strings with both ends open, by first appearance. */
const UNUSED = 0;
const FROM_PLACE = 1;

/**
 * The number of routes that `listRoutes` would list without a limit, for the same `from` and `to`; 0 where a place is not there. Exact for
 * whatever number while the frontier stays narrow (`COUNT_STATES`, `COUNT_WORK`), or where a search for 5,000 comes to its end; else `at
 * least`, with the more that either found.
 * @example countRoutes(readPlan(panel), { from: 'west' }).count
 */
export function countRoutes(plan: Plan, options: Pick<RouteOptions, 'from' | 'to'> = {}): RouteCount {
  const asked = [options.from, options.to].filter((id) => id !== undefined);
  const [one, two] = asked;
  const isThere = (id: string) => plan.places.some((place) => place.id === id);
  if (!asked.every(isThere) || (one !== undefined && one === two)) return NONE;
  const all = plan.places.map(({ id }) => id);
  const { joints, ends } = jointsOf(plan);
  const order = orderJoints(joints, ends);
  const within = (ids: readonly string[]) => countWithin(plan, joints, order, ends, new Set(ids));
  const first = within(two === undefined ? all : asked);
  // Those that touch one place: all but those among the others.
  const others = one === undefined || two !== undefined ? NONE : within(all.filter((id) => id !== one));
  if (first.counted === 'exact' && others.counted === 'exact')
    return { count: first.count - others.count, counted: 'exact' };
  const { ways, cut } = findWays(plan, travelOf(plan), MOST_ROUTES, options);
  const found = BigInt(ways.length);
  if (!cut) return { count: found, counted: 'exact' };
  // Of what touches one place nothing follows from two numbers that are too low.
  const counted = one === undefined || two !== undefined ? first.count : 0n;
  return { count: counted > found ? counted : found, counted: 'at least' };
}

const NONE: RouteCount = { count: 0n, counted: 'exact' };

interface Frontier {
  /** Ends of spans cut through: 2 x span + end. */
  readonly ports: readonly number[];
  /** By labels of the ports, in their order, as characters. */
  readonly states: ReadonlyMap<string, bigint>;
}

/** Routes that join two of these places. `ends`: by port, the joint that it is at, -1 at a free end. */
function countWithin(
  plan: Plan,
  joints: readonly Joint[],
  order: readonly number[],
  ends: Int32Array,
  wanted: ReadonlySet<string>,
): RouteCount {
  const { leaving, direct } = placesBySpan(plan, wanted);
  let total = direct;
  let exact = true;
  let work = 0;
  let frontier: Frontier = { ports: [], states: new Map([['', 1n]]) };
  const entered = new Uint8Array(plan.spans.length);
  for (const j of order) {
    const joint = joints[j];
    if (joint === undefined) throw new RangeError(`no joint ${j} of ${joints.length}`);
    const passed = passJoint(frontier, joint, j, ends, entered, leaving);
    total += passed.complete;
    work += frontier.states.size * joint.choices.length;
    for (const port of joint.ports) entered[port >> 1] = 1;
    const most = work > COUNT_WORK ? COUNT_STATES_LATE : COUNT_STATES;
    frontier = { ports: passed.ports, states: fullest(passed.states, most) };
    if (frontier.states !== passed.states) exact = false;
  }
  return { count: total, counted: exact ? 'exact' : 'at least' };
}

/** All states, or those with the most ways behind them; ties by the state itself. */
function fullest(states: ReadonlyMap<string, bigint>, most: number): ReadonlyMap<string, bigint> {
  if (states.size <= most) return states;
  return new Map([...states].sort(([a, m], [b, n]) => (m === n ? (a < b ? -1 : 1) : m > n ? -1 : 1)).slice(0, most));
}

/** Of the wanted places, by port: how many may be left by it; and the routes that lie on one span alone. */
function placesBySpan(
  plan: Plan,
  wanted: ReadonlySet<string>,
): { readonly leaving: readonly bigint[]; direct: bigint } {
  const spanIndex = new Map(plan.spans.map((span, i) => [span.id, i]));
  const leaving = plan.spans.flatMap(() => [0n, 0n]);
  const held = plan.spans.map(() => 0n);
  for (const place of plan.places) {
    if (!wanted.has(place.id)) continue;
    const i = spanIndex.get(place.span);
    if (i === undefined) throw new RangeError(`no span ${place.span} among ${plan.spans.length}`);
    held[i] = (held[i] ?? 0n) + 1n;
    const isFirst = place.kind === 'end' && place.id === plan.spans[i]?.ends[0] && place.along === 0;
    if (place.kind === 'road' || !isFirst) leaving[2 * i] = (leaving[2 * i] ?? 0n) + 1n;
    if (place.kind === 'road' || isFirst) leaving[2 * i + 1] = (leaving[2 * i + 1] ?? 0n) + 1n;
  }
  return { leaving, direct: held.reduce((sum, k) => sum + (k * (k - 1n)) / 2n, 0n) };
}

/** A way in which a span that is met for the first time may be used: labels of its ends, and how many ways that is. */
interface Use {
  readonly labels: readonly [number, number];
  readonly ways: bigint;
}

/** Every state before the joint with every choice in it. */
function passJoint(
  { ports, states }: Frontier,
  joint: Joint,
  j: number,
  ends: Int32Array,
  entered: Uint8Array,
  leaving: readonly bigint[],
): { readonly ports: readonly number[]; readonly states: Map<string, bigint>; readonly complete: bigint } {
  const fresh = [...new Set(joint.ports.map((port) => port >> 1))].filter((span) => entered[span] === 0);
  /** Before the choice: the frontier, then both ends of each new span that are at a joint. */
  const before = [
    ...ports,
    ...fresh.flatMap((span) => [2 * span, 2 * span + 1]).filter((port) => (ends[port] ?? -1) >= 0),
  ];
  const at = new Map(before.map((port, i) => [port, i]));
  const kept = before.flatMap((port, i) => (ends[port] === j ? [] : [i]));
  const old = ports.flatMap((port, i) => (ends[port] === j ? [{ port, i }] : []));
  const choices = joint.choices.map((choice) => {
    const used = new Set(choice.flat());
    return {
      used,
      pairs: choice.map(([a, b]) => [at.get(a) ?? -1, at.get(b) ?? -1] as const),
      uses: usesOf(fresh, used, j, ends, leaving),
    };
  });
  const after = new Map<string, bigint>();
  let complete = 0n;
  const labels: number[] = [];
  for (const [state, count] of states) {
    const opened = countOf(state, FROM_PLACE);
    for (const { used, pairs, uses } of choices) {
      if (old.some(({ port, i }) => (state.charCodeAt(i) !== UNUSED) !== used.has(port))) continue;
      for (const use of uses) {
        if (opened + use.opens > 2) continue;
        labels.length = 0;
        for (let i = 0; i < state.length; i++) labels.push(state.charCodeAt(i));
        // Strings of their own, beyond all labels in use.
        for (const label of use.labels) labels.push(label > FROM_PLACE ? label + before.length : label);
        const joined = join(labels, pairs);
        if (joined === 'void') continue;
        const ways = count * use.ways;
        if (joined === 'complete') {
          if (kept.every((i) => labels[i] === UNUSED)) complete += ways;
          continue;
        }
        const key = canonical(labels, kept);
        after.set(key, (after.get(key) ?? 0n) + ways);
      }
    }
  }
  return { ports: kept.map((i) => before[i] ?? -1), states: after, complete };
}

/** Every way to use the new spans such that just those ends at this joint are in use that the choice asks for. */
function usesOf(
  fresh: readonly number[],
  used: ReadonlySet<number>,
  j: number,
  ends: Int32Array,
  leaving: readonly bigint[],
): readonly { readonly labels: readonly number[]; readonly opens: number; readonly ways: bigint }[] {
  let uses: { readonly labels: readonly number[]; readonly opens: number; readonly ways: bigint }[] = [
    { labels: [], opens: 0, ways: 1n },
  ];
  fresh.forEach((span, k) => {
    const own = FROM_PLACE + 1 + k;
    const all: readonly Use[] = [
      { labels: [UNUSED, UNUSED], ways: 1n },
      { labels: [own, own], ways: 1n },
      { labels: [FROM_PLACE, UNUSED], ways: leaving[2 * span] ?? 0n },
      { labels: [UNUSED, FROM_PLACE], ways: leaving[2 * span + 1] ?? 0n },
    ];
    const possible = all.filter(
      ({ labels, ways }) =>
        ways > 0n &&
        labels.every((label, end) => {
          const port = 2 * span + end;
          const where = ends[port] ?? -1;
          if (where < 0) return label === UNUSED;
          return where !== j || (label !== UNUSED) === used.has(port);
        }),
    );
    uses = uses.flatMap((use) =>
      possible.map(({ labels, ways }) => ({
        labels: [...use.labels, ...labels.filter((_, end) => (ends[2 * span + end] ?? -1) >= 0)],
        opens: use.opens + labels.filter((label) => label === FROM_PLACE).length,
        ways: use.ways * ways,
      })),
    );
  });
  return uses;
}

/** Tie ends together, in place. `void`: a ring, or something beside a string that is complete. */
function join(labels: number[], pairs: readonly (readonly [number, number])[]): 'open' | 'complete' | 'void' {
  let complete = false;
  for (const [p, q] of pairs) {
    const [a, b] = [labels[p] ?? UNUSED, labels[q] ?? UNUSED];
    labels[p] = UNUSED;
    labels[q] = UNUSED;
    if (complete) return 'void';
    if (a === FROM_PLACE && b === FROM_PLACE) {
      complete = true;
      continue;
    }
    if (a === b) return 'void';
    const [keep, drop] = a === FROM_PLACE ? [a, b] : [b, a];
    for (let i = 0; i < labels.length; i++) if (labels[i] === drop) labels[i] = keep;
  }
  return complete ? 'complete' : 'open';
}

/** The labels kept, those of open strings numbered anew in the order in which they appear. */
function canonical(labels: readonly number[], kept: readonly number[]): string {
  const seen: number[] = [];
  let key = '';
  for (const i of kept) {
    const label = labels[i] ?? UNUSED;
    if (label <= FROM_PLACE) {
      key += String.fromCharCode(label);
      continue;
    }
    let place = seen.indexOf(label);
    if (place < 0) place = seen.push(label) - 1;
    key += String.fromCharCode(FROM_PLACE + 1 + place);
  }
  return key;
}

function countOf(state: string, label: number): number {
  let n = 0;
  for (let i = 0; i < state.length; i++) if (state.charCodeAt(i) === label) n += 1;
  return n;
}
