import { type Io, run, thisMachine } from '../../src/cli/index.ts';

/** What a command did, all in memory: nothing is written and nothing is shown. */
export interface Ran {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
  readonly written: ReadonlyMap<string, Uint8Array>;
  readonly shown: readonly string[];
}

export const BRAMBLE = 'examples/bramble-siding.mimic.json';
export const QUILLHAVEN = 'examples/quillhaven-harbour.mimic.json';

/** Run a command line on this machine's files, but keep all that it would write or print. `files` stand in for the disk. */
export async function runInMemory(
  args: readonly string[],
  files: Readonly<Record<string, string>> = {},
  also: Partial<Io> = {},
): Promise<Ran> {
  let stdout = '';
  let stderr = '';
  const written = new Map<string, Uint8Array>();
  const shown: string[] = [];
  const machine = thisMachine({
    stdout: (text) => {
      stdout += text;
    },
    stderr: (text) => {
      stderr += text;
    },
    stop: new AbortController().signal,
  });
  const status = await run(args, {
    ...machine,
    readText: async (path) => (Object.hasOwn(files, path) ? (files[path] ?? '') : machine.readText(path)),
    writeNew: async (path, text) => {
      written.set(path, new TextEncoder().encode(text));
    },
    writeFiles: async (folder, list) => {
      for (const { path, bytes } of list) written.set(`${folder}/${path}`, bytes);
    },
    showInBrowser: (url) => {
      shown.push(url);
    },
    ...also,
  });
  return { status, stdout, stderr, written, shown };
}
