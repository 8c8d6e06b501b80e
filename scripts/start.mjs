// npm start -- [--port N] [--no-open]: install and build what is missing, then serve the application with the demo panel open.
import { spawn } from 'node:child_process';
import { build } from './build.mjs';
import { install } from './install.mjs';
import { inRoot, root } from './tools.mjs';

const DEMO = 'examples/quillhaven-harbour.mimic.json';

try {
  await install();
  await build();
} catch (error) {
  console.error(error.message);
  process.exit(1);
}

const child = spawn(process.execPath, [inRoot('dist/cli.js'), 'open', DEMO, ...process.argv.slice(2)], {
  cwd: root,
  stdio: 'inherit',
});
const stop = () => child.kill('SIGTERM');
// Ctrl+C reaches the child by itself; a plain kill of this process has to be handed on.
process.on('SIGINT', () => {});
process.on('SIGTERM', stop);
process.on('SIGHUP', stop);
child.on('exit', (code) => process.exit(code ?? 1));

// npm ends without a word to what it runs when it is killed: its going is seen by the change of parent.
const parent = process.ppid;
if (process.env.npm_lifecycle_event !== undefined) {
  setInterval(() => {
    if (process.ppid !== parent) stop();
  }, 500).unref();
}
