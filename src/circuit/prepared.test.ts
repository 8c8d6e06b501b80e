/** The quick solver against the general one, network by network. */
import { describe, expect, test } from 'vitest';
import { prepare } from './prepared.ts';
import { randomNetwork, stream } from './random-network.ts';
import { solveDc } from './solve-dc.ts';
import type { Netlist, OperatingPoint } from './types.ts';

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
});
