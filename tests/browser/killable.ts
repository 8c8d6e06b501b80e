/** A browser that can be killed: its whole group of processes at once, and started again over the same profile. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { chromium, type Page } from 'playwright-core';
import { BROWSER_ARGUMENTS } from './site.ts';

export interface Killable {
  readonly page: Page;
  kill(): Promise<void>;
}

/** A browser of our own with a profile that outlives it. */
export async function startKillable(profile: string): Promise<Killable> {
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
  for (let i = 0; i < 600 && !existsSync(portFile); i++) await new Promise((done) => setTimeout(done, 50));
  const port = readFileSync(portFile, 'utf8').split('\n')[0];
  const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
  const context = browser.contexts()[0] ?? (await browser.newContext());
  return {
    page: await context.newPage(),
    async kill() {
      // The whole group at once: no process of it gets a word in.
      if (child.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
      await gone;
      await browser.close().catch(() => {});
    },
  };
}
