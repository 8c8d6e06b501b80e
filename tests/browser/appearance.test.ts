/** Reads well, fits, and keeps to itself: accessibility, overflow at four sizes, lights, findings. */
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { audit, misfits, still } from './page-checks.ts';
import { dropFile, example, openPage, pickRoute, type Site, soon, startBrowser, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

async function ready(page: Page): Promise<void> {
  await pickRoute(page, 'Tolland', 'Yard 3');
  await page.getByRole('button', { name: /^Throw/ }).click();
  await page.locator('.state-set').waitFor();
  await page.locator('.findings-button .count').first().waitFor();
  await still(page);
}

const SIZES = [
  [1440, 900],
  [1180, 820],
  [820, 1180],
  [390, 844],
] as const;

describe.each(SIZES)('at %i by %i', (width, height) => {
  let page: Page;
  let wrongs: readonly string[];
  beforeAll(async () => {
    ({ page, wrongs } = await openPage(browser, site.url, { viewport: { width, height }, colorScheme: 'light' }));
    return () => page.context().close();
  });
  describe.each([
    ['no route', async () => {}],
    ['a route set', ready],
  ] as const)('with %s', (_, prepare) => {
    it('nothing is cut off and nothing lies over anything', async () => {
      await prepare(page);
      expect(await misfits(page)).toEqual([]);
      expect(wrongs).toEqual([]);
    });

    it.each(['light', 'dark'] as const)('axe-core finds nothing, %s', async (colorScheme) => {
      await page.emulateMedia({ colorScheme });
      await soon(() => page.locator('html').getAttribute('data-theme')).toBe(colorScheme);
      await still(page);
      expect(await audit(page)).toEqual([]);
    });
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
    expect(await page.evaluate(() => document.activeElement?.className)).toBe('findings-button');
    await page.getByRole('button', { name: 'More' }).click();
    expect(await audit(page)).toEqual([]);
    await page.context().close();
  });

  it.each([
    [1440, 900],
    [820, 1180],
    [390, 844],
  ] as const)('stands text at twice its size at %i by %i', async (width, height) => {
    // The size of text that a user sets in the browser, which the media queries follow as well.
    const large = await startBrowser('--blink-settings=defaultFontSize=32');
    try {
      const { page } = await openPage(large, site.url, { viewport: { width, height } });
      expect(await page.evaluate(() => getComputedStyle(document.documentElement).fontSize)).toBe('32px');
      expect(await misfits(page)).toEqual([]);
      await pickRoute(page, 'Tolland', 'Yard 3');
      await page.locator('.state-throwing').waitFor();
      expect(await misfits(page)).toEqual([]);
    } finally {
      await large.close();
    }
  });

  it('has targets of 44 px, but for levers and places on a small sheet, which cards and fields stand in for', async () => {
    const { page } = await openPage(browser, site.url, { viewport: { width: 390, height: 844 }, hasTouch: true });
    await ready(page);
    await page.getByRole('button', { name: 'More' }).click();
    const small = () =>
      page.evaluate(() =>
        [...document.querySelectorAll('button, label, input:not(.unseen), [role="option"]')]
          .filter(
            (element) =>
              element.closest('.unseen, .lever-buttons, .place-buttons, [aria-hidden="true"], label label') === null,
          )
          .filter((element) => element.tagName !== 'INPUT' || element.closest('label') === null)
          .map((element) => ({ box: element.getBoundingClientRect(), text: element.textContent ?? '' }))
          // WCAG 2.2, 2.5.5 (target size, enhanced): 44 by 44 CSS px.
          .filter(({ box }) => box.width > 0 && (box.width < 44 || box.height < 44))
          .map(({ box, text }) => `${text}: ${box.width} by ${box.height}`),
      );
    expect(await small()).toEqual([]);
    await page.keyboard.press('Escape');
    await page.locator('.findings-button').click();
    expect(await small()).toEqual([]);
    expect(await page.locator('.lever-button').count()).toBe(await page.locator('.cards > li').count());
    // Nothing on the sheet is smaller than the least: WCAG 2.2, 2.5.8, 24 by 24.
    const least = await page
      .locator('.place-button, .lever-button')
      .evaluateAll((all) =>
        Math.min(
          ...all.map((each) => Math.min(each.getBoundingClientRect().width, each.getBoundingClientRect().height)),
        ),
      );
    expect(least).toBeGreaterThanOrEqual(24);
    const places = (await page.locator('.place-button').count()) - 1;
    await page.keyboard.press('Escape');
    await page.locator('.route-bar button.sel-field').nth(1).click();
    expect(await page.getByRole('option').count()).toBeGreaterThan(places / 2);
    await page.context().close();
  });

  it('leaves the sheet in sight while a route is picked at the bottom edge, and brings it back when one is picked from the list', async () => {
    const { page } = await openPage(browser, site.url, { viewport: { width: 390, height: 844 }, hasTouch: true });
    const top = async (): Promise<number> => (await page.locator('.sheet').boundingBox())?.y ?? -1;
    await pickRoute(page, 'Tolland', 'Yard 3');
    expect(await top()).toBeGreaterThan(0);
    await page.getByRole('button', { name: /^Throw all/ }).click();
    await page.locator('.state-set').waitFor();
    expect(await top()).toBeGreaterThan(0);
    await page.locator('.side-row.pick').last().scrollIntoViewIfNeeded();
    expect(await top()).toBeLessThan(0);
    await page.locator('.side-row.pick').last().click();
    await soon(top).toBeGreaterThan(0);
    await page.context().close();
  });

  it('draws the sheet larger where it is asked to, and scrolls it, not the page', async () => {
    const { page } = await openPage(browser, site.url, { viewport: { width: 390, height: 844 } });
    const width = async (): Promise<number> => (await page.locator('.sheet').boundingBox())?.width ?? 0;
    const before = await width();
    await page.getByRole('button', { name: 'More' }).click();
    await page.getByRole('button', { name: '3 ×' }).click();
    await soon(width).toBeCloseTo(before * 3, 0);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    await page.context().close();
  });

  it('keeps the ring of a finding in sight beside the list of findings', async () => {
    const panel = JSON.parse(readFileSync(example('quillhaven-harbour'), 'utf8')) as { lamps: { part: string }[] };
    const [lamp] = panel.lamps.slice(12);
    if (lamp !== undefined) lamp.part = 'led-9-nothing';
    const { page } = await openPage(browser, site.url, { viewport: { width: 390, height: 844 } });
    await dropFile(page, 'one.mimic.json', JSON.stringify(panel));
    await page.locator('.count.wrong:not(.none)').waitFor();
    await page.locator('.findings-button').click();
    await page.getByRole('button', { name: 'Show where H13' }).click();
    await page.locator('.ring').waitFor();
    const ring = await page.locator('.ring').boundingBox();
    const list = await page.locator('.findings').boundingBox();
    expect(ring?.y ?? -1).toBeGreaterThanOrEqual(0);
    expect((ring?.y ?? 0) + (ring?.height ?? 0)).toBeLessThanOrEqual(list?.y ?? 0);
    await page.context().close();
  });

  it('prints a route as a card, and the sheet where none is picked', async () => {
    const { page } = await openPage(browser, site.url, { colorScheme: 'dark' });
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.sheet').isVisible()).toBe(true);
    await page.emulateMedia({ media: 'screen' });
    await pickRoute(page, 'Tolland', 'Yard 3');
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.sheet').isVisible()).toBe(false);
    // Every lever of the route in the order of its line, whichever way it lies now; read off the file by hand.
    expect(await page.locator('.route-card tbody tr').allInnerTexts()).toEqual([
      '1\tL1 Shed\tP1\tnormal\t',
      '2\tL2 Loop west\tP2\treverse\t',
      '3\tL4 Quay cross\tP4 and P5\treverse\t',
      '4\tL5 Yard\tP6\treverse\t',
      '5\tL6 Yard 1\tP7\tnormal\t',
      '6\tL7 Yard 2\tP8\tnormal\t',
      '7\tL8 Yard 3\tP9\treverse\t',
    ]);
    expect(await page.locator('.route-card').textContent()).toContain('revision A');
    await page.context().close();
  });

  it('says for whom a panel seen from behind is', async () => {
    const panel = JSON.parse(readFileSync(example('bramble-siding'), 'utf8')) as { face: { view: string } };
    panel.face.view = 'rear';
    const { page } = await openPage(browser, site.url);
    await dropFile(page, 'rear.mimic.json', JSON.stringify(panel));
    await soon(() => page.locator('.panel-name').textContent()).toContain(
      '300 × 150 mm face, for an operator behind the layout',
    );
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
    await soon(() => page.locator('html').getAttribute('data-theme')).toBe('dark');
    await page.context().close();
  });

  it('moves nothing where less motion is asked for', async () => {
    const { page } = await openPage(browser, site.url, { reducedMotion: 'reduce' });
    await pickRoute(page, 'Tolland', 'Yard 3');
    await page.getByRole('button', { name: /^Throw/ }).click();
    await page.locator('.guide-line').waitFor();
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
