/** The built application in a browser: a server of its files that behaves as `open` does, and pages that take note of what goes wrong. */
import { execFile, spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { createServer, type ServerResponse } from 'node:http';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { beforeAll, expect } from 'vitest';

export const root = fileURLToPath(new URL('../../', import.meta.url));
export const example = (name: string): string => join(root, 'examples', `${name}.mimic.json`);
const dist = process.env.MIMICWRIGHT_WEB ?? join(root, 'dist/web');
const cli = join(root, 'dist/cli.js');

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
};
/** As strict as a server can be with it: nothing but its own files. */
const POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

export interface Site {
  readonly url: string;
  /** Every path that was asked for. */
  readonly asked: readonly string[];
  close(): Promise<void>;
}

/** Serve the built files, or those of another `folder`; `panel` is what `/panel` gives, 204 when it is null. */
export async function serveSite(
  panel: { readonly file: string; readonly text: string } | null = null,
  folder = dist,
): Promise<Site> {
  if (!existsSync(join(dist, 'index.html'))) throw new Error('There is no dist/web: run npm run build.');
  const asked: string[] = [];
  const streams = new Set<ServerResponse>();
  const server = createServer((request, response) => {
    const path = (request.url ?? '/').split('?')[0] ?? '/';
    asked.push(path);
    const send = (status: number, type: string, body: string | Buffer): void => {
      response.writeHead(status, {
        'Content-Type': type,
        'Content-Security-Policy': POLICY,
        'X-Content-Type-Options': 'nosniff',
      });
      response.end(body);
    };
    if (path === '/panel') {
      if (panel !== null) return send(200, 'application/json', JSON.stringify(panel));
      response.writeHead(204);
      response.end();
      return;
    }
    if (path === '/panel/changes' && panel !== null) {
      response.writeHead(200, { 'Content-Type': 'text/event-stream' });
      response.write(':\n\n');
      streams.add(response);
      return;
    }
    const file = join(folder, normalize(path === '/' ? '/index.html' : path));
    if (!file.startsWith(folder) || !existsSync(file) || extname(file) === '')
      return send(404, 'text/plain', 'no such file');
    send(200, TYPES[extname(file)] ?? 'application/octet-stream', readFileSync(file));
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  return {
    url: `http://127.0.0.1:${port}/`,
    asked,
    close: () =>
      new Promise((done) => {
        for (const stream of streams) stream.end();
        server.closeAllConnections();
        server.close(() => done());
      }),
  };
}

/** The program itself, serving a file as `open` does. */
export async function openWithProgram(file: string | null): Promise<{ readonly url: string; close(): void }> {
  const child = spawn(process.execPath, [cli, 'open', ...(file === null ? [] : [file]), '--port', '0', '--no-open'], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  const url = await new Promise<string>((done, fail) => {
    const hear = (chunk: Buffer): void => {
      said += String(chunk);
      const found = /http:\/\/127\.0\.0\.1:\d+\//.exec(said);
      if (found !== null) done(found[0]);
    };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    child.on('exit', (code) => fail(new Error(`open ended with ${code}: ${said}`)));
  });
  return { url, close: () => child.kill('SIGTERM') };
}

/** What the command line answers, as JSON. */
export async function ask(...args: readonly string[]): Promise<unknown> {
  const { stdout } = await promisify(execFile)(process.execPath, [cli, ...args, '--json'], { maxBuffer: 1 << 26 });
  return JSON.parse(stdout);
}

/** What every browser of a test is started with. */
export const BROWSER_ARGUMENTS: readonly string[] = [
  '--no-sandbox',
  '--disable-gpu',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Debian's Chromium, or the one that CHROMIUM names; `more` are further arguments for it. */
export const startBrowser = (...more: readonly string[]): Promise<Browser> =>
  chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [...BROWSER_ARGUMENTS, ...more],
  });

/** A site and a browser for the tests of a file: handed over before the first of them, closed after the last. */
export function withSite(
  take: (site: Site, browser: Browser) => void,
  panel: Parameters<typeof serveSite>[0] = null,
): void {
  beforeAll(async () => {
    const site = await serveSite(panel);
    const browser = await startBrowser();
    take(site, browser);
    return async () => {
      await browser.close();
      await site.close();
    };
  });
}

export interface Watched {
  readonly page: Page;
  /** Errors of the console and of scripts, and breaches of the policy. */
  readonly wrongs: string[];
}

/** A page on the site with the sheet drawn. */
export async function openPage(browser: Browser, url: string, options: BrowserContextOptions = {}): Promise<Watched> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
  const page = await context.newPage();
  const wrongs: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') wrongs.push(message.text());
  });
  page.on('pageerror', (error) => wrongs.push(error.message));
  page.on('request', (request) => {
    if (new URL(request.url()).origin !== new URL(url).origin) wrongs.push(`asked elsewhere: ${request.url()}`);
  });
  await page.addInitScript(() => {
    addEventListener('securitypolicyviolation', (event) =>
      console.error(`policy: ${event.violatedDirective} ${event.blockedURI}`),
    );
  });
  await page.goto(url);
  await page.locator('.sheet').waitFor();
  return { page, wrongs };
}

/** Expect it before long; how long may be long on a busy machine. */
export const soon = <T>(read: () => T | Promise<T>) => expect.poll(read, { timeout: 30_000 });

/** The look of every lamp as the picture has it. */
export const looksOf = (page: Page): Promise<Record<string, string>> =>
  page.evaluate(() =>
    Object.fromEntries(
      [...document.querySelectorAll<SVGElement>('[data-lamp]')].map((lamp) => [
        lamp.dataset.lamp ?? '',
        lamp.dataset.look ?? '',
      ]),
    ),
  );

/** Ids of the lamps that shine. */
export const litOf = async (page: Page): Promise<readonly string[]> =>
  Object.entries(await looksOf(page))
    .filter(([, look]) => look === 'good' || look === 'bright')
    .map(([id]) => id)
    .sort();

export const lever = (page: Page, id: string) => page.locator(`[data-lever-button="${id}"]`);
export const bat = (page: Page, id: string) => page.locator(`[data-lever="${id}"]`);

/** Pick a route by the names of its ends. */
export async function pickRoute(page: Page, from: string, to: string): Promise<void> {
  for (const [field, place] of [from, to].entries()) {
    await page.locator('.route-bar button.sel-field').nth(field).click();
    await page.getByRole('option', { name: place, exact: true }).click();
  }
}

/** Drop a file on the window, as a hand would from a folder. */
export async function dropFile(page: Page, name: string, text: string): Promise<void> {
  await page.evaluate(
    ([fileName, content]) => {
      const data = new DataTransfer();
      data.items.add(new File([content ?? ''], fileName ?? '', { type: 'application/json' }));
      for (const type of ['dragenter', 'dragover', 'drop'])
        document.body.dispatchEvent(new DragEvent(type, { dataTransfer: data, bubbles: true, cancelable: true }));
    },
    [name, text],
  );
}
