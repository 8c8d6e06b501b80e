/**
 * The panel laid side by side with itself made otherwise: every option listed with its edit, and weighed, on the demo and on 100 points.
 * Processor time of the process itself, since other programs share the machine. The first eight options, and all.
 */
import { readFileSync } from 'node:fs';
import { derive } from '../src/derive.ts';
import { listOptions, weighOption } from '../src/options/index.ts';
import { type PanelFile, readPanel } from '../src/panel/index.ts';
import { generatePanel } from '../tests/generate/panels.ts';

const FIRST = 8;

const seconds = (): number => (process.cpuUsage().user + process.cpuUsage().system) / 1e6;
const median = (list: readonly number[]): string =>
  ([...list].sort((a, b) => a - b)[list.length >> 1] ?? Number.NaN).toFixed(2);

function demo(): PanelFile {
  const read = readPanel(readFileSync('examples/quillhaven-harbour.mimic.json', 'utf8'));
  if (!read.ok) throw new RangeError('the demo cannot be read');
  return read.panel;
}

for (const { name, panel, runs } of [
  { name: 'the demo', panel: demo(), runs: 3 },
  { name: '100 points', panel: generatePanel(1, 100), runs: 1 },
]) {
  const times = { list: [] as number[], first: [] as number[], all: [] as number[] };
  let tried = 0;
  let count = 0;
  for (let run = 0; run < runs; run++) {
    let start = seconds();
    const options = [...listOptions(derive(panel))];
    const listed = seconds() - start;
    start = seconds();
    let first = 0;
    tried = 0;
    count = options.length;
    // A derived panel keeps what was asked of it: each run lists anew.
    const present = derive(panel);
    for (const [i, option] of options.entries()) {
      tried += weighOption(option, present).figures.faults === null ? 0 : 1;
      if (i === FIRST - 1) first = seconds() - start;
    }
    times.list.push(listed);
    times.first.push(listed + first);
    times.all.push(listed + seconds() - start);
  }
  console.log(
    `${name}: ${count} options listed ${median(times.list)} s; the first ${FIRST} listed and weighed ${median(times.first)} s, all ${median(times.all)} s, single faults tried of ${tried} (processor time, median of ${runs})`,
  );
}
