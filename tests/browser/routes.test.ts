/** Picking a route, throwing its levers, and what stands beside it. */
import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { ask, bat, dropFile, example, lever, openPage, pickRoute, type Site, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

describe('a route', () => {
  it('is set card by card, in the order of its line', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await pickRoute(page, 'Tolland', 'Yard 3');
    // Levers of the route as the layout has them: the file's levers and points, read by hand.
    const asked = {
      L1: 'normal',
      L2: 'reverse',
      L4: 'reverse',
      L5: 'reverse',
      L6: 'normal',
      L7: 'normal',
      L8: 'reverse',
    };
    expect(await page.locator('.state').textContent()).toContain('4 levers to throw');
    // Asked for is not set: a broken line with nothing that shines under it, and said so.
    expect(await page.locator('.guide-asked').count()).toBe(1);
    expect(await page.locator('.guide-asked').getAttribute('stroke-dasharray')).not.toBeNull();
    expect(await page.locator('.guide-line, .guide-glow').count()).toBe(0);
    expect(await page.locator('.foot').textContent()).toContain('The broken line is the route asked for');
    expect(await page.locator('.state').textContent()).toContain('L2, L4, L5 and L8');
    const cards = page.locator('.cards.row > li');
    expect(await cards.count()).toBe(12);
    const kinds = await cards.evaluateAll((items) => items.map((item) => item.className.replace('card-place ', '')));
    expect(kinds).toEqual([
      'leave',
      'throw',
      'free',
      'throw',
      'throw',
      'leave',
      'leave',
      'throw',
      'free',
      'free',
      'free',
      'free',
    ]);
    for (const id of ['L2', 'L4', 'L5', 'L8'])
      await page.getByRole('checkbox', { name: new RegExp(`^${id} `) }).check({ force: true });
    await page.locator('.state-set').waitFor();
    expect(await page.locator('.state').textContent()).toContain('4 levers thrown, 3 left');
    for (const [id, lie] of Object.entries(asked)) expect(await bat(page, id).getAttribute('data-position')).toBe(lie);
    expect(await page.locator('.guide-line').count()).toBe(1);
    expect(await page.locator('.guide-asked').count()).toBe(0);
    expect(await page.locator('.foot').textContent()).toContain('The bright line along the route shows here only');
    // The thirteen lamps along it, counted by hand in the file: H1 H6 H7 H15 to H19 H22 H23 H26 H31 H32.
    await soon(() => page.locator('.foot').textContent()).toContain('13 on this route');
    // Cards stand under their levers.
    const lever8 = await lever(page, 'L8').boundingBox();
    const card8 = await cards.nth(7).boundingBox();
    const middle = (box: { x: number; width: number } | null): number =>
      box === null ? Number.NaN : box.x + box.width / 2;
    expect(Math.abs(middle(lever8) - middle(card8))).toBeLessThan(1.5);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('is set at once, turned round, and put back to normal', async () => {
    const { page } = await openPage(browser, site.url);
    await pickRoute(page, 'Tolland', 'Yard 3');
    await page.getByRole('button', { name: 'Throw all 4' }).click();
    await page.locator('.state-set').waitFor();
    await page.getByRole('button', { name: 'Turn round' }).click();
    expect(await page.locator('.sel-value').allTextContents()).toEqual(['Yard 3', 'Tolland']);
    await page.locator('.state-set').waitFor();
    await page.getByRole('button', { name: 'All normal' }).click();
    await page.locator('.state-throwing').waitFor();
    expect(await page.locator('[data-position="reverse"]').count()).toBe(0);
    await page.context().close();
  });

  it('tells what conflicts and what is free, as the command line lists them', async () => {
    const answer = (await ask('routes', example('quillhaven-harbour'))) as {
      routes: { from: string; to: string; levers: Record<string, string> | null }[];
      conflicts: [number, number, string][];
    };
    const mine = answer.routes.findIndex(({ from, to }) => from === 'tolland' && to === 'yard-road-3');
    const ours = answer.routes[mine]?.levers ?? {};
    const against = answer.routes.filter(({ levers }, i) => {
      if (i === mine) return false;
      const lever = Object.entries(levers ?? {}).some(([id, lie]) => ours[id] !== undefined && ours[id] !== lie);
      return lever || answer.conflicts.some(([a, b]) => (a === mine && b === i) || (a === i && b === mine));
    });
    const { page } = await openPage(browser, site.url);
    await pickRoute(page, 'Tolland', 'Yard 3');
    const others = answer.routes.length - 1;
    const heads = await page.locator('.side h2 span').allTextContents();
    expect(heads.slice(0, 2)).toEqual([`${against.length} of ${others}`, `${others - against.length} of ${others}`]);
    expect(await page.locator('.side').textContent()).toContain('needs L2 normal');
    await page.getByRole('button', { name: `All ${against.length} conflicts` }).click();
    expect(await page.locator('.side-list').first().locator('li').count()).toBe(against.length);
    // A free route is picked from its row, and what was thrown stays.
    await page.locator('.side-row.pick').first().click();
    expect(await page.locator('.sel-value').first().textContent()).not.toBe('Choose');
    await page.context().close();
  });

  it('can go more than one way', async () => {
    const { page } = await openPage(browser, site.url);
    await dropFile(page, 'bramble-siding.mimic.json', readFileSync(example('bramble-siding'), 'utf8'));
    await soon(() => page.locator('h1').textContent()).toBe('Bramble Siding');
    await pickRoute(page, 'West', 'East');
    // By the platform road or round the loop: two ways between the same two places.
    expect(await page.locator('.way').count()).toBe(2);
    await page.locator('.way').nth(1).click();
    expect(await page.locator('.state').textContent()).toContain('1 lever to throw');
    await page.getByRole('button', { name: 'Throw it' }).click();
    await page.locator('.state-set').waitFor();
    expect(await bat(page, 'L1').getAttribute('data-position')).toBe('reverse');
    await page.context().close();
  });

  it('is picked, set and put away again with keys alone', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    const focused = () => page.evaluate(() => document.activeElement?.textContent ?? '');
    const tabTo = async (text: RegExp): Promise<void> => {
      for (let i = 0; i < 80 && !text.test(await focused()); i++) await page.keyboard.press('Tab');
      expect(await focused()).toMatch(text);
    };
    await page.locator('.findings-button .count').first().waitFor();
    await tabTo(/^Choose/);
    for (const place of ['Tolland', 'Yard 3']) {
      await page.keyboard.press('Enter');
      await page.getByRole('listbox').waitFor();
      // Arrows and not letters: letters typed too slowly start a new search.
      for (let i = 0; i < 20 && (await focused()) !== place; i++) await page.keyboard.press('ArrowDown');
      await soon(focused).toBe(place);
      await page.keyboard.press('Enter');
      await page.getByRole('listbox').waitFor({ state: 'detached' });
      await soon(focused).toContain(place);
      if (place === 'Tolland') await tabTo(/^Choose/);
    }
    await tabTo(/^Throw all 4$/);
    await page.keyboard.press('Enter');
    await page.locator('.state-set').waitFor();
    // The list of findings takes the focus, and gives it back.
    await page.locator('.findings-button').focus();
    await page.keyboard.press('Enter');
    await soon(focused).toMatch(/^\d+ findings?$/);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.locator('.findings').waitFor({ state: 'detached' });
    await soon(focused).toMatch(/^Findings/);
    await tabTo(/^Back to all/);
    await page.keyboard.press('Enter');
    await page.locator('.state-none').waitFor();
    // What was pressed is gone: the keys go on at the first field, and after a row at what sets its route.
    await soon(focused).toMatch(/^Choose/);
    await tabTo(/^Tolland to Quay/);
    await page.keyboard.press('Enter');
    await soon(focused).toMatch(/^(Throw|Print)/);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('that the levers cannot set says so and asks nothing', async () => {
    const panel = JSON.parse(readFileSync(example('quillhaven-harbour'), 'utf8')) as {
      levers: { id: string; works: { point: string; opposite?: boolean }[] }[];
    };
    // Both ends of the crossover never lie reverse together.
    const crossover = panel.levers.find(({ id }) => id === 'L4');
    if (crossover !== undefined) crossover.works = [{ point: 'P4' }, { point: 'P5', opposite: true }];
    const { page } = await openPage(browser, site.url);
    await dropFile(page, 'barred.mimic.json', JSON.stringify(panel));
    await soon(() => page.locator('.kept').getAttribute('title')).toContain('barred');
    await pickRoute(page, 'Tolland', 'Yard 3');
    await page.locator('.state-impossible').waitFor();
    expect(await page.locator('.state').textContent()).toContain('P4');
    // Nothing shines along a way that cannot be had.
    expect(await page.locator('.guide-line, .guide-glow, .guide-asked').count()).toBe(0);
    expect(await page.locator('.guide-barred').count()).toBe(1);
    expect(await page.locator('.foot').textContent()).toContain('The bars show where it would run');
    expect(await page.locator('.side').textContent()).not.toContain('Free to set as well');
    expect(await page.getByRole('checkbox').count()).toBe(0);
    await page.context().close();
  });

  it('is told from another between the same two places', async () => {
    const { page } = await openPage(browser, site.url);
    await page.getByRole('button', { name: /^All \d+ routes$/ }).click();
    const rows = await page.locator('.side-row').allInnerTexts();
    expect(rows.filter((row) => row.startsWith('Tolland to Storage 1')).map((row) => row.replace(/\s+/g, ' '))).toEqual(
      [
        'Tolland to Storage 1 via Platform 1, throw L9, L10',
        'Tolland to Storage 1 via Platform 2, throw L2, L3, L9, L10',
      ],
    );
    expect(new Set(rows).size).toBe(rows.length);
    await page.context().close();
  });

  it('is not printed by the second press of a double click on what sets it', async () => {
    const { page } = await openPage(browser, site.url);
    await page.evaluate(() => {
      window.print = () => document.body.setAttribute('data-printed', '');
    });
    await pickRoute(page, 'Tolland', 'Yard 3');
    await page.getByRole('button', { name: /^Throw all/ }).dblclick();
    await page.locator('.state-set').waitFor();
    expect(await page.locator('body[data-printed]').count()).toBe(0);
    await soon(async () => {
      await page.getByRole('button', { name: 'Print card' }).click();
      return page.locator('body[data-printed]').count();
    }).toBe(1);
    await page.context().close();
  });
});
