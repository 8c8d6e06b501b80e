/** Laying in a real browser: by mouse, touch, pen and keys, undone and kept, on screens of four sizes. */
import type { Browser, CDPSession, Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { onFace, toLay } from './lay-pages.ts';
import { audit, misfits, still } from './page-checks.ts';
import { openPage, type Site, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

async function drag(page: Page, from: readonly [number, number], to: readonly [number, number]): Promise<void> {
  await page.mouse.move(...from);
  await page.mouse.down();
  for (let k = 1; k <= 6; k++)
    await page.mouse.move(from[0] + ((to[0] - from[0]) * k) / 6, from[1] + ((to[1] - from[1]) * k) / 6);
  await page.mouse.up();
}

const counts = (page: Page): Locator => page.locator('.lay-foot').getByText(/strips/);
const undo = (page: Page): Locator => page.getByRole('button', { name: /undo/i });

describe('laying', () => {
  it('lays a strip with the mouse, reads its point, undoes it and does it again', async () => {
    const { page } = await openPage(browser, site.url);
    await toLay(page);
    expect(await counts(page).textContent()).toBe('15 strips, 17 points, 12 levers, 48 lamps');
    const at = await onFace(page);
    await page.keyboard.press('s');
    await drag(page, at(300, 96), at(348, 66));
    await expect.poll(() => counts(page).textContent()).toBe('16 strips, 18 points, 12 levers, 48 lamps');
    await page.locator('[data-point="P18"]').waitFor();
    await page.locator('.tray').getByText('No lever works P18', { exact: true }).waitFor();
    await undo(page).click();
    await expect.poll(() => counts(page).textContent()).toBe('15 strips, 17 points, 12 levers, 48 lamps');
    expect(await undo(page).isDisabled()).toBe(true);
    await page.keyboard.press('Control+Shift+Z');
    await expect.poll(() => counts(page).textContent()).toBe('16 strips, 18 points, 12 levers, 48 lamps');
    await page.close();
  });

  it('lays a ladder in one drag, shows before what it will be, and says where there is no room', async () => {
    const { page } = await openPage(browser, site.url);
    await toLay(page);
    const at = await onFace(page);
    await page.keyboard.press('s');
    await page.getByRole('button', { name: 'Ladder' }).click();
    await page.getByLabel('Roads').selectOption('3');
    // Upper edge of the sheet: nothing lies above the uppermost road there.
    await page.mouse.move(...at(300, 96));
    await page.mouse.down();
    for (const x of [340, 420, 500]) await page.mouse.move(...at(x, 60));
    await expect.poll(() => page.locator('.held path.ghost').count()).toBeGreaterThan(2);
    await page.mouse.up();
    await expect.poll(() => counts(page).textContent()).toMatch(/^18 strips/);
    await expect.poll(() => undo(page).getAttribute('aria-label')).toBe('Undo lay a ladder');
    expect(await page.locator('.held path.ghost').count()).toBe(0);
    await undo(page).click();
    await expect.poll(() => counts(page).textContent()).toMatch(/^15 strips/);
    // What was found of the ladder has made room for itself.
    const now = await onFace(page);
    await drag(page, now(300, 96), now(310, 94));
    await page.locator('.lay-foot').getByText('Nothing laid: there is too little room for it here').waitFor();
    await page.close();
  });

  it('copies, pastes and duplicates by keys, on to the system clipboard', async () => {
    const { page } = await openPage(browser, site.url);
    await toLay(page);
    const at = await onFace(page);
    await page.mouse.click(...at(340, 154));
    await page.keyboard.press('Control+c');
    await page.locator('.lay-foot').getByText('Copied 1 strip').waitFor();
    await page.mouse.move(...at(300, 280));
    await page.keyboard.press('Control+v');
    await expect.poll(() => counts(page).textContent()).toMatch(/^16 strips/);
    expect(await undo(page).getAttribute('aria-label')).toMatch(/^Undo paste/);
    await page.keyboard.press('Control+d');
    await expect.poll(() => counts(page).textContent()).toMatch(/^17 strips/);
    await page.keyboard.press('Control+x');
    await expect.poll(() => counts(page).textContent()).toMatch(/^16 strips/);
    await page.keyboard.press('Control+a');
    await page
      .locator('.lay-side')
      .getByText(/things picked/)
      .waitFor();
    await page.close();
  });

  it('mends a finding by its button, as one step', async () => {
    const { page } = await openPage(browser, site.url);
    await toLay(page);
    const at = await onFace(page);
    await page.keyboard.press('s');
    await drag(page, at(300, 96), at(348, 66));
    await page.getByRole('button', { name: /^Add a lever for P18/ }).click();
    await expect.poll(() => counts(page).textContent()).toBe('16 strips, 18 points, 13 levers, 48 lamps');
    await undo(page).click();
    await expect.poll(() => counts(page).textContent()).toBe('16 strips, 18 points, 12 levers, 48 lamps');
    await page.close();
  });

  it('says what a button sets and when a lamp is lit, each a step', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await toLay(page);
    const at = await onFace(page);
    const rows = page.locator('.lie-row');
    const add = async (point: string): Promise<void> => {
      await page.locator('.lies').getByRole('button', { name: 'Add a point' }).click();
      await page.getByRole('option', { name: point, exact: true }).click();
    };
    await page.keyboard.press('b');
    await page.mouse.click(...at(540, 215));
    await page.keyboard.press('v');
    await page.mouse.click(...at(540, 215));
    await add('P4');
    await add('P6');
    await soon(() => rows.count()).toBe(2);
    await rows.nth(0).getByRole('button', { name: 'normal' }).click();
    // A button throws coils by pulses; the demo has neither, and the findings say so of each point.
    await page.locator('.tray').getByText(/B1/).first().waitFor();
    await rows.nth(1).getByRole('button', { name: 'Take out P6' }).click();
    await soon(() => rows.count()).toBe(1);
    await undo(page).click();
    await soon(() => rows.count()).toBe(2);
    expect(await rows.nth(0).getByRole('button', { name: 'normal' }).getAttribute('aria-pressed')).toBe('true');
    // A lamp: what it says can be altered, and left to the leg under it.
    await page.mouse.click(...at(264, 126));
    await page.getByRole('heading', { name: /^Lamp H13/ }).waitFor();
    const shown = (): Promise<readonly string[]> =>
      rows.evaluateAll((all) =>
        all.map(
          (row) => `${row.querySelector('.tag')?.textContent} ${row.querySelector('[aria-pressed=true]')?.textContent}`,
        ),
      );
    expect(await shown()).toEqual(['P1 normal', 'P2 reverse', 'P4 normal']);
    await page.getByRole('button', { name: 'As the leg it lies on asks' }).click();
    await page.getByRole('button', { name: 'Say it otherwise' }).click();
    // The span under it lies from P4's normal leg to P3's reverse one.
    await soon(shown).toEqual(['P3 reverse', 'P4 normal']);
    expect(await audit(page)).toEqual([]);
    expect(wrongs).toEqual([]);
    await page.close();
  });

  it('moves what is picked with the mouse and with the arrows, and calls a drag off with Escape', async () => {
    const { page } = await openPage(browser, site.url);
    await toLay(page);
    const at = await onFace(page);
    await page.mouse.click(...at(340, 154));
    const x = page.getByLabel('x of start');
    await x.waitFor();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Shift+ArrowDown');
    await expect.poll(() => undo(page).getAttribute('aria-label')).toMatch(/^Undo move/);
    await undo(page).click();
    expect(await undo(page).isDisabled()).toBe(true);
    await page.mouse.move(...at(420, 154));
    await page.mouse.down();
    await page.mouse.move(...at(430, 190));
    await page.keyboard.press('Escape');
    await page.mouse.up();
    expect(await undo(page).isDisabled()).toBe(true);
    await page.close();
  });

  it('takes figures typed while tape is laid', async () => {
    const { page } = await openPage(browser, site.url);
    await toLay(page);
    const at = await onFace(page);
    await page.keyboard.press('s');
    await page.mouse.click(...at(60, 200));
    for (const key of ['5', '0', '<', '0']) await page.keyboard.press(key);
    await page.keyboard.press('Enter');
    await page.keyboard.press('Enter');
    await expect.poll(() => counts(page).textContent()).toMatch(/^16 strips/);
    await page.getByText(/^50\.0 mm on the face/).waitFor();
    await page.close();
  });

  it('lays with a finger, and two fingers move the sheet', async () => {
    const { page } = await openPage(browser, site.url, { hasTouch: true, viewport: { width: 1180, height: 820 } });
    await toLay(page);
    const at = await onFace(page);
    await page.getByRole('button', { name: /^Strip/ }).tap();
    const client = await page.context().newCDPSession(page);
    await touch(client, [[at(300, 96)], [at(320, 84)], [at(348, 66)]]);
    await expect.poll(() => counts(page).textContent()).toMatch(/^16 strips, 18 points/);
    const before = await page.locator('.lay-sheet').boundingBox();
    await touch(client, [
      [at(200, 200), at(300, 200)],
      [at(180, 200), at(330, 200)],
      [at(150, 200), at(360, 200)],
    ]);
    const after = await page.locator('.lay-sheet').boundingBox();
    expect((after?.width ?? 0) / (before?.width ?? 1)).toBeGreaterThan(1.5);
    expect(await counts(page).textContent()).toMatch(/^16 strips, 18 points/);
    await page.close();
  });

  it('shows a loupe off the finger while it drags, with the angle, and a second finger frees what it drags', async () => {
    const { page } = await openPage(browser, site.url, { hasTouch: true, viewport: { width: 1180, height: 820 } });
    await toLay(page);
    const at = await onFace(page);
    await page.getByRole('button', { name: /^Strip/ }).tap();
    const client = await page.context().newCDPSession(page);
    const send = async (type: 'touchStart' | 'touchMove' | 'touchEnd', ...spots: (readonly [number, number])[]) => {
      const touchPoints = spots.map(([x, y], id) => ({ x, y, id, radiusX: 5, radiusY: 5 }));
      await client.send('Input.dispatchTouchEvent', { type, touchPoints });
    };
    const loupe = page.locator('.loupe');
    await send('touchStart', at(252, 66));
    expect(await loupe.count()).toBe(0);
    await send('touchMove', at(280, 84));
    await send('touchMove', at(299.5, 96.5));
    await loupe.waitFor();
    // The road from 252, 66 to 300, 96: arctan(30 / 48) is 32.0 degrees.
    await expect.poll(() => loupe.textContent()).toBe('32.0°');
    const box = await loupe.boundingBox();
    const [x, y] = at(299.5, 96.5);
    if (box === null) throw new Error('the loupe has no box');
    expect(Math.hypot(box.x + box.width / 2 - x, box.y + box.height / 2 - y)).toBeGreaterThan(90);
    expect([box.width, box.height]).toEqual([180, 180]);
    const foot = page.locator('.lay-foot');
    await foot.getByText(/Joins at 32°/).waitFor();
    await send('touchStart', at(299.5, 96.5), at(100, 200));
    await expect.poll(() => foot.getByText(/Joins at 32°/).count()).toBe(0);
    expect(await loupe.count()).toBe(1);
    await send('touchEnd');
    await expect.poll(() => loupe.count()).toBe(0);
    await page.close();
  });

  it('turns to another spot with Tab while the mouse drags, and Tab goes on otherwise', async () => {
    const { page } = await openPage(browser, site.url);
    await toLay(page);
    const at = await onFace(page);
    await page.keyboard.press('s');
    await page.mouse.move(...at(252, 66));
    await page.mouse.down();
    await page.mouse.move(...at(280, 84));
    await page.mouse.move(...at(299.5, 96.5));
    const foot = page.locator('.lay-foot');
    await foot.getByText(/Joins at 32°/).waitFor();
    await page.keyboard.press('Tab');
    await expect.poll(() => foot.getByText(/Joins at 32°/).count()).toBe(0);
    await page.keyboard.press('Shift+Tab');
    await foot.getByText(/Joins at 32°/).waitFor();
    await page.mouse.up();
    await expect.poll(() => counts(page).textContent()).toMatch(/^16 strips, 18 points/);
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('BUTTON');
    await page.close();
  });

  it('goes to the stages by figures, and keys of one letter can be switched off', async () => {
    const { page } = await openPage(browser, site.url);
    await page.keyboard.press('1');
    await page.locator('.lay-sheet').waitFor();
    await page.keyboard.press('6');
    await page.locator('.run').waitFor();
    await page.keyboard.press('1');
    await page.locator('.lay-sheet').waitFor();
    const pressed = (name: RegExp) => page.getByRole('button', { name }).getAttribute('aria-pressed');
    await page.keyboard.press('k');
    await expect.poll(() => pressed(/^Lamp$/)).toBe('true');
    await page.keyboard.press('v');
    await page.getByRole('group', { name: 'Keys of one letter' }).getByRole('button', { name: 'Off' }).click();
    await page.keyboard.press('k');
    await page.keyboard.press('6');
    expect(await pressed(/^Pick$/)).toBe('true');
    await page.reload();
    await page.locator('.sheet').waitFor();
    await toLay(page);
    await page.keyboard.press('k');
    expect(await pressed(/^Pick$/)).toBe('true');
    await page.close();
  });

  it('begins with the panel as it was left, its undo with it', async () => {
    const { page } = await openPage(browser, site.url);
    await toLay(page);
    const at = await onFace(page);
    await page.keyboard.press('s');
    await drag(page, at(300, 96), at(348, 66));
    await expect.poll(() => counts(page).textContent()).toMatch(/^16 strips/);
    await page.locator('.kept').getByText('Kept on this device').waitFor();
    await page.reload();
    await toLay(page);
    expect(await counts(page).textContent()).toMatch(/^16 strips/);
    await undo(page).click();
    await expect.poll(() => counts(page).textContent()).toMatch(/^15 strips/);
    await page.close();
  });

  it('shows in Run what was laid', async () => {
    const { page } = await openPage(browser, site.url);
    await toLay(page);
    const at = await onFace(page);
    await page.keyboard.press('s');
    await drag(page, at(300, 96), at(348, 66));
    await page.getByText('No lever works P18', { exact: true }).waitFor();
    await page.getByRole('button', { name: /^Add a lever for P18/ }).click();
    await expect.poll(() => counts(page).textContent()).toMatch(/13 levers/);
    await page.getByRole('navigation').getByRole('button', { name: /^Run/ }).click();
    await page.locator('[data-lever="L13"]').waitFor();
    await page.close();
  });
});

/** Fingers down at the first spots, along the others, and up. */
async function touch(client: CDPSession, way: readonly (readonly (readonly [number, number])[])[]): Promise<void> {
  for (const [k, spots] of way.entries()) {
    const touchPoints = spots.map(([x, y], id) => ({ x, y, id, radiusX: 5, radiusY: 5 }));
    await client.send('Input.dispatchTouchEvent', { type: k === 0 ? 'touchStart' : 'touchMove', touchPoints });
    await new Promise((done) => setTimeout(done, 40));
  }
  await client.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
}

describe.each([
  [1440, 900],
  [1180, 820],
  [820, 1180],
] as const)('the Lay stage at %i by %i', (width, height) => {
  it('fits, and axe-core finds nothing, light and dark', async () => {
    const { page } = await openPage(browser, site.url, { viewport: { width, height } });
    const inBoth = async (): Promise<void> => {
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme });
        await soon(() => page.locator('html').getAttribute('data-theme')).toBe(colorScheme);
        await still(page);
        expect([colorScheme, await audit(page)]).toEqual([colorScheme, []]);
      }
    };
    await toLay(page);
    expect(await misfits(page)).toEqual([]);
    const at = await onFace(page);
    await page.mouse.click(...at(340, 154));
    await page.locator('.lay-side').getByText('Tape').first().waitFor({ state: 'attached' });
    // An edit brings the button that saves: the bar stays as high as it was, and nothing in it lies over the stages.
    const high = await page.locator('.bar').boundingBox();
    await page.keyboard.press('ArrowDown');
    await page.getByRole('button', { name: 'Save a file' }).waitFor();
    const [bar, stages, kept] = [
      await page.locator('.bar').boundingBox(),
      await page.locator('.stages').boundingBox(),
      await page.locator('.kept').boundingBox(),
    ];
    expect(bar?.height).toBe(high?.height);
    const beside = (kept?.x ?? 0) >= (stages?.x ?? 0) + (stages?.width ?? 0);
    expect(beside || (kept?.y ?? 0) + (kept?.height ?? 0) <= (stages?.y ?? 0)).toBe(true);
    expect(await misfits(page)).toEqual([]);
    await inBoth();
    await page.keyboard.press('s');
    await page.getByRole('button', { name: 'Ladder' }).click();
    expect(await misfits(page)).toEqual([]);
    await inBoth();
    await page.close();
  });
});

it('asks for a wider screen on a phone, and Run still works there', async () => {
  const { page } = await openPage(browser, site.url, { viewport: { width: 390, height: 844 } });
  await page.getByRole('navigation').getByRole('button', { name: /^Lay/ }).click();
  await page.getByText('Laying needs a wider screen').waitFor();
  expect(await misfits(page)).toEqual([]);
  expect(await audit(page)).toEqual([]);
  await page.getByRole('navigation').getByRole('button', { name: /^Run/ }).click();
  await page.locator('.run').waitFor();
  await page.close();
});
