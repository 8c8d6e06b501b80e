import type { FontFiles } from '../book/index.ts';

/** A file to write: a plain name, and its bytes. */
export interface FileToWrite {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** An example that `new` can start from. */
export interface Example {
  /** File name without its ending: "bramble-siding". */
  readonly name: string;
  readonly text: string;
}

/** What `open` asks of the machine. */
export interface ServeRequest {
  /** Panel to follow; null for none. */
  readonly file: string | null;
  /** Port asked for; null: 4180 or the next that is free. */
  readonly port: number | null;
}

/** A server that runs. */
export interface Served {
  readonly url: string;
  /** Stop listening and end every open connection. */
  close(): Promise<void>;
}

/**
 * The machine as the commands see it, so that every command runs in memory as well.
 * What the machine refuses comes as a `Refusal`, already in plain words.
 */
export interface Io {
  readonly stdout: (text: string) => void;
  readonly stderr: (text: string) => void;
  /** The text of an ordinary file of at most `MOST_BYTES`. */
  readonly readText: (path: string) => Promise<string>;
  /** Write one new file whole; refuse where something stands already. */
  readonly writeNew: (path: string, text: string) => Promise<void>;
  /** Write files into a folder, each whole or not at all. */
  readonly writeFiles: (folder: string, files: readonly FileToWrite[]) => Promise<void>;
  /** By name. */
  readonly examples: () => Promise<readonly Example[]>;
  readonly fonts: () => Promise<FontFiles>;
  readonly serve: (request: ServeRequest) => Promise<Served>;
  /** Show an address in the system's browser, where there is a display. */
  readonly showInBrowser: (url: string) => void;
  /** Aborted when the user asks a running command to stop. */
  readonly stop: AbortSignal;
}

/** A panel file is text of some hundred kilobytes: what is larger than the panel layer's own limit is not even read. */
export const MOST_BYTES = 20_000_000;
