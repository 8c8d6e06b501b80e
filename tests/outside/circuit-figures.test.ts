/** Volts at every terminal and amps of every lamp and drive that the stage Wire shows, beside ngspice on the text that the product writes. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { circuitFigures } from '../../src/book/index.ts';
import { spiceText } from '../../src/circuit/index.ts';
import { type Combination, combine } from '../../src/cli/combine.ts';
import { type Derived, derive } from '../../src/derive.ts';
import { readPanel } from '../../src/panel/index.ts';
import { runSpiceFull } from './ngspice.ts';

/** The text asks ngspice for a hundred-thousandth of what is read (RELTOL of its manual); ten times that, as the steps of both add up. */
const SHARE = 1e-4;
/** What is nought in one may be so little in the other: a microvolt (VNTOL of its manual), and far less than is seen of any lamp. */
const LEAST_VOLTS = 1e-6;
const LEAST_AMPS = 1e-9;

function example(name: string): Derived {
  const read = readPanel(readFileSync(new URL(`../../examples/${name}.mimic.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(`${name} cannot be read`);
  return derive(read.panel);
}

/** Which node of the text each terminal is on, as its own comments say: "* node A_1 is A.1, L1.t2". */
function nodesOf(text: string): ReadonlyMap<string, string> {
  return new Map(
    [...text.matchAll(/^\* node (\S+) is (.*)$/gm)].flatMap(([, node = '', names = '']) =>
      names.split(', ').map((name) => [name, node.toLowerCase()] as const),
    ),
  );
}

/** Figures that were compared, by what they are of, and those that are apart; one that ngspice does not give is apart too. */
function compare(derived: Derived): {
  readonly terminals: number;
  readonly lamps: number;
  readonly drives: number;
  readonly apart: readonly string[];
} {
  const apart: string[] = [];
  let [terminals, lamps, drives] = [0, 0, 0];
  for (const circuit of derived.wiring.circuits)
    for (const position of circuit.positions.length === 0 ? [null] : circuit.positions) {
      const levers = position === null ? {} : { [circuit.id]: position };
      const figures = circuitFigures(derived, circuit, { levers, fault: null, history: {} });
      const text = spiceText(derived.netlist(levers, { circuits: new Set([circuit.id]) }), { title: circuit.id });
      const spice = runSpiceFull(text);
      const nodes = nodesOf(text);
      const check = (what: string, ours: number, theirs: number | undefined, least: number): void => {
        if (theirs === undefined || !(Math.abs(ours - theirs) <= Math.max(least, SHARE * Math.abs(theirs))))
          apart.push(`${circuit.id} ${position} ${what}: ${ours} and ${theirs}`);
      };
      for (const [terminal, volts] of Object.entries(figures.volts)) {
        // What floats has no volts of its own: SPICE ties it to node 0. Of a pin the side under the layout stands here twice.
        if (volts === null || terminal.endsWith('~')) continue;
        terminals += 1;
        const node = nodes.get(terminal);
        check(terminal, volts, node === '0' ? 0 : spice.volts.get(node ?? ''), LEAST_VOLTS);
      }
      for (const lamp of figures.lamps) {
        lamps += 1;
        check(lamp.id, figures.amps[lamp.id] ?? Number.NaN, spice.amps.get(`v_${lamp.id.toLowerCase()}`), LEAST_AMPS);
      }
      // The source that reads a drive is named by its first point and may face the other way: volts at its tags tell the way.
      for (const drive of figures.drives) {
        drives += 1;
        const theirs = spice.amps.get(`v_${drive.points[0]?.toLowerCase()}`);
        check(drive.id, Math.abs(drive.amps), theirs === undefined ? undefined : Math.abs(theirs), LEAST_AMPS);
      }
    }
  return { terminals, lamps, drives, apart };
}

describe('what stands in a circuit', () => {
  test.each(['bramble-siding', 'quillhaven-harbour'])('of %s is what ngspice says', (name) => {
    const { apart, ...counts } = compare(example(name));
    expect(apart).toEqual([]);
    for (const count of Object.values(counts)) expect(count).toBeGreaterThan(0);
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
    const { apart, ...counts } = compare(derive(combine(combination)));
    expect(apart).toEqual([]);
    for (const count of Object.values(counts)) expect(count).toBeGreaterThan(0);
  });
});
