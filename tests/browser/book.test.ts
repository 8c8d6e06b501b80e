/** The build book made, looked through and printed in a real browser. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit, still } from './page-checks.ts';
import { openPage, type Site, serveSite, soon, startBrowser } from './site.ts';

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

async function openBook(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'More', exact: true }).click();
  await page.getByRole('button', { name: 'Print the build book' }).click();
  await soon(() => page.locator('.book-page svg').count()).toBeGreaterThan(10);
}

/** Sheets of a PDF, by its page objects (ISO 32000-1, 7.7.3.3), and the boxes that they name, in points. */
function sheetsOf(pdf: Buffer): { readonly count: number; readonly boxes: readonly string[] } {
  const text = pdf.toString('latin1');
  const boxes = [...text.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)].map(([, w, h]) => `${w} ${h}`);
  return { count: [...text.matchAll(/\/Type \/Page\b(?!s)/g)].length, boxes: [...new Set(boxes)] };
}

describe('the build book on the screen', () => {
  it('has a sheet of paper for each page, at true size', async () => {
    const { page, wrongs } = await openPage(browser, site.url, { locale: 'en-GB' });
    await openBook(page);
    const pages = await page.locator('.book-page').count();
    expect(await page.locator('.book output').textContent()).toBe(`${pages} pages`);
    // Its last page says how many there are.
    const last = await page.locator('.book-page').last().textContent();
    expect(last).toContain(`page ${pages} of ${pages}`);
    const { count, boxes } = sheetsOf(await page.pdf({ preferCSSPageSize: true, printBackground: true }));
    expect(count).toBe(pages);
    // A4 is 210 by 297 mm (ISO 216): 595.3 by 841.9 points, to a point as the browser rounds it.
    const [[width, height] = [0, 0], ...others] = boxes.map((box) => box.split(' ').map(Number));
    expect(others).toEqual([]);
    expect(Math.abs((width ?? 0) - 595.3)).toBeLessThan(1);
    expect(Math.abs((height ?? 0) - 841.9)).toBeLessThan(1);
    // Printed, a millimetre of a page is one of paper: 96 px are 25.4 mm (CSS Values and Units 3, 5.2).
    await page.emulateMedia({ media: 'print' });
    const wide = await page
      .locator('.book-page svg')
      .first()
      .evaluate((svg) => svg.getBoundingClientRect().width);
    expect(wide).toBeCloseTo((210 * 96) / 25.4, 0);
    await page.emulateMedia({ media: 'screen' });
    expect(wrongs).toEqual([]);
    await page.close();
  });

  it('keeps all lettering on its page, prints templates alone to the bar that was measured, and closes to its button', async () => {
    const { page } = await openPage(browser, site.url, { locale: 'en-GB' });
    await openBook(page);
    const off = await page.evaluate(() =>
      [...document.querySelectorAll('.book-page svg')].slice(0, 12).flatMap((svg) => {
        const around = svg.getBoundingClientRect();
        return [...svg.querySelectorAll('text')].flatMap((text) => {
          if (text.closest('[clip-path]') !== null) return [];
          const box = text.getBoundingClientRect();
          return box.left < around.left || box.right > around.right ? [text.textContent] : [];
        });
      }),
    );
    expect(off).toEqual([]);
    await page.getByRole('button', { name: 'Templates only' }).click();
    await soon(() => page.locator('.book output').textContent()).toBe('8 pages');
    // The bar is five black fields of 10 mm among ten: as wide on a page as was asked for.
    const first = page.locator('.book-page svg').first();
    const before = await first.innerHTML();
    await page.getByLabel('The bar measures, mm').fill('98');
    await soon(() => first.innerHTML().catch(() => before)).not.toBe(before);
    await page.getByLabel('The bar measures, mm').fill('40');
    await soon(() => page.getByLabel('The bar measures, mm').getAttribute('aria-invalid')).toBe('true');
    await page.keyboard.press('Escape');
    await soon(() => page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe('More');
    await page.close();
  });

  it('passes axe-core, light and dark', async () => {
    const { page } = await openPage(browser, site.url, { viewport: { width: 820, height: 1180 } });
    await openBook(page);
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      await soon(() => page.locator('html').getAttribute('data-theme')).toBe(colorScheme);
      await still(page);
      expect([colorScheme, await audit(page)]).toEqual([colorScheme, []]);
    }
    await page.close();
  });
});
