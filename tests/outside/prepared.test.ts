/**
 * Networks made ready against ngspice at tight tolerance and at its defaults, and against a dense solver of another make.
 */
import { describe, expect, test } from 'vitest';
import {
  type CircuitElement,
  type Netlist,
  prepare,
  prepareBlocks,
  randomNetwork,
  spiceText,
} from '../../src/circuit/index.ts';
import { benchCircuits, leverPanel } from '../generate/bench-circuits.ts';
import { denseCurrents } from '../oracle/dense-solver.ts';
import { runSpice } from './ngspice.ts';

/** Every branch gets a probe of its own id. */
function probeAll(netlist: Netlist): Netlist {
  const probe = (e: CircuitElement): CircuitElement =>
    e.kind === 'diode' || e.kind === 'resistor' || e.kind === 'source' ? { ...e, probe: { name: e.id, sign: 1 } } : e;
  return { ...netlist, elements: netlist.elements.map(probe) };
}

/** Tolerances at which ngspice settles to some nine digits. */
const TIGHT = '.options reltol=1e-7 abstol=1e-13 vntol=1e-9 gmin=1e-15';

function tight(text: string): string {
  return text.replace(/^\.op$/m, `${TIGHT}\n.op`);
}

describe('ngspice', () => {
  test.each(benchCircuits().map((circuit) => [circuit.name, circuit] as const))(
    '[CI30] circuit (%s), every state: driven currents within 1e-6 at tight tolerance, 1e-3 at its defaults',
    (_, { netlist, states }) => {
      const quick = prepare(probeAll(netlist));
      let compared = 0;
      for (const closed of states) {
        for (const e of netlist.elements)
          if (e.kind === 'contact') quick.setContact(quick.handle(e.id), closed.includes(e.id));
        quick.solve();
        const now = quick.netlistNow();
        const text = spiceText(now, { title: closed.join(' ') });
        for (const [run, share] of [
          [tight(text), 1e-6],
          [text, 1e-3],
        ] as const) {
          const found = runSpice(run);
          for (const e of now.elements) {
            if (e.probe === undefined) continue;
            const mine = quick.amps(quick.handle(e.id));
            // Driven: a microamp or more; less is leakage, which a solver of another make keeps otherwise.
            if (Math.abs(mine) < 1e-6) continue;
            const other = found.get(`v_${e.id.toLowerCase()}`) ?? Number.NaN;
            expect(
              Math.abs(mine - other),
              `${closed.join(' ')} ${e.id}: ${mine}, ngspice ${other}`,
            ).toBeLessThanOrEqual(share * Math.abs(other));
            compared++;
          }
        }
      }
      expect(compared).toBeGreaterThan(10);
    },
  );

  test.each(['wire', 'run'] as const)('[CI35] 16 levers that share a %s: within 1e-6 at tight tolerance', (shared) => {
    const netlist = leverPanel(16, shared);
    const closed = (id: string) => {
      const [, lever, contact] = /^CL(\d+)_(\d)$/.exec(id) ?? [];
      return Number(contact) > 2 === (Number(lever) % 3 === 0);
    };
    const set = {
      ...netlist,
      elements: netlist.elements.map((e) => (e.kind === 'contact' ? { ...e, closed: closed(e.id) } : e)),
    };
    const blocks = prepareBlocks(set);
    blocks.solve();
    expect(blocks.found).toBe('whole');
    const found = runSpice(tight(spiceText(probeAll(set), { title: shared })));
    let compared = 0;
    for (const e of set.elements) {
      if (e.kind !== 'diode' && e.kind !== 'resistor') continue;
      const mine = blocks.amps(e.id) ?? Number.NaN;
      if (Math.abs(mine) < 1e-6) continue;
      const other = found.get(`v_${e.id.toLowerCase()}`) ?? Number.NaN;
      expect(Math.abs(mine - other), `${e.id}: ${mine}, ngspice ${other}`).toBeLessThanOrEqual(1e-6 * Math.abs(other));
      compared++;
    }
    expect(compared).toBeGreaterThan(90);
  });
});

describe('a second solver of another make', () => {
  test('[CI30] currents agree with the dense solver to 1e-6 and 1 nA (seeds 22,000 to 22,999)', () => {
    let compared = 0;
    for (let seed = 22_000; seed < 23_000; seed++) {
      const netlist = randomNetwork(seed, { wild: false });
      const want = denseCurrents(netlist);
      if (want === null) throw new Error(`seed ${seed}: the dense solver gave up`);
      const quick = prepare(netlist);
      quick.solve();
      for (const { id } of netlist.elements) {
        const amps = quick.amps(quick.handle(id));
        if (Number.isNaN(amps)) continue;
        compared++;
        const other = want.get(id) ?? Number.NaN;
        if (!(Math.abs(amps - other) <= 1e-9 + 1e-6 * Math.abs(other)))
          throw new Error(`seed ${seed}: ${id} ${amps}, dense ${other}`);
      }
    }
    expect(compared).toBeGreaterThan(10_000);
  });
});
