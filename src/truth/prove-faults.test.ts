import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { chooseSwitches } from '../contacts/index.ts';
import { groupLamps, readLamps } from '../lamps/index.ts';
import { readPanel } from '../panel/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { wirePanel } from '../wiring/index.ts';
import { proveFaults } from './prove-faults.ts';
import type { TruthInput } from './prove-healthy.ts';
import type { FaultTruth } from './types.ts';

function inputOf(change: (file: Record<string, unknown>) => void = () => {}): TruthInput {
  const file = JSON.parse(readFileSync('examples/bramble-siding.mimic.json', 'utf8'));
  change(file);
  const read = readPanel(JSON.stringify(file));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const { panel } = read;
  const catalogue = resolveCatalogue(panel.parts);
  const plan = readPlan(panel);
  const { switches } = chooseSwitches(panel, catalogue, plan);
  const { lamps, trees } = readLamps(panel, catalogue, plan);
  const { groups } = groupLamps(panel, catalogue, plan, lamps);
  return { plan, switches, lamps, wiring: wirePanel({ panel, catalogue, plan, switches, lamps, trees, groups }) };
}

/**
 * Bramble Siding: all lamps across the feed, in pairs, silent when dark. What each fault does follows from the circuit by thought alone:
 * such lamps know what the feed's two wires say and nothing of what lies beyond.
 */
describe('single faults of a panel lit across the feed', () => {
  let input: TruthInput;
  let truth: FaultTruth;
  let classOf: ReadonlyMap<string, string>;
  beforeAll(() => {
    input = inputOf();
    truth = proveFaults(input);
    classOf = new Map(truth.outcomes.map(({ fault, class: found }) => [fault, found]));
  });
  const classes = (pattern: RegExp) =>
    [...new Set(truth.outcomes.filter(({ fault }) => pattern.test(fault)).map((each) => each.class))].sort();

  it('[TR13] counts every fault once, and gives one witness for each that lies', () => {
    const { tried, rightSide, wrongSide, latent } = truth.faults;
    expect(tried).toBe(rightSide + wrongSide + latent);
    expect(truth.outcomes.length).toBe(tried);
    expect(truth.wrongSide.map(({ fault }) => fault)).toEqual(
      truth.outcomes.filter((each) => each.class === 'wrongSide').map(({ fault }) => fault),
    );
    expect(truth.share).toBeCloseTo(wrongSide / tried, 12);
    expect(truth.weightedShare).toBeGreaterThan(0);
    expect(truth.weightedShare).toBeLessThan(1);
  });

  it('[TR14] every break between the lamps and a drive lets them lie, as does all that fails at the drive', () => {
    for (const { id, side } of input.wiring.wires)
      if (side === 'layout') expect(classOf.get(`open:${id}`)).toBe('wrongSide');
    expect(classes(/^apart:/)).toEqual(['wrongSide']);
    expect(classes(/^moved:/)).toEqual(['wrongSide']);
    expect(classes(/^(open|short|crossed|stuck|linkage):P/)).toEqual(['wrongSide']);
  });

  it('[TR14] what takes the feed away leaves all dark: silence, and no lie', () => {
    expect(classes(/^(off:S1|open:FU-S1)$/)).toEqual(['rightSide']);
    expect(classes(/^(open|weld|bridge):L/)).toEqual(['rightSide']);
    expect(classes(/^(open|short):H/)).toEqual(['rightSide']);
    expect(classes(/^(open|short):R-/)).toEqual(['rightSide']);
  });

  it('[TR14] a switch upside down turns lamps and drives alike: other than asked, and still true', () => {
    expect(classes(/^upside:/)).toEqual(['rightSide']);
  });

  it('[TR14] a lamp put in backwards lies in both positions', () => {
    expect(classes(/^backwards:H/)).toEqual(['wrongSide']);
    const witness = truth.wrongSide.find(({ fault }) => fault === 'backwards:H1');
    // H1 stands for the main line: lit when the loop is set.
    expect([witness?.lamp, witness?.history]).toEqual(['H1', {}]);
  });

  it('[TR14] a pair of pins swapped turns the point over and not its lamps', () => {
    const pins = input.wiring.connectors[0]?.pins.filter(({ to }) => to.startsWith('D3.')) ?? [];
    const code = `swapped:${pins.map(({ id }) => id).join(',')}`;
    const witness = truth.wrongSide.find(({ fault }) => fault === code);
    expect(witness).toMatchObject({ levers: { L2: 'normal' }, history: {}, shown: 'lit', should: 'unlit' });
    expect(['H9', 'H10']).toContain(witness?.lamp);
  });

  it('[TR15] a witness names the history of a point that stays as it was', () => {
    expect(truth.wrongSide.find(({ fault }) => fault === 'linkage:P3')).toEqual({
      fault: 'linkage:P3',
      levers: { L2: 'normal' },
      history: { P3: 'reverse' },
      lamp: 'H9',
      shown: 'lit',
      should: 'unlit',
      mark: null,
    });
  });

  it('[TR15] a dry joint, and a supply a fifth low, change nothing that the eye sees', () => {
    expect(classes(/^(dry:|low:|high:)/)).toEqual(['latent']);
  });
});

describe('single faults of panels made otherwise', () => {
  it('[TR14] a lamp that speaks when dark lies when it fails', () => {
    const truth = proveFaults(
      inputOf((file) => {
        file.lamps = [{ id: 'H1', at: [84, 58], part: 'led-3-green', shows: { P1: 'normal' }, dark: 'opposite' }];
        delete file.lampGroups;
      }),
    );
    const found = (code: string) => truth.outcomes.find(({ fault }) => fault === code)?.class;
    expect([found('open:H1'), found('off:S1'), found('open:FU-S1'), found('bridge:L2.1')]).toEqual([
      'wrongSide',
      'wrongSide',
      'wrongSide',
      // A dead short on another lever takes the supply from this one too.
      'wrongSide',
    ]);
    expect(truth.wrongSide.find(({ fault }) => fault === 'bridge:L2.1')).toMatchObject({ lamp: 'H1', shown: 'unlit' });
  });

  it('[TR13] a panel without circuits has nothing that could fail', () => {
    const truth = proveFaults(
      inputOf((file) => {
        file.levers = [];
        file.lamps = [];
      }),
    );
    expect(truth.share).toBeLessThanOrEqual(1);
    expect(truth.faults.wrongSide).toBe(0);
  });
});
