import { describe, expect, it } from 'vitest';
import { randomOf } from '../tests/generate/random.ts';
import { editRecord, RECORD_EDIT_NAMES, type RecordEditName, smallPanel } from '../tests/generate/record-edits.ts';
import { type Derived, derive, rederive } from './derive.ts';
import type { PanelFile } from './panel/index.ts';

/** Scripts that are run. It holds for 2,000 too, which take minutes: as many as are written here are tried. */
const SCRIPTS = 96;

/** Of panels whose faults are slow to try, one in so many tries them. */
const RARELY = 97;

const PLAIN_FEEDS = new Set(['reversing', 'pulse', 'charge']);
const PLAIN_LIGHT = new Set(['across-feed', 'in-series']);

/** Do circuits stand alone, with no contacts that follow drives? Then all faults are tried in milliseconds, else in seconds. */
function isPlain({ supplies, feed, lighting, levers }: PanelFile): boolean {
  const all = [{ feed, lighting }, ...(levers ?? [])];
  return (
    (supplies ?? []).every(({ ohms, limit }) => (ohms ?? 0) === 0 && (limit ?? 'none') === 'none') &&
    all.every((each) => PLAIN_FEEDS.has(each.feed?.kind ?? 'reversing')) &&
    all.every((each) => PLAIN_LIGHT.has(each.lighting?.scheme ?? 'across-feed'))
  );
}

/** All that `check`, `truth`, `solve`, wires and pins answer, as text. */
function answersOf(derived: Derived, seed: number, faults: boolean): Readonly<Record<string, string>> {
  const random = randomOf(seed);
  const lies = ['normal', 'reverse'] as const;
  const setting = () => Object.fromEntries(derived.plan.levers.map(({ id }) => [id, random.pick(lies)]));
  const { plan, lamps, groups, wiring, face, loom } = derived;
  return {
    truth: JSON.stringify(derived.truth()),
    faults: faults ? JSON.stringify(derived.faultTruth()) : '',
    solve: JSON.stringify([derived.operate(setting()), derived.operate(setting())]),
    check: JSON.stringify(derived.findings()),
    wires: JSON.stringify(loom.wires),
    pins: JSON.stringify(wiring.connectors),
    wiring: JSON.stringify(wiring),
    face: JSON.stringify(face),
    read: JSON.stringify([plan, lamps, groups]),
  };
}

/** Edits a panel, now and then without asking anything in between, and sets each answer against one from scratch. */
function follow(seed: number, edits: number, names: readonly RecordEditName[]): number {
  const random = randomOf(seed + 7_000);
  const history: PanelFile[] = [smallPanel(seed)];
  const done: string[] = [];
  let derived = derive(history[0] as PanelFile);
  const everyFault = (panel: PanelFile) => isPlain(panel) || seed % RARELY === 0;
  if (random.chance(80)) answersOf(derived, seed, everyFault(derived.panel));
  for (let i = 0; i < edits; i++) {
    const name = random.pick(names);
    const panel = editRecord(name, history[history.length - 1] as PanelFile, random, history);
    derived = rederive(derived, panel);
    done.push(name);
    history.push(panel);
    if (random.chance(20)) continue;
    const faults = everyFault(panel);
    const [now, scratch] = [answersOf(derived, i, faults), answersOf(derive(panel), i, faults)];
    for (const [what, text] of Object.entries(scratch))
      if (now[what] !== text)
        expect.fail(`seed ${seed}: ${what} differs after ${done.join(', ')}\n${JSON.stringify(panel)}`);
  }
  return done.length;
}

describe('what follows from a panel after an edit is what follows from scratch, byte for byte', () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])(`part %i of ${SCRIPTS} scripts (seeds 1 to ${SCRIPTS})`, (part) => {
    let edits = 0;
    for (let seed = part; seed <= SCRIPTS; seed += 8) edits += follow(seed, seed % 5 === 0 ? 4 : 1, RECORD_EDIT_NAMES);
    expect(edits).toBeGreaterThanOrEqual(Math.floor(SCRIPTS / 8));
  });
});
