/** What the stage Work does beside its job from end to end, which `stages-by-hand.test.ts` does: drags, arrow keys, findings, screens of every size. */
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { fingers } from './hands.ts';
import { audit, misfits } from './page-checks.ts';
import { dropFile, openPage, type Site, soon, startBrowser, type Watched, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

/** The page at work on the demo. */
async function atWork(options: Parameters<typeof openPage>[2] = {}): Promise<Watched> {
  const watched = await openPage(browser, site.url, options);
  const { page } = watched;
  await page.locator('.stages .stage').nth(1).click();
  await page.locator('.joined').waitFor();
  return watched;
}

const head = (page: Page) => page.locator('.lever-number h2').textContent();
const row = (page: Page, lever: string) => page.locator(`[data-lever-row="${lever}"]`);
const said = async (page: Page, lever: string) =>
  (await row(page, lever).locator('.lever-name > span').textContent()) ?? '';

/** Where a point or a lever stands on the screen. */
async function spot(page: Page, name: string): Promise<readonly [number, number]> {
  const box = await page.locator(`[data-spot="${name}"]`).boundingBox();
  if (box === null) throw new Error(`${name} is not on the face`);
  return [box.x + box.width / 2, box.y + box.height / 2];
}

async function drag(page: Page, from: string, to: string): Promise<void> {
  const [x, y] = await spot(page, from);
  const [a, b] = await spot(page, to);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move((x + a) / 2, (y + b) / 2, { steps: 3 });
  await page.mouse.move(a, b, { steps: 3 });
  await page.mouse.up();
}

async function choose(page: Page, field: string, option: string | RegExp): Promise<void> {
  await page
    .locator('.choice-field', { has: page.locator('label, span', { hasText: new RegExp(`^${field}$`) }) })
    .first()
    .locator('.choice-button')
    .click();
  await page.getByRole('option', typeof option === 'string' ? { name: option, exact: true } : { name: option }).click();
}

describe('by mouse, on Quillhaven Harbour', () => {
  it('shows what a join would tie while the hand rests on it, and drags a point onto a lever', async () => {
    const { page, wrongs } = await atWork();
    await page.getByRole('button', { name: 'Join P2 and P3', exact: true }).hover();
    await soon(() => page.locator('.offered-tie .spot-over').count()).toBe(2);
    await page.mouse.move(5, 5);
    await soon(() => page.locator('.offered-tie').count()).toBe(0);
    await drag(page, 'point P3', 'lever L5');
    await soon(() => said(page, 'L5')).toBe('P6 and P3, same');
    await page.mouse.click(...(await spot(page, 'point P3')));
    await page.getByRole('button', { name: 'A lever of its own' }).click();
    await soon(() => head(page)).toBe('12 levers work 17 points');
    // L3 has gone for good: the new one has another number.
    expect(await row(page, 'L3').count()).toBe(0);
    // Let go where there is no lever, it stays.
    const [a, b] = await spot(page, 'point P1');
    await page.mouse.move(a, b);
    await page.mouse.down();
    await page.mouse.move(a + 90, b + 60, { steps: 4 });
    await page.mouse.up();
    expect(await said(page, 'L1')).toBe('P1');
    expect(wrongs).toEqual([]);
    await page.close();
  });
});

describe('by keys', () => {
  it('puts a point under another lever on the face, and out of the list', async () => {
    const { page, wrongs } = await atWork();
    await page.locator('[data-spot="point P1"]').focus();
    await page.keyboard.press('ArrowRight');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('data-spot'))).toBe('point P2');
    await page.keyboard.press('Enter');
    expect(await page.locator('.hand-bar b').textContent()).toBe('P2 in hand');
    await page.keyboard.press('End');
    await page.keyboard.press('Enter');
    await soon(() => said(page, 'L12')).toContain('P2');
    await page.keyboard.press('Control+z');
    await soon(() => said(page, 'L12')).toBe('P14 to P17, same');
    // From the list: the point's own button, then the field over the face.
    await row(page, 'L10').focus();
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await soon(() => page.evaluate(() => document.activeElement?.closest('.hand-bar') !== null)).toBe(true);
    await page.keyboard.press('Enter');
    await page.getByRole('option', { name: 'L11 Store 5' }).waitFor();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await soon(() => page.locator('.hand-bar').count()).toBe(0);
    await soon(() => head(page)).toBe('12 levers work 17 points');
    await soon(() => said(page, 'L10')).toBe('P13');
    await page.keyboard.press('Control+z');
    await soon(() => said(page, 'L10')).toBe('P11 and P13, same');
    // Escape puts down what is in the hand, then folds the lever.
    await page.locator('[data-spot="point P1"]').focus();
    await page.keyboard.press('Enter');
    await page.keyboard.press('Escape');
    await soon(() => page.locator('.hand-bar').count()).toBe(0);
    expect(wrongs).toEqual([]);
    await page.close();
  });
});

describe('by a finger that drags, on Quillhaven Harbour', () => {
  it('moves the page where there is no point', async () => {
    const { page, wrongs } = await atWork({ viewport: { width: 820, height: 1180 }, hasTouch: true });
    const client = await page.context().newCDPSession(page);
    const scrolled = () => page.locator('.work-scroll').evaluate((element) => element.scrollTop);
    expect(await scrolled()).toBe(0);
    const [x, y] = await spot(page, 'point P1');
    const way = Array.from({ length: 9 }, (_, i) => [{ at: [x + 60, y + 120 - 27.5 * i] as const }]);
    await fingers(client, way);
    await soon(scrolled).toBeGreaterThan(50);
    expect(await head(page)).toBe('12 levers work 17 points');
    expect(wrongs).toEqual([]);
    await page.close();
  });
});

describe('what else there is', () => {
  it('mends a finding of its own, and lights its lamp in the bar', async () => {
    const { page, wrongs } = await atWork();
    await row(page, 'L9').click();
    await page.getByRole('button', { name: 'Centre-off' }).click();
    await soon(() => page.locator('.work-finding').textContent()).toContain('L9');
    await soon(() => page.locator('.stages .stage').nth(1).locator('.stage-count').textContent()).toBe('1');
    await page.locator('.work-finding .btn').click();
    await soon(() => page.locator('.work-finding').count()).toBe(0);
    await soon(() => row(page, 'L9').locator('.lever-switch b').textContent()).toBe('on-on');
    expect(wrongs).toEqual([]);
    await page.close();
  });

  it('sends a bare sheet to Lay first', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    const bare = {
      format: 'mimic-panel',
      version: 1,
      name: 'Bare',
      strips: [
        {
          id: 'main',
          path: [
            [0, 60],
            [300, 60],
          ],
        },
      ],
    };
    await dropFile(page, 'bare.mimic.json', JSON.stringify(bare));
    await page.getByRole('heading', { name: 'Bare' }).waitFor();
    await page.keyboard.press('2');
    await page.getByRole('button', { name: 'Go to Lay' }).click();
    await page.locator('main.lay').waitFor();
    expect(wrongs).toEqual([]);
    await page.close();
  });

  it('draws the face larger, and still hits what is pressed', async () => {
    const { page, wrongs } = await atWork();
    const across = async (): Promise<number> => (await page.locator('.work-sheet').boundingBox())?.width ?? 0;
    const fitted = await across();
    for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Zoom in' }).click();
    await soon(async () => (await across()) / fitted).toBeCloseTo(3, 2);
    // Picked in the list, its points come into sight.
    await row(page, 'L12').click();
    const [x, y] = await spot(page, 'point P14');
    const bench = await page.locator('.work-bench').boundingBox();
    if (bench === null) throw new Error('no bench');
    expect(x).toBeGreaterThan(bench.x);
    expect(x).toBeLessThan(bench.x + bench.width);
    await page.mouse.click(x, y);
    await soon(() => page.locator('.hand-bar b').textContent()).toBe('P14 in hand');
    await page.getByRole('button', { name: 'Put it down' }).click();
    expect(await audit(page)).toEqual([]);
    expect(wrongs).toEqual([]);
    await page.close();
  });

  it('keeps what was done through a reload', async () => {
    const { page } = await atWork();
    await page.getByRole('button', { name: 'Join P2 and P3', exact: true }).click();
    await soon(() => head(page)).toBe('11 levers work 17 points');
    await page.getByText('Kept on this device').waitFor();
    await page.reload();
    await page.locator('.sheet').waitFor();
    await page.locator('.stages .stage').nth(1).click();
    await page.locator('.joined').waitFor();
    expect(await head(page)).toBe('11 levers work 17 points');
    await page.getByRole('button', { name: /^Undo/ }).click();
    await soon(() => head(page)).toBe('12 levers work 17 points');
    await page.close();
  });
});

describe('on every screen', () => {
  let page: Page;
  let wrongs: readonly string[];
  beforeAll(async () => {
    ({ page, wrongs } = await atWork());
    await choose(page, 'From', 'Tolland');
    await choose(page, 'To', 'Yard 3');
    await page.locator('.row-group').first().waitFor();
    return () => page.close();
  });
  /** Nothing in hand and no lever picked, on a screen of this size. */
  const on = async (width: number, height: number, colorScheme: 'light' | 'dark'): Promise<void> => {
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme, forcedColors: 'none' });
    await page.locator('.work-sheet').waitFor();
    for (const gone of ['.hand-bar', '.lever-edit'])
      if ((await page.locator(gone).count()) > 0) {
        await page.keyboard.press('Escape');
        await soon(() => page.locator(gone).count()).toBe(0);
      }
  };

  it.each([
    [1440, 900, 'light'],
    [1440, 900, 'dark'],
    [1180, 820, 'light'],
    [820, 1180, 'light'],
    [820, 1180, 'dark'],
  ] as const)('is accessible and fits at %i by %i, %s', async (width, height, colorScheme) => {
    await on(width, height, colorScheme);
    await page.mouse.click(...(await spot(page, 'lever L10')));
    await page.locator('.lever-edit').waitFor();
    expect(await audit(page)).toEqual([]);
    expect(await misfits(page)).toEqual([]);
    await page.mouse.click(...(await spot(page, 'point P3')));
    await page.locator('.hand-bar').waitFor();
    expect(await audit(page)).toEqual([]);
    expect(await misfits(page)).toEqual([]);
    expect(wrongs).toEqual([]);
  });

  it.each([
    [1440, 900],
    [820, 1180],
  ] as const)(
    'has targets of 44 px at %i by %i, but for rows that the fields above pick as well',
    async (width, height) => {
      await on(width, height, 'light');
      await page.mouse.click(...(await spot(page, 'point P13')));
      await page.locator('.hand-bar').waitFor();
      const small = await page
        .locator('.work button:not(.row-name, .row-more, .face-spot), .work label.drive-row, .work summary')
        .evaluateAll((all) =>
          all.flatMap((each) => {
            const { width: w, height: h } = each.getBoundingClientRect();
            return w >= 43.5 && h >= 43.5 ? [] : [`${each.textContent}: ${w} by ${h}`];
          }),
        );
      expect(small).toEqual([]);
      const rows = await page
        .locator('.row-name, .row-more, .face-spot')
        .evaluateAll((all) => all.filter((each) => each.getBoundingClientRect().height < 24).length);
      expect(rows).toBe(0);
    },
  );

  it('says in forced colours what is picked and what clashes', async () => {
    await on(1440, 900, 'light');
    await page.emulateMedia({ forcedColors: 'active' });
    await row(page, 'L10').click();
    const outline = (selector: string) =>
      page
        .locator(selector)
        .first()
        .evaluate((element) => getComputedStyle(element).outlineStyle);
    expect(await outline('.lever-item.picked')).toBe('solid');
    expect(await outline('.row-picked th')).toBe('solid');
    const ink = (selector: string) =>
      page
        .locator(selector)
        .first()
        .evaluate((element) => getComputedStyle(element).backgroundColor);
    expect(await ink('.control-table td.x')).not.toBe(await ink('.control-table td.c:not(.x)'));
  });

  it('says calmly that it wants a wider one', async () => {
    const { page } = await openPage(browser, site.url, { viewport: { width: 390, height: 844 } });
    await page.keyboard.press('2');
    await soon(() => page.locator('.lay-narrow').textContent()).toContain('wider screen');
    expect(await audit(page)).toEqual([]);
    await page.close();
  });

  it('stands text at twice its size', async () => {
    const large = await startBrowser('--blink-settings=defaultFontSize=32');
    const { page } = await openPage(large, site.url);
    await page.keyboard.press('2');
    await page.locator('.work.folded .joined').waitFor();
    await page.locator('.choice-button').first().click();
    await page.getByRole('option').first().click();
    await page.locator('.lever-edit').waitFor();
    expect(await misfits(page)).toEqual([]);
    await large.close();
  });
});
