/** Trains in Run beside their job by each hand, which `stages-by-hand.test.ts` does: a sheet that is recorded, stepped through, kept and printed. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ask as run } from '../documents/load.ts';
import { audit, misfits } from './page-checks.ts';
import { ask, example, litOf, openPage, type Site, serveSite, soon, startBrowser } from './site.ts';

let site: Site;
let browser: Browser;
beforeAll(async () => {
  site = await serveSite();
  browser = await startBrowser();
});
afterAll(async () => {
  await browser.close();
  await site.close();
});

const trainRow = (page: Page, name: string) => page.locator('.train > .side-row', { hasText: name });
const place = (page: Page, name: string) => page.locator('.place-button').and(page.getByLabel(name, { exact: true }));

/** Where the screen says that trains are, by their markers. */
const standing = async (page: Page): Promise<readonly string[]> =>
  (
    await page.locator('.train-button').evaluateAll((all) => all.map((each) => each.getAttribute('aria-label') ?? ''))
  ).sort();

async function toTrains(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Trains', exact: true }).click();
  await page.locator('.train-button').first().waitFor();
}

/** Lamps that shine with levers so, as the command line has it. */
async function litBy(set: string): Promise<readonly string[]> {
  const answer = (await ask('solve', example('quillhaven-harbour'), ...(set === '' ? [] : ['--set', set]))) as {
    lamps: { id: string; look: string }[];
  };
  return answer.lamps.flatMap(({ id, look }) => (look === 'good' || look === 'bright' ? [id] : [])).sort();
}

describe('four trains', () => {
  it('run through a recorded sheet by mouse, and back through it, lamps and all', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await toTrains(page);
    expect(await standing(page)).toEqual([
      'Coal, at Yard 1',
      'Fish, at Yard 3',
      'Mixed, at Platform 1',
      'Railcar, at Storage 2',
    ]);
    const moves = [
      ['Mixed', 'Storage 3'],
      ['Coal', 'Tolland'],
      ['Fish', 'Neck'],
      ['Railcar', 'Platform 1'],
    ] as const;
    for (const [train, to] of moves) {
      await trainRow(page, train).click();
      const row = page.locator('.move', { hasText: to }).first();
      await row.locator('.side-row').click();
      await row.locator('.btn.primary').click();
      await soon(async () => (await standing(page)).join()).toContain(`${train}, at ${to}`);
      // The row folds again.
      const open = train === 'Coal' ? 'Fish' : train;
      if (train === 'Coal') {
        await soon(() => litOf(page)).toEqual(await litBy('L2=reverse,L4=reverse,L5=reverse,L6=reverse'));
        // Who is in whose way: Fish can no longer go to Tolland, and the list says so.
        await trainRow(page, open).click();
        await page.locator('.train-open summary').click();
        expect(await page.locator('.train-open details').textContent()).toContain('Tolland');
      }
      await trainRow(page, open).click();
    }
    expect(await page.locator('.sheet-lines li').count()).toBe(moves.length);
    expect(await page.locator('.sheet-lines').textContent()).toContain('Coal, Yard 1 to Tolland');
    const after = await standing(page);
    // All the way back, and on again.
    for (let n = 0; n < moves.length; n++) await page.getByRole('button', { name: 'Back', exact: true }).click();
    await soon(async () => (await standing(page)).join()).toContain('Coal, at Yard 1');
    await soon(() => litOf(page)).toEqual(await litBy(''));
    for (let n = 0; n < moves.length; n++) await page.getByRole('button', { name: 'On', exact: true }).click();
    await soon(() => standing(page)).toEqual(after);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });
});

describe('a running sheet', () => {
  it('is kept from visit to visit, takes a train of one’s own, and prints', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await toTrains(page);
    await page.getByRole('button', { name: 'Add a train' }).click();
    await page.getByLabel('Name').fill('Mail');
    await page.getByLabel('Length in mm').fill('700');
    await page.locator('.train-form button.sel-field').click();
    await page.getByRole('option', { name: 'Quay', exact: true }).click();
    await page.getByRole('button', { name: 'Done' }).click();
    await soon(async () => (await standing(page)).join()).toContain('Mail, at Quay');
    const row = page.locator('.move', { hasText: 'Neck' }).first();
    await row.locator('.side-row').click();
    await row.locator('.btn.primary').click();
    await soon(async () => (await standing(page)).join()).toContain('Mail, at Neck');
    await page.reload();
    await soon(async () => (await standing(page)).join()).toContain('Mail, at Neck');
    await page.getByRole('button', { name: 'Trains', exact: true }).click();
    // The browser's own dialog would hold the page.
    await page.evaluate(() => Object.assign(window, { print: () => {} }));
    await page.getByRole('button', { name: 'Print the sheet' }).click();
    await page.locator('.sheet-print').waitFor({ state: 'attached' });
    const folder = mkdtempSync(join(tmpdir(), 'mimicwright-sheet-'));
    try {
      writeFileSync(join(folder, 'sheet.pdf'), await page.pdf({ format: 'A4' }));
      const text = run('pdftotext', '-layout', join(folder, 'sheet.pdf'), '-');
      expect(text).toContain('Running sheet');
      expect(text).toMatch(/1\s+Mail\s+Quay\s+Neck\s+nothing to throw/);
      expect(text).not.toContain('Find the fewest');
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('puts its trains into the panel when asked, as one step that undoes, with the sheet going along', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await toTrains(page);
    const write = page.getByRole('button', { name: 'Write them into the panel' });
    // They stand as the file has them: nothing to write.
    await page.getByText('The panel’s file has them so.').waitFor();
    expect(await write.count()).toBe(0);
    await trainRow(page, 'Coal').click();
    await page.locator('.move', { hasText: 'Tolland' }).first().locator('.side-row').click();
    await page.locator('.move-open .btn.primary').click();
    await soon(async () => (await standing(page)).join()).toContain('Coal, at Tolland');
    await write.click();
    await page.getByText('The panel’s file has them so.').waitFor();
    await soon(async () => (await standing(page)).join()).toContain('Coal, at Tolland');
    expect(await page.locator('.sheet-lines').textContent()).toContain('Coal, Yard 1 to Tolland');
    // Undone, the file has them elsewhere: the sheet stays, and they can be written again.
    await page.keyboard.press('Control+z');
    await write.waitFor();
    expect((await standing(page)).join()).toContain('Coal, at Tolland');
    await page.keyboard.press('Control+Shift+z');
    await page.getByText('The panel’s file has them so.').waitFor();
    // It is in the file: a browser that was told nothing has them there.
    await page.evaluate(() => {
      for (const key of Object.keys(localStorage))
        if (key.startsWith('mimicwright.trains.')) localStorage.removeItem(key);
    });
    await page.reload();
    await toTrains(page);
    await soon(async () => (await standing(page)).join()).toContain('Coal, at Tolland');
    expect(await page.locator('.sheet-lines li').count()).toBe(0);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('takes in the fewest moves to a standing', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await toTrains(page);
    await page.locator('.bring button.sel-field').nth(3).click();
    await page.getByRole('option', { name: 'Storage 4', exact: true }).click();
    await page.getByRole('button', { name: 'Find the fewest moves' }).click();
    await page.getByRole('button', { name: 'Write them into the sheet' }).click();
    // The command line finds as many.
    const answer = (await ask('routes', example('quillhaven-harbour'), '--stand', 'T4=Storage 4', '--others-stay')) as {
      standings: { moves: unknown[] };
    };
    const { moves } = answer.standings;
    expect(moves.length).toBeGreaterThan(0);
    await soon(() => page.locator('.sheet-lines li').count()).toBe(moves.length);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });
});

describe('the side of trains', () => {
  let page: Page;
  let wrongs: readonly string[];
  beforeAll(async () => {
    ({ page, wrongs } = await openPage(browser, site.url));
    await toTrains(page);
    await trainRow(page, 'Coal').click();
    await page.locator('.move .side-row').first().click();
    await page.locator('.move-open').waitFor();
    return () => page.context().close();
  });
  it.each([
    [1440, 900, 'light'],
    [1180, 820, 'dark'],
    [820, 1180, 'light'],
    [390, 844, 'dark'],
  ] as const)('fits and is clean at %i by %i, %s', async (width, height, colorScheme) => {
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme });
    await page.locator('.move-open').waitFor();
    expect(await misfits(page)).toEqual([]);
    expect(await audit(page)).toEqual([]);
    expect(wrongs).toEqual([]);
  });
});

describe('places on the face', () => {
  it('are where a route starts and ends', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await place(page, 'Tolland').click();
    await place(page, 'Yard 3').click();
    await soon(() => page.locator('.state').textContent()).toContain('4 levers to throw');
    await soon(() => page.getByLabel('Tolland, the route starts here').count()).toBe(1);
    await soon(() => page.getByLabel('Yard 3, the route ends here').count()).toBe(1);
    // The next press begins another route; the same again takes it off.
    await place(page, 'Neck').click();
    await page.getByLabel('Neck, the route starts here').click();
    await soon(() => page.locator('.place-button[aria-pressed=true]').count()).toBe(0);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });
});
