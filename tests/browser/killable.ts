/** A browser that can be killed: its whole group of processes at once, and started again over the same profile. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Page } from 'playwright-core';
import { BROWSER_ARGUMENTS } from './site.ts';

export interface Killable {
  readonly page: Page;
  kill(): Promise<void>;
}

/** Browsers one after the other over one profile, which are gone with it at the end, however that comes. */
export async function overOneProfile(use: (start: () => Promise<Killable>) => Promise<void>): Promise<void> {
  const profile = mkdtempSync(join(tmpdir(), 'mimicwright-killed-'));
  const started: Killable[] = [];
  try {
    await use(async () => {
      const browser = await startKillable(profile);
      started.push(browser);
      return browser;
    });
  } finally {
    // What a failing test has left running would write on in a folder that goes.
    for (const browser of started) await browser.kill();
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  }
}

/** A browser of our own with a profile that outlives it. */
async function startKillable(profile: string): Promise<Killable> {
  const portFile = join(profile, 'DevToolsActivePort');
  rmSync(portFile, { force: true });
  const child: ChildProcess = spawn(
    process.env.CHROMIUM ?? '/usr/bin/chromium',
    [
      '--headless=new',
      ...BROWSER_ARGUMENTS,
      '--disable-extensions',
      '--remote-debugging-port=0',
      `--user-data-dir=${profile}`,
      'about:blank',
    ],
    { stdio: 'ignore', detached: true },
  );
  const gone = new Promise<void>((done) => child.once('exit', () => done()));
  // The file is there before all of it is written: the port is whole once its line has ended.
  const portSaid = (): string =>
    existsSync(portFile) ? (/^(\d+)\n/.exec(readFileSync(portFile, 'utf8'))?.[1] ?? '') : '';
  for (let i = 0; i < 600 && portSaid() === ''; i++) await new Promise((done) => setTimeout(done, 50));
  const end = async (): Promise<void> => {
    // The whole group at once: no process of it gets a word in.
    if (child.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
    await gone;
  };
  let killed = false;
  const browser = await chromium.connectOverCDP(`http://127.0.0.1:${portSaid()}`).catch(async (error: unknown) => {
    await end();
    throw error;
  });
  const context = browser.contexts()[0] ?? (await browser.newContext());
  return {
    page: await context.newPage(),
    async kill() {
      if (killed) return;
      killed = true;
      await end();
      await browser.close().catch(() => {});
    },
  };
}
