/** Panels wired wrong, each in one way: the program names it, where the trade says that it must, and is content with the panel beside it. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Derived, derive } from '../../src/derive.ts';
import { readPanel } from '../../src/panel/index.ts';
import { faultByCode } from '../../src/wiring/index.ts';
import { LYING, type LyingCase } from './lying/cases.ts';

const FOLDER = new URL('./lying/', import.meta.url);

function derived(file: string): Derived {
  const read = readPanel(readFileSync(new URL(file, FOLDER), 'utf8'));
  if (!read.ok) throw new Error(`${file}: ${JSON.stringify(read.problems)}`);
  return derive(read.panel);
}

type Named = LyingCase['named'][number];

/** Does the program name it? */
function says(panel: Derived, named: Named): boolean {
  switch (named.by) {
    case 'finding':
      return panel.findings().some(({ code, where }) => code === named.code && where.ids.includes(named.at));
    case 'untruth':
    case 'silent': {
      const { untruths, silent } = panel.truth();
      return (named.by === 'silent' ? silent : untruths).some(
        ({ lamp, levers, history }) =>
          lamp === named.lamp &&
          Object.entries(levers).every(([lever, at]) => (named.levers[lever] ?? at) === at) &&
          Object.entries(named.history ?? {}).every(([point, lie]) => history[point] === lie),
      );
    }
    case 'wrong-side':
      return panel.faultTruth().wrongSide.some(({ fault }) => fault.startsWith(named.fault));
  }
}

describe('panels that lie', () => {
  it.each(LYING)('$name: $lie', ({ name, named }) => {
    const panel = derived(`${name}.mimic.json`);
    for (const each of named) expect([each, says(panel, each)]).toEqual([each, true]);
    const sound = derived(`${name}.sound.mimic.json`);
    for (const each of named) expect([each, says(sound, each)]).toEqual([each, false]);
  });

  it.each(LYING)('$name: beside it nothing is wrong, and no lamp lies', ({ name }) => {
    const sound = derived(`${name}.sound.mimic.json`);
    const { untruths, doubtful, contradictions } = sound.truth();
    expect([untruths, doubtful, contradictions]).toEqual([[], [], []]);
    const grave = sound.findings().filter(({ severity }) => severity === 'danger' || severity === 'wrong');
    expect(grave.map(({ code, where }) => [code, where.ids])).toEqual([]);
  });

  // A lie that is witnessed can be seen: the lamp shows what is said with the levers, the fault and the history so.
  it.each(LYING.filter(({ named }) => named.some(({ by }) => by === 'wrong-side')))(
    '$name: its witnesses show what they say',
    ({ name }) => {
      const panel = derived(`${name}.mimic.json`);
      for (const { fault, levers, history, lamp, shown, mark } of panel.faultTruth().wrongSide) {
        if (mark === 'doubtful') continue;
        const broken = faultByCode(panel.wiring, fault);
        const read = panel
          .operate(levers, broken === null ? [] : [broken], history)
          .lamps.find(({ id }) => id === lamp);
        expect([fault, lamp, read?.look === 'unlit' ? 'unlit' : 'lit']).toEqual([fault, lamp, shown]);
      }
    },
  );

  it('has every panel of the folder among its cases', () => {
    const files = readdirSync(FOLDER).filter((file) => file.endsWith('.mimic.json'));
    const named = LYING.flatMap(({ name }) => [`${name}.mimic.json`, `${name}.sound.mimic.json`]);
    expect(files.sort()).toEqual(named.sort());
    expect(LYING.length).toBeGreaterThanOrEqual(15);
  });
});
