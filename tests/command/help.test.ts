import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/cli/command-table.ts';
import { runInMemory } from './memory.ts';

describe('--help', () => {
  it('says what the golden file says', async () => {
    const pages = [['--help'], ...COMMANDS.map(({ name }) => [name, '--help'])];
    const texts: string[] = [];
    for (const args of pages) {
      const ran = await runInMemory(args);
      expect([ran.status, ran.stderr]).toEqual([0, '']);
      texts.push(`$ mimicwright ${args.join(' ')}\n${ran.stdout}`);
    }
    await expect(texts.join('\n')).toMatchFileSnapshot('../golden/help.txt');
  });

  it('is what no words, help and -h give as well', async () => {
    const { stdout } = await runInMemory(['--help']);
    for (const args of [[], ['help'], ['-h']]) expect((await runInMemory(args)).stdout).toBe(stdout);
    expect((await runInMemory(['help', 'build'])).stdout).toBe((await runInMemory(['build', '--help'])).stdout);
  });

  it('names every option of every command, and no command that is not there yet', async () => {
    for (const { name, options } of COMMANDS) {
      const { stdout } = await runInMemory([name, '--help']);
      for (const { flag } of options) expect(stdout).toContain(flag);
    }
    const { stdout } = await runInMemory(['--help']);
    expect(stdout).not.toMatch(/prove FILE|--fault/);
  });

  it('gives the version of the package', async () => {
    const { readFile } = await import('node:fs/promises');
    const { version } = JSON.parse(await readFile('package.json', 'utf8'));
    expect((await runInMemory(['--version'])).stdout).toBe(`${version}\n`);
  });
});
