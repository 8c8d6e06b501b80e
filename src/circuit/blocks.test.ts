/** Blocks against the whole network solved at once. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { leverPanel } from '../../tests/generate/bench-circuits.ts';
import { prepareBlocks } from './blocks.ts';
import { type Edit, editNetlist } from './edits.ts';
import { randomNetwork } from './random-network.ts';
import { solveDc } from './solve-dc.ts';
import { splitBlocks } from './split-blocks.ts';
import type { Netlist } from './types.ts';

/** Contacts of every lever set by its digit: normal, reverse or neither. */
function closedBy(count: number, digits: readonly number[]): ReadonlySet<string> {
  const closed = new Set<string>();
  for (let k = 0; k < count; k++) {
    if (digits[k] === 0) closed.add(`CL${k}_1`).add(`CL${k}_2`);
    if (digits[k] === 1) closed.add(`CL${k}_3`).add(`CL${k}_4`);
  }
  return closed;
}

function withContacts(netlist: Netlist, closed: ReadonlySet<string>): Netlist {
  const elements = netlist.elements.map((e) => (e.kind === 'contact' ? { ...e, closed: closed.has(e.id) } : e));
  return { ...netlist, elements };
}

const LEVERS = 16;

describe('blocks', () => {
  test.each(['nothing', 'wire', 'run'] as const)(
    '[CI34] the levers of a panel that shares %s are its blocks',
    (shared) => {
      const netlist = leverPanel(LEVERS, shared);
      const blocks = splitBlocks(netlist);
      const names = netlist.elements.map(({ id }) => /L(\d+)/.exec(id)?.[1] ?? id);
      const seen = new Map<number, string>();
      netlist.elements.forEach(({ id }, m) => {
        const block = blocks[m] ?? -1;
        // Links: the supply and the wires of the return.
        if (block < 0) expect(id).toMatch(/^(S1|W0|WB\d+)$/);
        else expect(seen.get(block) ?? names[m]).toBe(names[m]);
        seen.set(block, names[m] ?? '');
      });
      expect(seen.size).toBe(LEVERS + 1);
    },
  );

  test.each(['nothing', 'wire', 'run'] as const)(
    '[CI35] every setting answers as the whole does, sharing %s (seed 51)',
    (shared) => {
      const netlist = leverPanel(LEVERS, shared);
      const blocks = prepareBlocks(netlist);
      fc.assert(
        fc.property(fc.array(fc.integer({ min: 0, max: 2 }), { minLength: LEVERS, maxLength: LEVERS }), (digits) => {
          const closed = closedBy(LEVERS, digits);
          for (const e of netlist.elements) if (e.kind === 'contact') blocks.setContact(e.id, closed.has(e.id));
          const want = solveDc(withContacts(netlist, closed));
          for (const warm of [false, true]) {
            blocks.solve({ warm });
            expect(blocks.found).toBe('whole');
            for (const [id, amps] of want.amps)
              if (!/^(S1|W0|WB\d+)$/.test(id))
                expect(Math.abs((blocks.amps(id) ?? Number.NaN) - (amps ?? Number.NaN)), id).toBeLessThan(1e-11);
          }
        }),
        { seed: 51, numRuns: 40 },
      );
    },
  );

  test.each(['wire', 'run'] as const)('[CI36] faults of one lever, sharing %s: tangent and whole agree', (shared) => {
    const netlist = leverPanel(LEVERS, shared);
    const blocks = prepareBlocks(netlist);
    const closed = closedBy(LEVERS, [0, 1, 1, 0, 2, 1, 0, 0, 1, 1, 0, 2, 1, 0, 1, 0]);
    for (const e of netlist.elements) if (e.kind === 'contact') blocks.setContact(e.id, closed.has(e.id));
    const set = withContacts(netlist, closed);
    let tangents = 0;
    for (const e of netlist.elements) {
      if (!/L(3|5|15)\D/.test(e.id)) continue;
      const edits: Edit[] = [{ do: 'open', element: e.id }];
      if (e.kind === 'resistor') edits.push({ do: 'ohms', element: e.id, ohms: e.ohms / 10 });
      if (e.kind !== 'contact') edits.push({ do: 'short', element: e.id }, { do: 'turn', element: e.id });
      else edits.push({ do: 'contact', element: e.id, closed: true });
      for (const edit of edits) {
        const want = solveDc(editNetlist(set, [edit]));
        blocks.edit([edit]);
        blocks.solve();
        const own = /L\d+/.exec(e.id)?.[0] ?? '';
        const room = blocks.found === 'tangent' ? 2e-7 : 1e-10;
        if (blocks.found === 'tangent') tangents++;
        for (const [id, amps] of want.amps) {
          const name = /L\d+/.exec(id)?.[0] ?? '';
          if (name !== own || amps === null) continue;
          expect(Math.abs((blocks.amps(id) ?? Number.NaN) - amps), `${JSON.stringify(edit)} ${id}`).toBeLessThan(room);
        }
        blocks.solve({ whole: true });
        for (const [id, amps] of want.amps) {
          if (/^(S1|W0|WB\d+)$/.test(id) || amps === null) continue;
          expect(Math.abs((blocks.amps(id) ?? Number.NaN) - amps), `${JSON.stringify(edit)} ${id}`).toBeLessThan(1e-9);
        }
      }
    }
    expect(tangents).toBeGreaterThan(60);
    blocks.edit([]);
    blocks.solve();
    const want = solveDc(set);
    expect(Math.abs((blocks.amps('RL3m') ?? 0) - (want.amps.get('RL3m') ?? 1))).toBeLessThan(1e-12);
  });

  test('[CI35] any cut of any network answers as the whole does (seeds 60,000 to 60,999)', () => {
    let whole = 0;
    for (let seed = 60_000; seed < 61_000; seed++) {
      const netlist = randomNetwork(seed, { wild: false });
      // Links may be anything but diodes and contacts; the rest falls into three blocks by turns.
      const blockOf = netlist.elements.map((e, m) =>
        e.kind === 'source' || (e.kind === 'wire' && m % 2 === 0) ? -1 : m % 3,
      );
      const blocks = prepareBlocks(netlist, { blockOf });
      blocks.solve();
      const want = solveDc(netlist);
      const most = Math.max(0, ...[...want.amps.values()].map((a) => Math.abs(a ?? 0)));
      if (blocks.found === 'whole') whole++;
      netlist.elements.forEach((e, m) => {
        const amps = want.amps.get(e.id) ?? null;
        const other = blocks.amps(e.id);
        if (amps === null || other === null || (blockOf[m] ?? -1) < 0) return;
        if (!(Math.abs(amps - other) <= 2e-11 + 1e-8 * most + 2e-12))
          throw new Error(`seed ${seed}: ${e.id} ${other} A for ${amps} A`);
      });
    }
    expect(whole).toBeGreaterThan(300);
  });
});
