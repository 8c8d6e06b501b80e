// npm run bench [-- NAME...]: bundle every bench/*.bench.ts and run it, one after the other, each in a process of its own.
import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inRoot, run } from './tools.mjs';

const asked = process.argv.slice(2);
const folder = inRoot('bench');
const files = existsSync(folder)
  ? readdirSync(folder)
      .filter(
        (file) => file.endsWith('.bench.ts') && (asked.length === 0 || asked.some((name) => file.startsWith(name))),
      )
      .sort()
  : [];
if (files.length === 0) {
  console.error(
    asked.length === 0 ? 'There are no benchmarks in bench.' : `No benchmark begins with ${asked.join(' or ')}.`,
  );
  process.exit(1);
}

const { build } = await import('vite');
const out = mkdtempSync(join(tmpdir(), 'mimicwright-bench-'));
let failed = 0;
for (const file of files) {
  // Bundled, so that what is timed is what ships and not a loader.
  await build({
    root: inRoot(),
    configFile: false,
    logLevel: 'warn',
    build: {
      ssr: join(folder, file),
      outDir: out,
      emptyOutDir: false,
      target: 'node20',
      minify: false,
      rolldownOptions: { output: { entryFileNames: `${file}.mjs` } },
    },
    ssr: { noExternal: true },
  });
  console.log(`\n${file}`);
  const { code } = await run(process.execPath, ['--expose-gc', join(out, `${file}.mjs`)]);
  if (code !== 0) failed++;
}
rmSync(out, { recursive: true, force: true });
process.exitCode = failed > 0 ? 1 : 0;
