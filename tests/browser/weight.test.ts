/** What the window fetches before its first drawing, and what it fetches after. */
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { openPage, root, type Site, serveSite, soon, startBrowser } from './site.ts';

/** The promise: every script before the first drawing, the worker's with them, brotli. */
const MOST_BYTES = 250_000;

/** The same with what is fetched when it is needed: what judges, what lays, the stages, the book. */
const MOST_IN_ALL = 1_000_000;

interface Weights {
  readonly all: Readonly<Record<string, number>>;
  readonly first: readonly string[];
  readonly firstBytes: number;
  readonly allBytes: number;
}

let weights: Weights;
beforeAll(() => {
  const dist = process.env.MIMICWRIGHT_WEB ?? join(root, 'dist/web');
  weights = JSON.parse(
    execFileSync(process.execPath, [join(root, 'scripts/weigh.mjs'), '--dist', dist], { encoding: 'utf8' }),
  );
});

describe('the scripts', () => {
  it('weigh less than 250 kB before the first drawing, and less than 1 MB in all', () => {
    for (const file of weights.first) console.log(`${file}: ${((weights.all[file] ?? 0) / 1000).toFixed(1)} kB`);
    console.log(
      `scripts, brotli: ${(weights.firstBytes / 1000).toFixed(1)} kB, in all ${(weights.allBytes / 1000).toFixed(1)} kB`,
    );
    // The page's own, and the worker's with the core in it.
    expect(weights.first.some((file) => file.startsWith('index-'))).toBe(true);
    expect(weights.first.some((file) => file.startsWith('core-'))).toBe(true);
    expect(weights.firstBytes).toBeGreaterThan(100_000);
    expect(weights.firstBytes).toBeLessThan(MOST_BYTES);
    expect(weights.allBytes).toBeLessThan(MOST_IN_ALL);
  });

  it('that are fetched before the face is drawn are those and no others', async () => {
    const site: Site = await serveSite();
    const browser = await startBrowser();
    try {
      const { page } = await openPage(browser, site.url);
      await soon(() => page.evaluate(() => performance.getEntriesByName('first-contentful-paint').length)).toBe(1);
      const drawn = await page.evaluate(() => {
        // By the browser's own clock: what had come when the face was first painted.
        const paint = performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN;
        return performance
          .getEntriesByType('resource')
          .filter(({ name, startTime }) => name.endsWith('.js') && startTime < paint)
          .map(({ name }) => name.split('/').at(-1) ?? '');
      });
      expect(drawn.length).toBeGreaterThan(0);
      expect(drawn.filter((file) => !weights.first.includes(file))).toEqual([]);
    } finally {
      await browser.close();
      await site.close();
    }
  });
});
