// Build the application into dist/web and the command line and library into dist; skip what has not changed.
import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
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

/** Build what is stale. */
export async function build() {
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
