// Build the application into dist/web and the command line and library into dist; skip what has not changed.
import { existsSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { filesIn, fingerprint, inRoot, isMain, secondsSince } from './tools.mjs';

/** Everything that both builds read, but for tests and papers. */
const shared = () =>
  [
    'package.json',
    'package-lock.json',
    'tsconfig.json',
    'scripts/build.mjs',
    ...filesIn('src'),
    ...filesIn('examples'),
  ].filter((file) => !/\.test\.tsx?$|\.md$/.test(file));

const targets = [
  {
    name: 'web',
    config: 'vite.config.ts',
    sources: () => [
      ...shared().filter((file) => !file.startsWith('src/cli/')),
      'vite.config.ts',
      ...filesIn('public'),
      ...filesIn('index.html'),
    ],
    makes: ['dist/web/index.html'],
    clear: ['dist/web'],
  },
  {
    name: 'command line and library',
    config: 'vite.cli.config.ts',
    sources: () => [...shared().filter((file) => !file.startsWith('src/web/')), 'vite.cli.config.ts'],
    makes: ['dist/cli.js', 'dist/index.js'],
    clear: ['dist/cli.js', 'dist/index.js', 'dist/chunks', 'dist/examples', 'dist/fonts'],
  },
];

/** A build that was killed leaves its lock behind; none takes this long. */
const LOCK_SECONDS = 180;

/** Work while no other build works in this folder: two at once would clear each other's files. */
async function alone(work) {
  const lock = inRoot('dist', '.building');
  mkdirSync(inRoot('dist'), { recursive: true });
  for (;;) {
    try {
      mkdirSync(lock);
      break;
    } catch (error) {
      if (error.code !== 'EEXIST') throw error;
    }
    const age = (Date.now() - (statSync(lock, { throwIfNoEntry: false })?.mtimeMs ?? Date.now())) / 1000;
    if (age > LOCK_SECONDS) rmSync(lock, { recursive: true, force: true });
    else await new Promise((done) => setTimeout(done, 100));
  }
  try {
    await work();
  } finally {
    rmSync(lock, { recursive: true, force: true });
  }
}

/** Build what is stale. */
export const build = () => alone(buildStale);

async function buildStale() {
  for (const target of targets) {
    const stamp = inRoot('dist', `.built-${target.config}`);
    const now = fingerprint(target.sources());
    const whole = target.makes.every((file) => existsSync(inRoot(file)));
    if (whole && existsSync(stamp) && readFileSync(stamp, 'utf8') === now) continue;
    const start = performance.now();
    for (const path of [...target.clear, `dist/.built-${target.config}`])
      rmSync(inRoot(path), { recursive: true, force: true });
    const vite = await import('vite');
    await vite.build({ root: inRoot(), configFile: inRoot(target.config), logLevel: 'warn' });
    for (const file of target.makes) if (!existsSync(inRoot(file))) throw new Error(`The build made no ${file}.`);
    writeFileSync(stamp, now);
    console.log(`build: ${target.name}, ${secondsSince(start)}`);
  }
}

if (isMain(import.meta.url)) {
  await build().catch((error) => {
    console.error(error.message);
    process.exitCode = 1;
  });
}
