/**
 * The plan alone, on seeded panels: read from scratch at three sizes and how that grows, then read again after an edit of 300 points.
 * Warm-ups first, then a fixed number of runs, in turn over the kinds of edit; a checksum outside the timed part shows that the work was done.
 * On a busy machine the clock waits for others: `work` is what the processors did for this process alone.
 */
import { loadavg } from 'node:os';
import type { PanelFile } from '../src/panel/index.ts';
import { readPlan, rereadPlan } from '../src/plan/index.ts';
import { type EditName, editPanel } from '../tests/generate/edits.ts';
import { generatePanel } from '../tests/generate/panels.ts';
import { randomOf } from '../tests/generate/random.ts';

const COLD = [
  { points: 300, runs: 60 },
  { points: 1_000, runs: 30 },
  { points: 2_000, runs: 15 },
] as const;
const EDITED = 300;
const EDIT_RUNS = 60;
const EDITS: readonly EditName[] = [
  'bend',
  'move',
  'split',
  'delete',
  'add',
  'reverse',
  'reorder',
  'width',
  'move a place',
];
const WARM_UPS = 10;

let checksum = 0;

/** Milliseconds on the clock, and those that the processors worked for us, helpers that collect garbage included. */
interface Taken {
  readonly clock: number;
  readonly worked: number;
}

function timed(work: () => number): Taken {
  const before = process.cpuUsage();
  const start = performance.now();
  const made = work();
  const clock = performance.now() - start;
  const { user, system } = process.cpuUsage(before);
  checksum += made;
  return { clock, worked: (user + system) / 1_000 };
}

function at(share: number, times: readonly number[]): number {
  const sorted = [...times].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
}

function told(times: readonly Taken[]): string {
  const [clock, worked] = [times.map((each) => each.clock), times.map((each) => each.worked)];
  return `median ${at(0.5, clock).toFixed(2)} ms, p95 ${at(0.95, clock).toFixed(2)} ms, work ${at(0.5, worked).toFixed(2)} ms`;
}

console.log(`load of the machine ${loadavg()[0]?.toFixed(1)}`);
const medians = COLD.map(({ points, runs }) => {
  const panel = generatePanel(1, points);
  const times: Taken[] = [];
  for (let i = 0; i < WARM_UPS + runs; i++) times.push(timed(() => readPlan(panel).spans.length));
  const after = times.slice(WARM_UPS);
  console.log(`${String(points).padStart(5)} points from scratch: ${told(after)}`);
  return {
    points,
    median: at(
      0.5,
      after.map((each) => each.worked),
    ),
  };
});
for (const [i, { points, median }] of medians.entries()) {
  const smaller = medians[i - 1];
  if (smaller === undefined) continue;
  const over = Math.log(points / smaller.points);
  const grown = Math.log(median / smaller.median) / over;
  const wanted = Math.log((points * Math.log(points)) / (smaller.points * Math.log(smaller.points))) / over;
  console.log(
    `${smaller.points} to ${points} points: work grows as n to the ${grown.toFixed(2)}; n log n would be ${wanted.toFixed(2)}`,
  );
}

const start = generatePanel(1, EDITED);
const random = randomOf(1);
const taken = new Map<EditName, Taken[]>(EDITS.map((name) => [name, []]));
const scratch: Taken[] = [];
let reading = rereadPlan(null, start);
let history: readonly PanelFile[] = [start];
for (let run = -WARM_UPS; run < EDIT_RUNS; run++) {
  for (const name of EDITS) {
    // Each edit is made and then undone, so that the panel stays one of 300 points.
    const panel = editPanel(name, start, random, history);
    let next = reading;
    const there = timed(() => {
      next = rereadPlan(reading, panel);
      return next.plan.spans.length;
    });
    const back = timed(() => {
      reading = rereadPlan(next, start);
      return reading.plan.spans.length;
    });
    history = [start, panel];
    if (run >= 0) taken.get(name)?.push(there, back);
  }
  const cold = timed(() => readPlan(start).spans.length);
  if (run >= 0) scratch.push(cold);
}
for (const [name, times] of taken) console.log(`  ${name} and undo, ${EDITED} points: ${told(times)}`);
console.log(`  all edits of ${EDITED} points: ${told([...taken.values()].flat())}`);
console.log(`  from scratch in between: ${told(scratch)}`);
console.log(`load of the machine ${loadavg()[0]?.toFixed(1)}; checksum ${checksum}`);
