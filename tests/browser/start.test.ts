/** The README's own command: `npm start` serves the demo panel, and a lever thrown there lights other lamps. */
import { spawn } from 'node:child_process';
import { createServer } from 'node:net';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bat, lever, litOf, openPage, root, soon, startBrowser } from './site.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser.close());

/** A port that nothing listens on just now. */
async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  await new Promise<void>((done) => server.close(() => done()));
  return port;
}

describe('npm start', () => {
  it('serves the demo at the port asked for, and its lamps follow its levers', async () => {
    const port = await freePort();
    const child = spawn('npm', ['start', '--', '--no-open', '--port', String(port)], {
      cwd: root,
      stdio: ['ignore', 'pipe', 'pipe'],
      // A group of its own, so that npm and what it started end together.
      detached: true,
    });
    let said = '';
    try {
      await new Promise<void>((done, fail) => {
        const hear = (chunk: Buffer): void => {
          said += String(chunk);
          if (said.includes(`http://127.0.0.1:${port}/`)) done();
        };
        child.stdout.on('data', hear);
        child.stderr.on('data', hear);
        child.on('exit', (code) => fail(new Error(`npm start ended with ${code}: ${said}`)));
      });
      const { page, wrongs } = await openPage(browser, `http://127.0.0.1:${port}/`);
      expect(await page.title()).toContain('Quillhaven Harbour');
      // With the way to the loop set, lever normal: the lamps of the platform road; reverse: the five of the crossover.
      await lever(page, 'L2').click();
      await soon(() => litOf(page)).toEqual(expect.arrayContaining(['H6', 'H7', 'H12', 'H13']));
      expect(await litOf(page)).not.toContain('H15');
      await lever(page, 'L4').click();
      await soon(() => bat(page, 'L4').getAttribute('data-position')).toBe('reverse');
      await soon(() => litOf(page)).toEqual(expect.arrayContaining(['H15', 'H16', 'H17', 'H18', 'H19']));
      expect(await litOf(page)).not.toContain('H12');
      expect(wrongs).toEqual([]);
      await page.context().close();
    } finally {
      if (child.pid !== undefined && child.exitCode === null) process.kill(-child.pid, 'SIGTERM');
    }
  });
});
