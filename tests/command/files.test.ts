import { link, mkdir, mkdtemp, readdir, readFile, rename, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type FileState, followFile } from '../../src/cli/follow-file.ts';
import { MOST_BYTES } from '../../src/cli/io.ts';
import { readText } from '../../src/cli/read-text.ts';
import { Refusal } from '../../src/cli/refusal.ts';
import { writeFiles, writeNew } from '../../src/cli/write-whole.ts';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'mimicwright-files-'));
});
afterEach(async () => {
  await rm(folder, { recursive: true, force: true });
});

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const textIn = (name: string): Promise<string> => readFile(join(folder, name), 'utf8');

describe('reading', () => {
  it('gives the text without a byte order mark', async () => {
    await writeFile(join(folder, 'a'), '\uFEFFtext é');
    expect(await readText(join(folder, 'a'))).toBe('text é');
  });

  it('refuses what is missing, a folder, no UTF-8, and what is too large', async () => {
    await writeFile(join(folder, 'latin'), Buffer.from([0x7b, 0xe9, 0x7d]));
    await writeFile(join(folder, 'large'), Buffer.alloc(MOST_BYTES + 1, 0x20));
    await expect(readText(join(folder, 'missing'))).rejects.toThrow(/no such file/);
    await expect(readText(folder)).rejects.toThrow(/is a folder/);
    await expect(readText(join(folder, 'latin'))).rejects.toThrow(/UTF-8/);
    await expect(readText(join(folder, 'large'))).rejects.toThrow(/at most 20 MB/);
    await expect(readText('/dev/null')).rejects.toThrow(/not an ordinary file/);
    await expect(readText('a\0b')).rejects.toThrow(Refusal);
  });
});

describe('writing a new file', () => {
  it('makes the folders above it and leaves nothing else behind', async () => {
    await writeNew(join(folder, 'a', 'b', 'c.json'), 'text');
    expect(await textIn('a/b/c.json')).toBe('text');
    expect(await readdir(join(folder, 'a', 'b'))).toEqual(['c.json']);
  });

  it('refuses where a file, a folder or a dangling link stands', async () => {
    await writeFile(join(folder, 'file'), 'old');
    await mkdir(join(folder, 'folder'));
    await symlink(join(folder, 'nowhere'), join(folder, 'dangling'));
    for (const name of ['file', 'folder', 'dangling'])
      await expect(writeNew(join(folder, name), 'new')).rejects.toThrow(/is there already/);
    expect(await textIn('file')).toBe('old');
    await expect(writeNew(join(folder, 'file', 'below.json'), 'new')).rejects.toThrow(Refusal);
    expect((await readdir(folder)).sort()).toEqual(['dangling', 'file', 'folder']);
  });
});

describe('writing files into a folder', () => {
  it('makes the folder, replaces files of its names and leaves others', async () => {
    const out = join(folder, 'deep', 'out');
    await writeFiles(out, [{ path: 'a.csv', bytes: bytes('1') }]);
    await writeFile(join(out, 'mine.txt'), 'mine');
    await writeFiles(out, [
      { path: 'a.csv', bytes: bytes('2') },
      { path: 'b.csv', bytes: bytes('3') },
    ]);
    expect((await readdir(out)).sort()).toEqual(['a.csv', 'b.csv', 'mine.txt']);
    expect([await textIn('deep/out/a.csv'), await textIn('deep/out/mine.txt')]).toEqual(['2', 'mine']);
  });

  it('puts a new file in the place of the old one, so that who has the old one open keeps it whole', async () => {
    await writeFile(join(folder, 'a.csv'), 'old');
    await link(join(folder, 'a.csv'), join(folder, 'held'));
    await writeFiles(folder, [{ path: 'a.csv', bytes: bytes('new') }]);
    expect([await textIn('a.csv'), await textIn('held')]).toEqual(['new', 'old']);
  });

  it('changes nothing where one of them cannot be written', async () => {
    await writeFile(join(folder, 'a.csv'), 'old');
    await mkdir(join(folder, 'b.csv'));
    const files = [
      { path: 'a.csv', bytes: bytes('new') },
      { path: 'b.csv', bytes: bytes('new') },
    ];
    await expect(writeFiles(folder, files)).rejects.toThrow(/b\.csv cannot be written: it is a folder/);
    expect(await textIn('a.csv')).toBe('old');
    expect((await readdir(folder)).sort()).toEqual(['a.csv', 'b.csv']);
  });

  it('refuses a folder that is a file, and removes the folders that it made for nothing', async () => {
    await writeFile(join(folder, 'file'), '');
    await expect(writeFiles(join(folder, 'file'), [])).rejects.toThrow(Refusal);
    await expect(writeFiles(join(folder, 'x', 'y'), [{ path: '../z', bytes: bytes('') }])).rejects.toThrow(RangeError);
    expect(await readdir(folder)).toEqual(['file']);
  });
});

describe('following a file', () => {
  it('tells of a change in place, of a replacement, of its absence and of its return, and not of the same content again', async () => {
    const path = join(folder, 'p.mimic.json');
    await writeFile(path, 'one');
    const followed = await followFile(path);
    const seen: string[] = [];
    let tell: () => void = () => {};
    followed.onChange((state: FileState) => {
      seen.push(state.kind === 'text' ? state.text : 'gone');
      tell();
    });
    const toldOf = async (act: () => Promise<unknown>): Promise<void> => {
      const told = new Promise<void>((done) => {
        tell = done;
      });
      await act();
      await told;
    };
    try {
      await toldOf(() => writeFile(path, 'two'));
      await writeFile(path, 'two');
      await writeFile(join(folder, 'other'), 'x');
      await toldOf(async () => {
        await writeFile(join(folder, 'new'), 'three');
        await rename(join(folder, 'new'), path);
      });
      await toldOf(() => rm(path));
      await toldOf(() => writeFile(path, 'four'));
      expect(seen).toEqual(['two', 'three', 'gone', 'four']);
      expect(followed.now()).toMatchObject({ kind: 'text', text: 'four' });
    } finally {
      followed.close();
    }
  });

  it('refuses a file that is not there', async () => {
    await expect(followFile(join(folder, 'missing'))).rejects.toThrow(/no such file/);
  });
});
