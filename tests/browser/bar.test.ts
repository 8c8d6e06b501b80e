/** One application in every stage: the bar, the lamps of the stages, the zoom, and what stands where there is no room. */
import type { Browser, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { layFree, settled, strips } from './lay-pages.ts';
import { audit, misfits } from './page-checks.ts';
import { openPage, type Site, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

const STAGES = ['Lay', 'Work', 'Wire', 'Run'] as const;
type StageName = (typeof STAGES)[number];

const READY: Readonly<Record<StageName, string>> = {
  Lay: 'main.lay',
  Work: 'main.work',
  Wire: 'main.wire',
  Run: 'main.run',
};

async function toStage(page: Page, stage: StageName, wide = true): Promise<void> {
  const button = page.getByRole('navigation').getByRole('button', { name: new RegExp(`^${stage}`) });
  await button.click();
  await soon(() => button.getAttribute('aria-current')).toBe('step');
  await page.locator(wide || stage === 'Run' ? READY[stage] : '.lay-narrow').waitFor();
  await page.mouse.move(2, 400);
}

/** The lamps of the four stages that are there, as they shine. */
const lamps = (page: Page): Promise<readonly string[]> =>
  page.locator('.stage:not([aria-disabled]) .pip').evaluateAll((all) => all.map((each) => each.className));

/** What stands in the bar and where, to a px; what stage it is left out. */
const barOf = (page: Page) =>
  page.locator('.bar').evaluate((bar) =>
    [bar, ...bar.querySelectorAll('.wordmark, .panel-name, .stages, .bar-right button')]
      .map((each) => ({ box: each.getBoundingClientRect(), name: each.getAttribute('title') ?? each.className }))
      .filter(({ box }) => box.width > 0)
      .map(({ box, name }) =>
        [name, ...[box.x, box.y, box.width, box.height].map((each) => Math.round(each))].join(' '),
      ),
  );

describe.each([
  [1440, 900, 62],
  [1180, 820, 112],
  [820, 1180, 112],
  [390, 844, 112],
] as const)('at %i by %i', (width, height, most) => {
  it('the bar is the same in every stage, and low', async () => {
    const { page, wrongs } = await openPage(browser, site.url, { viewport: { width, height } });
    const bars = new Map<string, readonly string[]>();
    for (const stage of STAGES) {
      await toStage(page, stage, width >= 820);
      await soon(() => page.locator('.kept').textContent()).toBe('Kept on this device');
      await soon(() => lamps(page)).toEqual(['pip ok', 'pip ok', 'pip ok', 'pip ok']);
      bars.set(stage, await barOf(page));
      expect(await misfits(page)).toEqual([]);
    }
    const first = bars.get('Lay') ?? [];
    expect(first.length).toBeGreaterThan(6);
    for (const stage of STAGES) expect(bars.get(stage), stage).toEqual(first);
    expect((await page.locator('.bar').boundingBox())?.height ?? 999).toBeLessThanOrEqual(most);
    expect(wrongs).toEqual([]);
    await page.close();
  });
});

describe('in Run', () => {
  it('the lamps of the stages are lit once the panel is checked, and the bar has the same buttons from the start', async () => {
    const { page } = await openPage(browser, site.url);
    await soon(() => lamps(page)).toEqual(['pip ok', 'pip ok', 'pip ok', 'pip ok']);
    expect(await page.locator('.stage').first().textContent()).toContain('1 finding');
    expect(await page.locator('.kept').textContent()).toBe('Demo, as it came');
    const names = (): Promise<readonly string[]> =>
      page.locator('.bar-right button').evaluateAll((all) => all.map((each) => each.className));
    const before = (await names()).map((each) => each.replace(' as-came', ''));
    await toStage(page, 'Lay');
    await settled(page);
    expect(await names()).toEqual(before);
    await page.close();
  });

  it('versions and files are opened from the bar, and the focus comes back', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await page.locator('.kept').click();
    await page.getByRole('dialog', { name: /Versions/ }).waitFor();
    expect(await page.locator('main.run').count()).toBe(1);
    await page.keyboard.press('Escape');
    await soon(() => page.evaluate(() => document.activeElement?.className ?? '')).toBe('tbtn kept');
    expect(wrongs).toEqual([]);
    await page.close();
  });

  it('what was laid is undone and done again, by button and by key', async () => {
    const { page, wrongs } = await openPage(browser, site.url);
    await toStage(page, 'Lay');
    await page.getByText('Checked as you lay').waitFor();
    const before = await strips(page);
    await layFree(page, 0);
    await toStage(page, 'Run');
    const bodies = (): Promise<number> => page.locator('.tapes .tape-body').count();
    const laid = await bodies();
    await page.getByRole('button', { name: /^Undo/ }).click();
    await soon(bodies).toBeLessThan(laid);
    await page.keyboard.press('Control+Shift+Z');
    await soon(bodies).toBe(laid);
    await page.keyboard.press('Control+z');
    await soon(bodies).toBeLessThan(laid);
    await toStage(page, 'Lay');
    expect(await strips(page)).toBe(before);
    expect(wrongs).toEqual([]);
    await page.close();
  });
});

it('the keys of undo work from a button, a list and a choice, and leave text that is being typed its own', async () => {
  const { page, wrongs } = await openPage(browser, site.url);
  await toStage(page, 'Lay');
  await page.getByText('Checked as you lay').waitFor();
  const before = await strips(page);
  await layFree(page, 0);
  await page.keyboard.press('Escape');
  const name = page.locator('.lay-side').getByLabel('Name', { exact: true });
  const was = await name.inputValue();
  await name.press('End');
  await page.keyboard.type('x');
  expect(await name.inputValue()).toBe(`${was}x`);
  await page.keyboard.press('Control+z');
  await soon(() => name.inputValue()).toBe(was);
  expect(await strips(page)).toBe(before + 1);
  // What stands there now is what the panel says.
  await page.keyboard.press('Control+z');
  await soon(() => strips(page)).toBe(before);
  await page.keyboard.press('Control+y');
  await soon(() => strips(page)).toBe(before + 1);
  await page.getByRole('button', { name: 'Strip', exact: true }).click();
  await page.getByRole('button', { name: 'Ladder' }).click();
  for (const from of [page.getByLabel('Roads'), page.getByRole('button', { name: 'Ladder' })]) {
    await from.press('Control+z');
    await soon(() => strips(page)).toBe(before);
    await from.press('Control+Shift+Z');
    await soon(() => strips(page)).toBe(before + 1);
  }
  await toStage(page, 'Run');
  const bodies = (): Promise<number> => page.locator('.tapes .tape-body').count();
  const laid = await bodies();
  await page.getByRole('button', { name: 'More', exact: true }).click();
  await page.getByRole('radio').first().press('Control+z');
  await soon(bodies).toBeLessThan(laid);
  expect(wrongs).toEqual([]);
  await page.close();
});

it('each state of a stage has a shape of its own where colours are forced', async () => {
  const { page } = await openPage(browser, site.url, { forcedColors: 'active' });
  const looks = await page.evaluate(() =>
    ['pip', 'pip ok', 'pip warn', 'pip bad'].map((name) => {
      const lamp = document.createElement('i');
      lamp.className = name;
      document.querySelector('.stage')?.append(lamp);
      const { backgroundColor, transform, clipPath, borderTopWidth } = getComputedStyle(lamp);
      const filled = backgroundColor !== 'rgba(0, 0, 0, 0)';
      lamp.remove();
      return [
        filled ? 'filled' : 'open',
        transform !== 'none' ? 'turned' : '',
        clipPath !== 'none' ? 'cut' : '',
        borderTopWidth === '0px' ? '' : 'edged',
      ]
        .join(' ')
        .replace(/ +/g, ' ')
        .trim();
    }),
  );
  expect(looks).toEqual(['open edged', 'filled edged', 'open turned edged', 'filled cut']);
  await page.close();
});

it('the zoom is one pill in one place in Lay, Work and Wire', async () => {
  const { page } = await openPage(browser, site.url);
  const looks: unknown[] = [];
  for (const stage of ['Lay', 'Work', 'Wire'] as const) {
    await toStage(page, stage);
    const pill = page.locator('.pill.zoom');
    await soon(() => pill.locator('output').textContent()).toMatch(/^\d+%$/);
    const names = await pill
      .locator('button')
      .evaluateAll((all) => all.slice(0, 3).map((each) => each.getAttribute('aria-label') ?? each.textContent));
    const room = await page.locator('.lay-view, .work-room, .cct-room').boundingBox();
    const box = await pill.boundingBox();
    if (room === null || box === null) throw new Error('nothing is drawn');
    looks.push({
      names,
      height: Math.round(box.height),
      right: Math.round(room.x + room.width - box.x - box.width),
      below: Math.round(room.y + room.height - box.y - box.height),
    });
  }
  expect(looks[0]).toMatchObject({ names: ['Zoom out', 'Zoom in', 'Fit'], height: 44 });
  expect(looks[1]).toEqual(looks[0]);
  expect(looks[2]).toEqual(looks[0]);
  await page.close();
});

it('where there is no room each stage says so in one way, and Run is one press away', async () => {
  const { page } = await openPage(browser, site.url, { viewport: { width: 390, height: 844 } });
  for (const [stage, head] of [
    ['Lay', 'Laying needs a wider screen'],
    ['Work', 'Levers need a wider screen'],
    ['Wire', 'Circuits need a wider screen'],
  ] as const) {
    await toStage(page, stage, false);
    expect(await page.locator('.lay-narrow h2').textContent()).toBe(head);
    expect(await page.locator('.lay-narrow').textContent()).toContain('at least 820 px wide');
    expect(await audit(page)).toEqual([]);
    await page.getByRole('button', { name: 'Go to Run' }).click();
    await page.locator('main.run').waitFor();
  }
  await page.close();
});
