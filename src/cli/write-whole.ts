/**
 * Files written whole or not at all: the bytes go to a temporary neighbour, reach the disk, and only then take the name.
 * Several files of one folder are all written before the first takes its name, so that a full disk changes nothing.
 */
import { randomBytes } from 'node:crypto';
import { link, lstat, mkdir, open, rename, rm, rmdir } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import type { FileToWrite } from './io.ts';
import { Refusal } from './refusal.ts';

/** A hidden name beside the real one that no one else has. */
const temporary = (path: string): string =>
  join(dirname(path), `.${basename(path)}.${randomBytes(6).toString('hex')}.part`);

const isThere = async (path: string): Promise<boolean> =>
  lstat(path).then(
    () => true,
    () => false,
  );

/** Write bytes to a file that does not exist yet, through to the disk. */
async function writeThrough(path: string, bytes: Uint8Array): Promise<void> {
  const file = await open(path, 'wx');
  try {
    await file.writeFile(bytes);
    await file.sync();
  } finally {
    await file.close();
  }
}

/** Why the machine said no, in words. */
export function reasonOf(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const known: Readonly<Record<string, string>> = {
    ENOENT: 'there is no such file or folder',
    EACCES: 'there is no permission',
    EPERM: 'there is no permission',
    EROFS: 'the disk is read-only',
    ENOSPC: 'the disk is full',
    EEXIST: 'something of that name is there already',
    ENOTDIR: 'a part of the path is a file and no folder',
    EISDIR: 'it is a folder',
    ENAMETOOLONG: 'the name is too long',
    ELOOP: 'its links go round in a circle',
    EADDRINUSE: 'it is in use',
  };
  return known[code] ?? (code !== '' ? code : error instanceof Error ? error.message : String(error));
}

/** Write one new file and the folders above it; refuse where something stands already. */
export async function writeNew(path: string, text: string): Promise<void> {
  const whole = resolve(path);
  if (await isThere(whole)) throw new Refusal(`${path} is there already: name another file.`);
  const part = temporary(whole);
  let made: string | undefined;
  try {
    made = await mkdir(dirname(whole), { recursive: true });
    await writeThrough(part, new TextEncoder().encode(text));
    // A link never replaces a file that came meanwhile; some disks have no links, and there a rename has to do.
    await link(part, whole).catch(async (error: unknown) => {
      if (await isThere(whole)) throw error;
      await rename(part, whole);
    });
    await rm(part, { force: true });
  } catch (error) {
    await rm(part, { force: true }).catch(() => {});
    await removeMade(dirname(whole), made);
    throw new Refusal(`${path} cannot be written: ${reasonOf(error)}.`);
  }
}

/** Folders made for nothing go again, from the lowest up to the first that was made; one that holds anything stays. */
async function removeMade(lowest: string, first: string | undefined): Promise<void> {
  if (first === undefined) return;
  for (let path = lowest; path.startsWith(first); path = dirname(path)) await rmdir(path).catch(() => {});
}

/** Write files into a folder that may be there already; files of the same names are replaced one by one. */
export async function writeFiles(folder: string, files: readonly FileToWrite[]): Promise<void> {
  const whole = resolve(folder);
  let made: string | undefined;
  const parts: { readonly part: string; readonly path: string }[] = [];
  try {
    made = await mkdir(whole, { recursive: true });
    for (const file of files) {
      if (file.path !== basename(file.path) || file.path.startsWith('.'))
        throw new RangeError(`a file named ${file.path}`);
      const path = join(whole, file.path);
      if ((await lstat(path).catch(() => null))?.isDirectory() === true) {
        throw new Refusal(`${join(folder, file.path)} cannot be written: it is a folder.`);
      }
      const part = temporary(path);
      parts.push({ part, path });
      await writeThrough(part, file.bytes);
    }
    for (const { part, path } of parts) await rename(part, path);
  } catch (error) {
    for (const { part } of parts) await rm(part, { force: true }).catch(() => {});
    await removeMade(whole, made);
    if (error instanceof Refusal || error instanceof RangeError) throw error;
    throw new Refusal(`${folder} cannot be written: ${reasonOf(error)}.`);
  }
}
