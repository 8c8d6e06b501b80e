import type { LampPart } from '../parts/index.ts';
import type { Ampere } from '../units/index.ts';
import { DESTROYED_ABOVE, GOOD_FROM } from './tolerances.ts';
import type { Look } from './types.ts';

/** What a lamp looks like at so many amps: the file format's rule, by the part's `seen` and `max`. */
export function lookOf(part: LampPart, amps: Ampere): Look {
  if (amps < part.seen) return 'unlit';
  if (amps > part.max * DESTROYED_ABOVE) return 'destroyed';
  if (amps > part.max) return 'bright';
  return amps < Math.min(part.seen * GOOD_FROM, part.max) ? 'faint' : 'good';
}
