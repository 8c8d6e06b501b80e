// What the scripts share: where things lie, running a program, and a fingerprint of files.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { delimiter, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder of the project. */
export const root = fileURLToPath(new URL('..', import.meta.url));

/** A path in the project. */
export const inRoot = (...parts) => join(root, ...parts);

/** Is this file the one that node was asked to run? */
export const isMain = (url) => process.argv[1] !== undefined && resolve(process.argv[1]) === fileURLToPath(url);

/** The whole path of a program on the search path, or null. */
export function findProgram(name) {
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    if (folder === '') continue;
    for (const ending of process.platform === 'win32' ? ['.exe', '.cmd', ''] : ['']) {
      const path = join(folder, name + ending);
      if (existsSync(path) && statSync(path).isFile()) return path;
    }
  }
  return null;
}

/**
 * Run a program to its end. Its output passes through, or is kept when `quiet`.
 * After `limitSeconds` it and its children are ended and `timedOut` is true.
 */
export function run(program, args, { quiet = false, limitSeconds = 0, env = {} } = {}) {
  return new Promise((done) => {
    const ownGroup = process.platform !== 'win32' && limitSeconds > 0;
    const child = spawn(program, args, {
      cwd: root,
      env: { ...process.env, ...env },
      stdio: ['ignore', quiet ? 'pipe' : 'inherit', quiet ? 'pipe' : 'inherit'],
      detached: ownGroup,
    });
    let output = '';
    let timedOut = false;
    child.stdout?.on('data', (chunk) => {
      output += chunk;
    });
    child.stderr?.on('data', (chunk) => {
      output += chunk;
    });
    const end = () => {
      try {
        if (ownGroup && child.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
        else child.kill('SIGKILL');
      } catch {
        // It ended by itself meanwhile.
      }
    };
    // A child with a group of its own does not hear Ctrl+C: pass it on.
    const interrupted = () => {
      end();
      process.exit(130);
    };
    if (ownGroup) process.once('SIGINT', interrupted);
    const timer =
      limitSeconds > 0
        ? setTimeout(() => {
            timedOut = true;
            end();
          }, limitSeconds * 1000)
        : null;
    const finish = (code) => {
      if (timer !== null) clearTimeout(timer);
      process.removeListener('SIGINT', interrupted);
      done({ code, output, timedOut });
    };
    child.on('error', (error) => {
      output += `${error.message}\n`;
      finish(127);
    });
    child.on('close', (code) => finish(code ?? 1));
  });
}

/** Every file in a folder and below, as paths in the project, sorted. */
export function filesIn(folder) {
  const whole = inRoot(folder);
  if (!existsSync(whole)) return [];
  if (statSync(whole).isFile()) return [folder];
  return readdirSync(whole, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(root, join(entry.parentPath ?? entry.path, entry.name)).replaceAll('\\', '/'))
    .sort();
}

/** A fingerprint of files by name and content. */
export function fingerprint(files) {
  const hash = createHash('sha256');
  for (const file of files) {
    hash.update(`${file}\0`);
    hash.update(readFileSync(inRoot(file)));
    hash.update('\0');
  }
  return hash.digest('hex');
}

/** Seconds since a moment of `performance.now()`, in words. */
export const secondsSince = (start) => `${((performance.now() - start) / 1000).toFixed(1)} s`;
