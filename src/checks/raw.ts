import type { Spot } from '../units/index.ts';
import type { Code } from './codes.ts';
import type { Mend, Values } from './types.ts';

/** A finding before its words are composed. */
export interface RawFinding {
  readonly code: Code;
  readonly ids: readonly string[];
  readonly at: Spot | null;
  readonly values: Values;
  readonly mends: readonly Mend[];
}

/** A finding with what most of them need; values are numbers in base units and words of the user's. */
export function raw(
  code: Code,
  ids: readonly string[],
  at: Spot | null = null,
  values: Values = {},
  mends: readonly Mend[] = [],
): RawFinding {
  return { code, ids, at, values, mends };
}
