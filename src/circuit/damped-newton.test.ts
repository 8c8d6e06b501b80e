import { describe, expect, test } from 'vitest';
import { THERMAL_VOLTAGE as VT } from '../parts/index.ts';
import { dampedNewton } from './damped-newton.ts';
import { diodeCurrent } from './diode-law.ts';
import { limitedNewton } from './newton.ts';
import { netlistOf } from './notation.ts';
import { randomNetwork } from './random-network.ts';
import { readNetlist } from './read-netlist.ts';
import { splitPieces } from './split-pieces.ts';
import { stiffGraph } from './stiff-graph.ts';
import type { Netlist } from './types.ts';

const CLOSE = { currentFloor: 1e-12, currentShare: 1e-9 };

function piecesOf(netlist: Netlist) {
  const read = readNetlist(netlist);
  return splitPieces(read, stiffGraph(read)).pieces.map(({ piece }) => piece);
}

describe('dampedNewton', () => {
  test('[CI9] settles every piece of 2,000 random networks and agrees with the limited method (seeds 0 to 1,999)', {
    timeout: 60_000,
  }, () => {
    let compared = 0;
    for (let seed = 0; seed < 2000; seed++) {
      for (const piece of piecesOf(randomNetwork(seed))) {
        const damped = dampedNewton(piece, CLOSE);
        const limited = limitedNewton(piece, CLOSE);
        expect([damped.converged, limited.converged], `seed ${seed}`).toEqual([true, true]);
        const { from, to, shift, is, nvt, rs } = piece.diodes;
        const amps = (x: Float64Array, d: number): number => {
          const volts = (x[from[d] ?? -1] ?? 0) - (x[to[d] ?? -1] ?? 0) + (shift[d] ?? 0);
          return diodeCurrent({ is: is[d] ?? 0, n: (nvt[d] ?? 0) / VT, rs: rs[d] ?? 0 }, volts);
        };
        const all = Array.from(from, (_, d) => [amps(damped.x, d), amps(limited.x, d)] as const);
        const most = Math.max(0, ...all.map(([p]) => Math.abs(p)));
        for (const [p, q] of all) {
          compared++;
          if (!(Math.abs(p - q) <= 1e-10 + 1e-7 * most)) throw new Error(`seed ${seed}: ${p} against ${q}`);
        }
      }
    }
    expect(compared).toBeGreaterThan(5000);
  });

  test('[CI13] gives its last iterate where the steps run out', () => {
    const [piece] = piecesOf(netlistOf('S1 p m 12V; R1 p x 7; D1 x m 1e-14,1,0', 'm'));
    if (piece === undefined) throw new RangeError('no piece');
    const point = dampedNewton(piece, { currentFloor: -1, currentShare: 0 });
    expect(point.converged).toBe(false);
    expect(point.x.every(Number.isFinite)).toBe(true);
  });
});
