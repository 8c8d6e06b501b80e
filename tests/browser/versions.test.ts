/** Versions and files on the screen: kept under a name, compared, gone back to, given; and the quiet line that asks for a file. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPanel } from '../../src/panel/index.ts';
import { drag, fileOf, freeSpot, layFree, layPage, line, onFace, settled, soonStrips, undo } from './lay-pages.ts';
import { audit, misfits } from './page-checks.ts';
import { type Site, serveSite, soon, startBrowser } from './site.ts';

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

const dialog = (page: Page) => page.getByRole('dialog', { name: 'Versions and files' });
const names = (page: Page) => dialog(page).locator('[data-version] b').allTextContents();
const WIDE = { viewport: { width: 1440, height: 900 }, acceptDownloads: true };

describe('versions', () => {
  it('are kept, compared, shown on the sheet and gone back to by keys alone, and given as files', async () => {
    const context = await browser.newContext(WIDE);
    const { page, wrongs } = await layPage(context, site.url);
    await layFree(page, 0);
    await soonStrips(page).toBe(16);
    await page.keyboard.press('Control+Shift+S');
    await dialog(page).waitFor();
    await soon(() => dialog(page).textContent()).toContain('No version is kept yet');
    await page.getByLabel('Name of the panel as it is now').focus();
    await page.keyboard.type('One strip');
    await page.keyboard.press('Enter');
    await soon(() => names(page)).toEqual(['One strip']);
    await page.keyboard.press('Escape');
    // Till it is gone it has the keys.
    await dialog(page).waitFor({ state: 'detached' });
    // The focus is where the dialog can be opened again.
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-haspopup'))).toBe('dialog');

    // Moved 12 mm down by the mouse: lamps and all of the demo stay.
    const at = await onFace(page);
    const [x, y] = freeSpot(0);
    await page.mouse.click(...at(x + 30, y));
    await drag(page, at(x + 30, y), at(x + 30, y + 12));
    await soon(() => undo(page).getAttribute('aria-label')).toMatch(/^Undo move/);
    await page.keyboard.press('Control+Shift+S');
    await dialog(page).getByRole('button', { name: 'What changed: One strip' }).press('Enter');
    const what = dialog(page).getByRole('region', { name: 'What changed since One strip' });
    await soon(() => what.getByRole('listitem').allTextContents()).toContain('Strip 16 moved 12.0 mm');
    expect(await what.textContent()).toContain('Strip: 1 altered.');
    expect(await audit(page)).toEqual([]);
    await what.getByRole('button', { name: 'Show on the sheet' }).press('Enter');
    await dialog(page).waitFor({ state: 'detached' });
    await soon(() => page.locator('.change-marks .change.along').count()).toBe(1);
    expect(await line(page, 'compared').textContent()).toContain('changed since One strip');
    await line(page, 'compared').getByRole('button').press('Enter');
    await soon(() => page.locator('.change-marks').count()).toBe(0);

    // A second version, named by its moment; the older is before whichever is asked.
    await page.keyboard.press('Control+Shift+S');
    await dialog(page).getByRole('button', { name: 'Keep a version' }).press('Enter');
    await soon(async () => (await names(page)).length).toBe(2);
    const [moment = ''] = await names(page);
    expect(moment).toMatch(/^\d+ \w+ \d{4}, \d+:\d\d$/);
    await dialog(page)
      .getByRole('button', { name: `What changed: ${moment}` })
      .press('Enter');
    await dialog(page).getByText('Nothing: the two are alike.').waitFor();
    await dialog(page).getByLabel('Compared with').selectOption('One strip');
    await soon(() => dialog(page).locator('.keep-changes li').allTextContents()).toContain('Strip 16 moved 12.0 mm');

    await dialog(page).getByRole('button', { name: 'Go back to it: One strip' }).press('Enter');
    await dialog(page).getByText('The panel is as it was in One strip. Undo takes that back.').waitFor();
    await page.keyboard.press('Escape');
    // Till it is gone it has the keys.
    await dialog(page).waitFor({ state: 'detached' });
    await soon(() => undo(page).getAttribute('aria-label')).toBe('Undo go back to One strip');
    await undo(page).press('Enter');
    await soon(() => undo(page).getAttribute('aria-label')).toMatch(/^Undo move/);

    await page.keyboard.press('Control+Shift+S');
    const file = await fileOf(page, dialog(page).getByRole('button', { name: 'Give as a file: One strip' }));
    expect(file.name).toBe('quillhaven-harbour-one-strip.mimic.json');
    const read = readPanel(file.text);
    expect(read.ok && read.panel.strips.at(-1)?.path[0]).toEqual([x, y]);
    // They are there after a reload.
    await settled(page);
    await page.reload();
    await page.locator('.sheet').waitFor();
    await page.getByRole('navigation').getByRole('button', { name: /^Lay/ }).click();
    await page.locator('.lay-sheet').waitFor();
    await page.keyboard.press('Control+Shift+S');
    await soon(() => names(page)).toEqual([moment, 'One strip']);
    expect(wrongs).toEqual([]);
    await context.close();
  });

  it.each([
    ['1180 wide, lights up', 1180, 820, 'light'],
    ['820 wide, lights down', 820, 1180, 'dark'],
  ] as const)('by touch, %s', async (_, width, height, colorScheme) => {
    const context = await browser.newContext({ viewport: { width, height }, colorScheme, hasTouch: true });
    const { page, wrongs } = await layPage(context, site.url);
    await layFree(page, 0);
    await settled(page);
    await page.locator('.kept').tap();
    await dialog(page).waitFor();
    await dialog(page).getByRole('button', { name: 'Keep a version' }).tap();
    await soon(async () => (await names(page)).length).toBe(1);
    await dialog(page)
      .getByRole('button', { name: /^What changed/ })
      .tap();
    await dialog(page).getByText('Nothing: the two are alike.').waitFor();
    expect(await audit(page)).toEqual([]);
    // A dialog lies over what is under it: that is no misfit.
    expect((await misfits(page)).filter((found) => !found.includes(' lies over '))).toEqual([]);
    // Whatever can be pressed is as large as a finger.
    const small = await dialog(page)
      .getByRole('button')
      .evaluateAll((buttons) => buttons.filter((each) => each.getBoundingClientRect().height < 44).length);
    expect(small).toBe(0);
    expect(wrongs).toEqual([]);
    await context.close();
  });
});

describe('what the browser has promised', () => {
  it.each([
    [true, '', 'The browser has promised not to delete it of its own accord.'],
    [false, '', 'has not promised. It may delete it when room is short'],
    [false, 'Apple Computer, Inc.', 'has not promised. It may delete it after 7 days without a visit.'],
  ])('is told in plain words: promise %s, vendor "%s"', async (promise, vendor, sentence) => {
    const context = await browser.newContext(WIDE);
    const { page } = await layPage(context, site.url, (fresh) =>
      fresh.addInitScript(
        ([answer, name]) => {
          navigator.storage.persist = async () => answer === true;
          navigator.storage.persisted = async () => false;
          if (name !== '') Object.defineProperty(navigator, 'vendor', { value: name });
        },
        [promise, vendor] as const,
      ),
    );
    await page.keyboard.press('Control+Shift+S');
    await soon(() => dialog(page).textContent()).toContain('asked to keep it for good at the first edit');
    await page.keyboard.press('Escape');
    // Till it is gone it has the keys.
    await dialog(page).waitFor({ state: 'detached' });
    await layFree(page, 0);
    await settled(page);
    await page.keyboard.press('Control+Shift+S');
    await soon(() => dialog(page).textContent()).toContain(sentence);
    await context.close();
  });
});

describe('a file', () => {
  it('is asked for in one quiet line after twenty edits, put away till twenty more, and gone once it is saved', async () => {
    const context = await browser.newContext(WIDE);
    const { page, wrongs } = await layPage(context, site.url);
    let turns = 0;
    const turn = async (times: number): Promise<void> => {
      for (let i = 0; i < times; i++) await page.keyboard.press(turns++ % 2 === 0 ? 'Control+Z' : 'Control+Shift+Z');
    };
    await layFree(page, 0);
    await soonStrips(page).toBe(16);
    await turn(18);
    await settled(page);
    expect(await line(page, 'file').count()).toBe(0);
    await turn(1);
    await soon(() => line(page, 'file').textContent()).toContain('20 edits of this panel are in no file yet');
    expect(await audit(page)).toEqual([]);
    await line(page, 'file').getByRole('button', { name: 'Not now' }).click();
    await soon(() => line(page, 'file').count()).toBe(0);
    await turn(20);
    await soon(() => line(page, 'file').textContent()).toContain('40 edits');
    const file = await fileOf(page, line(page, 'file').getByRole('button', { name: 'Save a file' }));
    expect(file.name).toBe('quillhaven-harbour.mimic.json');
    expect(readPanel(file.text).ok).toBe(true);
    await soon(() => line(page, 'file').count()).toBe(0);
    expect(wrongs).toEqual([]);
    await context.close();
  });

  it('is asked for a day after a single edit', async () => {
    const context = await browser.newContext(WIDE);
    const { page } = await layPage(context, site.url);
    await layFree(page, 0);
    await settled(page);
    expect(await line(page, 'file').count()).toBe(0);
    await page.close();
    const next = await layPage(context, site.url, (fresh) =>
      fresh.addInitScript(() => {
        const now = Date.now.bind(Date);
        Date.now = () => now() + 86_400_001;
      }),
    );
    await soon(() => line(next.page, 'file').textContent()).toContain('1 edit of this panel is in no file yet.');
    await context.close();
  });

  it('is handed to the system where it takes one, and else there is no button', async () => {
    const context = await browser.newContext(WIDE);
    const { page } = await layPage(context, site.url, (fresh) =>
      fresh.addInitScript(() => {
        navigator.canShare = (data) => data?.files?.[0]?.name.endsWith('.mimic.json') === true;
        navigator.share = async (data) => {
          document.title = `shared ${data?.files?.[0]?.name} ${(await data?.files?.[0]?.text())?.includes('"strip-1"')}`;
        };
      }),
    );
    await layFree(page, 0);
    await settled(page);
    await page.keyboard.press('Control+Shift+S');
    await dialog(page).getByRole('button', { name: 'Share the file' }).click();
    await soon(() => page.title()).toBe('shared quillhaven-harbour.mimic.json true');
    await soon(() => dialog(page).textContent()).toContain('All of it is in quillhaven-harbour.mimic.json.');
    await context.close();
    const without = await browser.newContext(WIDE);
    const other = await layPage(without, site.url, (fresh) =>
      fresh.addInitScript(() => {
        navigator.canShare = () => false;
      }),
    );
    await other.page.keyboard.press('Control+Shift+S');
    await dialog(other.page).waitFor();
    expect(await dialog(other.page).getByRole('button', { name: 'Share the file' }).count()).toBe(0);
    await without.close();
  });
});
