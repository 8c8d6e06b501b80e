/** Files that come to the application from the system: opened by a double click, and shared by another application. */
import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { layPage, settled, soonStrips, strips } from './lay-pages.ts';
import { example, openPage, type Site, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

const SIDING = readFileSync(example('bramble-siding'), 'utf8');

describe('the manifest', () => {
  it('asks for panel files and for shared ones', async () => {
    const answer = await fetch(`${site.url}manifest.webmanifest`);
    expect(await answer.json()).toMatchObject({
      file_handlers: [{ action: './', accept: { 'application/json': ['.mimic.json'] } }],
      launch_handler: { client_mode: ['navigate-new', 'auto'] },
      // Web Share Target, W3C draft: files need POST and multipart/form-data.
      share_target: { action: './shared', method: 'POST', enctype: 'multipart/form-data' },
    });
  });
});

describe('a file that the application is opened with', () => {
  it('is opened in place of what the window begins with, laid on, and saved into again', async () => {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
    // The queue as browsers have it, with a file of the origin's own file system, which can be written without asking.
    const { page, wrongs } = await layPage(context, site.url, (fresh) =>
      fresh.addInitScript((text) => {
        type Take = (params: { files: readonly FileSystemFileHandle[] }) => void;
        const launch = async (take: Take): Promise<void> => {
          const folder = await navigator.storage.getDirectory();
          const handle = await folder.getFileHandle('yard.mimic.json', { create: true });
          const stream = await handle.createWritable();
          await stream.write(text);
          await stream.close();
          take({ files: [handle] });
        };
        Object.defineProperty(window, 'launchQueue', { value: { setConsumer: (take: Take) => void launch(take) } });
        // Where files can be picked they can be written again as well.
        Object.defineProperty(window, 'showSaveFilePicker', { value: () => Promise.reject(new Error('not asked')) });
      }, SIDING),
    );
    await soon(() => page.locator('h1').textContent()).toBe('Bramble Siding');
    const before = await strips(page);
    await page.keyboard.press('Control+a');
    await page.keyboard.press('Delete');
    await soonStrips(page).toBe(0);
    await settled(page);
    await page.keyboard.press('Control+s');
    const written = () =>
      page.evaluate(async () => {
        const folder = await navigator.storage.getDirectory();
        return (await (await folder.getFileHandle('yard.mimic.json')).getFile()).text();
      });
    await soon(async () => (JSON.parse(await written()) as { strips: unknown[] }).strips.length).toBe(0);
    expect(before).toBeGreaterThan(0);
    expect(wrongs).toEqual([]);
    await context.close();
  });
});

describe('a file that is shared', () => {
  it('is taken by the service worker, opened, and reaches no server', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await soon(() => page.evaluate(() => navigator.serviceWorker.controller?.state ?? null)).toBe('activated');
    // The system sends a form that comes from no page: so does one on a page that names no address.
    const sender = await page.context().newPage();
    await sender.setContent(
      `<meta name="referrer" content="no-referrer"><form method="post" enctype="multipart/form-data" action="${site.url}shared"><input type="file" name="panel"><button>Send</button></form>`,
    );
    await sender
      .locator('input')
      .setInputFiles({ name: 'häfen.mimic.json', mimeType: 'application/json', buffer: Buffer.from(SIDING) });
    const asked = site.asked.length;
    await sender.locator('button').click();
    await soon(() => sender.locator('h1').textContent()).toBe('Bramble Siding');
    expect(new URL(sender.url()).search).toBe('');
    expect(site.asked.slice(asked)).not.toContain('/shared');
    // Read again, the window does not open it a second time.
    expect(await sender.evaluate(async () => (await (await caches.open('mimicwright-shared')).keys()).length)).toBe(0);
    // It is laid on like any other.
    await sender.getByRole('navigation').getByRole('button', { name: /^Lay/ }).click();
    await sender.locator('.lay-sheet').waitFor();
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('from a page elsewhere that names itself is left to the server', async () => {
    const { page } = await openPage(browser, site.url);
    await soon(() => page.evaluate(() => navigator.serviceWorker.controller?.state ?? null)).toBe('activated');
    const elsewhere = await page.context().newPage();
    await elsewhere.route('http://elsewhere.test/', (route) =>
      route.fulfill({
        contentType: 'text/html',
        body: `<meta name="referrer" content="unsafe-url"><form method="post" enctype="multipart/form-data" action="${site.url}shared"><input type="file" name="panel"><button>Send</button></form>`,
      }),
    );
    await elsewhere.goto('http://elsewhere.test/');
    await elsewhere
      .locator('input')
      .setInputFiles({ name: 'x.mimic.json', mimeType: 'application/json', buffer: Buffer.from(SIDING) });
    await elsewhere.locator('button').click();
    await soon(() => site.asked.includes('/shared')).toBe(true);
    expect(await elsewhere.evaluate(async () => (await (await caches.open('mimicwright-shared')).keys()).length)).toBe(
      0,
    );
    await page.context().close();
  });
});
