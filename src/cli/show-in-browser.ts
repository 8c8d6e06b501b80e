import { spawn } from 'node:child_process';

/** Show an address in the system's browser; does nothing where there is no display or no browser. */
export function showInBrowser(url: string): void {
  const { env, platform } = process;
  if (platform !== 'darwin' && platform !== 'win32' && env.DISPLAY === undefined && env.WAYLAND_DISPLAY === undefined)
    return;
  const [program, args]: [string, string[]] =
    platform === 'darwin'
      ? ['open', [url]]
      : platform === 'win32'
        ? ['cmd', ['/c', 'start', '""', url]]
        : ['xdg-open', [url]];
  const child = spawn(program, args, { stdio: 'ignore', detached: true });
  // Without a browser the printed address has to do.
  child.on('error', () => {});
  child.unref();
}
