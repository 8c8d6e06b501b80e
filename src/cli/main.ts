/** The entry of the command line: the process on one side, `run` on the other. */
import process from 'node:process';
import { thisMachine } from './machine.ts';
import { run } from './run.ts';

/** A fault of the program itself, by the habit of sysexits. */
const FAULT = 70;

// A reader that has seen enough closes the pipe: that is no fault.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit();
    throw error;
  });
}

const stop = new AbortController();
for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.once(signal, () => stop.abort());
}

const io = thisMachine({
  stdout: (text) => void process.stdout.write(text),
  stderr: (text) => void process.stderr.write(text),
  stop: stop.signal,
});

try {
  process.exitCode = await run(process.argv.slice(2), io);
} catch (error) {
  process.stderr.write(
    `This is a fault in Mimicwright, not in your panel. ${error instanceof Error ? error.stack : String(error)}\n`,
  );
  process.exitCode = FAULT;
}
