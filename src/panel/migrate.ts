import { VERSION } from './schema.ts';

/** Takes a file one version further; never edited once a version is out. */
export type Migration = (file: Readonly<Record<string, unknown>>) => Record<string, unknown>;

/** By the version that a step starts from. Version 1 is the first, so there is none yet. */
const STEPS: ReadonlyMap<number, Migration> = new Map();

/**
 * A file of an older version as this version writes it, one step at a time; a file of this version as it is.
 * Throws where a step is missing: a fault of the program, since every version from 1 must open.
 */
export function migrate(
  file: object,
  from: number,
  to: number = VERSION,
  steps: ReadonlyMap<number, Migration> = STEPS,
): object {
  let now = file;
  for (let version = from; version < to; version++) {
    const step = steps.get(version);
    if (step === undefined) throw new RangeError(`no step leads from version ${version} to ${version + 1}`);
    now = { ...step({ ...now }), version: version + 1 };
  }
  return now;
}
