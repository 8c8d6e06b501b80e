import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { chooseSwitches } from '../contacts/index.ts';
import { groupLamps, polesOf, readLamps } from '../lamps/index.ts';
import { resolveCatalogue } from '../parts/index.ts';
import { readPlan } from '../plan/index.ts';
import { faultsOf, wirePanel } from '../wiring/index.ts';
import { withoutNumbers } from './without-numbers.ts';

describe('withoutNumbers', () => {
  const panel = generatePanel(3, 12);
  const catalogue = resolveCatalogue(panel.parts);
  const plan = readPlan(panel);
  const { lamps, trees } = readLamps(panel, catalogue, plan);
  const { switches } = chooseSwitches(panel, catalogue, plan, polesOf(trees));
  const { groups } = groupLamps(panel, catalogue, plan, lamps);
  const wiring = wirePanel({ panel, catalogue, plan, switches, lamps, trees, groups });
  const { wiring: made, codeOf } = withoutNumbers(wiring);

  it('names each wire by its two ends, once', () => {
    expect(new Set(made.wires.map(({ id }) => id)).size).toBe(wiring.wires.length);
    for (const { id, from, to } of made.wires) expect(id.startsWith(`${from}~${to}`)).toBe(true);
    expect(made.wires.map(({ id: _, ...rest }) => rest)).toEqual(wiring.wires.map(({ id: _, ...rest }) => rest));
  });

  it('has the same faults in the same order, and gives them their numbers back', () => {
    expect(faultsOf(made).map(codeOf)).toEqual(faultsOf(wiring).map(({ code }) => code));
  });
});
