/** Panels of the user's own: dropped, picked, served, and refused. */
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { bat, dropFile, example, lever, openPage, openWithProgram, type Site, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

const bramble = readFileSync(example('bramble-siding'), 'utf8');

describe('a panel file', () => {
  it('is opened where it is dropped', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await dropFile(page, 'bramble-siding.mimic.json', bramble);
    await soon(() => page.locator('h1').textContent()).toBe('Bramble Siding');
    expect(await page.locator('.lever-button').count()).toBe(2);
    expect(await page.locator('[data-lamp]').count()).toBe(12);
    await lever(page, 'L1').click();
    await soon(() => bat(page, 'L1').getAttribute('data-position')).toBe('reverse');
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('is opened by the picker', async () => {
    const { page } = await openPage(browser, site.url);
    await page.locator('input[type=file]').setInputFiles(example('bramble-siding'));
    await soon(() => page.locator('h1').textContent()).toBe('Bramble Siding');
    await page.context().close();
  });

  it('that cannot be used is refused with everything that is wrong, and the panel at hand stays', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await lever(page, 'L4').click();
    await soon(() => bat(page, 'L4').getAttribute('data-position')).toBe('reverse');
    const bad = {
      format: 'mimic-panel',
      version: 1,
      strips: [{ id: 'a b', path: [[0, 'x']] }],
      levers: [{ id: 'L1', angle: 'up' }],
    };
    await dropFile(page, 'bad.mimic.json', JSON.stringify(bad));
    const dialog = page.getByRole('dialog');
    await dialog.waitFor();
    const text = (await dialog.textContent()) ?? '';
    for (const path of ['strips[0].id', 'strips[0].path[0][1]', 'levers[0].angle']) expect(text).toContain(path);
    expect(text).toContain('bad.mimic.json cannot be used');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Close');
    await page.keyboard.press('Escape');
    await dialog.waitFor({ state: 'detached' });
    expect(await page.locator('h1').textContent()).toBe('Quillhaven Harbour');
    expect(await bat(page, 'L4').getAttribute('data-position')).toBe('reverse');
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('that is no panel at all is refused, and nothing in it runs', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await dropFile(page, 'page.json', '<img src=x onerror="document.title=1">');
    await page.getByRole('dialog').waitFor();
    await page.keyboard.press('Escape');
    const named = JSON.parse(bramble) as { name: string; plates: { text: string }[] };
    named.name = '<img src=x onerror="document.title=1">';
    named.plates = [{ ...named.plates[0], text: '</text><script>document.title=1</script>' }];
    await dropFile(page, 'named.mimic.json', JSON.stringify(named));
    await soon(() => page.locator('h1').textContent()).toBe(named.name);
    expect(await page.title()).toBe(`${named.name} · Mimicwright`);
    expect(await page.locator('.sheet script, h1 img').count()).toBe(0);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('is served and followed by open: read again as it changes, levers kept', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'mimicwright-browser-'));
    const file = join(folder, 'own.mimic.json');
    copyFileSync(example('bramble-siding'), file);
    const program = await openWithProgram(file);
    try {
      const { page, wrongs } = await openPage(browser, program.url);
      await soon(() => page.locator('h1').textContent()).toBe('Bramble Siding');
      await lever(page, 'L1').click();
      await soon(() => bat(page, 'L1').getAttribute('data-position')).toBe('reverse');
      writeFileSync(file, bramble.replace('"Bramble Siding"', '"Bramble Junction"'));
      await soon(() => page.locator('h1').textContent()).toBe('Bramble Junction');
      expect(await bat(page, 'L1').getAttribute('data-position')).toBe('reverse');
      expect(wrongs).toEqual([]);
      await page.context().close();
    } finally {
      program.close();
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it('that is served and cannot be used leaves an empty window that says so, and mends itself', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'mimicwright-browser-'));
    const file = join(folder, 'own.mimic.json');
    writeFileSync(file, '{"format": "mimic-panel", "version": 1}');
    const program = await openWithProgram(file);
    const page = await browser.newPage();
    try {
      await page.goto(program.url);
      await page.getByRole('dialog').waitFor();
      expect(await page.getByRole('dialog').textContent()).toContain('strips');
      await page.getByRole('button', { name: 'Close' }).click();
      await page.getByRole('button', { name: 'Open the demo panel' }).waitFor();
      copyFileSync(example('bramble-siding'), file);
      await soon(() => page.locator('h1').textContent()).toBe('Bramble Siding');
    } finally {
      await page.close();
      program.close();
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it('is the demo where open has no file', async () => {
    const program = await openWithProgram(null);
    try {
      const { page, wrongs } = await openPage(browser, program.url);
      expect(await page.locator('h1').textContent()).toBe('Quillhaven Harbour');
      expect(wrongs).toEqual([]);
      await page.context().close();
    } finally {
      program.close();
    }
  });
});
