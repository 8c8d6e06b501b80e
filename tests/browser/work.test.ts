/** The stage Work from end to end: levers joined, parted, turned over and changed, by mouse, touch and keys. */
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { audit, misfits } from './page-checks.ts';
import { dropFile, example, openPage, type Site, soon, startBrowser, type Watched, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

/** The page at work on a panel: the demo, or Bramble Siding. */
async function atWork(options: Parameters<typeof openPage>[2] = {}, panel = ''): Promise<Watched> {
  const watched = await openPage(browser, site.url, options);
  const { page } = watched;
  if (panel !== '') {
    await dropFile(page, `${panel}.mimic.json`, readFileSync(example(panel), 'utf8'));
    await page.getByRole('heading', { name: 'Bramble Siding' }).waitFor();
  }
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
  it('joins, parts, turns over, sets switch and drive, and takes all of it back', async () => {
    const { page, wrongs } = await atWork();
    expect(await head(page)).toBe('12 levers work 17 points');

    await page.getByRole('button', { name: 'Join P2 and P3', exact: true }).click();
    await soon(() => head(page)).toBe('11 levers work 17 points');
    await soon(() => said(page, 'L2')).toBe('P2 and P3, same');
    await soon(() => page.locator('.lever-number p').textContent()).toContain('pairs are lost');
    // The join is picked, and unfolds.
    const edit = page.locator('.lever-edit');
    await edit.getByRole('button', { name: 'Opposite' }).click();
    await soon(() => said(page, 'L2')).toBe('P2 and P3; P3 opposite');
    await edit.getByRole('button', { name: 'Centre-off' }).click();
    await soon(() => row(page, 'L2').locator('.lever-switch b').textContent()).toBe('centre-off');
    await choose(page, 'Drive of P3', 'Limit');
    await soon(() => page.locator('.drive-row', { hasText: 'Limit-switched' }).locator('em').textContent()).toBe('1');
    await edit.getByRole('button', { name: 'Separate', exact: true }).click();
    await soon(() => head(page)).toBe('12 levers work 17 points');

    // Undo takes back one after the other, to the first.
    for (let i = 0; i < 5; i++) await page.keyboard.press('Control+z');
    await soon(() => head(page)).toBe('12 levers work 17 points');
    await soon(() => said(page, 'L3')).toBe('P3');
    await soon(() => row(page, 'L2').locator('.lever-switch b').textContent()).toBe('on-on');
    await soon(() => page.locator('.drive-row.on em').textContent()).toBe('17');
    await soon(() => page.locator('.lever-number p').textContent()).toBe(
      'The fewest that keep all 41 routes, and all 253 pairs of routes that can stand together.',
    );
    expect(wrongs).toEqual([]);
    await page.close();
  });

  it('shows on the face what a join would tie, while the hand rests on it', async () => {
    const { page } = await atWork();
    await page.getByRole('button', { name: 'Join P2 and P3', exact: true }).hover();
    await soon(() => page.locator('.offered-tie .spot-over').count()).toBe(2);
    await page.mouse.move(5, 5);
    await soon(() => page.locator('.offered-tie').count()).toBe(0);
    await page.close();
  });

  it('drags a point onto a lever, and takes it off to one of its own', async () => {
    const { page, wrongs } = await atWork();
    await drag(page, 'point P3', 'lever L5');
    await soon(() => said(page, 'L5')).toBe('P6 and P3, same');
    await soon(() => head(page)).toBe('11 levers work 17 points');
    // A press takes it in hand; the bar over the face offers what can be done.
    const [x, y] = await spot(page, 'point P3');
    await page.mouse.click(x, y);
    await page.getByRole('button', { name: 'A lever of its own' }).click();
    await soon(() => head(page)).toBe('12 levers work 17 points');
    await soon(() => page.locator('.hand-bar').count()).toBe(0);
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

  it('tells what stands with a picked route, and takes it over into Run', async () => {
    const { page, wrongs } = await atWork();
    await choose(page, 'From', 'Tolland');
    await choose(page, 'To', 'Yard 3');
    await soon(() => page.locator('.row-picked').textContent()).toContain('picked');
    const remark = (name: string) =>
      page.locator('.control-table tbody tr', { hasText: name }).first().locator('.v').textContent();
    await soon(() => remark('Tolland to Shed')).toBe('needs L1 reverse');
    await soon(() => remark('Platform 1 to Storage 1')).toBe('throw L9, L10');
    expect(await page.locator('.route-line .route-ink').count()).toBe(1);
    expect(await page.locator('.lever-sign').count()).toBe(7);
    // 26 and 14, with the picked one, are all 41.
    await soon(() => page.locator('.row-group th').allTextContents()).toEqual([
      'Cannot stand with it 26',
      'Can stand with it 14',
    ]);
    await page.getByRole('button', { name: '21 more' }).click();
    expect(await page.locator('.control-table tbody').nth(1).locator('tr').count()).toBe(27);
    await page.locator('.stages .stage').nth(5).click();
    await soon(() => page.locator('.route-bar .sel-value').allTextContents()).toEqual(['Tolland', 'Yard 3']);
    await page.locator('.stages .stage').nth(1).click();
    await soon(() => page.locator('.row-picked th').textContent()).toBe('Tolland to Yard 3');
    expect(wrongs).toEqual([]);
    await page.close();
  });

  it('makes them one each, and the fewest again', async () => {
    const { page } = await atWork();
    await page.getByRole('button', { name: 'Give each point its own lever' }).click();
    await soon(() => head(page)).toBe('17 levers work 17 points');
    await page.getByRole('button', { name: 'Make it 12' }).click();
    await soon(() => head(page)).toBe('12 levers work 17 points');
    await soon(() => page.locator('.lever-number p').textContent()).toContain('The fewest');
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

  it('comes by the key of the stage, and goes through the kinds of drive by arrows', async () => {
    const { page } = await openPage(browser, site.url);
    await page.keyboard.press('2');
    await page.locator('.joined').waitFor();
    await page.locator('.drive-row input').first().focus();
    await page.keyboard.press('ArrowDown');
    await soon(() => page.locator('.drive-row.on').textContent()).toContain('Limit-switched');
    await page.keyboard.press('Control+z');
    await soon(() => page.locator('.drive-row.on').textContent()).toContain('Stall');
    await page.close();
  });
});

describe('by touch, on Bramble Siding', () => {
  it('taps a point and then a lever, in one column', async () => {
    const { page, wrongs } = await atWork({ viewport: { width: 820, height: 1180 }, hasTouch: true }, 'bramble-siding');
    const before = await head(page);
    const points = await page.locator('[data-spot^="point"]').count();
    expect(points).toBeGreaterThan(1);
    await page.getByRole('button', { name: /^(Give each point|Make it)/ }).click();
    await soon(() => head(page)).toBe(`${points} levers work ${points} points`);
    const names = await page
      .locator('[data-spot]')
      .evaluateAll((all) => all.map((each) => each.getAttribute('data-spot') ?? ''));
    const [first = ''] = names.filter((name) => name.startsWith('point'));
    const lever = names.filter((name) => name.startsWith('lever')).at(-1) ?? '';
    await page.touchscreen.tap(...(await spot(page, first)));
    await soon(() => page.locator('.decisions .hand-bar b').textContent()).toContain('in hand');
    await page.touchscreen.tap(...(await spot(page, lever)));
    await soon(() => head(page)).toBe(
      `${points - 1} levers work ${points} points`.replace('1 levers work', '1 lever works'),
    );
    await soon(() => page.locator('.strip-sum').textContent()).toContain('same');
    for (let i = 0; i < 2; i++) await page.getByRole('button', { name: /^Undo/ }).click();
    await soon(() => head(page)).toBe(before);
    expect(wrongs).toEqual([]);
    await page.close();
  });
});

describe('by a finger that drags, on Quillhaven Harbour', () => {
  it('moves a point to a lever, and the page where there is no point', async () => {
    const { page, wrongs } = await atWork({ viewport: { width: 820, height: 1180 }, hasTouch: true });
    const client = await page.context().newCDPSession(page);
    const touch = async (from: readonly [number, number], to: readonly [number, number]): Promise<void> => {
      const at = ([x, y]: readonly [number, number]) => ({ touchPoints: [{ x, y }] });
      await client.send('Input.dispatchTouchEvent', { type: 'touchStart', ...at(from) });
      for (let i = 1; i <= 8; i++)
        await client.send('Input.dispatchTouchEvent', {
          type: 'touchMove',
          ...at([from[0] + ((to[0] - from[0]) * i) / 8, from[1] + ((to[1] - from[1]) * i) / 8]),
        });
      await client.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    };
    await touch(await spot(page, 'point P3'), await spot(page, 'lever L5'));
    await soon(() => head(page)).toBe('11 levers work 17 points');
    await soon(() => page.locator('.strip-sum').textContent()).toContain('P6 and P3, same');
    const scrolled = () => page.locator('.work-scroll').evaluate((element) => element.scrollTop);
    expect(await scrolled()).toBe(0);
    const [x, y] = await spot(page, 'point P1');
    await touch([x + 60, y + 120], [x + 60, y - 100]);
    await soon(scrolled).toBeGreaterThan(50);
    expect(await head(page)).toBe('11 levers work 17 points');
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

  it('says in forced colours what is picked and what clashes', async () => {
    const { page } = await atWork({ forcedColors: 'active' });
    await choose(page, 'From', 'Tolland');
    await choose(page, 'To', 'Yard 3');
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
    await page.close();
  });
});

describe('on every screen', () => {
  it.each([
    [1440, 900, 'light'],
    [1440, 900, 'dark'],
    [1180, 820, 'light'],
    [820, 1180, 'light'],
    [820, 1180, 'dark'],
  ] as const)('is accessible and fits at %i by %i, %s', async (width, height, colorScheme) => {
    const { page, wrongs } = await atWork({ viewport: { width, height }, colorScheme });
    await choose(page, 'From', 'Tolland');
    await choose(page, 'To', 'Yard 3');
    await page.mouse.click(...(await spot(page, 'lever L10')));
    await page.locator('.lever-edit').waitFor();
    await page.locator('.row-group').first().waitFor();
    expect(await audit(page)).toEqual([]);
    expect(await misfits(page)).toEqual([]);
    await page.mouse.click(...(await spot(page, 'point P3')));
    await page.locator('.hand-bar').waitFor();
    expect(await audit(page)).toEqual([]);
    expect(await misfits(page)).toEqual([]);
    expect(wrongs).toEqual([]);
    await page.close();
  });

  it.each([
    [1440, 900],
    [820, 1180],
  ] as const)(
    'has targets of 44 px at %i by %i, but for rows that the fields above pick as well',
    async (width, height) => {
      const { page } = await atWork({ viewport: { width, height } });
      await choose(page, 'From', 'Tolland');
      await choose(page, 'To', 'Yard 3');
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
      await page.close();
    },
  );

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
