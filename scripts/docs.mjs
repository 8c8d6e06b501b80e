// Write the papers that follow from the code into docs; with --check, fail when one is stale.
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { inRoot } from './tools.mjs';

const { runnerImport } = await import('vite');
const { module } = await runnerImport(inRoot('src/cli/generated-docs.ts'), {
  root: inRoot(),
  configFile: false,
  logLevel: 'error',
});
const pages = module.generatedDocs();
const check = process.argv.includes('--check');

const stale = pages.filter(
  ({ path, text }) => !existsSync(inRoot(path)) || readFileSync(inRoot(path), 'utf8') !== text,
);

// Schemas that nothing writes any more would pass for promises.
const schemas = inRoot('docs/schema');
const known = new Set(pages.map(({ path }) => inRoot(path)));
const left = existsSync(schemas)
  ? readdirSync(schemas, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath ?? entry.path, entry.name))
      .filter((path) => !known.has(path))
  : [];
for (const path of left) console.error(`${path} is written by nothing: remove it.`);

if (check) {
  for (const { path } of stale) console.error(`${path} is stale: run npm run docs.`);
  console.log(`docs: ${pages.length - stale.length} of ${pages.length} fresh`);
  process.exitCode = stale.length > 0 || left.length > 0 ? 1 : 0;
} else {
  for (const { path, text } of stale) {
    mkdirSync(dirname(inRoot(path)), { recursive: true });
    writeFileSync(inRoot(path), text);
    console.log(`docs: ${path}`);
  }
  process.exitCode = left.length > 0 ? 1 : 0;
}
