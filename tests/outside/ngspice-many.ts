import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** What a text gave: of a point at rest one instant at 0 s, of a run through time all of them, and a row for each `i(v1)` and `v(out)`. */
export interface SpiceRows {
  readonly seconds: readonly number[];
  readonly rows: ReadonlyMap<string, Float64Array>;
}

/** Texts that one process runs: so many that starting it no longer counts, so few that what it keeps stays small. */
const TEXTS_A_PROCESS = 400;

/** How long one process may take over them, ms. */
const TIME_MS = 100_000;

/**
 * Runs many texts, each as it stands, one after the other in few processes. Reads all digits from raw files. Throws with what ngspice
 * said where one of them fails.
 */
export function runSpiceMany(texts: readonly string[]): readonly SpiceRows[] {
  const found: SpiceRows[] = [];
  for (let at = 0; at < texts.length; at += TEXTS_A_PROCESS)
    found.push(...runSome(texts.slice(at, at + TEXTS_A_PROCESS)));
  return found;
}

function runSome(texts: readonly string[]): readonly SpiceRows[] {
  const { raws, said } = runOnce(texts, TIME_MS);
  return texts.map((text, k) => {
    const raw = raws[k] ?? null;
    if (raw === null) throw new Error(`ngspice gave nothing for\n${text}\n${said.slice(-3000)}`);
    return readBinary(raw, text);
  });
}

/**
 * Texts that one process runs, one after the other, for so many ms at most: the raw file of each, null where it wrote none or was not
 * reached in time, and what it said. Throws where it could not be started.
 */
export function runOnce(
  texts: readonly string[],
  ms: number,
): { readonly raws: readonly (Buffer | null)[]; readonly said: string } {
  const folder = mkdtempSync(join(tmpdir(), 'circuits-'));
  try {
    const steps = texts.map((text, k) => {
      writeFileSync(join(folder, `c${k}.cir`), text);
      return `source c${k}.cir\nrun\nwrite c${k}.raw\ndestroy all\nremcirc`;
    });
    writeFileSync(
      join(folder, 'all.cir'),
      `* many\n.control\nset filetype=binary\n${steps.join('\n')}\nquit 0\n.endc\n.end\n`,
    );
    const run = spawnSync('ngspice', ['-b', 'all.cir'], {
      timeout: ms,
      cwd: folder,
      encoding: 'utf8',
      maxBuffer: 2 ** 28,
    });
    if (run.error !== undefined && !run.error.message.includes('ETIMEDOUT')) throw run.error;
    const raws = texts.map((_, k) => {
      const file = join(folder, `c${k}.raw`);
      return existsSync(file) ? readFileSync(file) : null;
    });
    return { raws, said: `${run.stdout}\n${run.stderr}\n${run.error?.message ?? ''}` };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** How long a text runs through time; null where it asks for a point at rest. */
export function runOf(text: string): number | null {
  const [, stop] = /^\.tran \S+ (\S+)/m.exec(text) ?? [];
  return stop === undefined ? null : Number(stop);
}

/** Share of a run by which its last instant may miss its end. */
const END_SHARE = 1e-6;

/** A binary raw file: a head in words, then for each instant one double for each variable. Throws where a run ended before its time. */
export function readBinary(raw: Buffer, text: string): SpiceRows {
  const mark = 'Binary:\n';
  const start = raw.indexOf(mark) + mark.length;
  const head = raw.toString('latin1', 0, start);
  const names = [...head.matchAll(/^\t\d+\t(\S+)\t(\S+)/gm)].map((m) => m[1] ?? '');
  const count = Number(/^No\. Points: (\d+)/m.exec(head)?.[1]);
  if (!(count >= 1) || names.length === 0 || raw.length < start + 8 * count * names.length)
    throw new Error(`ngspice gave ${count} instants of ${names.length} variables for\n${text}`);
  const rows = new Map(names.map((name) => [name, new Float64Array(count)]));
  names.forEach((name, k) => {
    const row = rows.get(name);
    for (let i = 0; row !== undefined && i < count; i++) {
      const value = raw.readDoubleLE(start + 8 * (i * names.length + k));
      if (!Number.isFinite(value)) throw new Error(`ngspice gave ${value} for ${name} in\n${text}`);
      row[i] = value;
    }
  });
  const seconds = [...(rows.get('time') ?? [0])];
  const [stop, last] = [runOf(text), seconds[seconds.length - 1] ?? 0];
  if (stop !== null && last < stop * (1 - END_SHARE))
    throw new Error(`ngspice gave up at ${last} s of ${stop} s in\n${text}`);
  return { seconds, rows };
}

/** A row at its last instant; 0 where there is no such row. */
export function lastOf({ rows }: SpiceRows, name: string): number {
  const row = rows.get(name.toLowerCase());
  return row?.[row.length - 1] ?? 0;
}

/** The mean of a row over its last so many seconds, straight from instant to instant; 0 where there is no such row. */
export function meanOfLast({ seconds, rows }: SpiceRows, name: string, span: number): number {
  const row = rows.get(name.toLowerCase());
  const end = seconds[seconds.length - 1] ?? 0;
  if (row === undefined) return 0;
  let sum = 0;
  for (let k = seconds.length - 1; k > 0; k--) {
    const [t0 = 0, t1 = 0] = [seconds[k - 1], seconds[k]];
    const [y0 = 0, y1 = 0] = [row[k - 1], row[k]];
    if (t1 <= end - span) break;
    const from = Math.max(t0, end - span);
    const at = t1 > t0 ? y0 + ((y1 - y0) * (from - t0)) / (t1 - t0) : y0;
    sum += ((at + y1) / 2) * (t1 - from);
  }
  return sum / span;
}
