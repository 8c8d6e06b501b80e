/** The panel beside the same panel built otherwise: weighed as they come, ranked, stopped, taken over and undone. */
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit, misfits, still } from './page-checks.ts';
import { ask, example, openPage, type Site, serveSite, soon, startBrowser } from './site.ts';

let site: Site;
let browser: Browser;
beforeAll(async () => {
  site = await serveSite({ file: 'bramble-siding.mimic.json', text: readFileSync(example('bramble-siding'), 'utf8') });
  browser = await startBrowser();
});
afterAll(async () => {
  await browser.close();
  await site.close();
});

async function compare(page: Page): Promise<void> {
  await page.locator('.more > button').click();
  await page.getByRole('button', { name: 'Compare other ways to build it' }).click();
  await page.locator('.compare tbody tr').first().waitFor();
}

const names = (page: Page) => page.locator('.compare tbody th > b').allTextContents();
const WEIGHED = /^\d+ ways weighed\. /;
const weighed = (page: Page) => soon(() => page.locator('.compare output').textContent()).toMatch(WEIGHED);

interface Answer {
  readonly options: readonly {
    name: string;
    cost: number | null;
    pins: number;
    joints: number;
    obstacles: unknown[];
  }[];
}

describe('ways to build a panel', () => {
  it('are those of the command line, ranked by what is pressed, and one is taken over and undone', async () => {
    const { page, wrongs } = await openPage(browser, site.url, { viewport: { width: 1440, height: 900 } });
    const { options } = (await ask('compare', example('bramble-siding'))) as Answer;
    await compare(page);
    await weighed(page);
    expect([...(await names(page))].sort()).toEqual(options.map(({ name }) => name).sort());
    // By cost: the panel as it is, then what can be built, cheapest first, then what cannot.
    await page.getByRole('button', { name: 'Cost' }).click();
    const [first, ...others] = await names(page);
    expect(first).toBe('As it is');
    const byName = new Map(options.map((option) => [option.name, option]));
    const built = others.map((name) => byName.get(name)).filter((option) => option?.obstacles.length === 0);
    const costs = built.map((option) => option?.cost ?? Number.POSITIVE_INFINITY);
    expect(costs).toEqual([...costs].sort((a, b) => a - b));
    expect(others.slice(0, built.length)).toEqual(built.map((option) => option?.name));
    // What the row says is what the command line says.
    const split = byName.get('Split feed');
    const row = page.locator('.compare tbody tr', { has: page.getByText('Split feed', { exact: true }) });
    expect(await row.locator('.figure').nth(2).textContent()).toMatch(new RegExp(`^${split?.pins}`));
    await row.getByRole('button', { name: 'Take it over: Split feed' }).click();
    // One step, named, and back again.
    const undo = page.getByRole('button', { name: /^Undo/ });
    await soon(() => undo.getAttribute('aria-label')).toMatch(/Split feed/);
    await undo.click();
    await soon(() => page.getByRole('button', { name: 'Nothing to undo' }).count()).toBe(1);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('come one by one, and can be stopped and begun again', async () => {
    const { page, wrongs } = await openPage(browser, site.url, { viewport: { width: 1440, height: 900 } });
    await compare(page);
    await page.getByRole('button', { name: 'Stop' }).click();
    await soon(() => page.locator('.compare output').textContent()).toMatch(/^Stopped after/);
    const some = await names(page);
    await page.waitForTimeout(400);
    expect(await names(page)).toEqual(some);
    await page.getByRole('button', { name: 'Weigh them again' }).click();
    await weighed(page);
    expect((await names(page)).length).toBeGreaterThan(some.length);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  describe('on every screen', () => {
    let page: Page;
    let wrongs: readonly string[];
    beforeAll(async () => {
      ({ page, wrongs } = await openPage(browser, site.url));
      await compare(page);
      await page.locator('.compare output', { hasText: WEIGHED }).waitFor();
      return () => page.context().close();
    });
    it.each([
      [1440, 900, 'light'],
      [1180, 820, 'dark'],
      [820, 1180, 'light'],
    ] as const)('fit and are clean at %i by %i, %s', async (width, height, colorScheme) => {
      await page.setViewportSize({ width, height });
      await page.emulateMedia({ colorScheme });
      await soon(() => page.locator('html').getAttribute('data-theme')).toBe(colorScheme);
      await still(page);
      expect(await misfits(page)).toEqual([]);
      expect(await audit(page)).toEqual([]);
      expect(wrongs).toEqual([]);
    });
    it('are ranked and put away by keys', async () => {
      await page.locator('.compare thead button', { hasText: 'Pins' }).focus();
      await page.keyboard.press('Enter');
      await soon(() => page.locator('th[aria-sort]').textContent()).toContain('Pins');
      await page.keyboard.press('Escape');
      await soon(() => page.locator('.compare').count()).toBe(0);
      expect(wrongs).toEqual([]);
    });
  });
});
