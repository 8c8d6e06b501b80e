/** For everyone: help at each thing, text of twice the size, forced colours, less motion, and colours that few tell apart. */
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { onFace, toLay } from './lay-pages.ts';
import { audit, misfits, still } from './page-checks.ts';
import { openPage, type Site, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

/** A spot of the sheet, in its millimetres, on the screen. */
const onSheet = async (page: Page, x: number, y: number) => (await onFace(page))(x, y);

const help = (page: Page) => page.getByRole('complementary', { name: 'Help' });

/** Everything that can be focused and has no help of its own or round it. */
const without = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('main button, main input, main select, main [tabindex], header button')]
      .filter((element) => element.closest('[data-help], .unseen') === null)
      .map((element) => `${element.tagName}.${element.getAttribute('class') ?? ''} ${element.textContent ?? ''}`),
  );

describe('help', () => {
  it('tells of what has the focus or lies under the pointer, in Lay, until it is switched off', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await toLay(page);
    expect(await help(page).count()).toBe(0);
    await page.keyboard.press('?');
    await help(page).waitFor();
    const said = help(page).getByRole('status');
    await page.getByRole('button', { name: 'Strip', exact: true }).first().focus();
    await expect.poll(() => said.textContent()).toContain('a length of tape that stands for track');
    expect(await said.textContent()).toContain('Key S');
    expect(await said.textContent()).toContain('toe');
    await page.getByText('The sheet is aluminium').hover();
    await expect.poll(() => said.textContent()).toMatch(/^Hint/);
    // The main line, between two points.
    await page.mouse.move(...(await onSheet(page, 296, 96)));
    await page.mouse.move(...(await onSheet(page, 298, 96)));
    await expect.poll(() => said.textContent()).toMatch(/^Strip/);
    await page.getByLabel('Thickness').focus();
    await expect.poll(() => said.textContent()).toMatch(/^Face/);
    // In a field a question mark is a sign like others, and F1 is the key.
    await page.keyboard.press('?');
    await page.keyboard.press('Escape');
    await help(page).waitFor();
    expect(await audit(page)).toEqual([]);
    await page.keyboard.press('F1');
    await expect.poll(() => help(page).count()).toBe(0);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('tells of what a finger presses, and in Run as well', async () => {
    const { page } = await openPage(browser, site.url, { hasTouch: true, viewport: { width: 820, height: 1180 } });
    await page.getByRole('button', { name: 'Help' }).tap();
    const said = help(page).getByRole('status');
    await page.locator('.cards').tap();
    await expect.poll(() => said.textContent()).toMatch(/^What the route asks/);
    await page.getByRole('button', { name: 'Close help' }).tap();
    await expect.poll(() => help(page).count()).toBe(0);
    await page.context().close();
  });

  it('is there for everything that can be worked', async () => {
    const { page } = await openPage(browser, site.url);
    expect(await without(page)).toEqual([]);
    await page.locator('.findings-button .count').first().waitFor();
    await page.locator('.findings-button').click();
    expect(await without(page)).toEqual([]);
    await toLay(page);
    expect(await without(page)).toEqual([]);
    await page.keyboard.press('s');
    expect(await without(page)).toEqual([]);
    await page.keyboard.press('v');
    for (const [x, y] of [
      [340, 154],
      [40, 245],
      [590, 15],
    ] as const) {
      await page.mouse.click(...(await onSheet(page, x, y)));
      expect(await without(page)).toEqual([]);
    }
    await page.context().close();
  });

  it('speaks in the unit that is chosen', async () => {
    const { page } = await openPage(browser, site.url);
    await toLay(page);
    await page.getByRole('button', { name: 'Inches' }).click();
    await page.keyboard.press('F1');
    await page.getByRole('button', { name: 'Pick', exact: true }).hover();
    // 0.5 mm and 5 mm: 1 in = 25.4 mm exactly (NIST SP 811, B.8).
    await expect.poll(() => help(page).textContent()).toContain('0.02 in, with Shift 0.197 in');
    await page.context().close();
  });
});

it('shows no millimetre in Lay once inches are chosen, and remembers it', async () => {
  const { page } = await openPage(browser, site.url);
  await toLay(page);
  await page.getByRole('button', { name: 'Inches' }).click();
  const shown = (): Promise<readonly string[]> =>
    page.evaluate(() => {
      const texts = [...document.querySelectorAll('.app *')].flatMap((element) => [
        ...[...element.childNodes]
          .filter((node) => node.nodeType === Node.TEXT_NODE)
          .map((node) => node.textContent ?? ''),
        element.getAttribute('title') ?? '',
        element.getAttribute('aria-label') ?? '',
        element.getAttribute('placeholder') ?? '',
      ]);
      // Lamps are called by their size in the trade.
      return texts.filter((text) => /\bmm\b/.test(text) && !/^[35] mm (amber|red|yellow|green)$/.test(text));
    });
  await expect.poll(() => page.locator('.panel-name').textContent()).toContain('23.622 × 11.811 in face');
  expect(await shown()).toEqual([]);
  // A strip, a lever, a screw hole.
  for (const [x, y] of [
    [340, 154],
    [40, 245],
    [590, 15],
  ] as const) {
    await page.mouse.click(...(await onSheet(page, x, y)));
    expect(await shown()).toEqual([]);
  }
  await page.getByRole('button', { name: 'Strip', exact: true }).first().click();
  await page.getByRole('button', { name: 'True size' }).click();
  expect(await shown()).toEqual([]);
  await page.reload();
  await page.locator('.sheet').waitFor();
  await expect.poll(() => page.locator('.panel-name').textContent()).toContain('in face');
  await page.context().close();
});

/** Text of twice the size, as the root of the page has it. */
async function twice(page: Page): Promise<void> {
  await page.evaluate(() => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync('html{font-size:200%}');
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
  });
  await still(page);
}

describe.each([
  [1440, 900],
  [1180, 820],
  [820, 1180],
] as const)('text of twice the size in Lay at %i by %i', (width, height) => {
  it('is not cut off and lies over nothing', async () => {
    const { page } = await openPage(browser, site.url, { viewport: { width, height } });
    await toLay(page);
    await twice(page);
    expect(await misfits(page)).toEqual([]);
    await page.mouse.click(...(await onSheet(page, 340, 154)));
    await page.locator('.lay-side').getByText('Tape').first().waitFor({ state: 'attached' });
    expect(await misfits(page)).toEqual([]);
    await page.getByRole('button', { name: 'Strip', exact: true }).first().click();
    expect(await misfits(page)).toEqual([]);
    await page.keyboard.press('F1');
    await help(page).waitFor();
    expect(await misfits(page)).toEqual([]);
    await page.context().close();
  });

  it('zoomed by the browser, nothing is cut off either', async () => {
    // A browser that zooms to twice the size has half the px for the page.
    const options: BrowserContextOptions = {
      viewport: { width: width / 2, height: height / 2 },
      deviceScaleFactor: 2,
    };
    const { page } = await openPage(browser, site.url, options);
    await page.getByRole('navigation').getByRole('button', { name: /^Lay/ }).click();
    await page.getByText('Laying needs a wider screen').waitFor();
    expect(await misfits(page)).toEqual([]);
    await page.context().close();
  });
});

it.each([
  [1440, 900],
  [820, 1180],
] as const)('the row of formations lies beside a sheet that fits, at %i by %i', async (width, height) => {
  const { page } = await openPage(browser, site.url, { viewport: { width, height } });
  await toLay(page);
  await page.keyboard.press('s');
  const [row, sheet] = [
    await page.locator('.formations').boundingBox(),
    await page.locator('.lay-sheet').boundingBox(),
  ];
  if (row === null || sheet === null) throw new Error('the row or the sheet is not drawn');
  expect(row.y + row.height).toBeLessThanOrEqual(sheet.y + 1);
  expect(row.height).toBeGreaterThanOrEqual(44);
  await page.context().close();
});

describe('forced colours and less motion', () => {
  it('what is pressed in Lay is told by a line, not by its ground alone', async () => {
    const { page } = await openPage(browser, site.url, { forcedColors: 'active' });
    await toLay(page);
    await page.keyboard.press('s');
    const lines = await page.evaluate(() =>
      [
        '.tool[aria-pressed="true"]',
        '.formations [aria-pressed="true"]',
        '.seg [aria-pressed="true"]',
        '.stage[aria-current]',
      ].map((selector) => {
        const pressed = document.querySelector(selector);
        return pressed === null ? selector : getComputedStyle(pressed).outlineStyle;
      }),
    );
    expect(lines).toEqual(['solid', 'solid', 'solid', 'solid']);
    // A pill, a field and the row of formations have an edge of their own.
    for (const selector of ['.pill', '.inp', '.formations'])
      expect(
        await page
          .locator(selector)
          .first()
          .evaluate((box) => getComputedStyle(box).borderTopStyle),
      ).toBe('solid');
    expect(await misfits(page)).toEqual([]);
    await page.context().close();
  });

  it('nothing in Lay travels where less motion is asked for', async () => {
    const { page } = await openPage(browser, site.url, { reducedMotion: 'reduce' });
    await toLay(page);
    await page.mouse.click(...(await onSheet(page, 340, 154)));
    await page.keyboard.press('F1');
    await help(page).waitFor();
    const moving = await page.evaluate(() =>
      [...document.querySelectorAll('main *, .help *')]
        .filter((element) => {
          const { transitionDuration, transitionProperty, animationName } = getComputedStyle(element);
          const lasts = transitionDuration.split(',').some((time) => Number.parseFloat(time) > 0);
          return animationName !== 'none' || (lasts && /transform|left|top|width|height|all/.test(transitionProperty));
        })
        .map((element) => element.getAttribute('class')),
    );
    expect(moving).toEqual([]);
    await page.context().close();
  });
});
