import { constants } from 'node:fs';
import { open } from 'node:fs/promises';
import { MOST_BYTES } from './io.ts';
import { Refusal } from './refusal.ts';
import { reasonOf } from './write-whole.ts';

const MEGABYTE = 1_000_000;

/**
 * The text of an ordinary file, without a byte order mark. Refuses what is no file, is larger than `MOST_BYTES` (before
 * reading it) or is no UTF-8.
 */
export async function readText(path: string): Promise<string> {
  let bytes: Uint8Array;
  try {
    // Without waiting: a pipe without a writer would hold the command for ever.
    const file = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    try {
      const stat = await file.stat();
      if (stat.isDirectory()) throw new Refusal(`${path} is a folder: name the panel file in it.`);
      if (!stat.isFile()) throw new Refusal(`${path} is not an ordinary file.`);
      if (stat.size > MOST_BYTES) {
        const size = (stat.size / MEGABYTE).toFixed(1);
        throw new Refusal(
          `${path} is no panel file: it has ${size} MB, and a panel has at most ${MOST_BYTES / MEGABYTE} MB.`,
        );
      }
      bytes = await file.readFile();
    } finally {
      await file.close();
    }
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw new Refusal(`${path} cannot be read: ${reasonOf(error)}.`);
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Refusal(`${path} is no panel file: it is not UTF-8 text.`);
  }
}
