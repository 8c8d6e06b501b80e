import { version } from '../../package.json';
import { HANDLERS } from './commands.ts';
import type { Io } from './io.ts';
import { parse } from './parse.ts';
import { Refusal } from './refusal.ts';

/** The input cannot be used. */
const CANNOT_USE = 2;

/**
 * Run one command line, without the program's own name, and answer its exit status: 0 done, 1 `check` found something danger
 * or wrong, 2 the input cannot be used (one line on standard error). A fault of the program itself throws.
 */
export async function run(args: readonly string[], io: Io): Promise<number> {
  try {
    const parsed = parse(args);
    if (parsed.kind === 'print') io.stdout(parsed.text);
    else if (parsed.kind === 'version') io.stdout(`${version}\n`);
    else return await HANDLERS[parsed.command]({ io, args: parsed.args, options: parsed.options });
    return 0;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    io.stderr(`${error.message}\n`);
    return CANNOT_USE;
  }
}
