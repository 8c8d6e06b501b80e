/** How the installed application was started: from a shortcut to a stage, or with files. */
import type { FileHandle } from '../document/index.ts';

/** A file of the user's, which can be read and, if they allow it, written. */
interface Launched extends FileHandle {
  getFile(): Promise<File>;
}

interface LaunchQueue {
  setConsumer(take: (params: { readonly files: readonly Launched[] }) => void): void;
}

/**
 * Hear of files that the application is opened with; the first of them is taken, with what it can be written by. Does nothing where the browser
 * has no such queue.
 */
export function hearLaunched(take: (file: File, handle: FileHandle) => void): void {
  const { launchQueue } = window as { readonly launchQueue?: LaunchQueue };
  launchQueue?.setConsumer(({ files }) => {
    const [first] = files;
    first
      ?.getFile()
      .then((file) => take(file, first))
      // The file has gone since, or may not be read.
      .catch(() => {});
  });
}

let asked = true;

/** Does the address ask to begin in Lay? Only the first question is answered with yes. */
export function beginsInLay(): boolean {
  const begins = asked && new URLSearchParams(location.search).get('stage') === 'lay';
  asked = false;
  return begins;
}
