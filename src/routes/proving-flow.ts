/**
 * The fewest reversals that any proving run needs, and a run that has them where it can be laid.
 * Idea: nodes are stands and the far ends of directed spans; arcs run along spans, take a step, or turn back at a place (cost 1). A run is
 * a flow that takes every passage at least once, with one way in and one out: the cheapest such flow is never dearer than the best run
 * (a rural postman's bound). Where what carries flow hangs together, one trail goes along all of it (Euler, by Hierholzer's way), and
 * parts that do not are joined by turning back between them. Cost: passages x arcs, for each the shortest path with arcs undone (SPFA).
 * Left out: that one leg needs nothing both ways. A trail that offends against it is given up.
 */
import type { Plan } from '../plan/index.ts';
import { stopsAfter } from './list-routes.ts';
import { alongOf, stateOf, type Thrown } from './moves-legs.ts';
import { type Hop, hopOf, passingIndex, passingsOf } from './proving-legs.ts';
import type { Travel } from './travel.ts';

interface Arc {
  readonly from: number;
  readonly to: number;
  readonly kind: 'run' | 'turn' | 'open';
  /** The state that it enters: of a step. */
  readonly enters: number | null;
  readonly required: boolean;
  readonly most: number;
  flow: number;
}

/** A reversal is dearer than any number of spans. */
const TURN_COST = 1e6;

export interface Bound {
  /** No run has fewer reversals. */
  readonly reversals: number;
  /** A run with the flow's reversals, or those of joining its parts; null where none was laid. */
  readonly walk: readonly Hop[] | null;
}

/** For hops that hang together: the bound, and a run. */
export function boundOf(plan: Plan, travel: Travel, thrown: Thrown, hops: readonly Hop[]): Bound {
  const arcs = arcsOf(plan, travel, hops);
  const nodes = nodeCount(plan, travel);
  if (!sendFlow(arcs, nodes)) return { reversals: 0, walk: null };
  const turns = arcs.reduce((sum, arc) => sum + (arc.kind === 'turn' ? arc.flow : 0), 0);
  // Ways that no running joins are joined by a reversal each.
  const apart = new Set(
    groups(
      nodes,
      arcs.filter(({ kind }) => kind === 'run'),
    ).of(arcs.filter(({ required }) => required)),
  );
  const trail = joinParts(arcs, nodes) ? trailOf(arcs, nodes) : null;
  return {
    reversals: Math.max(turns, apart.size - 1),
    walk: trail === null ? null : hopsOf(plan, travel, thrown, trail),
  };
}

function nodeCount(plan: Plan, travel: Travel): number {
  return 2 * plan.places.length + travel.steps.length + 2;
}

function arcsOf(plan: Plan, travel: Travel, hops: readonly Hop[]): readonly Arc[] {
  const places = 2 * plan.places.length;
  const farEnd = (state: number) => places + state;
  const out = places + travel.steps.length;
  const back = out + 1;
  const passings = passingsOf(travel);
  const index = passingIndex(passings);
  const taken = new Set(hops.flatMap(({ takes }) => takes));
  const stands = [...new Set(hops.flatMap(({ from, to }) => [from, to, from ^ 1, to ^ 1]))].sort((a, b) => a - b);
  const steps = new Map<string, readonly [number, number]>();
  for (const { states } of hops) {
    states.forEach((state, i) => {
      const next = states[i + 1];
      if (next !== undefined) steps.set(`${state} ${next}`, [state, next]);
    });
  }
  const arcs: Arc[] = [];
  const lay = (from: number, to: number, more: Partial<Arc> = {}) =>
    arcs.push({
      from,
      to,
      kind: 'run',
      enters: null,
      required: false,
      most: Number.POSITIVE_INFINITY,
      flow: 0,
      ...more,
    });
  const next = (state: number, stop: { readonly place: number } | undefined) =>
    stop === undefined ? farEnd(state) : 2 * stop.place + (state & 1);

  for (const [state, to] of [...steps.values()].sort((a, b) => a[0] - b[0] || a[1] - b[1])) {
    const [stop] = stopsAfter(travel, to, -1, -1);
    const passing = index.get(`${state} ${to}`);
    lay(farEnd(state), next(to, stop), { enters: to, required: passing !== undefined && taken.has(passing) });
  }
  for (const stand of stands) {
    const state = stateOf(plan, travel, stand);
    const [stop] = stopsAfter(travel, state, alongOf(plan, travel, stand), stand >> 1);
    const isBuffer = stop === undefined && (travel.steps[state] ?? []).length === 0;
    if (!isBuffer) lay(stand, next(state, stop));
    lay(stand, stand ^ 1, { kind: 'turn' });
    lay(back, stand, { kind: 'open' });
    lay(stand, out, { kind: 'open' });
  }
  lay(out, back, { kind: 'open', most: 1 });
  return arcs;
}

/** Cheapest flow with every required arc at least once; false where there is none. Sets `flow`. */
function sendFlow(arcs: readonly Arc[], nodes: number): boolean {
  const excess = new Int32Array(nodes);
  const touching: number[][] = Array.from({ length: nodes }, () => []);
  arcs.forEach((arc, i) => {
    touching[arc.from]?.push(i);
    touching[arc.to]?.push(i);
    if (!arc.required) return;
    arc.flow = 1;
    excess[arc.to] = (excess[arc.to] ?? 0) + 1;
    excess[arc.from] = (excess[arc.from] ?? 0) - 1;
  });
  const costOf = ({ kind }: Arc) => (kind === 'turn' ? TURN_COST : kind === 'run' ? 1 : 0);
  while (excess.some((left) => left > 0)) {
    const cost = new Float64Array(nodes).fill(Number.POSITIVE_INFINITY);
    const by = new Int32Array(nodes).fill(-1);
    const waiting: number[] = [];
    const isWaiting = new Uint8Array(nodes);
    excess.forEach((left, node) => {
      if (left <= 0) return;
      cost[node] = 0;
      waiting.push(node);
      isWaiting[node] = 1;
    });
    for (let head = 0; head < waiting.length; head++) {
      const node = waiting[head] ?? 0;
      isWaiting[node] = 0;
      for (const i of touching[node] ?? []) {
        const arc = arcs[i];
        if (arc === undefined) continue;
        const forward = arc.from === node && arc.flow < arc.most;
        const undo = arc.to === node && arc.flow > (arc.required ? 1 : 0);
        for (const [can, to, price] of [
          [forward, arc.to, costOf(arc)],
          [undo, arc.from, -costOf(arc)],
        ] as const) {
          if (!can || (cost[node] ?? 0) + price >= (cost[to] ?? 0)) continue;
          cost[to] = (cost[node] ?? 0) + price;
          by[to] = i;
          if (isWaiting[to] === 0) waiting.push(to);
          isWaiting[to] = 1;
        }
      }
    }
    let target = -1;
    excess.forEach((left, node) => {
      if (left < 0 && (target < 0 || (cost[node] ?? 0) < (cost[target] ?? 0))) target = node;
    });
    if (target < 0 || !Number.isFinite(cost[target])) return false;
    excess[target] = (excess[target] ?? 0) + 1;
    let node = target;
    for (let i = by[node] ?? -1; i >= 0; i = by[node] ?? -1) {
      const arc = arcs[i];
      if (arc === undefined) break;
      const forward = arc.to === node;
      arc.flow += forward ? 1 : -1;
      node = forward ? arc.from : arc.to;
    }
    excess[node] = (excess[node] ?? 0) - 1;
  }
  return true;
}

/** Nodes that these arcs join, one way or the other. */
function groups(nodes: number, arcs: readonly Arc[]) {
  const parent = Int32Array.from({ length: nodes }, (_, i) => i);
  const root = (node: number): number => {
    let at = node;
    while (parent[at] !== at) at = parent[at] ?? at;
    return at;
  };
  for (const { from, to } of arcs) parent[Math.max(root(from), root(to))] = Math.min(root(from), root(to));
  return { root, of: (list: readonly Arc[]) => list.map(({ from }) => root(from)) };
}

/** Turn back and back again where two parts of the flow meet at a place; false where parts are left over. */
function joinParts(arcs: readonly Arc[], nodes: number): boolean {
  const opened = arcs.some(({ kind, flow }) => kind === 'open' && flow > 0);
  for (;;) {
    const used = arcs.filter(({ flow }) => flow > 0);
    const { root, of } = groups(nodes, used);
    const parts = new Set(of(used));
    if (parts.size <= 1) return true;
    const turn = arcs.find(
      ({ kind, from, to }) =>
        kind === 'turn' && root(from) !== root(to) && parts.has(root(from)) && parts.has(root(to)),
    );
    const again = turn && arcs.find(({ kind, from, to }) => kind === 'turn' && from === turn.to && to === turn.from);
    if (turn === undefined || again === undefined) return false;
    turn.flow += 1;
    again.flow += 1;
    if (opened && used.length === 0) return false;
  }
}

/** Arcs in the order of one trail along all flow: from the opening where there is one, else from behind a reversal. */
function trailOf(arcs: readonly Arc[], nodes: number): readonly Arc[] | null {
  const leaving: Arc[][] = Array.from({ length: nodes }, () => []);
  let total = 0;
  for (const arc of arcs) {
    total += arc.flow;
    for (let k = 0; k < arc.flow; k++) leaving[arc.from]?.push(arc);
  }
  // A circuit: cut it where that saves a reversal.
  const cut =
    arcs.find(({ kind, most, flow }) => kind === 'open' && most === 1 && flow > 0) ??
    arcs.find(({ kind, flow }) => kind === 'turn' && flow > 0) ??
    arcs.find(
      ({ kind, flow, to }) => kind === 'run' && flow > 0 && arcs.some((arc) => arc.kind === 'turn' && arc.from === to),
    );
  if (cut === undefined) return null;
  const list = leaving[cut.from] ?? [];
  list.splice(list.indexOf(cut), 1);
  const trail: Arc[] = [];
  const stack: { readonly node: number; readonly arc: Arc | null }[] = [{ node: cut.to, arc: null }];
  for (let top = stack[0]; top !== undefined; top = stack[stack.length - 1]) {
    const arc = leaving[top.node]?.pop();
    if (arc !== undefined) stack.push({ node: arc.to, arc });
    else {
      stack.pop();
      if (top.arc !== null) trail.push(top.arc);
    }
  }
  trail.reverse();
  if (trail.length !== total - 1) return null;
  return cut.kind === 'run' ? [...trail, cut] : trail;
}

/** The trail as hops; null where one would need something both ways, or pass a span twice. */
function hopsOf(plan: Plan, travel: Travel, thrown: Thrown, trail: readonly Arc[]): readonly Hop[] | null {
  const index = passingIndex(passingsOf(travel));
  const isStand = (node: number) => node < 2 * plan.places.length;
  const hops: Hop[] = [];
  let from = -1;
  let states: number[] = [];
  for (const arc of trail) {
    if (arc.kind !== 'run') continue;
    if (isStand(arc.from)) {
      from = arc.from;
      states = [stateOf(plan, travel, from)];
    }
    if (arc.enters !== null) states.push(arc.enters);
    if (!isStand(arc.to)) continue;
    if (from < 0) return null;
    const hop = hopOf(travel, thrown, index, [from, arc.to], states);
    if (hop === null) return null;
    hops.push(hop);
  }
  return hops;
}
