/** Pages in Lay, and a hand with a mouse on them. */
import { readFileSync } from 'node:fs';
import type { BrowserContext, Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { soon } from './site.ts';

export interface Seen {
  readonly page: Page;
  /** What scripts have thrown, and breaches of the policy. */
  readonly wrongs: string[];
}

/** A page in Lay, over what the browser begins with. `before`: done to the page before it loads. */
export async function layPage(
  context: BrowserContext,
  url: string,
  before: (page: Page) => Promise<unknown> = async () => {},
): Promise<Seen> {
  const page = await context.newPage();
  const wrongs: string[] = [];
  page.on('pageerror', (error) => wrongs.push(error.message));
  page.on('console', (message) => {
    if (message.text().includes('Content Security Policy')) wrongs.push(message.text());
  });
  // Without a picker a file is a download, which a test can read.
  await page.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  await before(page);
  await page.goto(url);
  await page.locator('.sheet').waitFor();
  await toLay(page);
  return { page, wrongs };
}

export async function toLay(page: Page): Promise<void> {
  await page.getByRole('navigation').getByRole('button', { name: /^Lay/ }).click();
  await page.locator('.lay-sheet').waitFor();
  await page.getByText('Checked as you lay').waitFor();
}

/** From millimetres on a face of 600 mm to px on the screen. */
export async function onFace(page: Page): Promise<(x: number, y: number) => readonly [number, number]> {
  // What is found takes room from the sheet as it comes: the sheet lies still once all is checked and a frame is drawn that moves nothing.
  await page.getByText('Checked as you lay').waitFor();
  const box = await page.locator('.lay-sheet').evaluate(async (sheet) => {
    const frame = () => new Promise((done) => requestAnimationFrame(done));
    for (;;) {
      const { x, y, width } = sheet.getBoundingClientRect();
      await frame();
      await frame();
      const now = sheet.getBoundingClientRect();
      if (now.x === x && now.y === y && now.width === width) return { x, y, width };
    }
  });
  return (x, y) => [box.x + (x * box.width) / 600, box.y + (y * box.width) / 600];
}

/** Where strips are free to lie on the demo's sheet: the `n`th, clear of all others; mm. */
export const freeSpot = (n: number): readonly [number, number] => [250 + 80 * (n % 2), 14 + 10 * Math.floor(n / 2)];

/** Lay the `n`th strip of 60 mm with the mouse, where nothing else lies. */
export async function layFree(page: Page, n: number): Promise<void> {
  // A page that lies behind another draws once a second, and hears the mouse as it draws.
  await page.bringToFront();
  // A key that is pressed while a dialog is closing is the dialog's: it is pressed till the tool is in hand.
  await expect
    .poll(async () => {
      await page.keyboard.press('s');
      return page.locator('.table.crosshair').count();
    })
    .toBe(1);
  const before = await strips(page);
  const at = await onFace(page);
  const [x, y] = freeSpot(n);
  await drag(page, at(x, y), at(x + 60, y));
  await soon(() => strips(page)).toBe(before + 1);
  await page.keyboard.press('v');
}

export async function drag(
  page: Page,
  from: readonly [number, number],
  to: readonly [number, number],
  up = true,
): Promise<void> {
  await page.mouse.move(...from);
  await page.mouse.down();
  for (let k = 1; k <= 6; k++)
    await page.mouse.move(from[0] + ((to[0] - from[0]) * k) / 6, from[1] + ((to[1] - from[1]) * k) / 6);
  if (up) await page.mouse.up();
}

/** How many strips the foot counts. */
export async function strips(page: Page): Promise<number> {
  const text = await page.locator('.lay-foot .laid').textContent();
  return Number(/^(\d+) strip/.exec(text ?? '')?.[1] ?? Number.NaN);
}

export const soonStrips = (page: Page) => soon(() => strips(page));
export const line = (page: Page, name: string): Locator => page.locator(`[data-line="${name}"]`);
export const undo = (page: Page): Locator => page.getByRole('button', { name: /^(Undo|Nothing to undo)/ });

/** Everything that was done is on the disk. */
export const settled = (page: Page) => soon(() => page.locator('.kept span').textContent()).toBe('Kept on this device');

/** What a press gives as a file. */
export async function fileOf(page: Page, press: Locator): Promise<{ readonly name: string; readonly text: string }> {
  const [download] = await Promise.all([page.waitForEvent('download'), press.click()]);
  return { name: download.suggestedFilename(), text: readFileSync(await download.path(), 'utf8') };
}
