/** A panel of push buttons, run by mouse, finger and keys: points thrown by pulses, lamps on blades, routes set by pressing. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { audit, misfits } from './page-checks.ts';
import { ask, dropFile, litOf, openPage, pickRoute, type Site, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

/** A loop whose two points have coils that buttons pulse, and a lamp on each leg by a contact on the blades. */
const PANEL = `{ "format": "mimic-panel", "version": 1, "name": "Bramble Siding", "face": { "width": 300, "height": 150 },
  "strips": [ { "id": "main", "path": [[0,60],[300,60]] }, { "id": "loop", "path": [[60,60],[90,85],[210,85],[240,60]] } ],
  "places": [ { "id": "west", "name": "West", "at": [0,60] }, { "id": "east", "name": "East", "at": [300,60] } ],
  "points": [ { "id": "P1", "at": [60,60], "drive": "twin-coil" }, { "id": "P2", "at": [240,60], "drive": "twin-coil" } ],
  "levers": [],
  "buttons": [ { "id": "B1", "at": [80,120], "sets": { "P1": "normal" } }, { "id": "B2", "name": "Loop in", "at": [110,120], "sets": { "P1": "reverse" } },
    { "id": "B3", "at": [190,120], "sets": { "P2": "normal" } }, { "id": "B4", "at": [220,120], "sets": { "P2": "reverse" } } ],
  "lamps": [ { "id": "H1", "at": [90,85], "shows": { "P1": "reverse" } }, { "id": "H2", "at": [100,60], "shows": { "P1": "normal" } } ],
  "feed": { "kind": "pulse", "supplies": ["C1"] },
  "lighting": { "scheme": "blade-contact", "supply": "S2" },
  "supplies": [ { "id": "S1", "kind": "dc", "volts": 24, "amps": 1 }, { "id": "C1", "kind": "cdu", "from": "S1", "farads": 0.0047 },
    { "id": "S2", "kind": "dc", "volts": 12, "amps": 1 } ] }`;

async function opened(touch = false): Promise<{ readonly page: Page; readonly wrongs: readonly string[] }> {
  const seen = await openPage(
    browser,
    site.url,
    touch ? { hasTouch: true, viewport: { width: 820, height: 1180 } } : {},
  );
  await dropFile(seen.page, 'buttons.mimic.json', PANEL);
  await seen.page.locator('[data-push-button="B1"]').waitFor();
  return seen;
}

const push = (page: Page, id: string) => page.locator(`[data-push-button="${id}"]`);

describe('a panel of push buttons', () => {
  it.each(['mouse', 'finger', 'keys'] as const)('throws its points by %s, and its lamps follow', async (hand) => {
    const { page, wrongs } = await opened(hand === 'finger');
    const press = async (id: string): Promise<void> => {
      if (hand === 'mouse') return push(page, id).click();
      if (hand === 'finger') return push(page, id).tap();
      await push(page, id).focus();
      await page.keyboard.press('Enter');
    };
    // By hand from the file: blades of P1 normal light H2, reverse H1.
    await soon(() => litOf(page)).toEqual(['H2']);
    await press('B2');
    await soon(() => litOf(page)).toEqual(['H1']);
    expect(await push(page, 'B2').getAttribute('aria-label')).toBe('B2 Loop in, sets P1 reverse; it lies so');
    await press('B1');
    await soon(() => litOf(page)).toEqual(['H2']);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('sets a route by the buttons that it takes, and all normal again', async () => {
    const { page, wrongs } = await opened();
    await pickRoute(page, 'West', 'East');
    await page.getByRole('button', { name: 'Way 2 of 2' }).click();
    await soon(() => page.locator('.state').textContent()).toContain('2 buttons to press');
    await soon(() => page.locator('.state').textContent()).toContain('In order: B2 and B4');
    await page.getByRole('button', { name: 'Press both' }).click();
    await soon(() => page.locator('.state').textContent()).toContain('Route set');
    expect(await page.locator('.state').textContent()).toContain('2 buttons pressed');
    await soon(() => litOf(page)).toEqual(['H1']);
    expect(await audit(page)).toEqual([]);
    expect(await misfits(page)).toEqual([]);
    expect(await page.locator('.route-card tbody tr').allTextContents()).toEqual(['1B2 Loop inP1press', '2B4P2press']);
    await page.getByRole('button', { name: 'All normal' }).click();
    await soon(() => litOf(page)).toEqual(['H2']);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('stands in Lay and in Work, with what each button throws', async () => {
    const { page, wrongs } = await opened();
    await page.getByRole('navigation').getByRole('button', { name: /^Lay/ }).click();
    await page.locator('.lay-sheet [data-button="B2"]').waitFor();
    await page.getByRole('navigation').getByRole('button', { name: /^Work/ }).click();
    await page.getByText('press B2 and B4').waitFor();
    await page.getByText('All 2 routes take push buttons; nothing is lost.').waitFor();
    expect(await page.getByText(/No lever works P/).count()).toBe(0);
    await page.locator('.push-item', { hasText: 'B2 Loop in' }).getByText('sets P1 reverse').waitFor();
    expect(await page.locator('main.work [data-push]').count()).toBe(4);
    expect(await audit(page)).toEqual([]);
    expect(wrongs).toEqual([]);
    await page.context().close();
  });

  it('has no route that cannot be set, as the command line finds', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'mimicwright-buttons-'));
    try {
      const file = join(folder, 'buttons.mimic.json');
      writeFileSync(file, PANEL);
      const { findings } = (await ask('check', file)) as { findings: readonly { code: string }[] };
      expect(findings.map(({ code }) => code)).not.toContain('route-not-settable');
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
