import { execFile, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chmod, mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { answerSchemas } from '../../src/cli/index.ts';
import { MOST_BYTES } from '../../src/cli/io.ts';
import { BRAMBLE, QUILLHAVEN } from './memory.ts';

const CLI = 'dist/cli.js';

/** A program that has not answered by then hangs, ms: on an idle machine even 20 MB are refused in half a second. */
const HANGS_MS = 30_000;

interface Ended {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Run the built program as a user does. */
const mimicwright = (...args: readonly string[]): Promise<Ended> =>
  new Promise((done) => {
    execFile(process.execPath, [CLI, ...args], { maxBuffer: 1e9, timeout: HANGS_MS }, (error, stdout, stderr) => {
      const status = error === null ? 0 : typeof error.code === 'number' ? error.code : -1;
      done({ status, stdout, stderr });
    });
  });

let folder = '';
beforeAll(async () => {
  if (!existsSync(CLI)) throw new Error(`${CLI} is missing: run npm run build.`);
  folder = await mkdtemp(join(tmpdir(), 'mimicwright-process-'));
});
afterAll(async () => {
  await rm(folder, { recursive: true, force: true });
});

/** What the folder holds, so that "nothing written" can be seen. */
const inFolder = async (): Promise<string[]> => (await readdir(folder, { recursive: true })).sort();

/** A refusal. */
async function refusal(...args: readonly string[]): Promise<string> {
  const before = await inFolder();
  const ended = await mimicwright(...args);
  expect({ status: ended.status, stdout: ended.stdout }).toEqual({ status: 2, stdout: '' });
  expect(ended.stderr).toMatch(/^[^\n]+\n$/);
  expect(await inFolder()).toEqual(before);
  return ended.stderr;
}

describe('the program', () => {
  it('is executable by itself', async () => {
    expect((await readFile(CLI, 'utf8')).split('\n')[0]).toBe('#!/usr/bin/env node');
    expect((await stat(CLI)).mode & 0o111).toBe(0o111);
  });

  it.each([BRAMBLE, QUILLHAVEN])('checks %s', async (file) => {
    const { status, stdout, stderr } = await mimicwright('check', file, '--json');
    expect(stderr).toBe('');
    const { findings } = answerSchemas.check.parse(JSON.parse(stdout));
    expect(status).toBe(findings.some(({ severity }) => severity === 'danger' || severity === 'wrong') ? 1 : 0);
  });

  it('starts a panel, checks it, and will not start it twice', async () => {
    const made = await mimicwright('new', join(folder, 'yard'));
    expect([made.status, made.stderr]).toEqual([0, '']);
    const file = join(folder, 'yard', 'yard.mimic.json');
    expect(made.stdout).toBe(`${file}\n`);
    expect((await mimicwright('check', file)).status).toBe(0);
    const before = await readFile(file, 'utf8');
    expect(await refusal('new', join(folder, 'yard'))).toMatch(/is there already/);
    expect(await readFile(file, 'utf8')).toBe(before);
  });

  it('builds the book twice into one folder with the same bytes', async () => {
    const out = join(folder, 'book');
    const first = await mimicwright('build', BRAMBLE, '--out', out, '--json');
    expect(first.status).toBe(0);
    const { files } = answerSchemas.build.parse(JSON.parse(first.stdout));
    const read = () => Promise.all(files.map(({ path }) => readFile(join(out, path))));
    const before = await read();
    expect(before.map((bytes) => bytes.byteLength)).toEqual(files.map(({ bytes }) => bytes));
    expect((await readdir(out)).sort()).toEqual(files.map(({ path }) => path).sort());
    const again = await mimicwright('build', BRAMBLE, '--out', out, '--json');
    expect(again.stdout).toBe(first.stdout);
    expect(await read()).toEqual(before);
  });

  it('writes text that an ordinary SPICE program runs in batch', async () => {
    const { stdout } = await mimicwright('spice', BRAMBLE);
    await writeFile(join(folder, 'panel.cir'), stdout);
    const ran = await new Promise<{ readonly failed: boolean; readonly output: string }>((done) => {
      execFile('ngspice', ['-b', join(folder, 'panel.cir')], (error, out, err) =>
        done({ failed: error !== null, output: out + err }),
      );
    });
    expect(ran.output).not.toMatch(/error/i);
    expect(ran.failed).toBe(false);
  });

  it('ends quietly when its reader has seen enough', async () => {
    const child = spawn('sh', ['-c', `"${process.execPath}" ${CLI} solve ${QUILLHAVEN} --json | head -c 1`]);
    let stderr = '';
    child.stderr.on('data', (chunk) => {
      stderr += chunk;
    });
    await new Promise((done) => child.on('close', done));
    expect(stderr).toBe('');
  });
});

describe('input that cannot be used', () => {
  it('50 MB of rubbish', async () => {
    const path = join(folder, 'rubbish.mimic.json');
    await writeFile(path, Buffer.alloc(50_000_000, 'rubbish '));
    expect(await refusal('check', path)).toMatch(/50\.0 MB/);
    expect(await refusal('build', path, '--out', join(folder, 'never'))).toMatch(/50\.0 MB/);
    expect(await refusal('open', path, '--no-open')).toMatch(/50\.0 MB/);
    await rm(path);
  });

  // Just under the limit of size, where everything has to be read: the worst of each kind.
  const most = MOST_BYTES - 200;
  it.each([
    ['rubbish', () => 'x'.repeat(most)],
    ['brackets', () => '['.repeat(most)],
    [
      'pairs of brackets',
      () => `{"format":"mimic-panel","version":1,"strips":[],"x":${'['.repeat(most / 2)}${']'.repeat(most / 2)}}`,
    ],
    ['one long text', () => `{"format":"mimic-panel","version":1,"strips":"${'y'.repeat(most)}"}`],
    ['bad strips', () => `{"format":"mimic-panel","version":1,"strips":[${'1,'.repeat(most / 2)}1]}`],
    [
      'one id over and over',
      () =>
        `{"format":"mimic-panel","version":1,"strips":[${'{"id":"a","path":[[0,0]]},'.repeat(most / 26)}{"id":"a","path":[[0,0]]}]}`,
    ],
    ['digits', () => `{"format":"mimic-panel","version":1,"strips":[],"x":${'9'.repeat(most)}}`],
  ])('20 MB of %s', async (_name, text) => {
    const path = join(folder, 'large.mimic.json');
    await writeFile(path, text());
    const ended = await mimicwright('check', path);
    expect({ status: ended.status, stdout: ended.stdout }).toEqual({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/^[^\n]+\n$/);
    await rm(path);
  });

  it('a file that is missing, a folder, a pipe without end', async () => {
    expect(await refusal('check', join(folder, 'missing.mimic.json'))).toMatch(/no such file/);
    expect(await refusal('check', folder)).toMatch(/is a folder/);
    expect(await refusal('check', '/dev/zero')).toMatch(/not an ordinary file/);
    expect(await refusal('open', join(folder, 'missing.mimic.json'), '--no-open')).toMatch(/no such file/);
  });

  it('a file that may not be read', async () => {
    const path = join(folder, 'locked.mimic.json');
    await writeFile(path, '{}');
    await chmod(path, 0o000);
    // The superuser may read everything: then the file is read, and is no panel.
    expect(await refusal('check', path)).toMatch(process.getuid?.() === 0 ? /format/ : /no permission/);
    await rm(path, { force: true });
  });

  it('a folder for the book that is a file', async () => {
    const path = join(folder, 'file');
    await writeFile(path, 'mine');
    expect(await refusal('build', BRAMBLE, '--out', path, '--only', 'wires')).toMatch(/cannot be written/);
    expect(await readFile(path, 'utf8')).toBe('mine');
  });

  it('an unknown command and an unknown option', async () => {
    expect(await refusal('chekc')).toMatch(/unknown command/i);
    expect(await refusal('check', BRAMBLE, '--colour')).toMatch(/unknown option/i);
  });
});

describe('open', () => {
  it('serves the application and the panel until it is told to stop', async () => {
    await mkdir(join(folder, 'served'), { recursive: true });
    const file = join(folder, 'served', 'yard.mimic.json');
    await writeFile(file, '{}');
    const child = spawn(process.execPath, [CLI, 'open', file, '--port', '0', '--no-open']);
    const url = await new Promise<string>((done, fail) => {
      let stdout = '';
      child.stdout.on('data', (chunk) => {
        stdout += chunk;
        const [, found] = /Mimicwright is at (\S+)/.exec(stdout) ?? [];
        if (found !== undefined) done(found);
      });
      child.on('exit', () => fail(new Error(`ended before it served: ${stdout}`)));
    });
    const page = await fetch(url);
    expect(page.status).toBe(200);
    expect(await page.text()).toMatch(/<!doctype html>/i);
    expect(await (await fetch(`${url}panel`)).json()).toEqual({ file: 'yard.mimic.json', text: '{}' });
    // A listener that stays must not keep the program from ending.
    const changes = await fetch(`${url}panel/changes`);
    expect(changes.status).toBe(200);
    child.removeAllListeners('exit');
    const ended = new Promise<number | null>((done) => child.on('exit', done));
    child.kill('SIGTERM');
    expect(await ended).toBe(0);
    await changes.body?.cancel().catch(() => {});
  });
});

describe('the library', () => {
  it('reads and derives a panel', async () => {
    const library: typeof import('../../src/index.ts') = await import(join(process.cwd(), 'dist/index.js'));
    const read = library.readPanel(await readFile(BRAMBLE, 'utf8'));
    expect(read.ok).toBe(true);
    if (read.ok) expect(library.checkAnswer(library.derive(read.panel)).counts.strips).toBe(3);
  });
});
