// node scripts/weigh.mjs [--dist DIR]: what the scripts of the built application weigh, brotli: those that the first drawing waits for, and all. JSON.
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync } from 'node:zlib';
import { inRoot } from './tools.mjs';

/** Scripts of a build by name, and which of them come first: what the page names, what those import as they load, and the worker with what it imports. */
export function weigh(dist) {
  const assets = join(dist, 'assets');
  const bytes = (file) => brotliCompressSync(readFileSync(file)).length;
  const all = Object.fromEntries(
    readdirSync(assets)
      .filter((file) => file.endsWith('.js'))
      .sort()
      .map((file) => [file, bytes(join(assets, file))]),
  );
  const first = new Set();
  const follow = (file) => {
    if (first.has(file)) return;
    if (all[file] === undefined) throw new Error(`The build names ${file}, and there is no such script.`);
    first.add(file);
    const text = readFileSync(join(assets, file), 'utf8');
    // An import that is called is fetched when it is; one that stands by itself is fetched before the script runs.
    for (const [, next] of text.matchAll(/(?:\bfrom|\bimport)\s*["']\.\/([\w.-]+\.js)["']/g)) follow(next);
  };
  const page = readFileSync(join(dist, 'index.html'), 'utf8');
  const named = [...page.matchAll(/(?:src|href)="\.?\/?assets\/([\w.-]+\.js)"/g)].map(([, file]) => file);
  for (const file of named) follow(file);
  for (const file of [...first]) {
    const text = readFileSync(join(assets, file), 'utf8');
    for (const [, worker] of text.matchAll(/new Worker\(\s*(?:new URL\(\s*)+["'`][^"'`]*?([\w.-]+\.js)["'`]/g))
      follow(worker);
  }
  const sum = (files) => files.reduce((total, file) => total + all[file], 0);
  return { all, first: [...first].sort(), firstBytes: sum([...first]), allBytes: sum(Object.keys(all)) };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const option = process.argv.indexOf('--dist');
  console.log(JSON.stringify(weigh(option < 0 ? inRoot('dist/web') : resolve(process.argv[option + 1] ?? ''))));
}
