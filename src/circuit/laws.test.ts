/** Laws that hold for every network, on seeded random ones. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { diodeCurrent } from './diode-law.ts';
import { netlistOf } from './notation.ts';
import { randomNetwork, stream } from './random-network.ts';
import { solveDc } from './solve-dc.ts';
import type { CircuitElement, Netlist, OperatingPoint } from './types.ts';

const anySeed = fc.integer({ min: 0, max: 2 ** 31 - 1 });

/** Greatest current anywhere: rounding is a share of it. */
function greatest(point: OperatingPoint): number {
  return Math.max(0, ...[...point.amps.values()].map((a) => Math.abs(a ?? 0)));
}

/**
 * Current below which nothing is claimed: CI1 and CI9, and the last digit of 72 V (three sources of 24 V) across 1 uohm,
 * the least resistance of the wild networks.
 */
function room(point: OperatingPoint, leastOhms = 0.02): number {
  return 1e-11 + 1e-8 * greatest(point) + (4.4e-16 * 72) / leastOhms;
}

describe('random networks', () => {
  test('[CI1] [CI14] 10,000 networks of every kind settle, finite, with currents that sum to nothing (seeds 0 to 9,999)', {
    timeout: 60_000,
  }, () => {
    for (let seed = 0; seed < 10_000; seed++) {
      const netlist = randomNetwork(seed);
      const point = solveDc(netlist);
      const label = `seed ${seed}`;
      expect(
        point.problems.filter((p) => p.code === 'no-convergence'),
        label,
      ).toEqual([]);
      // Stated currents, summed at every node that no undecided element touches.
      const sum = new Map<string, number>();
      const undecided = new Set<string>();
      for (const e of netlist.elements) {
        const amps = point.amps.get(e.id);
        if (amps === null || amps === undefined) {
          undecided.add(e.a).add(e.b);
          continue;
        }
        if (!Number.isFinite(amps)) throw new Error(`${label}: ${e.id} carries ${amps}`);
        sum.set(e.a, (sum.get(e.a) ?? 0) + amps);
        sum.set(e.b, (sum.get(e.b) ?? 0) - amps);
      }
      for (const [node, amps] of sum) {
        if (!undecided.has(node) && Math.abs(amps) > room(point, 1e-6))
          throw new Error(`${label}: ${node} sums to ${amps}`);
      }
      for (const [node, volts] of point.volts) {
        if (volts !== null && !Number.isFinite(volts)) throw new Error(`${label}: ${node} is at ${volts}`);
      }
      expect(point.residual, label).toBeLessThanOrEqual(room(point, 1e-6));
    }
  });

  test('[CI8] every stated current obeys its law at the stated volts (seed 31)', () => {
    fc.assert(
      fc.property(anySeed, (seed) => {
        const netlist = randomNetwork(seed, { wild: false });
        const point = solveDc(netlist);
        for (const e of netlist.elements) {
          const a = point.volts.get(e.a) ?? null;
          const b = point.volts.get(e.b) ?? null;
          if (
            a === null ||
            b === null ||
            e.kind === 'open' ||
            e.kind === 'capacitor' ||
            (e.kind === 'contact' && !e.closed)
          )
            continue;
          const want =
            e.kind === 'diode' ? diodeCurrent(e.law, a - b) : (a - b - (e.kind === 'source' ? e.volts : 0)) / e.ohms;
          expect(Math.abs((point.amps.get(e.id) ?? 0) - want)).toBeLessThanOrEqual(1e-11 + 1e-9 * Math.abs(want));
        }
      }),
      { seed: 31, numRuns: 500 },
    );
  });

  test('power in is power out, and no resistor or diode gives any (seed 32)', () => {
    fc.assert(
      fc.property(anySeed, (seed) => {
        const netlist = randomNetwork(seed, { wild: false });
        const point = solveDc(netlist);
        let balance = 0;
        let most = 0;
        for (const e of netlist.elements) {
          const across = (point.volts.get(e.a) ?? 0) - (point.volts.get(e.b) ?? 0);
          const watts = across * (point.amps.get(e.id) ?? 0);
          if (point.volts.get(e.a) === null || point.volts.get(e.b) === null) continue;
          if (e.kind !== 'source') expect(watts).toBeGreaterThanOrEqual(-1e-12);
          balance += watts;
          most = Math.max(most, Math.abs(watts));
        }
        // A dark part left out by CI7 carries less than 1e-7 S times 60 V.
        expect(Math.abs(balance)).toBeLessThanOrEqual(1e-6 + 1e-8 * most);
      }),
      { seed: 32, numRuns: 500 },
    );
  });

  test('[CI15] order of elements and names of nodes change no current (seed 33)', () => {
    fc.assert(
      fc.property(anySeed, (seed) => {
        const netlist = randomNetwork(seed, { wild: false });
        const next = stream(seed + 1);
        const shuffled = netlist.elements
          .map((e) => ({
            e: { ...e, a: `z${e.a}`.split('').reverse().join(''), b: `z${e.b}`.split('').reverse().join('') },
            at: next(),
          }))
          .sort((p, q) => p.at - q.at)
          .map(({ e }) => e);
        const one = solveDc(netlist);
        const two = solveDc({ elements: shuffled, reference: null });
        for (const [id, amps] of one.amps) {
          const other = two.amps.get(id) ?? null;
          if (amps === null || other === null) expect(other).toBe(amps);
          else expect(Math.abs(amps - other)).toBeLessThanOrEqual(1e-11 + 1e-8 * greatest(one));
        }
        expect(two.floating.length).toBe(one.floating.length);
      }),
      { seed: 33, numRuns: 500 },
    );
  });

  test('turning an element round turns its current round (seed 34)', () => {
    fc.assert(
      fc.property(anySeed, (seed) => {
        const netlist = randomNetwork(seed, { wild: false });
        const turn = (e: CircuitElement): CircuitElement => {
          if (e.kind === 'diode') return e;
          return e.kind === 'source' ? { ...e, a: e.b, b: e.a, volts: -e.volts } : { ...e, a: e.b, b: e.a };
        };
        const one = solveDc(netlist);
        const two = solveDc({ ...netlist, elements: netlist.elements.map(turn) });
        for (const e of netlist.elements) {
          const sign = e.kind === 'diode' ? 1 : -1;
          expect(Math.abs((one.amps.get(e.id) ?? 0) - sign * (two.amps.get(e.id) ?? 0))).toBeLessThanOrEqual(room(one));
        }
      }),
      { seed: 34, numRuns: 300 },
    );
  });

  test('superposition: without diodes the sources add up (seed 35)', () => {
    let several = 0;
    fc.assert(
      fc.property(anySeed, (seed) => {
        const netlist = randomNetwork(seed, { wild: false, diodes: false });
        const sources = netlist.elements.filter((e) => e.kind === 'source');
        if (sources.length > 1) several++;
        const alone = sources.map((s) => solveDc(only(netlist, s.id)));
        const all = solveDc(netlist);
        for (const [id, amps] of all.amps) {
          const sum = alone.reduce((total, point) => total + (point.amps.get(id) ?? 0), 0);
          expect(Math.abs((amps ?? 0) - sum)).toBeLessThanOrEqual(1e-12 + 1e-9 * greatest(all));
        }
      }),
      { seed: 35, numRuns: 500 },
    );
    expect(several).toBeGreaterThan(100);
  });

  test('monotone: one source raised delivers no less (seed 36)', () => {
    fc.assert(
      fc.property(anySeed, fc.double({ min: 1, max: 2, noNaN: true }), (seed, factor) => {
        const netlist = randomNetwork(seed, { wild: false });
        const source = netlist.elements.find((e) => e.kind === 'source');
        if (source === undefined) return;
        const low = solveDc(only(netlist, source.id));
        const high = solveDc(only(netlist, source.id, factor));
        expect(high.amps.get(source.id) ?? 0).toBeLessThanOrEqual((low.amps.get(source.id) ?? 0) + room(high));
      }),
      { seed: 36, numRuns: 500 },
    );
  });

  test('[CI14] values from the edge of the numbers are named or answered, never NaN (seed 37)', () => {
    const edge = fc.oneof(
      fc.double(),
      fc.constantFrom(0, -0, 1e-300, 1e-9, 1e18, 1e300, -1, Number.NaN, Infinity, -Infinity),
      fc.double({ min: 0, max: 100 }),
    );
    const element: fc.Arbitrary<CircuitElement> = fc
      .tuple(
        fc.constantFrom('R', 'W', 'C', 'S', 'D', 'O'),
        fc.integer({ min: 0, max: 4 }),
        fc.integer({ min: 0, max: 4 }),
        edge,
        edge,
        edge,
      )
      .map(([kind, a, b, x, y, z]): CircuitElement => {
        const ends = { id: `${kind}${x}`, a: `N${a}`, b: `N${b}` };
        if (kind === 'R') return { ...ends, kind: 'resistor', ohms: x };
        if (kind === 'W') return { ...ends, kind: 'wire', ohms: x };
        if (kind === 'C') return { ...ends, kind: 'contact', closed: y > 0, ohms: x };
        if (kind === 'S') return { ...ends, kind: 'source', volts: x, ohms: y };
        if (kind === 'D') return { ...ends, kind: 'diode', law: { is: x, n: y, rs: z } };
        return { ...ends, kind: 'open' };
      });
    fc.assert(
      fc.property(fc.array(element, { maxLength: 14 }), (elements) => {
        const point = solveDc({ elements, reference: 'N0' });
        for (const value of [...point.volts.values(), ...point.amps.values(), point.residual]) {
          expect(value === null || Number.isFinite(value)).toBe(true);
        }
      }),
      { seed: 37, numRuns: 2000 },
    );
  });

  test('[CI3] many contacts: exactly the closed way carries (seed 38)', () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 1, maxLength: 12 }), (closed) => {
        const lines = closed.map((on, k) => `C${k} n${k} n${k + 1} ${on ? 'on' : 'off'}`).join(';');
        const point = solveDc(netlistOf(`S1 n0 m 12V; ${lines}; R1 n${closed.length} m 1k`, 'm'));
        const want = closed.every(Boolean) ? 0.012 : 0;
        for (let k = 0; k < closed.length; k++) expect(point.amps.get(`C${k}`)).toBeCloseTo(want, 15);
      }),
      { seed: 38, numRuns: 200 },
    );
  });
});

/** The network with every source at 0 V but one, that one times `factor`. */
function only(netlist: Netlist, id: string, factor = 1): Netlist {
  const elements = netlist.elements.map((e) =>
    e.kind === 'source' ? { ...e, volts: e.id === id ? e.volts * factor : 0 } : e,
  );
  return { ...netlist, elements };
}
