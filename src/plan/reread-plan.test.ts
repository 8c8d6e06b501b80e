import { describe, expect, it } from 'vitest';
import { EDIT_NAMES, type EditName, editPanel } from '../../tests/generate/edits.ts';
import { generatePanel } from '../../tests/generate/panels.ts';
import { randomOf } from '../../tests/generate/random.ts';
import { scatterPanel } from '../../tests/oracle/plan/index.ts';
import type { PanelFile } from '../panel/index.ts';
import { readPlan, rereadPlan } from './index.ts';

/** Reads a panel after each of some edits, taking over from edit to edit, and sets it against a reading from scratch. */
function follow(start: PanelFile, seed: number, edits: number, names: readonly EditName[] = EDIT_NAMES): void {
  const random = randomOf(seed);
  const history: PanelFile[] = [start];
  const done: string[] = [];
  let reading = rereadPlan(null, start);
  for (let i = 0; i < edits; i++) {
    const name = random.pick(names);
    const panel = editPanel(name, history[history.length - 1] ?? start, random, history);
    reading = rereadPlan(reading, panel);
    done.push(name);
    history.push(panel);
    const scratch = JSON.stringify(readPlan(panel));
    if (JSON.stringify(reading.plan) !== scratch)
      expect.fail(`seed ${seed} after ${done.join(', ')}\n${JSON.stringify(panel)}`);
  }
}

describe('[IN1] a plan that takes over from the reading before an edit is the plan read from scratch (seeds 1 to 20)', () => {
  it.each([
    { size: 5, seeds: 16, edits: 40 },
    { size: 17, seeds: 12, edits: 40 },
    { size: 60, seeds: 4, edits: 40 },
    { size: 300, seeds: 2, edits: 60 },
  ])('panels of $size points: $seeds times $edits edits', ({ size, seeds, edits }) => {
    for (let seed = 1; seed <= seeds; seed++) follow(generatePanel(seed, size), seed, edits);
  });

  it('strips laid anyhow: 20 times 30 edits', () => {
    for (let seed = 1; seed <= 20; seed++) follow(scatterPanel(seed, 8), seed, 30);
  });

  it('and the survey is kept: after one bend most sights are the very same objects (seed 1)', () => {
    const start = generatePanel(1, 300);
    const before = rereadPlan(null, start);
    const after = rereadPlan(before, editPanel('bend', start, randomOf(1), []));
    const [was, is] = [before, after].map(({ junctions }) => junctions.survey.ends.sights);
    const known = new Set(was);
    expect((is ?? []).filter((sight) => !known.has(sight)).length).toBeLessThan(20);
    expect(rereadPlan(before, { ...start, name: 'Other' }).junctions).toBe(before.junctions);
  });

  it.each(EDIT_NAMES)('%s, ten times over', (name) => {
    for (let seed = 1; seed <= 3; seed++) follow(generatePanel(seed, 20), seed, 10, [name]);
  });
});
