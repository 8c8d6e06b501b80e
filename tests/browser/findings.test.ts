/** What was found, as it stands under the sheet in Lay: as high as it has to be, and what is alike as one. */
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { toLay } from './lay-pages.ts';
import { audit, misfits } from './page-checks.ts';
import { dropFile, example, openPage, type Site, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

const heightOf = async (page: Page): Promise<number> => (await page.locator('.tray').boundingBox())?.height ?? 0;
const rows = (page: Page) => page.locator('.tray-row');

/** The demo with lamps that show points that are not there: five of P91, three of P92, two of P93. */
function slipped(): string {
  const panel = JSON.parse(readFileSync(example('quillhaven-harbour'), 'utf8')) as {
    lamps: { shows?: Record<string, string> }[];
  };
  for (const [i, point] of ['P91', 'P91', 'P91', 'P91', 'P91', 'P92', 'P92', 'P92', 'P93', 'P93'].entries()) {
    const lamp = panel.lamps[i];
    if (lamp !== undefined) lamp.shows = { [point]: 'normal' };
  }
  return JSON.stringify(panel);
}

async function withSlips(): Promise<Page> {
  const { page } = await openPage(browser, site.url);
  await dropFile(page, 'slips.mimic.json', slipped());
  await soon(() => page.locator('.kept').getAttribute('title')).toContain('slips');
  await toLay(page);
  await soon(() => rows(page).filter({ hasText: 'P91' }).count()).toBe(1);
  return page;
}

describe('the findings under the sheet', () => {
  it('are no higher than the one that there is, and the sheet has the room', async () => {
    const { page } = await openPage(browser, site.url);
    await toLay(page);
    await soon(() => rows(page).count()).toBe(1);
    // The head is 46 px high and a row 50, as the style has them; the line over it is 1.
    expect(await heightOf(page)).toBeLessThan(46 + 50 + 8);
    await page.close();
  });

  it('never get lower while they are open, and as low as they can where they are closed and opened', async () => {
    const page = await withSlips();
    // Four groups and rows at 50 px are more than the most: 15.4 em of 16 px.
    await soon(async () => Math.round(await heightOf(page))).toBe(246);
    const before = await heightOf(page);
    await dropFile(page, 'one.mimic.json', readFileSync(example('quillhaven-harbour'), 'utf8'));
    await soon(() => rows(page).count()).toBe(1);
    expect(await heightOf(page)).toBe(before);
    await page.getByRole('button', { name: 'Fold the findings away' }).click();
    await page.getByRole('button', { name: 'Show the findings' }).click();
    await soon(() => heightOf(page)).toBeLessThan(46 + 50 + 8);
    await page.close();
  });

  it('of one cause are one row, opened to all by keys and folded again', async () => {
    const page = await withSlips();
    expect(await page.locator('.tray-count.wrong').textContent()).toBe('10 wrong');
    const of = (point: string) => rows(page).filter({ hasText: `shows ${point},` });
    expect(await of('P91').count()).toBe(1);
    expect(await of('P92').count()).toBe(1);
    // Two alike stand side by side: a button would save nothing.
    expect(await of('P93').count()).toBe(2);
    const more = page.getByRole('button', { name: 'and 4 more alike' });
    expect(await more.getAttribute('aria-expanded')).toBe('false');
    await more.focus();
    await page.keyboard.press('Enter');
    await soon(() => of('P91').count()).toBe(5);
    expect(await of('P92').count()).toBe(1);
    const less = page.getByRole('button', { name: 'Fold the 4 alike away' });
    expect(await less.getAttribute('aria-expanded')).toBe('true');
    expect(await misfits(page)).toEqual([]);
    expect(await audit(page)).toEqual([]);
    await page.keyboard.press('Enter');
    await soon(() => of('P91').count()).toBe(1);
    await page.close();
  });

  it('are folded alike in Run, and opened there', async () => {
    const { page } = await openPage(browser, site.url);
    await dropFile(page, 'slips.mimic.json', slipped());
    await page.locator('.findings-button .count.wrong:not(.none)').waitFor();
    await page.locator('.findings-button').click();
    const of = (point: string) => page.locator('.finding').filter({ hasText: `shows ${point},` });
    await soon(() => of('P91').count()).toBe(1);
    expect(await of('P93').count()).toBe(2);
    await page.getByRole('button', { name: 'and 4 more alike' }).click();
    await soon(() => of('P91').count()).toBe(5);
    expect(await audit(page)).toEqual([]);
    await page.close();
  });
});
