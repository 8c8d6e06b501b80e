/** The shelf in a real browser: begin a panel, lay on it, find it again, copy it, put it away; and files into Lay. */
import { readFileSync } from 'node:fs';
import type { Browser, Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { audit, misfits } from './page-checks.ts';
import { dropFile, example, openPage, type Site, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

const shelf = (page: Page): Locator => page.getByRole('dialog', { name: 'Panels on this device' });
const rows = (page: Page): Locator => shelf(page).getByRole('listitem');
const counts = (page: Page): Locator => page.locator('.lay-foot').getByText(/strip/);

async function openShelf(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Panels', exact: true }).click();
  await shelf(page).waitFor();
}

/** A new bare sheet in Lay, ready to be laid on. */
async function newSheet(page: Page): Promise<void> {
  await openShelf(page);
  await shelf(page).getByRole('button', { name: 'New bare sheet' }).click();
  await soon(() => page.locator('h1').textContent()).toBe('New sheet');
  await page.getByText('Lay a strip from edge to edge').waitFor();
}

/** Lay a strip from edge to edge of a sheet of 300 mm. */
async function layStrip(page: Page): Promise<void> {
  const box = await page.locator('.lay-sheet').boundingBox();
  if (box === null) throw new Error('the sheet is not drawn');
  const scale = box.width / 300;
  await page.keyboard.press('s');
  await page.mouse.move(box.x + 1, box.y + 60 * scale);
  await page.mouse.down();
  for (let k = 1; k <= 6; k++) await page.mouse.move(box.x + ((box.width - 2) * k) / 6, box.y + 60 * scale);
  await page.mouse.up();
  await soon(() => counts(page).textContent()).toMatch(/^1 strip,/);
}

describe('the shelf', () => {
  it('begins a bare sheet, shows it with its picture, opens, copies, renames, puts away and brings back', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await newSheet(page);
    expect(await page.locator('.panel-name').textContent()).toMatch(/300.*150/);
    await layStrip(page);
    expect(await page.getByText('Lay a strip from edge to edge').count()).toBe(0);
    await openShelf(page);
    const row = rows(page).filter({ hasText: 'New sheet' });
    await soon(() => row.count()).toBe(1);
    expect(await row.textContent()).toMatch(/1 strip, 0 points, 0 levers, 0 lamps.*Changed just now/);
    expect(await row.locator('svg path').count()).toBe(1);
    expect(await audit(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await shelf(page).waitFor({ state: 'detached' });

    await page.reload();
    await soon(() => page.locator('h1').textContent()).toBe('New sheet');
    await openShelf(page);
    await shelf(page).getByRole('button', { name: 'Open New sheet' }).click();
    await soon(() => counts(page).textContent()).toMatch(/^1 strip,/);

    await openShelf(page);
    await shelf(page).getByRole('button', { name: 'Duplicate New sheet' }).click();
    const copy = rows(page).filter({ hasText: 'New sheet (copy)' });
    await soon(() => copy.count()).toBe(1);
    expect(await copy.locator('svg path').count()).toBe(1);
    await copy.getByRole('button', { name: /^Rename/ }).click();
    await page.keyboard.type('Up yard');
    await page.keyboard.press('Enter');
    const yard = rows(page).filter({ hasText: 'Up yard' });
    await soon(() => yard.count()).toBe(1);

    await yard.getByRole('button', { name: /^Put away/ }).click();
    await soon(() => yard.textContent()).toMatch(/Can be brought back for 30 days/);
    await soon(() => page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe(
      'Bring back Up yard',
    );
    expect(await audit(page)).toEqual([]);
    expect(await misfits(page)).toEqual([]);
    await page.keyboard.press('Enter');
    await soon(() => yard.textContent()).toMatch(/Changed/);
    await yard.getByRole('button', { name: /^Open/ }).click();
    await soon(() => page.locator('h1').textContent()).toBe('Up yard');
    await soon(() => counts(page).textContent()).toMatch(/^1 strip,/);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('begins with the demo when the panel worked on last is put away, and an edit takes it out of the bin', async () => {
    const { page } = await openPage(browser, site.url);
    await newSheet(page);
    await openShelf(page);
    await shelf(page).getByRole('button', { name: 'Put away New sheet' }).click();
    await shelf(page).getByRole('button', { name: 'Bring back New sheet' }).waitFor();
    await page.keyboard.press('Escape');
    await shelf(page).waitFor({ state: 'detached' });
    await layStrip(page);
    await openShelf(page);
    await shelf(page).getByRole('button', { name: 'Put away New sheet' }).click();
    await shelf(page).getByRole('button', { name: 'Bring back New sheet' }).waitFor();
    await page.reload();
    await soon(() => page.locator('h1').textContent()).toBe('Quillhaven Harbour');
    await page.context().close();
  });

  it('keeps one panel of a demo that nobody has touched', async () => {
    const { page } = await openPage(browser, site.url);
    for (let visit = 0; visit < 2; visit++) {
      await page.getByRole('navigation').getByRole('button', { name: /^Lay/ }).click();
      await page.locator('.lay-sheet').waitFor();
      await page.reload();
      await soon(() => page.locator('h1').textContent()).toBe('Quillhaven Harbour');
    }
    await openShelf(page);
    await soon(() => rows(page).count()).toBe(1);
    expect(await rows(page).locator('svg path').count()).toBe(15);
    await page.context().close();
  });

  it('fits a phone', async () => {
    const { page } = await openPage(browser, site.url, { viewport: { width: 390, height: 844 } });
    await openShelf(page);
    await shelf(page).getByRole('button', { name: 'New from the demo' }).click();
    await page.getByText('Laying needs a wider screen').waitFor();
    await openShelf(page);
    await rows(page).first().waitFor();
    expect(await misfits(page)).toEqual([]);
    expect(await audit(page)).toEqual([]);
    await page.context().close();
  });
});

describe('files in Lay', () => {
  it('dropped on the sheet are laid on, opened and saved by keys', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    // Asked for long before the key: the browser takes a while to hand its choosers over, and calls off one that nobody waits for.
    const chooser = page.waitForEvent('filechooser');
    await newSheet(page);
    await dropFile(page, 'bramble-siding.mimic.json', readFileSync(example('bramble-siding'), 'utf8'));
    await soon(() => page.locator('h1').textContent()).toBe('Bramble Siding');
    await soon(() => counts(page).textContent()).toBe('3 strips, 3 points, 2 levers, 12 lamps');
    // The stage is made anew over it, keys and all.
    await page.getByText('Checked as you lay').waitFor();
    await page.keyboard.press('Control+o');
    await (await chooser).setFiles(example('quillhaven-harbour'));
    await soon(() => counts(page).textContent()).toMatch(/^15 strips/);
    // Without the picker, which would wait for a hand, a file is a download.
    await page.evaluate(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
    const download = page.waitForEvent('download');
    await page.keyboard.press('Control+s');
    expect((await download).suggestedFilename()).toBe('quillhaven-harbour.mimic.json');
    expect(wrongs).toEqual([]);
    await page.context().close();
  });
});
