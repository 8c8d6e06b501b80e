/** Panels that the browser keeps: through the killing of its process, in two windows, and given back by the rescue page. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPanel, writePanel } from '../../src/panel/index.ts';
import type { Door } from '../../src/web/document/door.ts';
import { randomOf } from '../generate/random.ts';
import { overOneProfile } from './killable.ts';
import { root, type Site, serveSite, soon, startBrowser } from './site.ts';

declare global {
  interface Window {
    kept: import('../../src/web/document/index.ts').KeptPanel;
    door: Door;
  }
}

let site: Site;
beforeAll(async () => {
  site = await serveSite();
});
afterAll(() => site.close());

/** A page with the door open and the worker left out, which the keeping of panels does not need. */
async function openDoor(page: Page): Promise<void> {
  await page.route('**/core-*.js', (route) => route.abort());
  await page.goto(`${site.url}?door=document`);
  await page.evaluate(async () => {
    for (let i = 0; i < 600 && window.mimicwright === undefined; i++) await new Promise((done) => setTimeout(done, 50));
    const door = await window.mimicwright?.document;
    if (door === undefined) throw new Error('The page has no door.');
    window.door = door;
  });
}

/** Open a panel, a new bare one where no id is given; answers its id. */
const openPanel = (page: Page, id: string | null): Promise<string> =>
  page.evaluate(async (given) => {
    const { keeper, barePanel } = window.door;
    const own = given ?? (await keeper.create({ panel: barePanel() }));
    const opened = await keeper.open(own);
    if (!opened.ok) throw new Error(opened.sentence);
    window.kept = opened.kept;
    return own;
  }, id);

const rename = (page: Page, name: string): Promise<void> =>
  page.evaluate((to) => {
    const from = window.kept.document.panel.name;
    window.kept.document.edit({ name: 'panel.name', changes: [{ kind: 'set', key: 'name', from, to }] });
  }, name);

const nameIn = (page: Page) => page.evaluate(() => window.kept.document.panel.name ?? '');

/** What the entry of this number is: every fifth takes a step back, the others give a name. */
const isUndo = (seq: number): boolean => seq % 5 === 0;

/** The name of the panel after the entry of this number; the first entry opens it. */
function nameAfter(seq: number): string | undefined {
  const names: (string | undefined)[] = [undefined];
  for (let entry = 2; entry <= seq; entry++) {
    if (isUndo(entry)) names.pop();
    else names.push(`Stroke ${entry}`);
  }
  return names.at(-1);
}

describe('an edit that was acknowledged', () => {
  const MOMENTS = Number(process.env.MIMICWRIGHT_KILLS ?? 20);
  const EACH = 5;

  it.each(Array.from({ length: Math.ceil(MOMENTS / EACH) }, (_, i) => i + 1))(
    `is there after the browser's process was killed, ${EACH} times over: seed %i`,
    (seed) =>
      overOneProfile(async (start) => {
        const random = randomOf(seed);
        let id: string | null = null;
        for (let killing = 0; killing <= EACH; killing++) {
          let durable = 0;
          const browser = await start();
          const { page } = browser;
          page.on('console', (message) => {
            const said = /^durable (\d+)$/.exec(message.text());
            if (said !== null) durable = Math.max(durable, Number(said[1]));
          });
          await openDoor(page);
          const before: number = id === null ? 1 : Number(readSeq.get(id) ?? 0);
          id = await openPanel(page, id);
          const found = await page.evaluate(() => ({
            seq: window.kept.document.history.seq,
            text: window.kept.text(),
            state: window.kept.state,
            undo: window.kept.document.history.past.length,
          }));
          expect(found.seq).toBeGreaterThanOrEqual(before);
          const name = nameAfter(found.seq);
          expect(found.text).toBe(
            writePanel({ format: 'mimic-panel', version: 1, strips: [], ...(name === undefined ? {} : { name }) }),
          );
          expect(found.state).toMatchObject({ role: 'editing', aside: null, lostSteps: 0 });
          if (killing === EACH) {
            expect(found.seq).toBeGreaterThan(EACH * 5);
            await browser.kill();
            break;
          }
          await page.evaluate(() => {
            const { kept } = window;
            let told = 0;
            kept.listen(() => {
              if (kept.state.durable === told) return;
              told = kept.state.durable;
              console.log(`durable ${told}`);
            });
            const next = (): void => {
              const entry = kept.document.history.seq + 1;
              if (entry % 5 === 0) kept.document.undo();
              else {
                const from = kept.document.panel.name;
                const to = `Stroke ${entry}`;
                kept.document.edit({ name: 'panel.name', changes: [{ kind: 'set', key: 'name', from, to }] });
              }
              setTimeout(next, entry % 3);
            };
            next();
          });
          await soon(() => durable).toBeGreaterThan(found.seq + 5);
          await new Promise((done) => setTimeout(done, random.whole(0, 400)));
          await browser.kill();
          readSeq.set(id, durable);
        }
      }),
  );
  /** The last entry of a panel that was acknowledged before its browser was killed. */
  const readSeq = new Map<string, number>();
});

describe('in one browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.close());

  it('an edit is on the disk soon', async () => {
    const page = await (await browser.newContext()).newPage();
    await openDoor(page);
    await openPanel(page, null);
    const times = await page.evaluate(async () => {
      const { kept } = window;
      const taken: number[] = [];
      for (let i = 0; i < 200; i++) {
        const start = performance.now();
        const from = kept.document.panel.name;
        kept.document.edit({ name: 'panel.name', changes: [{ kind: 'set', key: 'name', from, to: `${i}` }] });
        await kept.settled();
        taken.push(performance.now() - start);
        await new Promise((done) => setTimeout(done, 10));
      }
      return taken.sort((a, b) => a - b);
    });
    const [median = 0, late = 0, last = 0] = [times[100], times[190], times[199]];
    console.log(`edit to disk: median ${median.toFixed(1)} ms, p95 ${late.toFixed(1)} ms, most ${last.toFixed(1)} ms`);
    expect(median).toBeLessThan(100);
    await page.context().close();
  });

  it('a second window follows, takes over, and the first then follows', async () => {
    const context = await browser.newContext();
    const [one, two] = [await context.newPage(), await context.newPage()];
    await openDoor(one);
    const id = await openPanel(one, null);
    await openDoor(two);
    await openPanel(two, id);
    const roles = () => Promise.all([one, two].map((page) => page.evaluate(() => window.kept.state.role)));
    expect(await roles()).toEqual(['editing', 'following']);
    await rename(one, 'First');
    await soon(() => nameIn(two)).toBe('First');
    await expect(rename(two, 'No')).rejects.toThrow('edited in another window');
    expect(await two.evaluate(() => window.kept.takeOver())).toBe(true);
    await soon(roles).toEqual(['following', 'editing']);
    await rename(two, 'Second');
    await soon(() => nameIn(one)).toBe('Second');
    // A reload has the history too.
    await two.close();
    await one.reload();
    await openDoor(one);
    await openPanel(one, id);
    expect(
      await one.evaluate(() => [window.kept.state.role, window.kept.document.undo(), window.kept.document.panel.name]),
    ).toEqual(['editing', true, 'First']);
    await context.close();
  });

  it('the rescue page lists and gives every state, though the application does not start', async () => {
    const context = await browser.newContext({ acceptDownloads: true });
    const page = await context.newPage();
    const wrongs: string[] = [];
    page.on('console', (message) => {
      if (message.type() === 'error') wrongs.push(message.text());
    });
    await page.goto(`${site.url}rescue.html`);
    await soon(() => page.locator('#said').textContent()).toBe('This browser keeps no panel.');
    expect(wrongs).toEqual([]);
    await openDoor(page);
    await openPanel(page, null);
    await rename(page, 'Bramble Siding');
    await page.evaluate(() => window.kept.nameVersion('before the yard'));
    for (let i = 0; i < 60; i++) await rename(page, `Bramble ${i}`);
    await page.evaluate(() => window.kept.document.undo());
    await page.evaluate(() => window.kept.settled());
    const text = await page.evaluate(() => window.kept.text());
    await soon(() => page.evaluate(async () => (await indexedDB.databases()).map(({ name }) => name))).toEqual([
      'mimicwright',
    ]);

    wrongs.length = 0;
    await page.route('**/index-*.js', (route) => route.abort());
    await page.goto(`${site.url}rescue.html`);
    await soon(() => page.locator('#said').textContent()).toBe('1 panel found.');
    expect(await page.locator('h2').allTextContents()).toEqual(['Bramble 58']);
    expect(await page.locator('.wrong').count()).toBe(0);
    const links = await page.locator('section a').allTextContents();
    expect(links[0]).toBe('Last state (after entry 64)');
    expect(links[1]).toMatch(/^Version “before the yard” of /);
    expect(links.slice(2)).toEqual([
      expect.stringMatching(/^Snapshot after entry \d+$/),
      'Snapshot after entry 1',
      'Every record as it was found',
    ]);
    const give = async (index: number): Promise<{ readonly name: string; readonly text: string }> => {
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.locator('section a').nth(index).click(),
      ]);
      return { name: download.suggestedFilename(), text: readFileSync(await download.path(), 'utf8') };
    };
    const last = await give(0);
    expect(last.name).toBe('bramble-58-last-state.mimic.json');
    const read = readPanel(last.text);
    expect(read.ok && writePanel(read.panel)).toBe(text);
    expect((await give(1)).text).toContain('"Bramble Siding"');
    expect(Object.keys(JSON.parse((await give(4)).text))).toContain('entries');
    expect(wrongs).toEqual([]);
    await context.close();
  });
});

describe('the rescue page', () => {
  it('weighs less than 20 kB with its style and script', () => {
    const web = process.env.MIMICWRIGHT_WEB ?? join(root, 'dist/web');
    const page = readFileSync(join(web, 'rescue.html'), 'utf8');
    const parts = [...page.matchAll(/(?:src|href)="\.\/(assets\/[^"]+)"/g)].map((match) => match[1] ?? '');
    expect(parts.map((part) => part.replace(/-[\w-]{8}(\.\w+)$/, '$1')).sort()).toEqual([
      'assets/icon.svg',
      'assets/rescue.css',
      'assets/rescue.js',
    ]);
    const bytes = [...parts, 'rescue.html'].reduce((sum, part) => sum + statSync(join(web, part)).size, 0);
    console.log(`rescue page: ${(bytes / 1000).toFixed(1)} kB`);
    expect(bytes).toBeLessThan(20_000);
    // It stands alone: it loads nothing that the application loads too.
    const script = readdirSync(join(web, 'assets')).filter((file) => /^rescue-.*\.js$/.test(file));
    expect(script).toHaveLength(1);
    expect(readFileSync(join(web, 'assets', script[0] ?? ''), 'utf8')).not.toMatch(/(?:from|import)\s*["'(]/);
  });
});
