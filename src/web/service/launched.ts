/** How the installed application was started: from a shortcut to a stage, or with files. */

interface LaunchQueue {
  setConsumer(take: (params: { readonly files: readonly { getFile(): Promise<File> }[] }) => void): void;
}

/** Hear of files that the application is opened with; the first of them is taken. Does nothing where the browser has no such queue. */
export function hearLaunched(take: (file: File) => void): void {
  const { launchQueue } = window as { readonly launchQueue?: LaunchQueue };
  launchQueue?.setConsumer(({ files }) => {
    files[0]
      ?.getFile()
      .then(take)
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
