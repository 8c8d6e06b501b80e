/** Reads well, fits, and keeps to itself: accessibility, overflow at four sizes, lights, findings. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openPage, pickRoute, type Site, serveSite, startBrowser } from './site.ts';

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

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
/** WCAG 2.2, levels A and AA, as axe-core 4.14 tags its rules. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

async function audit(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe);
  return page.evaluate(async (tags) => {
    const runner = (
      globalThis as unknown as {
        axe: {
          run(
            context: Document,
            options: object,
          ): Promise<{ violations: { id: string; nodes: { target: unknown; failureSummary: string }[] }[] }>;
        };
      }
    ).axe;
    const { violations } = await runner.run(document, { runOnly: { type: 'tag', values: tags } });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id}: ${JSON.stringify(node.target)} ${node.failureSummary}`),
    );
  }, TAGS);
}

/** Text that is cut off or runs out of its box, and boxes to press that lie over one another. */
const misfits = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const found: string[] = [];
    const name = (element: Element): string =>
      `${element.tagName}.${element.getAttribute('class') ?? ''} "${element.textContent?.slice(0, 40) ?? ''}"`;
    const unseen = (element: Element): boolean =>
      element.closest('.unseen, .route-card, [aria-hidden="true"] option, [data-rac-hidden], .lever-buttons') !== null;
    const wide = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth > wide)
      found.push(`page is ${document.documentElement.scrollWidth} wide in ${wide}`);
    for (const element of document.querySelectorAll('body *')) {
      if (unseen(element) || element.closest('svg') !== null || !(element instanceof HTMLElement)) continue;
      const words = [...element.childNodes].some(
        (node) => node.nodeType === Node.TEXT_NODE && (node.textContent ?? '').trim() !== '',
      );
      if (!words) continue;
      const box = element.getBoundingClientRect();
      if (box.width < 3) continue;
      if (element.scrollWidth > element.clientWidth + 1 && getComputedStyle(element).display !== 'inline')
        found.push(`cut: ${name(element)}`);
      if (box.right > wide + 0.5 || box.left < -0.5) found.push(`off the page: ${name(element)}`);
      const holder = element.closest('.card, .btn, .sel-field, .tag, .side-row');
      if (holder !== null) {
        const around = holder.getBoundingClientRect();
        if (
          box.left < around.left - 0.5 ||
          box.right > around.right + 0.5 ||
          box.top < around.top - 0.5 ||
          box.bottom > around.bottom + 0.5
        )
          found.push(`out of its box: ${name(element)}`);
      }
    }
    for (const text of document.querySelectorAll('.fitted text')) {
      const plate = text.parentElement?.querySelector('rect.plate, rect.platform');
      if (plate === null || plate === undefined) continue;
      const box = text.getBoundingClientRect();
      const around = plate.getBoundingClientRect();
      if (box.left < around.left - 0.5 || box.right > around.right + 0.5)
        found.push(`wider than its plate: ${name(text)}`);
    }
    const pressable = [
      ...document.querySelectorAll('.route-bar button, .cards button, .cards label, .bar button'),
    ].filter((element) => !unseen(element));
    pressable.forEach((element, i) => {
      const a = element.getBoundingClientRect();
      if (a.width === 0) return;
      for (const other of pressable.slice(i + 1)) {
        if (
          element.contains(other) ||
          other.contains(element) ||
          (element.closest('.route-bar') === null) !== (other.closest('.route-bar') === null)
        )
          continue;
        const b = other.getBoundingClientRect();
        if (a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1)
          found.push(`${name(element)} lies over ${name(other)}`);
      }
    });
    return found;
  });

async function ready(page: Page): Promise<void> {
  await pickRoute(page, 'Tolland', 'Yard 3');
  await page.getByRole('button', { name: /^Throw/ }).click();
  await page.locator('.state-set').waitFor();
  await page.locator('.findings-button .count').first().waitFor();
  await page.waitForTimeout(1500);
}

const SIZES = [
  [1440, 900],
  [1180, 820],
  [820, 1180],
  [390, 844],
] as const;

describe.each(SIZES)('at %i by %i', (width, height) => {
  it('nothing is cut off and nothing lies over anything', async () => {
    const { page, wrongs } = await openPage(browser, site.url, { viewport: { width, height } });
    expect(await misfits(page)).toEqual([]);
    await ready(page);
    expect(await misfits(page)).toEqual([]);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it.each(['light', 'dark'] as const)('axe-core finds nothing, %s', async (colorScheme) => {
    const { page } = await openPage(browser, site.url, { viewport: { width, height }, colorScheme });
    expect(await page.locator('html').getAttribute('data-theme')).toBe(colorScheme);
    expect(await audit(page)).toEqual([]);
    await ready(page);
    expect(await audit(page)).toEqual([]);
    await page.context().close();
  });
});

describe('the window', () => {
  it('passes axe-core with everything opened out, and names each severity', async () => {
    const { page } = await openPage(browser, site.url);
    await ready(page);
    await page.locator('.findings-button').click();
    expect(await page.locator('.findings-button').textContent()).toMatch(
      /^Findings\d+ danger\d+ wrong\d+ caution\d+ hint$/,
    );
    expect(await audit(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await page.locator('.findings').waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'More' }).click();
    expect(await audit(page)).toEqual([]);
    await page.context().close();
  });

  it('stands text at twice its size', async () => {
    const { page } = await openPage(browser, site.url);
    await page.evaluate(() => document.documentElement.style.setProperty('font-size', '200%'));
    await page.setViewportSize({ width: 1439, height: 900 });
    await page.waitForTimeout(300);
    expect(await misfits(page)).toEqual([]);
    await page.context().close();
  });

  it('turns the lights down and remembers it', async () => {
    const { page } = await openPage(browser, site.url, { colorScheme: 'light' });
    await page.getByRole('button', { name: 'Lights down' }).click();
    expect(await page.locator('html').getAttribute('data-theme')).toBe('dark');
    await page.reload();
    await page.locator('.sheet').waitFor();
    expect(await page.locator('html').getAttribute('data-theme')).toBe('dark');
    await page.getByRole('button', { name: 'More' }).click();
    await page.getByLabel('As the device has it').check();
    expect(await page.locator('html').getAttribute('data-theme')).toBe('light');
    await page.emulateMedia({ colorScheme: 'dark' });
    await expect.poll(() => page.locator('html').getAttribute('data-theme')).toBe('dark');
    await page.context().close();
  });

  it('moves nothing where less motion is asked for', async () => {
    const { page } = await openPage(browser, site.url, { reducedMotion: 'reduce' });
    await pickRoute(page, 'Tolland', 'Yard 3');
    const [guide, lies] = await page.evaluate(() => {
      const line = document.querySelector('.guide-line');
      const lie = document.querySelector('.bat-lie');
      return [
        line === null ? '' : getComputedStyle(line).animationName,
        lie === null ? '' : getComputedStyle(lie).transitionDuration,
      ];
    });
    expect(guide).toBe('appear');
    expect(lies).toMatch(/^0s/);
    await page.context().close();
  });

  it('asks its own origin alone, and draws the sheet soon', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    const drawn = await page.evaluate(() => performance.now());
    console.log(`sheet drawn within ${drawn.toFixed(0)} ms of the opening`);
    expect(wrongs).toEqual([]);
    expect(site.asked.length).toBeGreaterThan(3);
    await page.context().close();
  });
});
