import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** What a run of the reference solver gave: amps of every voltage source, volts of every node, names in lower case. */
export interface SpiceRun {
  readonly amps: ReadonlyMap<string, number>;
  readonly volts: ReadonlyMap<string, number>;
}

/**
 * Runs the text as it stands through `ngspice -b` and reads the operating point from the raw file, which has all digits
 * (the printed table has six). Throws with what ngspice said where it fails.
 */
export function runSpiceFull(text: string): SpiceRun {
  return inFolder(text, (folder) => {
    const said = spice(folder, ['-b', '-r', 'out.raw', 'in.cir']);
    const raw = readFileSync(join(folder, 'out.raw'), 'latin1');
    return readRaw(raw, said);
  });
}

/** Amps of every voltage source, by its name in lower case: `v_h1`. */
export function runSpice(text: string): ReadonlyMap<string, number> {
  return runSpiceFull(text).amps;
}

/** What a run through time gave: its instants, and as long a row for every voltage source's amps `i(v1)` and node's volts `v(out)`. */
export interface SpiceTran {
  readonly seconds: readonly number[];
  readonly rows: ReadonlyMap<string, readonly number[]>;
}

/** Runs a text that has one `.tran` through `ngspice -b` and reads every instant from the raw file. */
export function runSpiceTran(text: string): SpiceTran {
  return inFolder(text, (folder) => {
    const said = spice(folder, ['-b', '-r', 'out.raw', 'in.cir']);
    const [head = '', tail] = readFileSync(join(folder, 'out.raw'), 'latin1').split(/^Values:\n/m);
    if (tail === undefined) throw new Error(`no values from ngspice:\n${said}`);
    const names = [...head.matchAll(/^\t\d+\t(\S+)\t(\S+)/gm)].map((m) => m[1] ?? '');
    const numbers = tail.trim().split(/\s+/).map(Number);
    // Each instant is its number and then one value of each variable, time first.
    const width = names.length + 1;
    const rows = new Map<string, number[]>(names.map((name) => [name, []]));
    for (let at = 0; at + width <= numbers.length; at += width) {
      names.forEach((name, k) => rows.get(name)?.push(numbers[at + 1 + k] ?? Number.NaN));
    }
    const seconds = rows.get('time') ?? [];
    if (seconds.length < 2 || numbers.some((v) => !Number.isFinite(v))) {
      throw new Error(`ngspice gave ${seconds.length} instants:\n${said}`);
    }
    return { seconds, rows };
  });
}

/** The amps in the table that a plain `ngspice -b FILE` prints, as a builder would read them: six digits. */
export function runSpicePrinted(text: string): ReadonlyMap<string, number> {
  return inFolder(text, (folder) => {
    const said = spice(folder, ['-b', 'in.cir']);
    return new Map([...said.matchAll(/^\s*(\S+)#branch\s+(\S+)\s*$/gm)].map((m) => [m[1] ?? '', Number(m[2])]));
  });
}

function inFolder<T>(text: string, use: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'circuit-'));
  try {
    writeFileSync(join(folder, 'in.cir'), text);
    return use(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function spice(folder: string, args: readonly string[]): string {
  const run = spawnSync('ngspice', args, {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, SPICE_ASCIIRAWFILE: '1' },
  });
  if (run.error !== undefined) throw run.error;
  const said = `${run.stdout}\n${run.stderr}`;
  if (run.status !== 0) throw new Error(`ngspice ended with ${run.status}:\n${said}`);
  return said;
}

/** An ASCII raw file of one point: a numbered list of variables, then one value a line in the same order. */
function readRaw(raw: string, said: string): SpiceRun {
  const [head = '', tail] = raw.split(/^Values:\n/m);
  if (tail === undefined) throw new Error(`no values from ngspice:\n${said}`);
  const variables = [...head.matchAll(/^\t\d+\t(\S+)\t(\S+)/gm)].map((m) => m[1] ?? '');
  const values = tail.trim().split(/\s+/).slice(1).map(Number);
  if (variables.length !== values.length || values.some((v) => !Number.isFinite(v))) {
    throw new Error(`ngspice gave ${values.length} values for ${variables.length} variables:\n${said}`);
  }
  const amps = new Map<string, number>();
  const volts = new Map<string, number>();
  variables.forEach((name, k) => {
    const inside = /^([iv])\((.+)\)$/.exec(name);
    if (inside?.[2] !== undefined) (inside[1] === 'i' ? amps : volts).set(inside[2], values[k] ?? 0);
  });
  return { amps, volts };
}
