import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { eliminate, planElimination } from './elimination.ts';

interface Edge {
  from: number;
  to: number;
  siemens: number;
}

/** Runs the sparse elimination and multiplies back: what the network draws at each node at those volts. */
function solve(size: number, edges: readonly Edge[], fed: readonly number[]): { volts: number[]; drawn: number[] } {
  const plan = planElimination(
    size,
    Int32Array.from(edges, (e) => e.from),
    Int32Array.from(edges, (e) => e.to),
  );
  const known = new Float64Array(size);
  const g = new Float64Array(plan.slots);
  edges.forEach((e, m) => {
    const slot = plan.slotOf[m] ?? -1;
    if (slot >= 0) g[slot] = (g[slot] ?? 0) + e.siemens;
    else {
      const node = Math.max(e.from, e.to);
      known[node] = (known[node] ?? 0) + e.siemens;
    }
  });
  const x = new Float64Array(size);
  eliminate(plan, known, g, Float64Array.from(fed), x);
  const drawn = new Array<number>(size).fill(0);
  for (const e of edges) {
    const amps = e.siemens * ((x[e.from] ?? 0) - (x[e.to] ?? 0));
    if (e.from >= 0) drawn[e.from] = (drawn[e.from] ?? 0) + amps;
    if (e.to >= 0) drawn[e.to] = (drawn[e.to] ?? 0) - amps;
  }
  return { volts: [...x], drawn };
}

describe('eliminate', () => {
  test('the currents that it draws are those that were fed (seed 21)', () => {
    const edge = fc.record({
      from: fc.integer({ min: 0, max: 11 }),
      to: fc.integer({ min: -1, max: 11 }),
      siemens: fc.double({ min: 1e-3, max: 10, noNaN: true }),
    });
    fc.assert(
      fc.property(
        fc.array(edge, { minLength: 5, maxLength: 40 }),
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 12, maxLength: 12 }),
        (some, fed) => {
          // A weak tie from every node, so that none floats.
          const ties = fed.map((_, node) => ({ from: node, to: -1, siemens: 1e-2 }));
          const { drawn } = solve(12, [...some.filter((e) => e.from !== e.to), ...ties], fed);
          drawn.forEach((amps, node) => {
            expect(Math.abs(amps - (fed[node] ?? 0))).toBeLessThanOrEqual(1e-9);
          });
        },
      ),
      { seed: 21, numRuns: 300 },
    );
  });

  test('1 uohm beside 1 Gohm keeps its digits', () => {
    // 1 A into the far end of 1 uohm and 1 Gohm in a row: 1e9 + 1e-6 V, and the near end 1e9 V.
    const edges = [
      { from: 0, to: 1, siemens: 1e6 },
      { from: 1, to: -1, siemens: 1e-9 },
    ];
    const { volts } = solve(2, edges, [1, 0]);
    expect(volts[1]).toBeCloseTo(1e9, 5);
    expect(volts[0]).toBeCloseTo(1e9, 5);
  });

  test('a star of chains makes no fill', () => {
    // 100 chains of 3 on one hub: every elimination meets one neighbour at most, so no pair is ever joined.
    const from: number[] = [];
    const to: number[] = [];
    for (let chain = 0; chain < 100; chain++) {
      for (let k = 0; k < 3; k++) {
        from.push(1 + chain * 3 + k);
        to.push(k === 0 ? 0 : chain * 3 + k);
      }
    }
    const plan = planElimination(301, Int32Array.from(from), Int32Array.from(to));
    expect(plan.slots).toBe(300);
    expect(plan.pairs.length).toBeLessThanOrEqual(1);
  });

  test('a node that nothing holds reads 0', () => {
    expect(solve(2, [{ from: 0, to: -1, siemens: 1 }], [2, 0]).volts).toEqual([2, 0]);
  });
});
