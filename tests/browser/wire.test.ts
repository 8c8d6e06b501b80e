/** Circuits in a real browser: thrown, looked into, broken and mended by mouse, touch and keys, on screens of four sizes. */
import { readFileSync } from 'node:fs';
import type { Browser, BrowserContextOptions, Locator, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Hand, keys, mouse, touch } from './hands.ts';
import { audit, misfits } from './page-checks.ts';
import { dropFile, example, openPage, type Site, soon, startBrowser, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

interface Opened {
  readonly page: Page;
  readonly wrongs: readonly string[];
}

/** The stage Wire over the demo, or over the text of a panel. */
async function toWire(
  text: string | null = null,
  options: BrowserContextOptions = {},
  within: Browser = browser,
): Promise<Opened> {
  const { page, wrongs } = await openPage(within, site.url, options);
  if (text !== null) {
    await dropFile(page, 'panel.mimic.json', text);
    const { name } = JSON.parse(text) as { name: string };
    await page.getByRole('heading', { name, exact: true }).waitFor();
  }
  await page.getByRole('navigation').getByRole('button', { name: /^Wire/ }).click();
  await page.locator('.wire[data-current="true"]').waitFor();
  return { page, wrongs };
}

const bramble = (): string => readFileSync(example('bramble-siding'), 'utf8');

/** Wrong lamps on two levers: four blue ones one behind the other on 9 V; a pair behind too little, a pair behind too much. */
function mixed(): string {
  const panel = JSON.parse(bramble()) as { name: string; lamps: { id: string; part: string }[]; lampGroups?: unknown };
  panel.name = 'Bramble Siding, wrong lamps';
  panel.lamps = panel.lamps.map((lamp) => (/^H[1-8]$/.test(lamp.id) ? { ...lamp, part: 'led-3-blue' } : lamp));
  panel.lampGroups = [
    { id: 'G1', lamps: ['H1', 'H2', 'H3', 'H4', 'H5', 'H6', 'H7', 'H8'], arrange: 'series', ohms: 390 },
    { id: 'G2', lamps: ['H9', 'H11'], ohms: 150 },
    { id: 'G3', lamps: ['H10', 'H12'], ohms: 47000 },
  ];
  return JSON.stringify(panel);
}

const row = (page: Page, id: string): Locator => page.locator(`[data-circuit="${id}"]`);
const undo = (page: Page): Locator => page.locator('.bar').getByRole('button', { name: /undo/i });
const current = (page: Page): Promise<void> => page.locator('.wire[data-current="true"]').waitFor();

/** Lamps of the drawing that are lit. */
const lit = (page: Page): Promise<readonly string[]> =>
  page
    .locator('.cct-symbol.lamp.seen-lit')
    .evaluateAll((all) => all.map((each) => each.getAttribute('data-part') ?? '').sort());

const hands: readonly (readonly [string, BrowserContextOptions, (page: Page) => Hand | Promise<Hand>])[] = [
  ['mouse', {}, mouse],
  ['touch', { hasTouch: true }, touch],
  ['keys', {}, keys],
];

describe.each(hands)('by %s', (_name, options, makeHand) => {
  it('mends a mixed panel by its findings alone, each remedy one step', async () => {
    const { page } = await toWire(mixed(), options);
    const hand = await makeHand(page);
    const wrongRows = page.locator('.wire-state .wrong, .wire-state .danger');
    await soon(() => wrongRows.count()).toBe(2);
    let steps = 0;
    for (const id of ['L1', 'L2'])
      for (;;) {
        await hand.press(row(page, id));
        await current(page);
        const bad = page.locator('.wire-finding.danger, .wire-finding.wrong').locator('.wire-mend');
        if ((await bad.count()) === 0) break;
        const before = await page.locator('.wire-finding').count();
        await hand.press(bad.first());
        steps += 1;
        await page.getByText('Checking').waitFor({ state: 'detached' });
        await soon(() => page.locator('.wire-finding').count()).not.toBe(before);
        expect(steps).toBeLessThan(6);
      }
    expect(steps).toBe(3);
    expect(await wrongRows.count()).toBe(0);
    for (const id of ['L1', 'L2']) {
      await hand.press(row(page, id));
      for (const to of ['Reverse', 'Normal']) {
        await hand.press(page.locator('.wire-throw').getByRole('button', { name: to }), to.slice(0, 1).toLowerCase());
        await current(page);
        await soon(async () => (await page.locator('.cct-symbol.lamp').count()) - 2 * (await lit(page)).length).toBe(0);
      }
    }
    for (let step = 0; step < steps; step++) await hand.press(undo(page), 'Control+z');
    await soon(() => wrongRows.count()).toBe(2);
    expect(await undo(page).isDisabled()).toBe(true);
    await page.close();
  });
});

describe('the circuit', () => {
  it('of every lever of Quillhaven Harbour is drawn, and each of its lamps stands in one of the circuits', async () => {
    const { page, wrongs } = await toWire();
    const ids = await page
      .locator('[data-circuit]')
      .evaluateAll((all) => all.map((each) => each.getAttribute('data-circuit') ?? ''));
    expect(ids.filter((id) => id.startsWith('L'))).toHaveLength(12);
    const lamps: string[] = [];
    for (const id of ids) {
      await row(page, id).click();
      await soon(() => row(page, id).getAttribute('aria-current')).toBe('true');
      await current(page);
      expect([id, await page.locator('.cct-line').count()]).not.toEqual([id, 0]);
      lamps.push(
        ...(await page
          .locator('.cct-symbol.lamp')
          .evaluateAll((all) => all.map((each) => each.getAttribute('data-part') ?? ''))),
      );
    }
    expect(new Set(lamps).size).toBe(48);
    expect(lamps).toHaveLength(48);
    expect(wrongs).toEqual([]);
    await page.close();
  });

  it('names circuits of several levers by their levers, once in the list and once at the head', async () => {
    const { page } = await toWire();
    // Read off the file by hand: roads whose lamps hang one behind the other.
    expect(await row(page, 'TR1').locator('.wire-row-words').textContent()).toBe('Lamps by L1, L2 and L4');
    expect(await row(page, 'TR2').locator('.wire-row-words').textContent()).toBe('Lamps by L5, L6, L7 and L8');
    await row(page, 'TR1').click();
    await soon(() => page.locator('.wire-title h2').textContent()).toBe('Lamps by L1, L2 and L4');
    expect(await page.locator('.wire-title p').textContent()).not.toContain('L1');
    await page.close();
  });

  it('says of every fault where it is, and finds it by its code, which is not shown', async () => {
    const { page } = await toWire();
    await row(page, 'L4').click();
    await current(page);
    const faults = page.locator('.fault-list li');
    const texts = await faults.allTextContents();
    expect(texts.filter((text) => /(open|dry|short|swapped|moved|weld|stuck|bridge|apart):/.test(text))).toEqual([]);
    await page.locator('#wire-fault').fill('open:w1');
    await page.locator('[data-fault="open:W1"]').waitFor();
    // The first wire of the demo leads from the supply to its fuse, and plus is red.
    expect(await page.locator('[data-fault="open:W1"]').textContent()).toBe('Wire W1 openS1.p to FU-S1.1, RD');
    await page.locator('#wire-fault').fill('quay pole');
    await soon(() => page.locator('.fault-list li').nth(1).textContent()).toContain('switch of L4 Quay cross');
    await page.close();
  });

  it('marks a fault of the wires that bring the supply from lever to lever', async () => {
    const { page } = await toWire();
    await row(page, 'L4').click();
    await current(page);
    expect(await page.locator('.faulty').count()).toBe(0);
    await page.locator('#wire-fault').fill('dry:W18');
    await page.locator('[data-fault="dry:W18"]').click();
    await page.getByText('Tried: a dry joint on wire W18').waitFor();
    await soon(() => page.locator('.cct-line.faulty').count()).toBeGreaterThan(0);
    await page.close();
  });
});

describe('the circuit of Bramble Siding', () => {
  let page: Page;
  beforeAll(async () => {
    ({ page } = await toWire(bramble()));
    return () => page.close();
  });

  it('is a list in reading order, from the supply on', async () => {
    const said = await page.locator('section[aria-label="The circuit in reading order"] li').allTextContents();
    // By hand: two motors that stall at 15 mA on 12 V take 11.24 mA each on 9 V behind their wires; four pairs take (9 - 1.90) / 3900 = 1.82 mA.
    expect(said[0]).toBe('Supply S1, 9 V, 0.5 A, S1.p at 9.00 V, S1.m at 0.00 V, 29.8 mA');
    expect(said.some((text) => text.startsWith('Lamp H1, '))).toBe(true);
    expect(said.some((text) => text.startsWith('Changeover contact L1.1'))).toBe(true);
  });

  it('is zoomed by buttons and keys, moved by hand, and fitted again', async () => {
    const box = (): Promise<string | null> => page.locator('svg.cct').getAttribute('viewBox');
    await page.getByRole('button', { name: 'Fit' }).click();
    const first = await box();
    await page.getByRole('button', { name: 'Zoom in' }).click();
    const larger = await box();
    expect(larger).not.toBe(first);
    await page.keyboard.press('ArrowLeft');
    expect(await box()).not.toBe(larger);
    const view = await page.locator('.cct-view').boundingBox();
    if (view === null) throw new Error('no circuit is drawn');
    const before = await box();
    await page.mouse.move(view.x + 200, view.y + 60);
    await page.mouse.down();
    await page.mouse.move(view.x + 260, view.y + 90, { steps: 4 });
    await page.mouse.up();
    expect(await box()).not.toBe(before);
    await page.getByRole('button', { name: 'Fit' }).click();
    expect(await box()).toBe(first);
  });

  it('says what a part is that is pressed, and tries one of its faults', async () => {
    await page.locator('[data-part="R-G1"] rect').first().click();
    const picked = page.locator('.wire-picked');
    await picked.getByText(/^Resistor R-G1,/).waitFor();
    await picked.getByRole('button', { name: 'resistor R-G1 open' }).click();
    await page.getByText('Tried: resistor R-G1 open').waitFor();
    await soon(() => page.locator('.cct-symbol.resistor.faulty').count()).toBe(1);
  });

  it('says why a value is not taken, and saves from its field by the keys', async () => {
    await page.locator('summary', { hasText: 'Values' }).click();
    const value = page.locator('[data-value^="ohms R-G1"]');
    await value.locator('input').fill('none');
    await value.locator('input').press('Enter');
    await value.getByText(/^A number from/).waitFor();
    await page.keyboard.press('Control+Shift+S');
    await page.getByRole('dialog').waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('dialog').waitFor({ state: 'detached' });
  });
});

describe('on screens', () => {
  const sizes = [
    [1440, 900],
    [1180, 820],
    [820, 1180],
  ] as const;
  let page: Page;
  let wrongs: readonly string[];
  beforeAll(async () => {
    ({ page, wrongs } = await toWire(mixed()));
    await page.getByText('Checking').waitFor({ state: 'detached' });
    return () => page.close();
  });
  it.each(
    sizes.flatMap(([width, height]) => (['light', 'dark'] as const).map((scheme) => [width, height, scheme] as const)),
  )('of %i by %i, %s: everything fits and nothing is in the way', async (width, height, colorScheme) => {
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme });
    await page.locator('.wire-side details').evaluateAll((all) => {
      for (const each of all) each.setAttribute('open', '');
    });
    for (const id of ['L1', 'L2']) {
      await row(page, id).click();
      await current(page);
      expect(await misfits(page)).toEqual([]);
      expect(await audit(page)).toEqual([]);
    }
    expect(wrongs).toEqual([]);
  });

  it('of 390 by 844 asks for a wider one', async () => {
    const { page } = await openPage(browser, site.url, { viewport: { width: 390, height: 844 } });
    await page.getByRole('navigation').getByRole('button', { name: /^Wire/ }).click();
    await page.getByText('Circuits need a wider screen').waitFor();
    expect(await audit(page)).toEqual([]);
    await page.close();
  });

  it.each([
    [1440, 900],
    [820, 1180],
  ] as const)('of %i by %i with text twice as large still fits', async (width, height) => {
    // The size of text that a user sets in the browser, which the media queries follow as well.
    const large = await startBrowser('--blink-settings=defaultFontSize=32');
    try {
      const { page } = await toWire(mixed(), { viewport: { width, height } }, large);
      expect(await page.evaluate(() => getComputedStyle(document.documentElement).fontSize)).toBe('32px');
      await page.getByText('Checking').waitFor({ state: 'detached' });
      expect(await misfits(page)).toEqual([]);
      expect(await audit(page)).toEqual([]);
    } finally {
      await large.close();
    }
  });

  it('in forced colours keeps the circuit and its lamps', async () => {
    const { page } = await toWire(bramble(), { forcedColors: 'active' });
    const stroke = await page
      .locator('.cct-line')
      .first()
      .evaluate((each) => getComputedStyle(each).stroke);
    expect(stroke).not.toBe('none');
    const lamp = page.locator('.cct-symbol.lamp.seen-lit .body').first();
    const dark = page.locator('.cct-symbol.lamp.seen-dark .body').first();
    const fill = (each: Locator): Promise<string> => each.evaluate((path) => getComputedStyle(path).fill);
    expect(await fill(lamp)).not.toBe(await fill(dark));
    await page.close();
  });
});
