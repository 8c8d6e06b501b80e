/**
 * A first panel, from a bare sheet to a printed book, as somebody goes about it who has never seen the program: the same steps by mouse, by
 * finger and by keys alone. How many gestures each step takes is counted, and told.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PanelFile } from '../../src/panel/index.ts';
import { type Counted, catchFiles, type Hand, keys, mouse, savedBy, touch } from './hands.ts';
import { litOf, openPage, type Site, serveSite, soon, startBrowser } from './site.ts';

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

/** More gestures than this for a first panel, typing included, and it is no work of a quarter of an hour at 5 s each. */
const MOST = 180;

interface Bench {
  readonly page: Page;
  readonly hand: Hand;
  file: PanelFile | null;
}

const counts = (page: Page) => page.locator('.lay-foot').getByText(/strips?,/);
/** How many findings there are of all kinds, as the head of their list counts them. */
const found = async (page: Page): Promise<number> =>
  (await page.locator('.tray-count').allTextContents()).reduce((sum, text) => sum + Number.parseInt(text, 10), 0);
const laid = (page: Page, said: RegExp) => soon(() => counts(page).textContent()).toMatch(said);

const STEPS: readonly (readonly [what: string, step: (bench: Bench) => Promise<void>])[] = [
  [
    'begin on a bare sheet, where a ghost shows a first strip',
    async ({ page, hand }) => {
      await hand.press(page.getByRole('button', { name: /^Panels/ }));
      await hand.press(page.getByRole('button', { name: 'New bare sheet' }));
      await page.getByText('Lay a strip from edge to edge').waitFor();
    },
  ],
  [
    'lay the main line along the ghost',
    async ({ page, hand }) => {
      await hand.take('Strip');
      await hand.drag([0, 64], [300, 64]);
      await laid(page, /^1 strip, 0 points/);
      await soon(() => page.getByText('Lay a strip from edge to edge').count()).toBe(0);
    },
  ],
  [
    'lay two branches, and a third point on the first of them',
    async ({ page, hand }) => {
      await hand.drag([60, 64], [108, 34]);
      await laid(page, /^2 strips, 1 point/);
      await hand.drag([180, 64], [228, 94]);
      await laid(page, /^3 strips, 2 points/);
      await hand.drag([84, 49], [150, 49]);
      await laid(page, /^4 strips, 3 points, 3 levers/);
    },
  ],
  [
    'name the panel',
    async ({ page, hand }) => {
      await hand.take('Pick');
      await hand.press(page.locator('.lay-side').getByRole('button', { name: 'Close' }));
      await openSide(page, hand);
      await hand.write(page.locator('.lay-side').getByLabel('Name', { exact: true }), 'Bramble Siding');
      await page.getByRole('heading', { level: 1, name: 'Bramble Siding' }).waitFor();
    },
  ],
  [
    'put a lamp on each leg of a point',
    async ({ page, hand }) => {
      await hand.take('Lamp');
      await hand.tap([96, 64]);
      await hand.tap([70, 57.75]);
      await laid(page, /2 lamps/);
    },
  ],
  [
    'put a plate with the name',
    async ({ page, hand }) => {
      await hand.take('Plate');
      await hand.tap([60, 130]);
      await page.getByText('BRAMBLE SIDING').first().waitFor();
    },
  ],
  [
    'put a screw, and a lever for later',
    async ({ page, hand }) => {
      await hand.take('Screw');
      await hand.tap([150, 10]);
      await hand.take('Lever');
      await hand.tap([270, 124]);
      await laid(page, /4 levers/);
    },
  ],
  [
    'mend a finding with one press',
    async ({ page, hand }) => {
      await hand.take('Pick');
      // Of findings that are alike one row stands for all, and mends the first: it is not rows that are counted but what was found.
      const mend = page.locator('.tray').getByRole('button', { name: /^Name this place/ });
      await mend.first().waitFor();
      await page.getByText('Checked as you lay').waitFor();
      const before = await found(page);
      await hand.press(mend.first());
      await soon(() => found(page)).toBe(before - 1);
      await soon(() => page.getByRole('button', { name: /^Undo/ }).getAttribute('aria-label')).toMatch(/^Undo name/);
    },
  ],
  [
    'undo and do again',
    async ({ page, hand }) => {
      await hand.press(page.getByRole('button', { name: /^Undo/ }), 'Control+z');
      await hand.press(page.getByRole('button', { name: /^Undo/ }), 'Control+z');
      await laid(page, /3 levers/);
      await hand.press(page.getByRole('button', { name: /^Redo/ }), 'Control+Shift+z');
      await laid(page, /4 levers/);
      await hand.press(page.getByRole('button', { name: /^Undo/ }), 'Control+z');
      await laid(page, /3 levers/);
    },
  ],
  [
    'save it as a file',
    async (bench) => {
      const { page, hand } = bench;
      bench.file = await savedBy(page, () =>
        hand.press(page.getByRole('button', { name: 'Save a file' }), 'Control+s'),
      );
    },
  ],
  [
    'go to Run, throw a lever and see its lamp',
    async ({ page, hand }) => {
      await hand.press(page.getByRole('navigation').getByRole('button', { name: /^Run/ }), '6');
      await page.locator('.run').waitFor();
      await soon(() => litOf(page)).toHaveLength(1);
      const before = await litOf(page);
      await hand.press(page.locator('[data-lever-button="L1"]'));
      await soon(async () => (await litOf(page)).filter((id) => !before.includes(id))).toHaveLength(1);
      expect(await litOf(page)).toHaveLength(1);
    },
  ],
  [
    'print the book',
    async ({ page, hand }) => {
      await hand.press(page.getByRole('button', { name: 'More', exact: true }));
      await hand.press(page.getByRole('button', { name: 'Print the build book' }));
      await soon(() => page.locator('.book-page svg').count()).toBeGreaterThan(5);
      await page.evaluate(() => {
        window.print = () => document.body.setAttribute('data-printed', '');
      });
      await hand.press(page.getByRole('button', { name: 'Print', exact: true }));
      await page.locator('body[data-printed]').waitFor({ state: 'attached' });
      expect((await page.pdf({ preferCSSPageSize: true })).length).toBeGreaterThan(10_000);
    },
  ],
];

/** Under a narrow sheet what is picked is folded away until it is asked for. */
async function openSide(page: Page, hand: Hand): Promise<void> {
  const unfold = page.getByRole('button', { name: 'Show what is picked' });
  if ((await unfold.count()) > 0) await hand.press(unfold);
}

const HANDS: readonly (readonly [
  name: string,
  handOf: (page: Page, counted: Counted) => Hand | Promise<Hand>,
  touches: boolean,
])[] = [
  ['mouse', mouse, false],
  ['finger', touch, true],
  ['keys alone', keys, false],
];

describe('a first panel', () => {
  it.each(HANDS)('from a bare sheet to a printed book, by %s', async (name, handOf, touches) => {
    const options = touches ? { hasTouch: true, viewport: { width: 1180, height: 820 } } : {};
    const { page, wrongs } = await openPage(browser, site.url, { locale: 'en-GB', ...options });
    page.setDefaultTimeout(8000);
    await catchFiles(page);
    const counted: Counted = { gestures: 0 };
    const bench: Bench = { page, hand: await handOf(page, counted), file: null };
    const told: string[] = [];
    for (const [what, step] of STEPS) {
      const [before, began] = [counted.gestures, performance.now()];
      try {
        await step(bench);
      } catch (error) {
        throw new Error(`${name}, ${what}: ${String(error)}`);
      }
      told.push(`${what}: ${counted.gestures - before} gestures, ${Math.round(performance.now() - began)} ms`);
    }
    console.log(`by ${name}, ${counted.gestures} gestures\n  ${told.join('\n  ')}`);
    const file = bench.file;
    expect(file?.name).toBe('Bramble Siding');
    expect(file?.strips).toHaveLength(4);
    expect(file?.lamps?.map(({ shows }) => shows)).toEqual([{ P1: 'normal' }, { P1: 'reverse' }]);
    expect(file?.plates?.map(({ text }) => text)).toEqual(['BRAMBLE SIDING']);
    expect(file?.face?.fixings).toHaveLength(5);
    expect(counted.gestures).toBeLessThan(MOST);
    expect(wrongs).toEqual([]);
    await page.close();
  });
});
