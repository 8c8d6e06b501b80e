import { describe, expect, it } from 'vitest';
import { derive, rederive } from '../../src/derive.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import { EDIT_NAMES, editPanel } from '../generate/edits.ts';
import { generatePanel } from '../generate/panels.ts';
import { randomOf } from '../generate/random.ts';

describe('[IN1] a number that the file gives a wire', () => {
  it('is the one that its faults go by, though nothing that is proved is another', () => {
    const panel = generatePanel(1, 4);
    const before = rederive(null, panel);
    before.faultTruth();
    const [first] = before.wiring.wires;
    if (first === undefined) throw new RangeError('no wire');
    const named = { ...panel, wires: [{ id: 'W900', from: first.from, to: first.to }] };
    const after = rederive(before, named);
    expect(after.faultTruth().outcomes.map(({ fault }) => fault)).toContain('open:W900');
    expect(after.faultTruth()).toEqual(derive(named).faultTruth());
  });
});

describe('[IN1] what is derived after an edit is what is derived from scratch', () => {
  it.each([1, 2, 3, 4])('twelve edits of a panel of 12 points (seed %s)', (seed) => {
    const random = randomOf(seed);
    const history: PanelFile[] = [generatePanel(seed, 12)];
    let derived = rederive(null, generatePanel(seed, 12));
    for (let i = 0; i < 12; i++) {
      const panel = editPanel(random.pick(EDIT_NAMES), derived.panel, random, history);
      history.push(panel);
      derived = rederive(derived, panel);
      const { reading: _, ...scratch } = derive(panel);
      const { reading: __, ...again } = derived;
      expect(JSON.stringify(again)).toBe(JSON.stringify(scratch));
    }
  });
});
