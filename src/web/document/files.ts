/**
 * A panel out as a file: over the file that it was saved to before, where the browser lets a page write files, else as a download. The ways out
 * are given from outside.
 */
import type { Database } from './database.ts';
import type { KeptPanel } from './kept.ts';

/** The part of a file handle that is used. */
export interface FileHandle {
  readonly name: string;
  queryPermission?(options: { readonly mode: 'readwrite' }): Promise<string>;
  requestPermission?(options: { readonly mode: 'readwrite' }): Promise<string>;
  createWritable(): Promise<{ write(text: string): Promise<void>; close(): Promise<void> }>;
}

/** Where the handle of each panel's file is kept. */
export interface Handles {
  get(panel: string): Promise<FileHandle | null>;
  put(panel: string, handle: FileHandle): Promise<void>;
}

export interface WaysOut {
  /** Let the user choose a file to write; rejects with an AbortError where they think better of it. Null where the browser has no such thing. */
  readonly pick: ((suggested: string) => Promise<FileHandle>) | null;
  /** Give the text as a download. */
  readonly download: (name: string, text: string) => void;
}

/** How it went. `left`: the user thought better of it. A download is not seen to arrive: the browser alone knows. */
export type Saved = { readonly how: 'written' | 'downloaded'; readonly file: string } | { readonly how: 'left' };

/** Handles in the database, which can hold them where the browser has them at all. */
export const handlesIn = (database: () => Promise<Database>): Handles => ({
  async get(panel) {
    const record = await (await database()).get('handles', panel);
    return isHandle(record?.handle) ? record.handle : null;
  },
  async put(panel, handle) {
    await (await database()).put('handles', { panel, handle });
  },
});

/** The name of a panel's file. */
export function fileNameOf(title: string): string {
  const plain = title
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  return `${plain === '' ? 'panel' : plain}.mimic.json`;
}

/**
 * Save the panel as it was last accepted: into its file, asking for leave again where the browser wants that; else into one that is picked; else
 * as a download. Call it from a click or a key: browsers ask nothing outside of one. `anew`: pick a file whatever there was before.
 */
export async function saveToFile(
  kept: KeptPanel,
  title: string,
  handles: Handles,
  ways: WaysOut,
  anew = false,
): Promise<Saved> {
  const text = kept.text();
  const { seq } = kept.document.history;
  const finish = async (how: 'written' | 'downloaded', file: string): Promise<Saved> => {
    // The file is there, whatever the database says to it.
    await kept.savedAs(file, seq).catch(() => {});
    return { how, file };
  };
  const before = anew || ways.pick === null ? null : await handles.get(kept.id).catch(() => null);
  if (before !== null && (await mayWrite(before)) && (await writes(before, text)))
    return finish('written', before.name);
  const name = kept.state.file ?? fileNameOf(title);
  if (ways.pick !== null) {
    try {
      const picked = await ways.pick(name);
      if (await writes(picked, text)) {
        await handles.put(kept.id, picked).catch(() => {});
        return finish('written', picked.name);
      }
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return { how: 'left' };
    }
  }
  ways.download(name, text);
  return finish('downloaded', name);
}

async function mayWrite(handle: FileHandle): Promise<boolean> {
  const mode = { mode: 'readwrite' } as const;
  try {
    if ((await handle.queryPermission?.(mode)) === 'granted') return true;
    return (await handle.requestPermission?.(mode)) === 'granted';
  } catch {
    return false;
  }
}

/** False where the file cannot be written: it was moved, or the disk is full. The browser keeps the old one whole then. */
async function writes(handle: FileHandle, text: string): Promise<boolean> {
  try {
    const stream = await handle.createWritable();
    await stream.write(text);
    await stream.close();
    return true;
  } catch {
    return false;
  }
}

function isHandle(value: unknown): value is FileHandle {
  return (
    typeof value === 'object' &&
    value !== null &&
    'createWritable' in value &&
    typeof value.createWritable === 'function'
  );
}
