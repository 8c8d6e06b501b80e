/** Panels written by hand and sums done apart from the program, for tests that compare the two. */
import { expect } from 'vitest';
import type { z } from 'zod';
import { answerSchemas } from '../../src/cli/index.ts';
import { type Ran, runInMemory } from './memory.ts';

const FILE = 'hand.mimic.json';

/** The text of a panel file with these keys beside `format` and `version`. */
export function panelText(keys: Readonly<Record<string, unknown>>): string {
  return JSON.stringify({ format: 'mimic-panel', version: 1, ...keys });
}

/** Run a command on a panel; `keys` may also be the text of a file. */
export function runOn(
  keys: Readonly<Record<string, unknown>> | string,
  command: string,
  ...args: readonly string[]
): Promise<Ran> {
  return runInMemory([command, FILE, ...args], { [FILE]: typeof keys === 'string' ? keys : panelText(keys) });
}

/** The JSON answer of a command on a panel, in its published shape. */
export async function answerOn<C extends keyof typeof answerSchemas>(
  keys: Readonly<Record<string, unknown>>,
  command: C,
  ...args: readonly string[]
): Promise<z.infer<(typeof answerSchemas)[C]>> {
  const ran = await runOn(keys, command, ...args, '--json');
  expect([0, 1], ran.stderr).toContain(ran.status);
  return answerSchemas[command].parse(JSON.parse(ran.stdout)) as z.infer<(typeof answerSchemas)[C]>;
}

/** One file of the book, as lines of cells; no cell of these tests holds a comma. */
export async function listOn(
  keys: Readonly<Record<string, unknown>>,
  name: string,
): Promise<readonly (readonly string[])[]> {
  const ran = await runOn(keys, 'build', '--out', 'book', '--only', name);
  expect(ran.status, ran.stderr).toBe(0);
  const bytes = ran.written.get(`book/${name}`);
  return new TextDecoder()
    .decode(bytes)
    .trim()
    .split(/\r?\n/)
    .map((line) => line.split(','));
}

/** Codes of findings, with their ids, as `code ID ID`. */
export async function findingsOn(keys: Readonly<Record<string, unknown>>): Promise<readonly string[]> {
  const { findings } = await answerOn(keys, 'check');
  return findings.map(({ code, where }) => [code, ...where.ids].join(' '));
}

/** A straight main line with one branch to the right hand that leaves at (100, 60); West, East and South are named. */
export const BRANCH = {
  strips: [
    {
      id: 'm',
      path: [
        [0, 60],
        [300, 60],
      ],
    },
    {
      id: 'br',
      path: [
        [100, 60],
        [160, 100],
        [300, 100],
      ],
    },
  ],
  places: [
    { id: 'west', name: 'West', at: [0, 60] },
    { id: 'east', name: 'East', at: [300, 60] },
    { id: 'south', name: 'South', at: [300, 100] },
  ],
} as const;

/** A main line with a passing loop below it. */
export const LOOP = {
  strips: [
    {
      id: 'main',
      path: [
        [0, 60],
        [300, 60],
      ],
    },
    {
      id: 'loop',
      path: [
        [60, 60],
        [90, 85],
        [210, 85],
        [240, 60],
      ],
    },
  ],
} as const;

/** Boltzmann's constant over the elementary charge (SI 2019, exact) at 27 C. */
const THERMAL_VOLTS = (1.380649e-23 * 300.15) / 1.602176634e-19;

/** Volts across an LED at a current, by the law of the file format: n 2, rs 5 ohm, Is from `vf` at `at`. */
export function ledVolts(amps: number, vf: number, at = 0.002): number {
  const n = 2;
  const rs = 5;
  const is = at / Math.expm1((vf - at * rs) / (n * THERMAL_VOLTS));
  return n * THERMAL_VOLTS * Math.log1p(amps / is) + amps * rs;
}

/** Where a rising function is zero between two bounds, by halving. */
export function zeroOf(rising: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  for (let i = 0; i < 200; i++) {
    const middle = (a + b) / 2;
    if (rising(middle) > 0) b = middle;
    else a = middle;
  }
  return (a + b) / 2;
}

/** Amps through a resistor and LEDs one after the other. */
export function stringAmps(volts: number, ohms: number, vfs: readonly number[], at = 0.002): number {
  return zeroOf((amps) => amps * ohms + vfs.reduce((sum, vf) => sum + ledVolts(amps, vf, at), 0) - volts, 0, 1);
}

/** Ohms of the two wires to a drive: 0.017241 x metres / mm2 each way. */
export function loopOhms(millimetres = 3000, gauge = 0.22): number {
  return (2 * 0.017241 * (millimetres / 1000)) / gauge;
}

/** The same within a ten-thousandth, or a tenth of a microamp: ten times closer than the program promises. */
export function expectAbout(read: number | undefined, sum: number): void {
  expect(read).toBeDefined();
  expect(Math.abs((read ?? Number.NaN) - sum)).toBeLessThanOrEqual(Math.max(1e-7, 1e-4 * Math.abs(sum)));
}
