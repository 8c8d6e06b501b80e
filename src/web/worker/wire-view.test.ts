import { readFileSync } from 'node:fs';
import { performance } from 'node:perf_hooks';
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

  // The promise is 50 ms at p95, a lever thrown or a fault chosen, at 100 points. A busy machine is given twice that.
  test(`follows a lever or a fault at 100 points, seed ${SEED}`, () => {
    const derived = derive(generatePanel(SEED, 100));
    const circuits = derived.wiring.circuits.filter(({ positions }) => positions.length > 0);
    const faults = faultsOf(derived.wiring);
    for (const { id } of circuits) makeWireView(derived, { circuit: id, levers: {}, fault: null, history: {} });
    const times: number[] = [];
    const time = (ask: Parameters<typeof makeWireView>[1]): void => {
      const from = performance.now();
      makeWireView(derived, ask);
      times.push(performance.now() - from);
    };
    for (const [i, { id }] of circuits.entries()) {
      const levers = Object.fromEntries(circuits.slice(0, i + 1).map((each) => [each.id, 'reverse'] as const));
      time({ circuit: id, levers, fault: null, history: {} });
      const own = faults.filter((fault) => fault.circuits.includes(id));
      const fault = own[(i * 7) % own.length];
      if (fault !== undefined) time({ circuit: id, levers, fault: fault.code, history: {} });
    }
    const sorted = [...times].sort((a, b) => a - b);
    const p95 = sorted[Math.ceil(sorted.length * 0.95) - 1] ?? Number.NaN;
    console.log(
      `wire at 100 points: p50 ${sorted[Math.floor(sorted.length / 2)]?.toFixed(1)} ms, p95 ${p95.toFixed(1)} ms, of ${sorted.length}`,
    );
    expect(times.length).toBeGreaterThan(100);
    expect(p95).toBeLessThan(100);
  });
});
