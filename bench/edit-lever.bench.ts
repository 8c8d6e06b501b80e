/**
 * Truth with every single fault: from scratch, and after one edit of one lever of 100 points. Processor time of the process itself, so that
 * what else runs on the machine counts little; medians.
 */
import { readFileSync } from 'node:fs';
import { type Derived, derive, rederive } from '../src/derive.ts';
import { type PanelFile, readPanel } from '../src/panel/index.ts';
import { generatePanel } from '../tests/generate/panels.ts';

const RUNS = 9;

const milliseconds = (): number => process.cpuUsage().user / 1000;
const median = (list: readonly number[]): string =>
  ([...list].sort((a, b) => a - b)[list.length >> 1] ?? Number.NaN).toFixed(1);

function prove(derived: Derived): number {
  return derived.truth().untruths.length + derived.faultTruth().faults.tried;
}

function demo(): PanelFile {
  const read = readPanel(readFileSync('examples/quillhaven-harbour.mimic.json', 'utf8'));
  if (!read.ok) throw new RangeError('the demo cannot be read');
  return read.panel;
}

for (const [name, panel, runs] of [
  ['the demo', demo(), RUNS],
  ['100 points', generatePanel(1, 100), 5],
  ['300 points', generatePanel(1, 300), 3],
] as const) {
  const times: number[] = [];
  let sum = 0;
  for (let i = 0; i <= runs; i++) {
    const start = milliseconds();
    sum += prove(derive(panel));
    if (i > 0) times.push(milliseconds() - start);
  }
  console.log(`${name}: synthesis, truth and all faults ${median(times)} ms (median of ${runs}; checksum ${sum})`);
}

type Edit = (panel: PanelFile, i: number) => PanelFile;

function at<T>(list: readonly T[] | undefined, i: number, change: (item: T) => T): T[] {
  return (list ?? []).map((item, k) => (k === i ? change(item) : item));
}

/** With the lamps of each point as a group of the file. */
function grouped(panel: PanelFile): PanelFile {
  const lamps = panel.lamps ?? [];
  const pairs = lamps.flatMap(({ id }, i) => (i % 2 === 0 ? [[id, lamps[i + 1]?.id ?? '']] : []));
  return {
    ...panel,
    lampGroups: pairs.map((pair, i) => ({ id: `GX${i + 1}`, lamps: pair, arrange: 'pair', ohms: 680 })),
  };
}

const EDITS: Readonly<Record<string, Edit>> = {
  'name of a lever': (panel, i) => ({
    ...panel,
    levers: at(panel.levers, i, (lever) => ({ ...lever, name: `N${i}` })),
  }),
  'place of a lever': (panel, i) => ({
    ...panel,
    levers: at(panel.levers, i, (lever) => ({ ...lever, at: [(lever.at ?? [0, 0])[0], (lever.at ?? [0, 0])[1] + 3] })),
  }),
  'switch of a lever': (panel, i) => ({
    ...panel,
    levers: at(panel.levers, i, (lever) => ({ ...lever, switch: 'toggle-3p' })),
  }),
  'current of a lamp': (panel, i) => ({
    ...panel,
    lamps: at(panel.lamps, i, (lamp) => ({ ...lamp, current: 0.003 })),
  }),
  'claim of a lamp': (panel, i) => ({
    ...panel,
    lamps: at(panel.lamps, i, (lamp) => ({ ...lamp, shows: { P1: 'normal', P2: 'normal' } })),
  }),
  'amps of a drive': (panel, i) => ({
    ...panel,
    drives: [...(panel.drives ?? []), { id: `DX${i}`, part: 'stall-2-wire', measured: { amps: 0.011 + i / 10_000 } }],
    points: at(panel.points, i, (point) => ({ ...point, drive: `DX${i}` })),
  }),
  'ohms of a group': (panel, i) => ({
    ...panel,
    lampGroups: at(panel.lampGroups, i, (group) => ({ ...group, ohms: 700 + i })),
  }),
};

for (const [name, edit] of Object.entries(EDITS)) {
  const times = { derive: [] as number[], truth: [] as number[], faults: [] as number[], all: [] as number[] };
  let panel = grouped(generatePanel(1, 100));
  let derived = derive(panel);
  let sum = prove(derived);
  for (let i = 0; i < RUNS; i++) {
    panel = edit(panel, 3 + 4 * i);
    const start = milliseconds();
    derived = rederive(derived, panel);
    const made = milliseconds();
    sum += derived.truth().untruths.length;
    const proved = milliseconds();
    sum += derived.faultTruth().faults.tried;
    const done = milliseconds();
    times.derive.push(made - start);
    times.truth.push(proved - made);
    times.faults.push(done - proved);
    times.all.push(done - start);
  }
  console.log(
    `${name.padEnd(18)} ${median(times.all)} ms: derive ${median(times.derive)}, truth ${median(times.truth)}, faults ${median(times.faults)} (medians of ${RUNS}; checksum ${sum})`,
  );
}
