/** What the window fetches before its first drawing. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { root } from './site.ts';

/** The promise: every script before the first drawing, the worker's with them, brotli. */
const MOST_BYTES = 250_000;

const assets = join(process.env.MIMICWRIGHT_WEB ?? join(root, 'dist/web'), 'assets');

describe('the scripts', () => {
  it('weigh less than 250 kB together', () => {
    const weights = readdirSync(assets)
      .filter((file) => file.endsWith('.js'))
      .map((file) => ({ file, bytes: brotliCompressSync(readFileSync(join(assets, file))).length }));
    const sum = weights.reduce((total, { bytes }) => total + bytes, 0);
    for (const { file, bytes } of weights) console.log(`${file}: ${(bytes / 1000).toFixed(1)} kB`);
    console.log(`scripts, brotli: ${(sum / 1000).toFixed(1)} kB`);
    expect(weights.length).toBeGreaterThanOrEqual(2);
    expect(sum).toBeLessThan(MOST_BYTES);
  });
});
