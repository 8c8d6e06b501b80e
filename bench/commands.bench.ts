/**
 * Whole processes, as a user feels them: `check` and `build` of the demo, start to end, output thrown away.
 * Warm disk; the median of an odd number of runs, with the least and the greatest.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const RUNS = 9;
const DEMO = 'examples/quillhaven-harbour.mimic.json';

function time(name: string, args: readonly string[]): void {
  const seconds: number[] = [];
  for (let i = 0; i <= RUNS; i++) {
    const start = performance.now();
    const { status, stderr } = spawnSync(process.execPath, ['dist/cli.js', ...args], {
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    if (status !== 0) throw new Error(`${name}: exit ${status}: ${stderr.toString()}`);
    // The first run warms the disk and does not count.
    if (i > 0) seconds.push((performance.now() - start) / 1000);
  }
  seconds.sort((a, b) => a - b);
  const at = (share: number) => (seconds[Math.floor((seconds.length - 1) * share)] ?? Number.NaN).toFixed(3);
  console.log(`${name.padEnd(28)} median ${at(0.5)} s, least ${at(0)}, greatest ${at(1)}, ${RUNS} runs`);
}

const out = mkdtempSync(join(tmpdir(), 'mimicwright-book-'));
time('check demo --json', ['check', DEMO, '--json']);
time('truth demo --json', ['truth', DEMO, '--json']);
time('routes demo --json', ['routes', DEMO, '--json']);
time('build demo (A4, whole book)', ['build', DEMO, '--out', out]);
rmSync(out, { recursive: true, force: true });
