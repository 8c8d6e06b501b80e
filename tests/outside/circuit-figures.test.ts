/** Volts at every terminal and amps of every lamp and drive that the stage Wire shows, beside ngspice on the text that the product writes. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { circuitFigures } from '../../src/book/index.ts';
import { spiceText } from '../../src/circuit/index.ts';
import { type Combination, combine } from '../../src/cli/combine.ts';
import { type Derived, derive } from '../../src/derive.ts';
import { readPanel } from '../../src/panel/index.ts';
import { runSpiceFull } from './ngspice.ts';

/** ngspice's own default tolerance is a thousandth of what is read, and a microvolt (RELTOL, VNTOL of its manual). */
const SHARE = 0.002;
const LEAST_VOLTS = 0.002;
const LEAST_AMPS = 2e-6;

function example(name: string): Derived {
  const read = readPanel(readFileSync(new URL(`../../examples/${name}.mimic.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(`${name} cannot be read`);
  return derive(read.panel);
}

function compare(derived: Derived): { readonly compared: number; readonly apart: readonly string[] } {
  const apart: string[] = [];
  let compared = 0;
  for (const circuit of derived.wiring.circuits)
    for (const position of circuit.positions) {
      const levers = { [circuit.id]: position };
      const figures = circuitFigures(derived, circuit, { levers, fault: null, history: {} });
      const netlist = derived.netlist(levers, { circuits: new Set([circuit.id]) });
      const spice = runSpiceFull(spiceText(netlist, { title: circuit.id }));
      const check = (what: string, ours: number, theirs: number | undefined, least: number): void => {
        if (theirs === undefined) return;
        compared += 1;
        if (Math.abs(ours - theirs) > Math.max(least, SHARE * Math.abs(theirs)))
          apart.push(`${circuit.id} ${position} ${what}: ${ours} and ${theirs}`);
      };
      for (const lamp of figures.lamps)
        check(lamp.id, figures.amps[lamp.id] ?? 0, spice.amps.get(`v_${lamp.id.toLowerCase()}`), LEAST_AMPS);
      for (const lamp of derived.wiring.lamps.filter((each) => each.circuit === circuit.id)) {
        const [a, k] = [lamp.anode, lamp.cathode].map((end) =>
          spice.volts.get(end.toLowerCase().replace(/[.:-]/g, '_')),
        );
        const [ours, other] = [figures.volts[lamp.anode], figures.volts[lamp.cathode]];
        if (a === undefined || k === undefined || ours == null || other == null) continue;
        check(`${lamp.id} volts`, ours - other, a - k, LEAST_VOLTS);
      }
    }
  return { compared, apart };
}

describe('what stands in a circuit', () => {
  test.each(['bramble-siding', 'quillhaven-harbour'])('of %s is what ngspice says', (name) => {
    const { compared, apart } = compare(example(name));
    expect(apart).toEqual([]);
    expect(compared).toBeGreaterThan(name === 'bramble-siding' ? 20 : 5);
  });
  test.each<readonly [string, Combination]>([
    [
      'series strings across the feed',
      { drive: 'stall-2-wire', feed: 'reversing', scheme: 'across-feed', arrange: 'series', lamps: 3 },
    ],
    ['split feed', { drive: 'stall-2-wire', feed: 'split', scheme: 'across-feed', lamps: 2 }],
    ['in series with the drive', { drive: 'stall-2-wire', feed: 'reversing', scheme: 'in-series' }],
    ['a spare pole', { drive: 'stall-2-wire', feed: 'reversing', scheme: 'spare-pole', lamps: 2 }],
  ])('of %s is what ngspice says', (_name, combination) => {
    const { compared, apart } = compare(derive(combine(combination)));
    expect(apart).toEqual([]);
    expect(compared).toBeGreaterThan(3);
  });
});
