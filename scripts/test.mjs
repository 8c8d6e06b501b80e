// npm test: install what is missing, then every gate and every test; ends with the line "N passed, N failed".
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { install } from './install.mjs';
import { findProgram, inRoot, run, secondsSince } from './tools.mjs';

/** Programs that tests lean on, and the Debian package that brings each. */
const PROGRAMS = [
  ['chromium', 'chromium'],
  ['ngspice', 'ngspice'],
  ['pdftotext', 'poppler-utils'],
  ['pdftoppm', 'poppler-utils'],
  ['qpdf', 'qpdf'],
];

/** No step may hang the whole: a step that takes longer than this has failed. */
const LIMIT_SECONDS = 900;

/** Plain text, whatever the terminal: colours are noise in a log. */
const PLAIN = { NO_COLOR: '1', FORCE_COLOR: undefined };

const total = { passed: 0, failed: 0, skipped: 0, names: [] };

/** Install the missing programs on Debian as root; elsewhere say what to install. True when all are there. */
async function programs() {
  const lacking = () => [
    ...new Set(PROGRAMS.filter(([program]) => findProgram(program) === null).map(([, name]) => name)),
  ];
  if (lacking().length === 0) return true;
  if (existsSync('/etc/debian_version') && process.getuid?.() === 0 && findProgram('apt-get') !== null) {
    const start = performance.now();
    const env = { DEBIAN_FRONTEND: 'noninteractive' };
    console.log(`programs: apt-get install ${lacking().join(' ')}`);
    const update = await run('apt-get', ['update', '-q'], { quiet: true, env });
    if (update.code !== 0) console.error(update.output);
    const got = await run('apt-get', ['install', '-y', '-q', '--no-install-recommends', ...lacking()], {
      quiet: true,
      env,
    });
    if (got.code !== 0) console.error(got.output);
    console.log(`programs: ${secondsSince(start)}`);
  }
  if (lacking().length === 0) return true;
  console.error(`The tests need programs that are not here: install ${lacking().join(', ')}.`);
  return false;
}

/** A gate passes or fails as a whole; its output is shown when it fails. */
async function gate(name, args) {
  const start = performance.now();
  const { code, output, timedOut } = await run(
    process.execPath,
    args.map((part) => (part.includes('/') ? inRoot(part) : part)),
    {
      quiet: true,
      limitSeconds: LIMIT_SECONDS,
      env: PLAIN,
    },
  );
  if (code === 0) {
    total.passed++;
  } else {
    total.failed++;
    total.names.push(timedOut ? `${name}: not done after ${LIMIT_SECONDS} s` : name);
    console.log(output.trimEnd());
  }
  console.log(`${name}: ${code === 0 ? 'passed' : 'FAILED'}, ${secondsSince(start)}`);
}

/** A vitest project, counted test by test from its own report. */
async function tests(project) {
  const start = performance.now();
  const folder = mkdtempSync(join(tmpdir(), 'mimicwright-tests-'));
  const report = join(folder, 'report.json');
  const vitest = inRoot('node_modules/vitest/vitest.mjs');
  const { code, output, timedOut } = await run(
    process.execPath,
    [
      vitest,
      'run',
      '--project',
      project,
      '--reporter=json',
      `--outputFile=${report}`,
      '--reporter=dot',
      '--silent=passed-only',
    ],
    { quiet: true, limitSeconds: LIMIT_SECONDS, env: PLAIN },
  );
  const count = { passed: 0, failed: 0, skipped: 0 };
  const fail = (name) => {
    count.failed++;
    total.names.push(`${project}: ${name}`);
  };
  if (existsSync(report)) {
    for (const file of JSON.parse(readFileSync(report, 'utf8')).testResults) {
      const where = file.name.slice(inRoot().length);
      for (const test of file.assertionResults) {
        if (test.status === 'passed') count.passed++;
        else if (test.status === 'failed') fail(`${where}: ${test.fullName.trim()}`);
        else count.skipped++;
      }
      // A file that does not load has no test to fail.
      if (file.status === 'failed' && !file.assertionResults.some((test) => test.status === 'failed'))
        fail(`${where}: did not run`);
    }
  }
  if (timedOut) fail(`not done after ${LIMIT_SECONDS} s`);
  else if (count.passed + count.failed + count.skipped === 0) fail('no tests found');
  else if (code !== 0 && count.failed === 0) fail('stopped with an error outside its tests');
  if (count.failed > 0) console.log(output.trimEnd());
  total.passed += count.passed;
  total.failed += count.failed;
  total.skipped += count.skipped;
  rmSync(folder, { recursive: true, force: true });
  const skipped = count.skipped > 0 ? `, ${count.skipped} skipped` : '';
  console.log(`tests ${project}: ${count.passed} passed, ${count.failed} failed${skipped}, ${secondsSince(start)}`);
}

/** The last line, alone: what others read. */
function finish() {
  if (total.names.length > 0) console.log(`\nFailed:\n${total.names.map((name) => `  ${name}`).join('\n')}`);
  console.log(
    `\n${total.passed} passed, ${total.failed} failed${total.skipped > 0 ? `, ${total.skipped} skipped` : ''}`,
  );
  process.exitCode = total.failed > 0 ? 1 : 0;
}

const start = performance.now();
try {
  await install();
} catch (error) {
  console.error(error.message);
  process.exit(1);
}
if (!(await programs())) process.exit(1);

await gate('types', ['node_modules/typescript/bin/tsc', '--noEmit', '-p', 'tsconfig.json']);
await gate('lint', ['node_modules/@biomejs/biome/bin/biome', 'ci']);
await gate('layers', [
  'node_modules/dependency-cruiser/bin/dependency-cruise.mjs',
  '--config',
  '.dependency-cruiser.cjs',
  ...['src', 'tests', 'scripts', 'bench'].filter((folder) => existsSync(inRoot(folder))),
]);
await gate('unused', ['node_modules/knip/bin/knip.js']);
await gate('docs', ['scripts/docs.mjs', '--check']);
await gate('build', ['scripts/build.mjs']);
for (const project of ['unit', 'outside', 'command', 'documents', 'browser']) await tests(project);
console.log(`whole: ${secondsSince(start)}`);
finish();
