/** Routes against published counts of simple paths. Each value stands beside its source; none comes from this program. */
import { describe, expect, it } from 'vitest';
import { readPlan } from '../../src/plan/index.ts';
import { listRoutes } from '../../src/routes/index.ts';
import { planOfGraph } from '../generate/graph-plan.ts';
import { tracks } from '../generate/tracks.ts';

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
