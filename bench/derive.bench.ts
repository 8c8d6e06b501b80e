/**
 * The core alone: from a panel to everything, cold each time (a new derivation of the same file), on seeded panels of three sizes.
 * One warm-up, then a fixed number of runs; a checksum outside the timed part shows that the work was done.
 */
import { derive } from '../src/derive.ts';
import { generatePanel } from '../tests/generate/panels.ts';

const SIZES = [
  { points: 17, runs: 30 },
  { points: 100, runs: 10 },
  { points: 300, runs: 5 },
] as const;

for (const { points, runs } of SIZES) {
  const panel = generatePanel(1, points);
  const parts = { derive: [] as number[], truth: [] as number[], tests: [] as number[] };
  let sum = 0;
  for (let i = 0; i <= runs; i++) {
    const start = performance.now();
    const derived = derive(panel);
    const made = performance.now();
    const truth = derived.truth();
    const proved = performance.now();
    const tests = derived.tests();
    const done = performance.now();
    sum += derived.counts.wires + truth.untruths.length + tests.length;
    if (i === 0) continue;
    parts.derive.push(made - start);
    parts.truth.push(proved - made);
    parts.tests.push(done - proved);
  }
  const median = (list: number[]) => ([...list].sort((a, b) => a - b)[list.length >> 1] ?? Number.NaN).toFixed(1);
  console.log(
    `${String(points).padStart(4)} points: derive ${median(parts.derive)} ms, truth ${median(parts.truth)} ms, tests ${median(parts.tests)} ms (medians of ${runs}; checksum ${sum})`,
  );
}
