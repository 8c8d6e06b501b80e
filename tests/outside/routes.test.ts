/**
 * Routes against published counts of simple paths, against every path that a graph library finds, and the proving run against an
 * assignment solver. Each value stands beside its source; none comes from this program.
 */
import { DirectedGraph } from 'graphology';
import { allSimpleEdgePaths, allSimplePaths } from 'graphology-simple-path';
import { munkres } from 'munkres';
import { describe, expect, it } from 'vitest';
import { type Passage, type Place, type Plan, readPlan } from '../../src/plan/index.ts';
import { countRoutes, listRoutes, provingRun } from '../../src/routes/index.ts';
import { planOfGraph } from '../generate/graph-plan.ts';
import { generatePanel } from '../generate/panels.ts';
import { randomOf } from '../generate/random.ts';
import { printTracks, tracks } from '../generate/tracks.ts';
import { scatterPanel } from '../oracle/plan/index.ts';

const both = (edges: readonly (readonly [number, number])[]) =>
  edges.flatMap(([a, b]) => [[a, b] as const, [b, a] as const]);

function complete(n: number): readonly (readonly [number, number])[] {
  const nodes = Array.from({ length: n }, (_, i) => i);
  return nodes.flatMap((a) => nodes.filter((b) => b > a).map((b) => [a, b] as const));
}

function grid(n: number): readonly (readonly [number, number])[] {
  return Array.from({ length: n * n }, (_, i) => i).flatMap((i) => [
    ...(i % n === n - 1 ? [] : [[i, i + 1] as const]),
    ...(i + n >= n * n ? [] : [[i, i + n] as const]),
  ]);
}

const count = (plan: Parameters<typeof listRoutes>[0]) => {
  const list = listRoutes(plan, { limit: 20_000 });
  expect(list.cut).toBe(false);
  return list.routes.length;
};

describe('routes against published counts of simple paths', () => {
  // Documentation of `all_simple_paths`, networkx (GitHub networkx/networkx, commit cfc6b79f): the complete graph of 4 nodes, from
  // 0 to 3: 0123, 013, 0213, 023, 03.
  it('[RT9] the complete graph of four nodes has five', () => {
    expect(count(planOfGraph(both(complete(4)), 0, [3]))).toBe(5);
  });

  // Tests of the same function: the directed path 0 to 4 with (0,5) (1,5) (1,3) (5,4) (4,2) (4,3), from 1 to 2 or 3: seven paths.
  it('[RT9] a directed graph with two ends has seven', () => {
    const arcs = [
      [0, 1],
      [1, 2],
      [2, 3],
      [3, 4],
      [0, 5],
      [1, 5],
      [1, 3],
      [5, 4],
      [4, 2],
      [4, 3],
    ] as const;
    expect(count(planOfGraph(arcs, 1, [2, 3]))).toBe(7);
  });

  // Between two nodes of a complete graph of n there are the sum over k of (n-2)!/k! paths, floor(e (n-2)!) for n > 2: 1, 2, 5, 16,
  // 65 (OEIS A000522, from memory).
  it.each([
    [2, 1],
    [3, 2],
    [4, 5],
    [5, 16],
    [6, 65],
  ])('[RT9] the complete graph of %s nodes: %s', (n, paths) => {
    expect(count(planOfGraph(both(complete(n)), 0, [n - 1]))).toBe(paths);
  });

  // OEIS A007764: self-avoiding paths from corner to corner of a grid of n by n points.
  it.each([
    [2, 2],
    [3, 12],
    [4, 184],
    [5, 8512],
  ])('[RT9] a grid of %s points a side: %s', (n, paths) => {
    expect(count(planOfGraph(both(grid(n)), 0, [n * n - 1]))).toBe(paths);
  });

  // Parallel edges count apart in a multigraph (tests of the same function): two ways past each of k loops, 2^k.
  it.each([1, 2, 3, 8])('[RT9] %s passing loops in a row, laid in tape: 2 to that power', (k) => {
    const loops = Array.from({ length: k }, (_, i) => {
      const x = 200 * i;
      return `l${i} ${x + 20},60 ${x + 60},85 ${x + 100},85 ${x + 140},60`;
    });
    expect(count(readPlan(tracks(`main 0,60 ${200 * k},60\n${loops.join('\n')}`)))).toBe(2 ** k);
  });
});

/** A span in one direction, by the end that it leads to. */
const heading = (span: string, end: 0 | 1) => `${span} to ${end}`;
const spanOf = (state: string) => state.split(' to ')[0] ?? '';

/** The graph of a plan: spans in either direction, joined by passages, each edge with what it asks. */
function graphOfPlan({ spans, passages }: Plan) {
  const graph = new DirectedGraph<Record<string, never>, { asks: Passage['asks'] }>();
  for (const { id } of spans) for (const end of [0, 1] as const) graph.addNode(heading(id, end));
  for (const { between, asks } of passages) {
    for (const [a, b] of [between, [between[1], between[0]] as const])
      graph.addEdge(heading(a.span, a.end), heading(b.span, b.end === 0 ? 1 : 0), { asks });
  }
  return graph;
}

/** Which end of its span a free end is. */
const endOf = (plan: Plan, place: Place): 0 | 1 =>
  place.along * 2 < (plan.spans.find(({ id }) => id === place.span)?.length ?? 0) ? 0 : 1;

/** Spans that the library's paths lead over, for every two places, and what they ask: those that keep the rules of a route. */
function pathsOf(plan: Plan): readonly string[] {
  const graph = graphOfPlan(plan);
  const both = [0, 1] as const;
  return plan.places.flatMap((from, i) =>
    plan.places.slice(i + 1).flatMap((to) => {
      if (from.span === to.span) return [`${from.id} ${to.id} ${from.span} `];
      const starts = from.kind === 'road' ? both : [endOf(plan, from) === 0 ? (1 as const) : (0 as const)];
      const stops = to.kind === 'road' ? both : [endOf(plan, to)];
      return starts.flatMap((start) =>
        stops.flatMap((stop) =>
          allSimpleEdgePaths(graph, heading(from.span, start), heading(to.span, stop)).flatMap((edges) => {
            const states = [heading(from.span, start), ...edges.map((edge) => graph.target(edge))];
            const spans = states.map(spanOf);
            const asked = edges.flatMap((edge) => Object.entries(graph.getEdgeAttribute(edge, 'asks')));
            const lies = new Map(asked);
            const isRoute = new Set(spans).size === spans.length && asked.every(([id, lie]) => lies.get(id) === lie);
            const told = [...lies].map(([id, lie]) => `${id}=${lie}`).sort();
            return isRoute ? [`${from.id} ${to.id} ${spans.join(' ')} ${told.join(' ')}`] : [];
          }),
        ),
      );
    }),
  );
}

/** Routes as `pathsOf` tells them. */
const routesOf = (plan: Plan) =>
  listRoutes(plan).routes.map(({ from, to, spans, points }) => {
    const told = Object.entries(points).map(([id, lie]) => `${id}=${lie}`);
    return `${from} ${to} ${spans.join(' ')} ${told.sort().join(' ')}`;
  });

describe('routes as paths in a graph library', () => {
  // graphology and graphology-simple-path (MIT): every simple path between two nodes.
  it('[RT9] random directed graphs of 3 to 7 nodes have as many (seeds 1 to 200)', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const random = randomOf(seed);
      const nodes = random.whole(3, 7);
      const graph = new DirectedGraph();
      for (let i = 0; i < nodes; i++) graph.addNode(i);
      const arcs: [number, number][] = [];
      for (let a = 0; a < nodes; a++) {
        for (let b = 0; b < nodes; b++) if (a !== b && random.chance(45)) arcs.push([a, b]);
      }
      for (const [a, b] of arcs) graph.addEdge(a, b);
      // The plan is made of arcs alone: both ends must be on one.
      if (!arcs.flat().includes(0) || !arcs.flat().includes(nodes - 1)) continue;
      const plan = planOfGraph(arcs, 0, [nodes - 1]);
      const paths = allSimplePaths(graph, 0, nodes - 1).length;
      const said = `seed ${seed}: ${arcs.join(' ')}`;
      expect(listRoutes(plan).routes.length, said).toBe(paths);
      expect(countRoutes(plan), said).toEqual({ count: BigInt(paths), counted: 'exact' });
    }
  });

  it('[RT9] generated panels of 1 to 12 points have the same, span by span (seeds 1 to 60)', () => {
    let compared = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const panel = generatePanel(seed, 1 + (seed % 12));
      const plan = readPlan(panel);
      const paths = pathsOf(plan);
      expect(routesOf(plan).sort(), printTracks(panel)).toEqual([...paths].sort());
      expect(countRoutes(plan).count).toBe(BigInt(paths.length));
      compared += paths.length;
    }
    expect(compared).toBeGreaterThan(500);
  });

  it('[RT9] scattered strips with slips, diamonds and three-ways too (seeds 1 to 60)', () => {
    let compared = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const panel = scatterPanel(seed, 3 + (seed % 5));
      const plan = readPlan(panel);
      const paths = pathsOf(plan);
      expect(routesOf(plan).sort(), printTracks(panel)).toEqual([...paths].sort());
      expect(countRoutes(plan).count).toBe(BigInt(paths.length));
      compared += paths.length;
    }
    expect(compared).toBeGreaterThan(300);
  });
});

/**
 * The fewest reversals of a proving run as an assignment: after each way through a point, in one direction, comes another, or the end;
 * before each comes another, or the beginning, anywhere. What lies between costs the places where the train turns back. And ways that no
 * running on joins need a reversal between each two.
 */
function reversalsByAssignment(plan: Plan): number {
  const places = plan.places.map((place) => ({ place, end: place.kind === 'end' ? endOf(plan, place) : null }));
  const ahead = (span: string, end: 0 | 1, from: number) => {
    const way = end === 1 ? 1 : -1;
    const stops = places
      .filter(({ place, end: own }) => place.span === span && (own === null || own === end))
      .map(({ place }) => ({ id: place.id, gap: (place.along - from) * way }))
      .filter(({ gap }) => gap > 0)
      .sort((a, b) => a.gap - b.gap);
    return stops[0]?.id ?? null;
  };
  const lengthOf = new Map(plan.spans.map(({ id, length }) => [id, length]));
  const graph = new DirectedGraph<Record<string, never>, { cost: number }>();
  const join = (a: string, b: string, cost: number) => graph.mergeEdge(a, b, { cost });
  const stand = (place: string, end: 0 | 1) => `${place} headed ${end}`;
  for (const { id, length } of plan.spans) {
    for (const end of [0, 1] as const) {
      const stop = ahead(id, end, end === 1 ? -1e-9 : length + 1e-9);
      join(`in ${heading(id, end)}`, stop === null ? `out ${heading(id, end)}` : `${stand(stop, end)} on ${id}`, 0);
    }
  }
  for (const { place, end: own } of places) {
    for (const end of [0, 1] as const) {
      const here = `${stand(place.id, end)} on ${place.span}`;
      join(here, `${stand(place.id, end === 0 ? 1 : 0)} on ${place.span}`, 1);
      if (own === end) continue;
      const stop = ahead(place.span, end, place.along);
      join(here, stop === null ? `out ${heading(place.span, end)}` : `${stand(stop, end)} on ${place.span}`, 0);
    }
  }
  const ways: { readonly before: string; readonly after: string }[] = [];
  for (const { between, asks } of plan.passages) {
    for (const [a, b] of [between, [between[1], between[0]] as const]) {
      const way = { before: `out ${heading(a.span, a.end)}`, after: `in ${heading(b.span, b.end === 0 ? 1 : 0)}` };
      join(way.before, way.after, 0);
      if (Object.keys(asks).length > 0) ways.push(way);
    }
  }
  expect(lengthOf.size).toBe(plan.spans.length);
  /** Fewest turns from one node to all, those at no cost first. */
  const turnsFrom = (start: string) => {
    const turns = new Map([[start, 0]]);
    let now = [start];
    for (let cost = 0; now.length > 0; cost++) {
      const next: string[] = [];
      for (let node = now.pop(); node !== undefined; node = now.pop()) {
        if (turns.get(node) !== cost) continue;
        graph.forEachOutEdge(node, (_edge, { cost: price }, _from, to) => {
          if ((turns.get(to) ?? Number.POSITIVE_INFINITY) <= cost + price) return;
          turns.set(to, cost + price);
          (price === 0 ? now : next).push(to);
        });
      }
      now = next;
    }
    return turns;
  };
  const NEVER = 1e6;
  const rows = ways.map(({ after }) => {
    const turns = turnsFrom(after);
    return [...ways.map(({ before }) => turns.get(before) ?? NEVER), 0];
  });
  const matrix = [...rows, [...ways.map(() => 0), 0]];
  const turns = munkres(matrix).reduce((sum, [row, column]) => sum + (matrix[row]?.[column] ?? NEVER), 0);
  // Parts that running on joins, either way about.
  const parent = new Map(graph.nodes().map((node) => [node, node]));
  const root = (node: string): string => {
    let at = node;
    while (parent.get(at) !== at) at = parent.get(at) ?? at;
    return at;
  };
  graph.forEachEdge((_edge, { cost }, a, b) => {
    if (cost === 0) parent.set(root(a), root(b));
  });
  const parts = new Set(ways.map(({ before }) => root(before)));
  return Math.max(turns, parts.size - 1);
}

describe('the proving run against an assignment solver', () => {
  // munkres (MIT): the Hungarian algorithm. Plans beyond five points, where the bound comes from a flow.
  it('[PR8] its bound of reversals is that of the cheapest assignment (seeds 1 to 40)', () => {
    let compared = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const panel = generatePanel(seed, 6 + (seed % 7));
      const plan = readPlan(panel);
      const run = provingRun(plan);
      // Parts that no track joins, and ways that cannot be taken, are counted by themselves.
      if (run.missed.length > 0 || run.moves.some(({ carried }) => carried)) continue;
      const least = reversalsByAssignment(plan);
      expect(run.bound.reversals, printTracks(panel)).toBe(least);
      expect(run.reversals).toBeGreaterThanOrEqual(least);
      compared += 1;
    }
    expect(compared).toBeGreaterThan(10);
  });
});
