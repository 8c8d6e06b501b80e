// npm run pictures [-- --dist DIR] [-- --only PART]: pictures of the built application in every state, into out/pictures and docs/pictures.
import { copyFileSync, mkdirSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { serveBuild, startChromium } from './browser.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const option = process.argv.indexOf('--dist');
const dist = resolve(root, option < 0 ? 'dist/web' : (process.argv[option + 1] ?? 'dist/web'));
const out = join(root, 'out/pictures');
const only = process.argv.indexOf('--only');
/** Is this picture asked for? */
const asked = (name) => only < 0 || name.includes(process.argv[only + 1] ?? '');

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

async function toStage(page, stage) {
  await page
    .getByRole('navigation')
    .getByRole('button', { name: new RegExp(`^${stage}`) })
    .click();
}

async function toLay(page) {
  await toStage(page, 'Lay');
  await page.locator('.lay-sheet').waitFor();
  await page.getByText('Checked as you lay').waitFor();
}

/** From millimetres on the demo's face to px on the screen. */
async function onFace(page) {
  const box = await page.locator('.lay-sheet').boundingBox();
  return ([x, y]) => [box.x + (x * box.width) / 600, box.y + (y * box.width) / 600];
}

/** The left button or a finger goes from spot to spot and stays down. */
async function hold(page, from, to) {
  const at = await onFace(page);
  await page.mouse.move(...at(from));
  await page.mouse.down();
  for (const share of [0.3, 0.6, 1])
    await page.mouse.move(...at([from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share]));
}

const LOOP_END = [346, 126];
const stripTool = async (page) => {
  await toLay(page);
  await page.keyboard.press('s');
};

/** Every other state: a name, what leads to it, and what the browser is told. */
const STATES = [
  [
    'lay-drawing',
    async (page) => {
      await stripTool(page);
      await hold(page, [220, 40], [330, 40]);
    },
  ],
  [
    'lay-dragging-end',
    async (page) => {
      await toLay(page);
      const at = await onFace(page);
      await page.mouse.click(...at([266, 126]));
      await page.waitForTimeout(300);
      await hold(page, LOOP_END, [360, 150]);
    },
  ],
  [
    'lay-formation',
    async (page) => {
      await stripTool(page);
      await page.locator('.formations').getByRole('button', { name: 'Passing loop' }).click();
      await hold(page, [110, 154], [190, 154]);
    },
  ],
  [
    'lay-many',
    async (page) => {
      await toLay(page);
      await hold(page, [590, 226], [420, 100]);
      await page.mouse.up();
    },
  ],
  ['lay-nothing-picked-dark', toLay, { colorScheme: 'dark' }],
  [
    'lay-help',
    async (page) => {
      await toLay(page);
      await page.keyboard.press('F1');
      await page.locator('.rail button').nth(1).hover();
    },
  ],
  [
    'lay-versions',
    async (page) => {
      await toLay(page);
      await page.keyboard.press('Control+Shift+S');
      await page.locator('dialog').waitFor();
    },
  ],
  [
    'lay-shelf',
    async (page) => {
      await toLay(page);
      await page.getByRole('button', { name: 'Panels', exact: true }).click();
      await page.locator('dialog').waitFor();
    },
  ],
  [
    'lay-bare',
    async (page) => {
      await page.getByRole('button', { name: 'Panels', exact: true }).click();
      await page
        .getByRole('button', { name: /bare sheet/i })
        .first()
        .click();
      await page.locator('.lay-sheet').waitFor();
    },
  ],
  [
    'lay-follows',
    async (page, context) => {
      await toLay(page);
      await page.keyboard.press('s');
      await hold(page, [240, 20], [300, 20]);
      await page.mouse.up();
      await page.waitForTimeout(800);
      const second = await context.newPage();
      await second.goto(page.url());
      await second.locator('.sheet').waitFor();
      await toLay(second);
      return second;
    },
  ],
  [
    'lay-text-200',
    async (page) => {
      await toLay(page);
      await page.evaluate(() => {
        document.documentElement.style.fontSize = '200%';
      });
    },
  ],
  ['lay-forced-colours', toLay, { forcedColors: 'active' }],
  ['lay-forced-colours-dark', toLay, { forcedColors: 'active', colorScheme: 'dark' }],
  ['wire-1440x900-light', wire],
  ['wire-1440x900-dark', wire, { colorScheme: 'dark' }],
  ['wire-1180x820', wire, { viewport: { width: 1180, height: 820 } }],
  ['wire-820x1180', wire, { viewport: { width: 820, height: 1180 } }],
  ['wire-390x844', (page) => toStage(page, 'Wire'), { viewport: { width: 390, height: 844 } }],
  ['wire-forced-colours', wire, { forcedColors: 'active' }],
  [
    'wire-fault',
    async (page) => {
      await wire(page);
      await page.locator('.fault-list button').nth(12).click();
    },
  ],
  [
    'compare',
    async (page) => {
      await toStage(page, 'Work');
      await page.locator('.more > button').click();
      await page.getByRole('button', { name: 'Compare other ways to build it' }).click();
      await page.locator('.compare tbody tr').nth(9).waitFor();
      await page.getByRole('button', { name: 'Stop' }).click();
      await page.getByRole('button', { name: 'Cost' }).click();
    },
  ],
  [
    'book',
    async (page) => {
      await page.locator('.more > button').click();
      await page.getByRole('button', { name: 'Print the build book' }).click();
      await page.locator('.book-page svg').first().waitFor();
    },
  ],
  [
    'run-findings',
    async (page) => {
      await page.locator('.findings-button').click();
    },
  ],
  [
    'run-asked',
    async (page) => {
      for (const [field, place] of ROUTE.entries()) {
        await page.locator('.route-bar button.sel-field').nth(field).click();
        await page.getByRole('option', { name: place, exact: true }).click();
      }
      await page.locator('.guide-asked').waitFor();
    },
  ],
  [
    'run-help',
    async (page) => {
      await page.keyboard.press('F1');
      await page.locator('.lever-button').nth(3).hover();
    },
  ],
  ['work-1440x900-light', work],
  ['work-1440x900-dark', work, { colorScheme: 'dark' }],
  ['work-1180x820', work, { viewport: { width: 1180, height: 820 } }],
  ['work-820x1180', work, { viewport: { width: 820, height: 1180 } }],
  ['work-390x844', (page) => toStage(page, 'Work'), { viewport: { width: 390, height: 844 } }],
  ['work-forced-colours', work, { forcedColors: 'active' }],
  [
    'work-in-hand',
    async (page) => {
      await work(page);
      await page.locator('[data-spot="point P13"]').focus();
      await page.keyboard.press('Enter');
    },
  ],
  ['run-trains', trains],
  ['run-trains-dark', trains, { colorScheme: 'dark' }],
  ['run-trains-820', trains, { viewport: { width: 820, height: 1180 } }],
  ['run-trains-390', trains, { viewport: { width: 390, height: 844 } }],
  ['run-forced-colours', trains, { forcedColors: 'active' }],
];

/** Work with the route picked that Run shows, and the lever of two storage roads. */
async function work(page) {
  await toStage(page, 'Work');
  await page.locator('.joined').waitFor();
  for (const [field, place] of ROUTE.entries()) {
    await page.locator('.route-fields .choice-button').nth(field).click();
    await page.getByRole('option', { name: place, exact: true }).click();
  }
  await page.locator('[data-spot="lever L10"]').focus();
  await page.keyboard.press('Enter');
  await page.locator('.lever-edit').waitFor();
}

/** The circuit of the crossover, its lever reverse. */
async function wire(page) {
  await toStage(page, 'Wire');
  await page.locator('main.wire').waitFor();
  await page.getByRole('button', { name: /^L4/ }).first().click();
  await page.locator('main.wire[data-current="true"]').waitFor();
  await page.getByText('Reverse', { exact: true }).first().click();
}

/** Two moves made, a third train picked and its move chosen. */
async function trains(page) {
  await page.getByRole('button', { name: 'Trains', exact: true }).click();
  for (const [train, to] of [
    ['Mixed', 'Storage 3'],
    ['Coal', 'Tolland'],
    ['Fish', 'Neck'],
  ]) {
    const row = page.locator('.train > .side-row', { hasText: train });
    await row.click();
    await page.locator('.move', { hasText: to }).first().locator('.side-row').click();
    if (train === 'Fish') break;
    await page.locator('.move-open .btn.primary').click();
    await page.waitForTimeout(600);
    await row.click();
  }
}

const { url, close } = await serveBuild(dist, 4620);
const browser = await startChromium();
mkdirSync(out, { recursive: true });
try {
  for (const [name, width, height, colorScheme, eyes] of PICTURES.filter(([each]) => asked(each))) {
    const page = await browser.newPage({ viewport: { width, height }, colorScheme });
    await seenBy(page, eyes);
    await page.goto(url);
    await page.locator('.sheet').waitFor();
    for (const [field, place] of ROUTE.entries()) {
      await page.locator('.route-bar button.sel-field').nth(field).click({ timeout: 5000 });
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
  for (const [name, width, height, colorScheme, eyes] of LAY_PICTURES.filter(([each]) => asked(each))) {
    const page = await browser.newPage({ viewport: { width, height }, colorScheme });
    await seenBy(page, eyes);
    await page.goto(url);
    await page.locator('.sheet').waitFor();
    await toStage(page, 'Lay');
    if (width >= 820) {
      await page.getByText('Checked as you lay').waitFor();
      const sheet = await page.locator('.lay-sheet').boundingBox();
      // The platform loop, beside its lamps and its place.
      if (sheet !== null)
        await page.mouse.click(sheet.x + (266 / 600) * sheet.width, sheet.y + (126 / 300) * sheet.height);
    }
    await page.waitForTimeout(600);
    await page.screenshot({ path: join(out, `${name}.png`) });
    await page.close();
    console.log(`out/pictures/${name}.png`);
  }
  for (const [name, make, options = {}] of STATES.filter(([each]) => asked(each))) {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
    const page = await context.newPage();
    page.setDefaultTimeout(30_000);
    await page.goto(url);
    await page.locator('.sheet').waitFor();
    const shown = (await make(page, context)) ?? page;
    await shown.waitForTimeout(700);
    await shown.screenshot({ path: join(out, `${name}.png`) });
    await context.close();
    console.log(`out/pictures/${name}.png`);
  }
  mkdirSync(join(root, 'docs/pictures'), { recursive: true });
  copyFileSync(join(out, 'run-1440x900-light.png'), join(root, 'docs/pictures/run.png'));
  copyFileSync(join(out, 'lay-1440x900-light.png'), join(root, 'docs/pictures/lay.png'));
  copyFileSync(join(out, 'work-1440x900-light.png'), join(root, 'docs/pictures/work.png'));
  copyFileSync(join(out, 'wire-1440x900-light.png'), join(root, 'docs/pictures/wire.png'));
} finally {
  await browser.close();
  await close();
}
