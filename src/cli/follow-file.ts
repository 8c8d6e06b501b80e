import { createHash } from 'node:crypto';
import { type FSWatcher, watch } from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import { readText } from './read-text.ts';
import { Refusal } from './refusal.ts';

/** What a followed file holds now. */
export type FileState =
  | { readonly kind: 'text'; readonly text: string; readonly hash: string }
  | { readonly kind: 'gone'; readonly reason: string; readonly hash: 'gone' };

export interface Followed {
  readonly now: () => FileState;
  /** Call on every change from now on; the answer ends that. */
  readonly onChange: (call: (state: FileState) => void) => () => void;
  readonly close: () => void;
}

/** Editors write in several steps, some through a new file: look when it has been quiet for so long, milliseconds. */
const QUIET = 80;
/** Network disks and links may send no word of a change: look this often all the same, milliseconds. */
const LOOK_AGAIN = 2000;

async function look(path: string): Promise<FileState> {
  try {
    const text = await readText(path);
    return { kind: 'text', text, hash: createHash('sha256').update(text).digest('hex').slice(0, 16) };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { kind: 'gone', reason: error.message, hash: 'gone' };
  }
}

/**
 * Follow a file by its content, through editors that replace it and through its absence.
 * Refuses a file that cannot be read to begin with.
 */
export async function followFile(path: string): Promise<Followed> {
  const whole = resolve(path);
  await readText(path);
  let state = await look(whole);
  let looking = false;
  let again = false;
  let closed = false;
  const callers = new Set<(state: FileState) => void>();

  const check = async (): Promise<void> => {
    if (looking) {
      again = true;
      return;
    }
    looking = true;
    do {
      again = false;
      const next = await look(whole);
      if (!closed && next.hash !== state.hash) {
        state = next;
        for (const call of callers) call(state);
      }
    } while (again && !closed);
    looking = false;
  };

  let quiet: NodeJS.Timeout | undefined;
  let watcher: FSWatcher | null = null;
  try {
    watcher = watch(dirname(whole), (_event, name) => {
      if (name !== null && name !== basename(whole)) return;
      clearTimeout(quiet);
      quiet = setTimeout(() => void check(), QUIET);
    });
    // The folder itself may go: the slow look goes on.
    watcher.on('error', () => watcher?.close());
  } catch {
    watcher = null;
  }
  const slow = setInterval(() => void check(), LOOK_AGAIN);

  return {
    now: () => state,
    onChange: (call) => {
      callers.add(call);
      return () => callers.delete(call);
    },
    close: () => {
      closed = true;
      clearTimeout(quiet);
      clearInterval(slow);
      watcher?.close();
    },
  };
}
