// The built application in Debian's Chromium, for what looks at it or times it: a server of its files, and the browser.
import { chromium } from 'playwright-core';
import { preview } from 'vite';

/** A server of a build at a port of this machine; answers its address and what ends it. */
export async function serveBuild(dist, port) {
  const server = await preview({
    root: dist,
    configFile: false,
    appType: 'mpa',
    build: { outDir: dist },
    preview: { host: '127.0.0.1', port, strictPort: false },
    logLevel: 'error',
  });
  const url = server.resolvedUrls?.local[0];
  if (url === undefined) throw new Error(`The server of ${dist} has no address.`);
  return { url, close: () => server.close() };
}

/** Debian's Chromium, or the one that CHROMIUM names, without a graphics processor. */
export const startChromium = () =>
  chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
