/** What a supply must give, and the fuse that guards it. */
import type { LampGroup } from '../lamps/index.ts';
import type { Supply } from '../panel/index.ts';
import type { Ampere } from '../units/index.ts';
import { FUSE_MARGIN, FUSES } from './tolerances.ts';
import type { WiredDrive, WiredSupply } from './types.ts';

/** Switching on is the worst: every drive that is not home moves at once, and lamps are lit. */
export function worstDraw(
  supply: Supply,
  drives: readonly WiredDrive[],
  groups: readonly LampGroup[],
): { readonly worst: Ampere; readonly steady: Ampere } {
  let worst = 0;
  let steady = 0;
  for (const drive of drives) {
    const stalled = drive.ohms === null ? 0 : supply.volts / drive.ohms;
    worst += Math.max(stalled, drive.part.runAmps ?? 0);
    steady += stalled;
  }
  for (const group of groups) {
    // The last figures of each sum are the amps of one lamp, one way and the other; the brighter way counts.
    const lit = group.sum.filter((step) => step.unit === 'A').map((step) => step.value);
    const strings = group.arrange === 'series' ? 1 : Math.max(group.normal.length, group.reverse.length);
    const most = Math.max(0, ...lit) * strings;
    worst += most;
    steady += most;
  }
  return { worst, steady };
}

/** The fuse in the file, the smallest standard one with a margin above the worst draw, or none where the file says none. */
export function fuseOf(supply: Supply, worst: Ampere): WiredSupply['fuse'] {
  if (supply.fuse === null) return null;
  const id = `FU-${supply.id}`;
  if (supply.fuse !== 'computed') return { id, amps: supply.fuse.amps, act: supply.fuse.act, given: true };
  const amps = FUSES.find((rating) => rating >= worst * FUSE_MARGIN) ?? FUSES[FUSES.length - 1] ?? worst;
  return { id, amps, act: 'quick', given: false };
}
