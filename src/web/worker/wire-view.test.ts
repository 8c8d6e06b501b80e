import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { generatePanel } from '../../../tests/generate/panels.ts';
import { derive } from '../../derive.ts';
import { readPanel } from '../../panel/index.ts';
import { faultsOf } from '../../wiring/index.ts';
import { makeWireView } from './wire-view.ts';

const SEED = 2203;

describe('the view of a circuit', () => {
  test('is plain data that can be cloned, for every circuit of a panel of 20 points', () => {
    const derived = derive(generatePanel(SEED, 20));
    for (const { id } of derived.wiring.circuits) {
      const view = makeWireView(derived, { circuit: id, levers: {}, fault: null, history: {} });
      expect(structuredClone(view)).toEqual(view);
      expect(view.shown?.circuit).toBe(id);
    }
  });

  test('has every fault of a circuit at something that is drawn, on the whole of Quillhaven Harbour', () => {
    const read = readPanel(readFileSync('examples/quillhaven-harbour.mimic.json', 'utf8'));
    if (!read.ok) throw new Error('the example cannot be read');
    const derived = derive(read.panel);
    const ask = { levers: {}, history: {} };
    for (const { id } of derived.wiring.circuits) {
      const { shown } = makeWireView(derived, { ...ask, circuit: id, fault: null });
      const drawn = new Set([
        ...(shown?.model.symbols ?? []).map((symbol) => symbol.id),
        ...(shown?.model.lines ?? []).flatMap(({ wire, shares }) => [wire, ...shares]),
      ]);
      const faults = shown?.faults ?? [];
      expect([id, faults.length]).not.toEqual([id, 0]);
      expect([id, faults.filter(({ at }) => !at.some((each) => drawn.has(each)))]).toEqual([id, []]);
    }
    // W18 goes on from lever L2 to L3: in L4 it is part of what comes from the fuse, and of nothing else.
    const { shown } = makeWireView(derived, { ...ask, circuit: 'L4', fault: 'dry:W18' });
    const marked = shown?.model.lines.filter(({ wire, shares }) => [wire, ...shares].includes('W18')) ?? [];
    expect(new Set(marked.map(({ net }) => net))).toEqual(new Set(['FU-S1.2']));
    expect(shown?.fault?.at).toEqual(['W18']);
  });

  test(`has the lamps of the whole panel at 100 points, lever after lever thrown and broken, seed ${SEED}`, () => {
    const derived = derive(generatePanel(SEED, 100));
    const circuits = derived.wiring.circuits.filter(({ positions }) => positions.length > 0);
    const faults = faultsOf(derived.wiring);
    let told = 0;
    for (const [i, { id }] of circuits.entries()) {
      const levers = Object.fromEntries(circuits.slice(0, i + 1).map((each) => [each.id, 'reverse'] as const));
      const own = faults.filter((fault) => fault.circuits.includes(id));
      const fault = own[(i * 7) % own.length];
      if (fault === undefined) continue;
      const { shown } = makeWireView(derived, { circuit: id, levers, fault: fault.code, history: {} });
      const whole = new Map(derived.operate(levers, [fault]).lamps.map((lamp) => [lamp.id, lamp]));
      for (const { id: lamp, look } of shown?.figures.lamps ?? []) {
        expect([id, fault.code, lamp, look]).toEqual([id, fault.code, lamp, whole.get(lamp)?.look]);
        told++;
      }
    }
    expect(told).toBeGreaterThan(100);
  });
});
