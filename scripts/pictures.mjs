// npm run pictures [-- --dist DIR]: pictures of the built application with a route set, into out/pictures and docs/pictures.
import { copyFileSync, mkdirSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { serveBuild, startChromium } from './browser.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const option = process.argv.indexOf('--dist');
const dist = resolve(root, option < 0 ? 'dist/web' : (process.argv[option + 1] ?? 'dist/web'));
const out = join(root, 'out/pictures');

/** Name, width, height, lights, and where they are not the usual ones the eyes. */
const PICTURES = [
  ['run-1440x900-light', 1440, 900, 'light'],
  ['run-1440x900-dark', 1440, 900, 'dark'],
  ['run-820x1180', 820, 1180, 'light'],
  ['run-1180x820', 1180, 820, 'light'],
  ['run-390x844', 390, 844, 'light'],
];
const ROUTE = ['Tolland', 'Yard 3'];

/** Run as eyes without one of the three kinds of cone see it, by Chromium's own simulation. */
const EYES = ['protanopia', 'deuteranopia', 'tritanopia'];
for (const eyes of EYES) PICTURES.push([`run-1440x900-${eyes}`, 1440, 900, 'light', eyes]);

/** The same for Lay, with a strip picked. */
const LAY_PICTURES = [
  ['lay-1440x900-light', 1440, 900, 'light'],
  ['lay-1440x900-dark', 1440, 900, 'dark'],
  ['lay-820x1180', 820, 1180, 'light'],
  ['lay-1180x820', 1180, 820, 'light'],
  ['lay-390x844', 390, 844, 'light'],
];
for (const eyes of EYES) LAY_PICTURES.push([`lay-1440x900-${eyes}`, 1440, 900, 'light', eyes]);

async function seenBy(page, eyes) {
  if (eyes === undefined) return;
  const client = await page.context().newCDPSession(page);
  await client.send('Emulation.setEmulatedVisionDeficiency', { type: eyes });
}

const { url, close } = await serveBuild(dist, 4620);
const browser = await startChromium();
mkdirSync(out, { recursive: true });
try {
  for (const [name, width, height, colorScheme, eyes] of PICTURES) {
    const page = await browser.newPage({ viewport: { width, height }, colorScheme });
    await seenBy(page, eyes);
    await page.goto(url);
    await page.locator('.sheet').waitFor();
    for (const [field, place] of ROUTE.entries()) {
      await page.locator('.sel-field').nth(field).click({ timeout: 5000 });
      await page.getByRole('option', { name: place, exact: true }).click();
    }
    await page.getByRole('button', { name: /^Throw/ }).click();
    await page.locator('.state-set').waitFor();
    // The guide is drawn at its own pace, and lamps fade: wait until nothing moves.
    await page.waitForTimeout(1800);
    await page.mouse.move(2, height - 2);
    await page.screenshot({ path: join(out, `${name}.png`) });
    await page.close();
    console.log(`out/pictures/${name}.png`);
  }
  for (const [name, width, height, colorScheme, eyes] of LAY_PICTURES) {
    const page = await browser.newPage({ viewport: { width, height }, colorScheme });
    await seenBy(page, eyes);
    await page.goto(url);
    await page.locator('.sheet').waitFor();
    await page.getByRole('navigation').getByRole('button', { name: /^Lay/ }).click();
    if (width >= 820) {
      await page.getByText('Checked as you lay').waitFor();
      const sheet = await page.locator('.lay-sheet').boundingBox();
      // The platform loop, beside its lamps.
      if (sheet !== null)
        await page.mouse.click(sheet.x + (290 / 600) * sheet.width, sheet.y + (126 / 300) * sheet.height);
    }
    await page.waitForTimeout(600);
    await page.screenshot({ path: join(out, `${name}.png`) });
    await page.close();
    console.log(`out/pictures/${name}.png`);
  }
  mkdirSync(join(root, 'docs/pictures'), { recursive: true });
  copyFileSync(join(out, 'run-1440x900-light.png'), join(root, 'docs/pictures/run.png'));
  copyFileSync(join(out, 'lay-1440x900-light.png'), join(root, 'docs/pictures/lay.png'));
} finally {
  await browser.close();
  await close();
}
