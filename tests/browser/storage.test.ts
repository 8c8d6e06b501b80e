/** Storage that fails, on the screen: what is said, what can still be had, and that nothing is lost. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPanel } from '../../src/panel/index.ts';
import { overOneProfile } from './killable.ts';
import {
  drag,
  fileOf,
  freeSpot,
  layFree,
  layPage,
  line,
  onFace,
  settled,
  soonStrips,
  strips,
  toLay,
  undo,
} from './lay-pages.ts';
import { audit, misfits } from './page-checks.ts';
import { type Site, serveSite, soon, startBrowser } from './site.ts';

declare global {
  /** Which writes of entries fail, and how: set by a test. */
  var failing: { every: number; how: 'QuotaExceededError' | 'UnknownError' } | null;
}

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

const WIDE = { viewport: { width: 1440, height: 900 }, acceptDownloads: true };

/** Lets every n-th write to the entries fail while `failing` says so. */
const breakable = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    globalThis.failing = null;
    let count = 0;
    const { transaction } = IDBDatabase.prototype;
    IDBDatabase.prototype.transaction = function (names, mode, options) {
      if (globalThis.failing !== null && mode === 'readwrite' && [names].flat().includes('entries')) {
        count++;
        if (count % globalThis.failing.every === 0) throw new DOMException('a test', globalThis.failing.how);
      }
      return transaction.call(this, names, mode, options);
    };
  });

const stripsIn = (text: string): number => {
  const read = readPanel(text);
  return read.ok ? read.panel.strips.length : Number.NaN;
};

describe('storage that fails', () => {
  it.each([
    [1, 'QuotaExceededError', 'This device has no room left: the latest edits live in this window alone.'],
    [1, 'UnknownError', 'This browser stores nothing here, as in some private windows'],
    [2, 'QuotaExceededError', null],
    [3, 'UnknownError', null],
    [4, 'QuotaExceededError', null],
  ] as const)(
    'at every write number %i with %s: nothing is lost, it is said, and it recovers',
    async (every, how, said) => {
      const context = await browser.newContext(WIDE);
      const { page, wrongs } = await layPage(context, site.url, breakable);
      await layFree(page, 0);
      await settled(page);
      await page.evaluate(
        (failing) => {
          globalThis.failing = failing;
        },
        { every, how },
      );
      for (let n = 1; n <= 5; n++) {
        await layFree(page, n);
        await soonStrips(page).toBe(16 + n);
      }
      if (said !== null) {
        await soon(() => line(page, 'storage').textContent()).toContain(said);
        expect(await page.locator('.kept span').textContent()).toBe('Not kept on this device');
        expect(await audit(page)).toEqual([]);
        expect(await misfits(page)).toEqual([]);
        const file = await fileOf(page, line(page, 'storage').getByRole('button', { name: 'Save a file' }));
        expect(stripsIn(file.text)).toBe(21);
        // A version that is named now is given as well.
        await page.keyboard.press('Control+Shift+S');
        await page.getByRole('button', { name: 'Keep a version' }).click();
        const version = await fileOf(page, page.getByRole('button', { name: /^Give as a file/ }));
        expect(stripsIn(version.text)).toBe(21);
        await page.keyboard.press('Escape');
        await page.locator('dialog').waitFor({ state: 'detached' });
        await page.evaluate(() => {
          globalThis.failing = null;
        });
      }
      await settled(page);
      await soon(() => line(page, 'storage').count()).toBe(0);
      await page.reload();
      await page.locator('.sheet').waitFor();
      await toLay(page);
      expect(await strips(page)).toBe(21);
      for (let n = 0; n < 6; n++) await undo(page).click();
      await soonStrips(page).toBe(15);
      expect(wrongs).toEqual([]);
      await context.close();
    },
  );

  it('that is refused from the start leaves a panel that can be laid on and saved', async () => {
    const context = await browser.newContext(WIDE);
    const { page, wrongs } = await layPage(context, site.url, (fresh) =>
      fresh.addInitScript(() => {
        IDBFactory.prototype.open = () => {
          throw new DOMException('The user denied permission to access the database.', 'SecurityError');
        };
      }),
    );
    await layFree(page, 0);
    await soonStrips(page).toBe(16);
    await soon(() => line(page, 'storage').textContent()).toContain('the panel lives in this window alone.');
    const file = await fileOf(page, line(page, 'storage').getByRole('button', { name: 'Save a file' }));
    expect(stripsIn(file.text)).toBe(16);
    await undo(page).click();
    await soonStrips(page).toBe(15);
    expect(wrongs).toEqual([]);
    await context.close();
  });

  it('that the browser has deleted is said, given as a file, and kept anew at a press', async () => {
    const context = await browser.newContext(WIDE);
    const { page, wrongs } = await layPage(context, site.url);
    await layFree(page, 0);
    await settled(page);
    const client = await context.newCDPSession(page);
    await client.send('Storage.clearDataForOrigin', { origin: new URL(site.url).origin, storageTypes: 'indexeddb' });
    await layFree(page, 1);
    await soon(() => line(page, 'storage').textContent()).toContain('This browser has deleted what it kept');
    const file = await fileOf(page, line(page, 'storage').getByRole('button', { name: 'Save a file' }));
    expect(stripsIn(file.text)).toBe(17);
    await line(page, 'storage').getByRole('button', { name: 'Keep it anew' }).click();
    await soon(() => line(page, 'storage').count()).toBe(0);
    await layFree(page, 2);
    await soonStrips(page).toBe(18);
    await settled(page);
    await page.reload();
    await page.locator('.sheet').waitFor();
    await toLay(page);
    expect(await strips(page)).toBe(18);
    expect(wrongs).toEqual([]);
    await context.close();
  });
});

describe('damage', () => {
  it('that sets entries aside is said with how many, and the panel before them is there', async () => {
    const context = await browser.newContext(WIDE);
    const { page, wrongs } = await layPage(context, site.url);
    for (const n of [0, 1, 2]) {
      await layFree(page, n);
      await soonStrips(page).toBe(16 + n);
    }
    await settled(page);
    // The entry of the second strip is overwritten with nonsense.
    await page.evaluate(
      () =>
        new Promise<void>((done, fail) => {
          const opening = indexedDB.open('mimicwright');
          opening.onerror = () => fail(opening.error);
          opening.onsuccess = () => {
            const tx = opening.result.transaction('entries', 'readwrite');
            const store = tx.objectStore('entries');
            const all = store.getAll();
            all.onsuccess = () => {
              const entry: { seq: number } | undefined = all.result.find(({ seq }: { seq: number }) => seq === 3);
              if (entry !== undefined) store.put({ ...entry, kind: 'nonsense' });
            };
            tx.oncomplete = () => {
              opening.result.close();
              done();
            };
          };
        }),
    );
    await page.reload();
    await page.locator('.sheet').waitFor();
    await toLay(page);
    expect(await strips(page)).toBe(16);
    await soon(() => line(page, 'aside').textContent()).toContain(
      '2 edits could not be read and are set aside: this is the panel before them.',
    );
    const file = await fileOf(page, line(page, 'aside').getByRole('button', { name: 'Save a file' }));
    expect(stripsIn(file.text)).toBe(16);
    expect(await line(page, 'aside').getByRole('link').getAttribute('href')).toBe('rescue.html');
    expect(await audit(page)).toEqual([]);
    await line(page, 'aside').getByRole('button', { name: 'Say no more of it' }).click();
    await soon(() => line(page, 'aside').count()).toBe(0);
    await layFree(page, 3);
    await soonStrips(page).toBe(17);
    expect(wrongs).toEqual([]);
    await context.close();
  });
});

describe('work that another window left behind', () => {
  it('is said in the window that made it, given as a file, and kept as a version once that can be written', async () => {
    const context = await browser.newContext(WIDE);
    const one = await layPage(context, site.url, breakable);
    await layFree(one.page, 0);
    await settled(one.page);
    const two = await layPage(context, site.url);
    await one.page.evaluate(() => {
      globalThis.failing = { every: 1, how: 'UnknownError' };
    });
    await layFree(one.page, 1);
    await soonStrips(one.page).toBe(17);
    await two.page.bringToFront();
    await line(two.page, 'role').getByRole('button', { name: 'Edit here' }).click();
    await soon(() => line(two.page, 'role').count()).toBe(0);
    await soon(() => line(one.page, 'stranded').textContent()).toContain('1 edit made here came too late');
    await one.page.bringToFront();
    const file = await fileOf(one.page, line(one.page, 'stranded').getByRole('button', { name: 'Save it as a file' }));
    expect(stripsIn(file.text)).toBe(17);
    await soon(() => strips(two.page)).toBe(16);
    await soon(() => line(one.page, 'stranded').textContent()).toContain('version “From the other window”');
    await two.page.bringToFront();
    await two.page.keyboard.press('Control+Shift+S');
    await two.page.locator('[data-version="From the other window"]').waitFor();
    expect([one.wrongs, two.wrongs]).toEqual([[], []]);
    await context.close();
  });
});

describe('a browser that is killed in the middle of a drag', () => {
  it('opens the panel as it was before the drag, with every edit before it', () =>
    overOneProfile(async (start) => {
      const first = await start();
      await first.page.setViewportSize({ width: 1440, height: 900 });
      await first.page.goto(site.url);
      await first.page.locator('.sheet').waitFor();
      await toLay(first.page);
      for (const n of [0, 1, 2]) {
        await layFree(first.page, n);
        await soonStrips(first.page).toBe(16 + n);
      }
      await settled(first.page);
      const [x, y] = freeSpot(2);
      const at = await onFace(first.page);
      await first.page.mouse.click(...at(x + 30, y));
      const drawn = () => first.page.locator('.chosen').innerHTML();
      await soon(drawn).toContain('<path');
      const before = await drawn();
      await drag(first.page, at(x + 30, y), at(x + 60, y + 40), false);
      // The drag has got so far that the strip is drawn elsewhere.
      await soon(drawn).not.toBe(before);
      expect(await drawn()).toContain('<path');
      await first.kill();

      const second = await start();
      await second.page.setViewportSize({ width: 1440, height: 900 });
      await second.page.goto(site.url);
      await second.page.locator('.sheet').waitFor();
      await toLay(second.page);
      expect(await strips(second.page)).toBe(18);
      const again = await onFace(second.page);
      await second.page.mouse.click(...again(x + 30, y));
      await soon(() => second.page.getByLabel('x of start').inputValue()).toBe(`${x}.0`);
      expect(await second.page.getByLabel('y of start').inputValue()).toBe(`${y}.0`);
      expect(await second.page.locator('.keep-line.grave').count()).toBe(0);
      for (let n = 0; n < 3; n++) await undo(second.page).click();
      await soonStrips(second.page).toBe(15);
      await second.kill();
    }));
});
