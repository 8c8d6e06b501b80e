// node scripts/icons.mjs: the icons of the installed application, drawn from src/web/icon.svg by the browser, into src/web/service.
import { readFileSync, writeFileSync } from 'node:fs';
import { chromium } from 'playwright-core';
import { inRoot } from './tools.mjs';

const GROUND = '#ced9d0';
/** A mask may take all outside a circle of four fifths (W3C Web App Manifest, icon masks): the drawing keeps within it. */
const SAFE = 0.72;

const drawing = readFileSync(inRoot('src/web/icon.svg'), 'utf8');
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
});
for (const size of [192, 512]) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  const inner = Math.round(size * SAFE);
  await page.setContent(
    `<body style="margin:0;height:100vh;display:grid;place-items:center;background:${GROUND}">${drawing.replace('<svg ', `<svg width="${inner}" height="${inner}" `)}</body>`,
  );
  writeFileSync(inRoot('src/web/service', `icon-${size}.png`), await page.screenshot());
}
await browser.close();
