/** Two windows on one panel, on the screen: one edits, the other follows, says so, and takes over. */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import {
  drag,
  freeSpot,
  layFree,
  layPage,
  line,
  onFace,
  type Seen,
  settled,
  soonStrips,
  strips,
  undo,
} from './lay-pages.ts';
import { audit, misfits } from './page-checks.ts';
import { type Site, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

/** Press a button on the line that says who edits; the window comes to the front first, as under a hand, for behind another it draws once a second. */
async function take(page: Page, word: 'Edit here' | 'Take it back'): Promise<void> {
  await page.bringToFront();
  await line(page, 'role').getByRole('button', { name: word }).click();
  await soon(() => line(page, 'role').count()).toBe(0);
}

/** A window that has laid one strip, and a second on the same panel. */
async function twoWindows(): Promise<{ context: BrowserContext; one: Seen; two: Seen }> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const one = await layPage(context, site.url);
  await layFree(one.page, 0);
  await soonStrips(one.page).toBe(16);
  await settled(one.page);
  const two = await layPage(context, site.url);
  await soonStrips(two.page).toBe(16);
  return { context, one, two };
}

describe('two windows on one panel', () => {
  it('the second follows, says so, and whatever a hand or a key does there alters nothing and throws nothing', async () => {
    const { context, one, two } = await twoWindows();
    const { page } = two;
    await soon(() => line(page, 'role').textContent()).toBe(
      'This panel is edited in another window; here it follows.Edit here',
    );
    const rail = page.locator('.rail');
    expect(await rail.getByRole('button', { name: 'Strip', exact: true }).isDisabled()).toBe(true);
    expect(await rail.getByRole('button', { name: 'Pick', exact: true }).isDisabled()).toBe(false);
    expect(await undo(page).isDisabled()).toBe(true);
    expect(await page.locator('.lay-side').getByLabel('Name', { exact: true }).isDisabled()).toBe(true);
    const at = await onFace(page);
    const [x, y] = freeSpot(0);
    await page.mouse.click(...at(x + 30, y));
    await page.locator('.lay-side').getByRole('heading', { name: 'Strip 16' }).waitFor();
    expect(await page.locator('.lay-side').getByRole('button', { name: 'Edit here' }).count()).toBe(1);
    await drag(page, at(x + 30, y), at(x + 60, y + 30));
    for (const key of [
      'ArrowDown',
      'Shift+ArrowRight',
      'Delete',
      'Backspace',
      'Control+z',
      'Control+Shift+z',
      'Control+y',
      'Control+d',
      'Control+a',
      'Control+c',
      'Control+v',
      'Control+x',
      's',
      'l',
    ])
      await page.keyboard.press(key);
    await drag(page, at(300, 40), at(360, 40));
    await page.keyboard.press('Enter');
    await page.keyboard.press('Escape');
    // The list of the sheet, from the keys.
    await page.locator('.outline-row').first().focus();
    for (const key of ['Alt+ArrowDown', 'Delete']) await page.keyboard.press(key);
    expect(await strips(page)).toBe(16);
    expect(await audit(page)).toEqual([]);
    expect(await misfits(page)).toEqual([]);
    // What is laid in the first window is seen here.
    await layFree(one.page, 1);
    await soonStrips(page).toBe(17);
    expect([one.wrongs, two.wrongs]).toEqual([[], []]);
    await context.close();
  });

  it('edit in turns: each takes the panel from the other with one press, and every strip is there at the end', async () => {
    const { context, one, two } = await twoWindows();
    const pages = [two.page, one.page];
    for (let turn = 1; turn <= 5; turn++) {
      const [mine, other] = turn % 2 === 1 ? pages : pages.toReversed();
      if (mine === undefined || other === undefined) throw new Error('two windows');
      await take(mine, turn === 1 ? 'Edit here' : 'Take it back');
      await soon(() => line(other, 'role').textContent()).toBe(
        'Another window has taken this panel over; here it follows.Take it back',
      );
      await layFree(mine, turn);
      await soonStrips(mine).toBe(16 + turn);
      await soonStrips(other).toBe(16 + turn);
    }
    // One undo in the window that has it takes back what it laid last.
    await two.page.bringToFront();
    await undo(two.page).click();
    await soonStrips(one.page).toBe(20);
    expect([one.wrongs, two.wrongs]).toEqual([[], []]);
    await context.close();
  });

  it('a stroke that is under way when the other takes over is not lost, nor what is typed into a field', async () => {
    const { context, one, two } = await twoWindows();
    // A strip, drawn half way with the button down.
    await one.page.bringToFront();
    await one.page.keyboard.press('s');
    const at = await onFace(one.page);
    const [x, y] = freeSpot(3);
    await drag(one.page, at(x, y), at(x + 60, y), false);
    await take(two.page, 'Edit here');
    await soonStrips(two.page).toBe(17);
    // The hand goes on as if nothing were.
    await one.page.bringToFront();
    await one.page.mouse.move(...at(x + 50, y + 10));
    await one.page.mouse.up();
    await soonStrips(one.page).toBe(17);
    await take(one.page, 'Take it back');

    // A drag of a thing.
    const [px, py] = freeSpot(0);
    await one.page.mouse.click(...at(px + 30, py));
    await drag(one.page, at(px + 30, py), at(px + 30, py + 30), false);
    await take(two.page, 'Take it back');
    await soon(() => undo(two.page).getAttribute('aria-label')).toMatch(/^Undo move/);
    await one.page.bringToFront();
    await one.page.mouse.move(...at(px + 90, py + 60));
    await one.page.mouse.up();
    await take(one.page, 'Take it back');

    // A name half typed.
    await one.page.keyboard.press('Escape');
    const name = one.page.locator('.lay-side').getByLabel('Name', { exact: true });
    await name.fill('Bramble Yard');
    await line(two.page, 'role').getByRole('button', { name: 'Take it back' }).click();
    await soon(() => two.page.locator('.lay-side').getByLabel('Name', { exact: true }).inputValue()).toBe(
      'Bramble Yard',
    );
    expect([one.wrongs, two.wrongs]).toEqual([[], []]);
    await context.close();
  });
});
