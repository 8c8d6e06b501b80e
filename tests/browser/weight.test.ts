/** What the window fetches before its first drawing, and what it fetches after. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { root } from './site.ts';

/** The promise: every script before the first drawing, the worker's with them, brotli. */
const MOST_BYTES = 250_000;

/** The same with what is fetched once the panel is drawn: what judges it. */
const MOST_IN_ALL = 1_000_000;

/** Fetched after the first drawing: what judges, what lays, and the page that gives back what is kept. */
const LATER =
  /^(book|derive|desk|document|door|help|keeper|laying|place-select|print-book|rescue|standings|trains|work|wire)-/;

const assets = join(process.env.MIMICWRIGHT_WEB ?? join(root, 'dist/web'), 'assets');

describe('the scripts', () => {
  it('weigh less than 250 kB together', () => {
    const weights = readdirSync(assets)
      .filter((file) => file.endsWith('.js'))
      .map((file) => ({ file, bytes: brotliCompressSync(readFileSync(join(assets, file))).length }));
    const first = weights.filter(({ file }) => !LATER.test(file));
    const sumOf = (list: typeof weights) => list.reduce((total, { bytes }) => total + bytes, 0);
    const sum = sumOf(first);
    for (const { file, bytes } of weights) console.log(`${file}: ${(bytes / 1000).toFixed(1)} kB`);
    console.log(`scripts, brotli: ${(sum / 1000).toFixed(1)} kB`);
    expect(first.length).toBeGreaterThanOrEqual(2);
    expect(sum).toBeLessThan(MOST_BYTES);
    expect(sumOf(weights)).toBeLessThan(MOST_IN_ALL);
    // What comes later is asked for by name, when it is needed, and by nothing that comes first.
    for (const { file } of first) {
      const text = readFileSync(join(assets, file), 'utf8');
      expect(text).not.toMatch(
        /(?:from|import)\s*["']\.\/(?:book|derive|desk|document|door|help|keeper|laying|place-select|print-book|rescue|trains|work|wire)-/,
      );
    }
    expect(weights.some(({ file }) => LATER.test(file))).toBe(true);
  });
});
