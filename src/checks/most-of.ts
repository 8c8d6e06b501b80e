import type { CheckInput } from './types.ts';

/** Extremes of one lamp over the readings: A, and V. */
export interface Most {
  readonly amps: number;
  readonly low: number;
  readonly high: number;
  readonly reverse: number;
}

/** The most that each lamp carries, and stands in reverse, in any position of its lever. */
export function mostOf(readings: CheckInput['readings']): ReadonlyMap<string, Most> {
  const most = new Map<string, Most>();
  for (const reading of readings) {
    for (const lamp of reading.lamps) {
      const known = most.get(lamp.id);
      const lit = known === undefined || lamp.amps > known.amps;
      most.set(lamp.id, {
        amps: lit ? lamp.amps : known.amps,
        low: lit ? lamp.low : known.low,
        high: Math.max(known?.high ?? 0, lamp.high),
        reverse: Math.max(known?.reverse ?? 0, lamp.reverseVolts),
      });
    }
  }
  return most;
}
