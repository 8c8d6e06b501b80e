/**
 * Routes alone, cold each time: counting and listing them, which lock each other out, and the fewest levers that lose nothing.
 * One warm-up, then a fixed number of runs; a checksum outside the timed part shows that the work was done.
 */
import { readFileSync } from 'node:fs';
import { type PanelFile, readPanel } from '../src/panel/index.ts';
import { type Plan, readPlan } from '../src/plan/index.ts';
import { countRoutes, findConflicts, groupLevers, listRoutes } from '../src/routes/index.ts';
import { generatePanel } from '../tests/generate/panels.ts';
import { loopsInARow, yardsInSeries } from '../tests/generate/yards.ts';

function demo(): PanelFile {
  const read = readPanel(readFileSync('examples/quillhaven-harbour.mimic.json', 'utf8'));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.panel;
}

function time(name: string, runs: number, work: () => number): void {
  const took: number[] = [];
  let sum = 0;
  for (let i = 0; i <= runs; i++) {
    const start = performance.now();
    const done = work();
    const end = performance.now();
    sum += done;
    // The first run warms the code and does not count.
    if (i > 0) took.push(end - start);
  }
  took.sort((a, b) => a - b);
  const at = (share: number) => (took[Math.floor((took.length - 1) * share)] ?? Number.NaN).toFixed(1);
  console.log(
    `${name.padEnd(52)} median ${at(0.5)} ms, least ${at(0)}, greatest ${at(1)}, ${runs} runs (checksum ${sum})`,
  );
}

/** 2,000 routes of a plan that has more. */
const some = (plan: Plan) => listRoutes(plan, { limit: 2_000 }).routes;

const yards = readPlan(yardsInSeries(2, 12));
const loops = readPlan(loopsInARow(11));
const tens = readPlan(yardsInSeries(2, 11));
const wide = readPlan(generatePanel(4, 700));
const harbour = readPlan(demo());
/** Points that no lever works. */
const none = new Set<string>();
const forty = readPlan(generatePanel(1, 40));

time('count routes through two yards of 12 roads', 31, () => Number(countRoutes(yards).count));
time('count 2^60 routes through 60 loops', 31, () => String(countRoutes(readPlan(loopsInARow(60))).count).length);
time('list every route of the demo', 31, () => listRoutes(harbour).routes.length);
for (const [name, routes] of [
  ['one line', some(loops)],
  ['700 points', some(wide)],
] as const)
  time(`conflicts of ${routes.length} routes, ${name}`, 15, () => findConflicts(routes).length);
time('fewest levers of the demo', 15, () => groupLevers(harbour, listRoutes(harbour), none).least);
time('fewest levers of 40 points along lines', 5, () => groupLevers(forty, listRoutes(forty), none).least);
time('fewest levers of 40 points in two yards', 5, () => groupLevers(tens, listRoutes(tens), none).least);
