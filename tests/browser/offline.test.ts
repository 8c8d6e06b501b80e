/** After one visit the application is there without a network, and a new build waits until the hands are still. */
import { createHash } from 'node:crypto';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { example, openPage, openWithProgram, root, type Site, serveSite, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

const dist = process.env.MIMICWRIGHT_WEB ?? join(root, 'dist/web');

/** Until the page is in the service worker's hands: all files are kept then. */
const kept = (page: Page) =>
  soon(() => page.evaluate(() => navigator.serviceWorker.controller?.state ?? null)).toBe('activated');

async function toLay(page: Page): Promise<void> {
  await page.getByRole('navigation').getByRole('button', { name: /^Lay/ }).click();
  await page.locator('.lay-sheet').waitFor();
  await page.getByText('Checked as you lay').waitFor();
}

describe('without a network, after one visit', () => {
  it('the page starts, Lay opens, and an edit is kept', async () => {
    const own = await serveSite();
    const { page } = await openPage(browser, own.url);
    await kept(page);
    // The server is gone, and the browser is told that there is no network.
    await own.close();
    await page.context().setOffline(true);
    await page.reload();
    await page.locator('.sheet').waitFor();
    await toLay(page);
    const counts = page.locator('.lay-foot').getByText(/strips/);
    expect(await counts.textContent()).toMatch(/^15 strips/);
    const box = await page.locator('.lay-sheet').boundingBox();
    if (box === null) throw new Error('the sheet is not drawn');
    const scale = box.width / 600;
    await page.keyboard.press('s');
    await page.mouse.move(box.x + 300 * scale, box.y + 96 * scale);
    await page.mouse.down();
    await page.mouse.move(box.x + 330 * scale, box.y + 80 * scale);
    await page.mouse.move(box.x + 348 * scale, box.y + 66 * scale);
    await page.mouse.up();
    await soon(() => counts.textContent()).toMatch(/^16 strips, 18 points/);
    await page.locator('.kept').getByText('Kept on this device').waitFor();
    await page.reload();
    await page.locator('.sheet').waitFor();
    await toLay(page);
    expect(await counts.textContent()).toMatch(/^16 strips, 18 points/);
    await page.goto(`${own.url}rescue.html`);
    await soon(() => page.locator('h1').textContent()).toBe('Rescue');
    await page.context().close();
  });
});

describe('the service worker', () => {
  it('lists every other file of the build with its hash, and keeps them all', async () => {
    const files = readdirSync(dist, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && entry.name !== 'service.js')
      .map((entry) => join(entry.parentPath, entry.name))
      .map((path) => [path.slice(dist.length + 1), createHash('sha256').update(readFileSync(path)).digest('hex')])
      .sort();
    const script = readFileSync(join(dist, 'service.js'), 'utf8');
    expect(JSON.parse(/^const FILES_OF_BUILD=(\[\[.*?\]\])/.exec(script)?.[1] ?? 'null')).toEqual(files);
    const { page, wrongs } = await openPage(browser, site.url);
    await kept(page);
    const inCache = await page.evaluate(async () => {
      const paths: string[] = [];
      for (const name of await caches.keys())
        for (const { url } of await (await caches.open(name)).keys()) paths.push(new URL(url).pathname.slice(1));
      return paths.sort();
    });
    expect(inCache).toEqual(files.map(([path]) => path).sort());
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('leaves the followed panel to the program that serves it', async () => {
    const program = await openWithProgram(example('bramble-siding'));
    try {
      const { page, wrongs } = await openPage(browser, program.url);
      await kept(page);
      await page.reload();
      await soon(() => page.locator('h1').textContent()).toBe('Bramble Siding');
      const asked = await page.evaluate(async () => (await (await fetch('panel')).json()) as { file: string });
      expect(asked.file).toBe('bramble-siding.mimic.json');
      expect(await page.evaluate(async () => (await caches.match('panel')) ?? null)).toBeNull();
      expect(wrongs).toEqual([]);
      await page.context().close();
    } finally {
      program.close();
    }
  });

  it('gives way to a new build only when no edit was made within the last minute', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'mimicwright-offline-'));
    cpSync(dist, folder, { recursive: true });
    const own = await serveSite(null, folder);
    const context = await browser.newContext();
    const page = await context.newPage();
    await page.goto(own.url);
    await kept(page);
    const script = join(folder, 'service.js');
    writeFileSync(script, readFileSync(script, 'utf8').replace(/NAME_OF_BUILD="\w+"/, 'NAME_OF_BUILD="next"'));
    await page.evaluate(() => localStorage.setItem('mimicwright.edited', String(Date.now())));
    await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
    const waiting = () => page.evaluate(async () => (await navigator.serviceWorker.ready).waiting?.state ?? null);
    await soon(waiting).toBe('installed');
    await page.reload();
    await page.locator('.sheet').waitFor();
    // Longer than the page takes to ask for the worker and offer it the moment.
    await page.waitForTimeout(4000);
    expect(await waiting()).toBe('installed');
    await page.evaluate(() => localStorage.setItem('mimicwright.edited', String(Date.now() - 61_000)));
    await page.reload();
    await soon(waiting).toBe(null);
    await soon(() => page.evaluate(() => caches.keys())).toContain('mimicwright-files-next');
    await context.close();
    await own.close();
    rmSync(folder, { recursive: true, force: true });
  });
});

describe('the manifest', () => {
  it('has a shortcut that begins in Lay', async () => {
    const { page } = await openPage(browser, `${site.url}?stage=lay`);
    await page.locator('.lay-sheet').waitFor();
    await page.getByRole('navigation').getByRole('button', { name: /^Run/ }).click();
    await page.locator('.run').waitFor();
    await page.context().close();
  });

  it('names icons, shortcuts and the files that it opens, and the page names it', async () => {
    const manifest = JSON.parse(readFileSync(join(dist, 'manifest.webmanifest'), 'utf8')) as {
      icons: { src: string; sizes: string; purpose: string }[];
      shortcuts: { name: string }[];
      file_handlers: { accept: Record<string, string[]> }[];
    };
    expect(readFileSync(join(dist, 'index.html'), 'utf8')).toContain('<link rel="manifest"');
    expect(manifest.shortcuts.map(({ name }) => name)).toEqual(['Lay', 'Run']);
    expect(manifest.file_handlers[0]?.accept).toEqual({ 'application/json': ['.mimic.json'] });
    for (const { src, sizes, purpose } of manifest.icons) {
      expect(purpose).toBe('any maskable');
      const png = readFileSync(join(dist, src));
      // PNG (ISO/IEC 15948, 11.2.2): width and height stand at 16 and 20, big-endian.
      expect(`${png.readUInt32BE(16)}x${png.readUInt32BE(20)}`).toBe(sizes);
    }
  });
});
