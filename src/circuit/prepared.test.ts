/** The quick solver against the general one, network by network. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Edit, editNetlist } from './edits.ts';
import { netlistOf } from './notation.ts';
import { prepare } from './prepared.ts';
import { randomNetwork, stream } from './random-network.ts';
import { solveDc } from './solve-dc.ts';
import type { CircuitElement, Netlist, OperatingPoint } from './types.ts';

/** Greatest current anywhere: rounding is a share of it. */
function greatest(point: OperatingPoint): number {
  return Math.max(0, ...[...point.amps.values()].map((a) => Math.abs(a ?? 0)));
}

/** Throws where the two answers differ by more than the tolerances of the solver and the last digits of 72 V across 1 uohm. */
function same(label: string, quick: OperatingPoint, want: OperatingPoint, leastOhms: number): void {
  const room = 2e-11 + 1e-8 * greatest(want) + (4.4e-16 * 72) / leastOhms;
  expect([...quick.amps.keys()], label).toEqual([...want.amps.keys()]);
  for (const [id, amps] of want.amps) {
    const other = quick.amps.get(id) ?? null;
    if (amps === null || other === null) {
      if (amps !== other) throw new Error(`${label}: ${id} ${other} for ${amps}`);
    } else if (!(Math.abs(amps - other) <= room)) throw new Error(`${label}: ${id} ${other} A for ${amps} A`);
  }
  for (const [node, volts] of want.volts) {
    const other = quick.volts.get(node) ?? null;
    if (volts === null || other === null) {
      if (volts !== other) throw new Error(`${label}: ${node} ${other} for ${volts}`);
    } else if (!(Math.abs(volts - other) <= 1e-5)) throw new Error(`${label}: ${node} ${other} V for ${volts} V`);
  }
  expect(quick.floating, label).toEqual(want.floating);
  expect(
    quick.problems.map(({ code }) => code),
    label,
  ).toEqual(want.problems.map(({ code }) => code));
  if (!(quick.residual <= room)) throw new Error(`${label}: residual ${quick.residual} at ${quick.worst}`);
}

/** The network with every contact set by the bits of `mask`. */
function withContacts(netlist: Netlist, mask: number): Netlist {
  let k = 0;
  const elements = netlist.elements.map((e) =>
    e.kind === 'contact' ? { ...e, closed: ((mask >> k++) & 1) === 1 } : e,
  );
  return { ...netlist, elements };
}

describe('prepared networks', () => {
  test('[CI30] 10,000 random networks answer as the general solver does (seeds 0 to 9,999)', {
    timeout: 120_000,
  }, () => {
    for (let seed = 0; seed < 10_000; seed++) {
      const netlist = randomNetwork(seed);
      const quick = prepare(netlist);
      quick.solve();
      same(`seed ${seed}`, quick.point(), solveDc(netlist), 1e-6);
    }
  });

  test('[CI30] and with their contacts set otherwise (seeds 1 to 500)', () => {
    for (let seed = 1; seed <= 500; seed++) {
      const netlist = randomNetwork(seed, { wild: seed % 2 === 0 });
      const quick = prepare(netlist);
      const next = stream(seed);
      for (let turn = 0; turn < 4; turn++) {
        const mask = Math.floor(next() * 2 ** 20);
        quick.contacts.forEach((handle, k) => quick.setContact(handle, ((mask >> k) & 1) === 1));
        quick.solve();
        same(`seed ${seed} ${mask}`, quick.point(), solveDc(withContacts(netlist, mask)), 1e-6);
      }
    }
  });

  test('[CI30] [CI33] edits answer as the edited netlist does, and are taken back (seeds 1,000 to 1,399)', () => {
    for (let seed = 1000; seed < 1400; seed++) {
      const netlist = randomNetwork(seed, { wild: seed % 2 === 0 });
      const quick = prepare(netlist);
      const next = stream(seed);
      quick.solve();
      const before = quick.point();
      for (let turn = 0; turn < 8; turn++) {
        const edits = Array.from({ length: 1 + Math.floor(next() * 2) }, (_, k) => anyEdit(netlist, next, `join ${k}`));
        const fit = edits.filter((edit, k) => k === 0 || !alike(edit, edits[0] ?? edit));
        const want = solveDc(editNetlist(netlist, fit));
        quick.edit(fit);
        quick.solve();
        same(`seed ${seed} ${JSON.stringify(fit)}`, quick.point(), want, 1e-6);
      }
      quick.edit([]);
      quick.solve();
      expect(quick.point(), `seed ${seed}`).toEqual(before);
    }
  });

  test('[CI33] contacts and volts that are set outlive edits', () => {
    const quick = prepare(netlistOf('S1 p m 12V; C1 p x on; R1 x m 1k; R2 x m 1k', 'm'));
    const [source, contact, first] = [quick.handle('S1'), quick.handle('C1'), quick.handle('R1')];
    quick.edit([{ do: 'open', element: 'R2' }]);
    quick.setVolts(source, 6);
    quick.solve();
    expect(quick.amps(source)).toBeCloseTo(-0.006, 15);
    quick.edit([]);
    quick.solve();
    expect(quick.amps(source)).toBeCloseTo(-0.012, 15);
    quick.setContact(contact, false);
    quick.edit([{ do: 'contact', element: 'C1', closed: true }]);
    quick.solve();
    expect(quick.amps(first)).toBeCloseTo(0.006, 15);
    quick.edit([]);
    quick.solve();
    expect(quick.amps(first)).toBe(0);
    expect(quick.point().volts.get('p')).toBe(6);
    expect(() => quick.edit([{ do: 'open', element: 'R9' }])).toThrow(RangeError);
    expect(() => quick.handle('R9')).toThrow(RangeError);
  });

  test('[CI31] a chain of unlike lamps and resistors gives the volts inside it', () => {
    const lines =
      'S1 p m 12V; R1 p a 330; D1 a b 1.9e-18,2,5; R2 b c 100; D2 c d 7e-19,2,4; D3 d e 1.9e-18,2,5; R3 e m 10';
    const quick = prepare(netlistOf(lines, 'm'));
    quick.solve();
    same('chain', quick.point(), solveDc(netlistOf(lines, 'm')), 1);
    // Nothing unknown is left of it: no step of Newton on a network.
    expect(quick.steps).toBe(0);
    const { volts } = solveDc(netlistOf(lines, 'm'));
    expect(quick.across('c', 'd')).toBeCloseTo((volts.get('c') ?? 0) - (volts.get('d') ?? 0), 9);
  });

  test('[CI32] what the quick way does not cover is named, not guessed', () => {
    const codes = (lines: string) => {
      const quick = prepare(netlistOf(lines, 'm'));
      quick.solve();
      const point = quick.point();
      for (const value of [...point.volts.values(), ...point.amps.values(), point.residual])
        expect(value === null || Number.isFinite(value)).toBe(true);
      return point.problems.map(({ code }) => code);
    };
    expect(codes('S1 p m 12V; C1 p m on; R1 p m 1k')).toEqual(['source-shorted']);
    expect(codes('S1 p m 12V; S2 p m 9V; R1 p m 1k')).toEqual(['sources-disagree']);
    expect(codes('S1 p m 12V/0.1; S2 p m 9V/0.1; R1 p m 1k')).toEqual([]);
    expect(codes('S1 a b 1V; S2 b c 2V; S3 c a 3V; R1 a c 5')).toEqual(['sources-disagree']);
    expect(codes('R1 p m 1k; D1 p m 1e-18,2,5')).toEqual([]);
    expect(codes('S1 p m 12V; R1 p m -5; R2 p m 1e30')).toEqual(['value-bad', 'value-bad']);
    expect(codes('S1 p m 0V; W1 p m')).toEqual([]);
  });

  test('[CI14] 10,000 elements on one node, in a row and in a ring answer', { timeout: 60_000 }, () => {
    const many = 10_000;
    const star = Array.from({ length: many }, (_, k) =>
      k % 2 ? `R${k} p m ${k}` : `D${k} p n${k} 1e-18,2,5; R${k} n${k} m 1k`,
    );
    const row = Array.from({ length: many }, (_, k) => `R${k} n${k} n${k + 1} 1`);
    for (const lines of [
      `S1 p m 12V/1; ${star.join(';')}`,
      `S1 n0 m 12V; ${row.join(';')}; Rend n${many} m 1`,
      `S1 n0 n5000 12V; ${row.join(';')}; W1 n${many} n0`,
    ]) {
      const quick = prepare(netlistOf(lines, 'm'));
      quick.solve();
      const point = quick.point();
      expect(point.problems).toEqual([]);
      expect(point.residual).toBeLessThan(1e-8);
    }
  });

  test('[CI14] values from the edge of the numbers are named or answered as the general solver does (seed 61)', () => {
    const edge = fc.oneof(
      fc.double(),
      fc.constantFrom(0, 1e-300, 1e-9, 1e18, 1e300, -1, Number.NaN, Infinity),
      fc.double({ min: 0, max: 100 }),
    );
    const element: fc.Arbitrary<CircuitElement> = fc
      .tuple(fc.constantFrom('R', 'C', 'S', 'D'), fc.nat(4), fc.nat(4), edge, edge, edge)
      .map(([kind, a, b, x, y, z]): CircuitElement => {
        const ends = { id: `${kind}${x}`, a: `N${a}`, b: `N${b}` };
        if (kind === 'R') return { ...ends, kind: 'resistor', ohms: x };
        if (kind === 'C') return { ...ends, kind: 'contact', closed: y > 0, ohms: x };
        if (kind === 'S') return { ...ends, kind: 'source', volts: x, ohms: y };
        return { ...ends, kind: 'diode', law: { is: x, n: y, rs: z } };
      });
    fc.assert(
      fc.property(fc.array(element, { maxLength: 12 }), (elements) => {
        const quick = prepare({ elements, reference: 'N0' });
        quick.solve();
        const point = quick.point();
        for (const value of [...point.volts.values(), ...point.amps.values(), point.residual])
          expect(value === null || Number.isFinite(value)).toBe(true);
        const want = solveDc({ elements, reference: 'N0' });
        expect(point.problems.map(({ code }) => code)).toEqual(want.problems.map(({ code }) => code));
      }),
      { seed: 61, numRuns: 1000 },
    );
  });

  test('superposition and reciprocity, without diodes (seed 62)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2 ** 31 - 1 }), (seed) => {
        const netlist = randomNetwork(seed, { wild: false, diodes: false });
        const quick = prepare(netlist);
        const sources = netlist.elements.flatMap((e) =>
          e.kind === 'source' ? [{ handle: quick.handle(e.id), volts: e.volts }] : [],
        );
        const all = netlist.elements.map(({ id }) => quick.handle(id));
        quick.solve();
        const want = all.map((handle) => quick.amps(handle));
        const most = Math.max(...want.map(Math.abs), 0);
        const alone = sources.map(({ handle, volts }) => {
          for (const other of sources) quick.setVolts(other.handle, other.handle === handle ? volts : 0);
          quick.solve();
          return all.map((each) => quick.amps(each));
        });
        all.forEach((_, k) => {
          const sum = alone.reduce((total, amps) => total + (amps[k] ?? 0), 0);
          expect(Math.abs(sum - (want[k] ?? 0))).toBeLessThanOrEqual(1e-12 + 1e-9 * most);
        });
        // What a volt in one place drives in another, it drives from there to here.
        const [p, q] = sources;
        if (p === undefined || q === undefined) return;
        const drive = (from: typeof p, to: typeof p): number => {
          for (const other of sources) quick.setVolts(other.handle, other === from ? 1 : 0);
          quick.solve();
          return quick.amps(to.handle);
        };
        expect(Math.abs(drive(p, q) - drive(q, p))).toBeLessThanOrEqual(1e-12 + 1e-9 * most);
      }),
      { seed: 62, numRuns: 300 },
    );
  });

  test('[CI33] the same calls give the same bytes, whatever was solved before', () => {
    const netlist = randomNetwork(7);
    const [fresh, used] = [prepare(netlist), prepare(netlist)];
    for (let turn = 0; turn < 5; turn++) {
      used.contacts.forEach((handle) => used.setContact(handle, turn % 2 === 0));
      used.solve({ warm: true });
    }
    for (const each of [fresh, used]) {
      each.contacts.forEach((handle) => each.setContact(handle, true));
      each.solve();
    }
    expect(used.point()).toEqual(fresh.point());
  });

  test('[CI38] the self-check passes every answer and takes nothing from it (seeds 0 to 999)', () => {
    for (let seed = 0; seed < 1000; seed++) {
      const [plain, checked] = [prepare(randomNetwork(seed)), prepare(randomNetwork(seed), { selfCheck: true })];
      plain.solve();
      checked.solve();
      expect(checked.checksFailed, `seed ${seed}`).toBe(0);
      expect(checked.point()).toEqual(plain.point());
    }
  });
});

/** Do two edits concern the same element? */
function alike(p: Edit, q: Edit): boolean {
  return 'element' in p && 'element' in q && p.element === q.element;
}

function anyEdit(netlist: Netlist, next: () => number, join: string): Edit {
  const pick = <T>(list: readonly T[]): T => {
    const one = list[Math.floor(next() * list.length)];
    if (one === undefined) throw new RangeError('nothing to pick from');
    return one;
  };
  const nodes = [...new Set(netlist.elements.flatMap(({ a, b }) => [a, b]))];
  const element = pick(netlist.elements);
  const id = element.id;
  const edits: Edit[] = [
    { do: 'open', element: id },
    { do: 'short', element: id },
    { do: 'turn', element: id },
    { do: 'move', element: id, end: next() < 0.5 ? 'a' : 'b', to: pick(nodes) },
    { do: 'join', id: join, a: pick(nodes), b: pick(nodes), ohms: pick([0, 0, 100]) },
  ];
  if (element.kind === 'contact') edits.push({ do: 'contact', element: id, closed: !element.closed });
  if (element.kind === 'source') edits.push({ do: 'volts', element: id, volts: element.volts * 1.4 });
  if (element.kind !== 'open') edits.push({ do: 'ohms', element: id, ohms: pick([0.1, 100, 47_000]) });
  if (element.kind === 'diode')
    edits.push({ do: 'law', element: id, law: { ...element.law, is: element.law.is * pick([0.1, 10]) } });
  return pick(edits);
}
