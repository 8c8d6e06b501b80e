/** Levers thrown by mouse, touch and keyboard; lamps are those of the solver. */
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { ask, bat, dropFile, example, lever, litOf, looksOf, openPage, type Site, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

const settles = (read: () => Promise<unknown>, wanted: unknown) => soon(read).toEqual(wanted);

describe('a lever of the demo panel', () => {
  it('goes over at a press of the mouse, and the lamps with it', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    // The crossover is reached from Tolland over the loop: P2 has to lie to it first.
    await lever(page, 'L2').click();
    await soon(() => litOf(page)).toContain('H12');
    const before = await litOf(page);
    await lever(page, 'L4').click();
    await settles(() => bat(page, 'L4').getAttribute('data-position'), 'reverse');
    await soon(() => litOf(page)).toContain('H15');
    expect(await litOf(page)).not.toEqual(before);
    expect(await lever(page, 'L4').getAttribute('aria-label')).toBe('L4 Quay cross, works P4 and P5, reverse');
    // What a screen reader hears names the lever first.
    await soon(() => page.locator('output[aria-live]').textContent()).toMatch(/^L4 reverse\. Lit: .*Quay crossover/);
    await lever(page, 'L4').click();
    await settles(() => litOf(page), before);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('goes over at a touch', async () => {
    const { page, wrongs } = await openPage(browser, site.url, {
      hasTouch: true,
      viewport: { width: 820, height: 1180 },
    });
    await lever(page, 'L2').tap();
    await settles(() => bat(page, 'L2').getAttribute('data-position'), 'reverse');
    await soon(() => litOf(page)).toContain('H6');
    const box = await lever(page, 'L2').boundingBox();
    // WCAG 2.2, 2.5.5 (target size, enhanced): 44 by 44 CSS px.
    expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(44);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('is one stop of Tab, with arrows between levers, keys to throw and letters to set', async () => {
    const { page } = await openPage(browser, site.url);
    await lever(page, 'L1').focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('data-lever-button'))).toBe('L3');
    await page.keyboard.press('Space');
    await settles(() => bat(page, 'L3').getAttribute('data-position'), 'reverse');
    await page.keyboard.press('Enter');
    await settles(() => bat(page, 'L3').getAttribute('data-position'), 'normal');
    await page.keyboard.press('r');
    await page.keyboard.press('r');
    await settles(() => bat(page, 'L3').getAttribute('data-position'), 'reverse');
    await page.keyboard.press('n');
    await settles(() => bat(page, 'L3').getAttribute('data-position'), 'normal');
    // A plain lever has no centre to be set to.
    await page.keyboard.press('c');
    await settles(() => bat(page, 'L3').getAttribute('data-position'), 'normal');
    await page.keyboard.press('End');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('data-lever-button'))).toBe('L12');
    await page.keyboard.press('ArrowRight');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('data-lever-button'))).toBe('L1');
    expect(await page.locator('.lever-button[tabindex="0"]').count()).toBe(1);
    await page.context().close();
  });

  it('shows its new lamps soon', async () => {
    const { page } = await openPage(browser, site.url);
    const times: number[] = [];
    for (let i = 0; i < 10; i++) {
      times.push(
        await page.evaluate(
          () =>
            new Promise<number>((done) => {
              const start = performance.now();
              const seen = new MutationObserver(() => {
                seen.disconnect();
                requestAnimationFrame(() => done(performance.now() - start));
              });
              seen.observe(document.body, { subtree: true, attributes: true, attributeFilter: ['data-look'] });
              document.querySelector<HTMLButtonElement>('[data-lever-button="L4"]')?.click();
            }),
        ),
      );
    }
    // The promise is 50 ms on a machine that draws; it is measured here and not judged, for this machine may be busy.
    console.log(`lever to lamp: ${times.map((ms) => ms.toFixed(0)).join(', ')} ms`);
    expect(times).toHaveLength(10);
    await page.context().close();
  });
});

describe('a lever with a centre', () => {
  it('goes where it is pressed, steps by the keys, and is dark in the middle', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    const text = readFileSync(example('bramble-siding'), 'utf8');
    await dropFile(page, 'centre.mimic.json', text.replaceAll('"toggle-2p"', '"toggle-2p-centre-off"'));
    await soon(() => page.locator('.lever-button').count()).toBe(2);
    const box = await lever(page, 'L2').boundingBox();
    const press = (share: number) =>
      lever(page, 'L2').click({ position: { x: (box?.width ?? 0) / 2, y: (box?.height ?? 0) * share } });
    await press(0.9);
    await settles(() => bat(page, 'L2').getAttribute('data-position'), 'reverse');
    await press(0.5);
    await settles(() => bat(page, 'L2').getAttribute('data-position'), 'centre');
    // L2 works P3 alone; its lamps are H9 to H12 by the file, and in the middle nothing feeds them.
    await soon(() => litOf(page)).not.toContain('H9');
    for (const lamp of ['H9', 'H10', 'H11', 'H12']) expect(await litOf(page)).not.toContain(lamp);
    await press(0.1);
    await settles(() => bat(page, 'L2').getAttribute('data-position'), 'normal');
    await lever(page, 'L2').focus();
    await page.keyboard.press('c');
    await settles(() => bat(page, 'L2').getAttribute('data-position'), 'centre');
    expect(await lever(page, 'L2').getAttribute('aria-label')).toBe('L2 Siding, works P3, centre');
    await page.keyboard.press('Space');
    await settles(() => bat(page, 'L2').getAttribute('data-position'), 'reverse');
    expect(wrongs).toEqual([]);
    await page.context().close();
  });
});

describe('lamps', () => {
  let page: Page;
  beforeAll(async () => {
    ({ page } = await openPage(browser, site.url));
    return () => page.context().close();
  });
  it.each([
    [''],
    ['L4=reverse'],
    ['L2=reverse,L4=reverse,L5=reverse,L8=reverse'],
    ['L1=reverse,L3=reverse,L9=reverse,L10=reverse,L12=reverse'],
    ['L5=reverse,L6=reverse,L11=reverse'],
  ])('look as the command line solves them, with %j thrown', async (setting) => {
    const file = example('quillhaven-harbour');
    const answer = (await ask('solve', file, ...(setting === '' ? [] : ['--set', setting]))) as {
      lamps: { id: string; look: string }[];
    };
    const wanted = Object.fromEntries(answer.lamps.map(({ id, look }) => [id, look]));
    expect(Object.values(wanted)).toContain('good');
    await page.getByRole('button', { name: 'All normal' }).click();
    for (const part of setting.split(',').filter((text) => text !== ''))
      await lever(page, part.split('=')[0] ?? '').click();
    await settles(() => looksOf(page), wanted);
  });
});
