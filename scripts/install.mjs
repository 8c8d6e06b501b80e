// Install the packages of the lock file when they are missing or the lock file has changed; otherwise do nothing.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fingerprint, inRoot, isMain, run, secondsSince } from './tools.mjs';

const STAMP = inRoot('node_modules', '.mimic-install');

/** What an install depends on: the lock file, and what native packages are chosen by. */
const wanted = () => `${fingerprint(['package-lock.json'])} ${process.platform} ${process.arch}\n`;

/** Is all that the lock file asks for already there, put there by npm itself? */
function alreadyThere() {
  const record = inRoot('node_modules', '.package-lock.json');
  if (!existsSync(record)) return false;
  const installed = JSON.parse(readFileSync(record, 'utf8')).packages ?? {};
  const asked = JSON.parse(readFileSync(inRoot('package-lock.json'), 'utf8')).packages ?? {};
  return Object.entries(asked).every(
    ([path, entry]) =>
      path === '' ||
      installed[path]?.version === entry.version ||
      // Packages for other machines are left out by npm.
      (entry.optional === true && installed[path] === undefined),
  );
}

/** Make node_modules what the lock file says. */
export async function install() {
  const stamp = wanted();
  if (existsSync(STAMP) && readFileSync(STAMP, 'utf8') === stamp) return;
  if (!existsSync(STAMP) && alreadyThere()) {
    writeFileSync(STAMP, stamp);
    return;
  }
  const start = performance.now();
  console.log('install: npm ci');
  const npm = process.env.npm_execpath;
  const { code } =
    npm === undefined
      ? await run(process.platform === 'win32' ? 'npm.cmd' : 'npm', ['ci'])
      : await run(process.execPath, [npm, 'ci']);
  if (code !== 0) throw new Error('The packages could not be installed: see what npm says above.');
  writeFileSync(STAMP, stamp);
  console.log(`install: ${secondsSince(start)}`);
}

if (isMain(import.meta.url)) {
  await install().catch((error) => {
    console.error(error.message);
    process.exitCode = 1;
  });
}
