/** How long a run through time must be for what it shows to have settled. */
import type { Second } from '../units/index.ts';
import { HALF_WAVE_CYCLES, SETTLE_SECONDS, STEPS_A_CYCLE, TIME_STEPS } from './tolerances.ts';
import type { Wiring } from './types.ts';

/** Step and end of the run for some circuits; null where nothing in them changes with time. */
export function timeFor(
  wiring: Wiring,
  circuits: ReadonlySet<string> | null,
): { readonly step: Second; readonly stop: Second } | null {
  const near = wiring.circuits.filter(({ id }) => circuits === null || circuits.has(id));
  const supplies = wiring.supplies.filter(({ id }) => near.some((circuit) => circuit.supplies.includes(id)));
  const swings = supplies.filter(({ kind }) => kind === 'ac').map(({ frequency }) => frequency);
  if (swings.length > 0) {
    const cycle = 1 / Math.min(...swings);
    return { step: cycle / STEPS_A_CYCLE, stop: HALF_WAVE_CYCLES * cycle };
  }
  const pulsed = near.some(({ feed }) => feed === 'pulse' || feed === 'charge');
  return pulsed ? { step: SETTLE_SECONDS / TIME_STEPS, stop: SETTLE_SECONDS } : null;
}
