/** When a lamp is as good as dark. */
import type { Ampere } from '../units/index.ts';
import { DARK_SHARE } from './tolerances.ts';
import type { LampPart } from './types.ts';

/** The most current at which a lamp is dark, A: what the part says, else a twentieth of that from which it is seen (rule 6 of the truth of lamps). */
export function darkBelow({ dark, seen }: Pick<LampPart, 'dark' | 'seen'>): Ampere {
  return dark ?? DARK_SHARE * seen;
}
