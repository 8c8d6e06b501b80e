/** What a supply must give, and the fuse that guards it. */
import type { LampGroup } from '../lamps/index.ts';
import type { Supply } from '../panel/index.ts';
import type { Ampere } from '../units/index.ts';
import { type Draw, sizeFuse, sumDraws } from './size-supply.ts';
import type { WiredDrive, WiredSupply } from './types.ts';

/** Switching on is the worst: every drive that is not home moves at once, and lamps are lit. */
export function worstDraw(
  supply: Supply,
  drives: readonly WiredDrive[],
  groups: readonly LampGroup[],
): { readonly worst: Ampere; readonly steady: Ampere } {
  return sumDraws([
    ...drives.map((drive): Draw => {
      const resting = drive.ohms === null ? 0 : supply.volts / drive.ohms;
      return { id: drive.id, moving: Math.max(resting, drive.part.runAmps ?? 0), resting };
    }),
    ...groups.map((group): Draw => {
      // The last figures of each sum are the amps of one lamp, one way and the other; the brighter way counts.
      const lit = group.sum.filter((step) => step.unit === 'A').map((step) => step.value);
      const strings = group.arrange === 'series' ? 1 : Math.max(group.normal.length, group.reverse.length);
      const most = Math.max(0, ...lit) * strings;
      return { id: group.id, moving: most, resting: most };
    }),
  ]);
}

/** The fuse in the file, the smallest standard one with a margin above the worst draw, or none where the file says none. */
export function fuseOf(supply: Supply, worst: Ampere): WiredSupply['fuse'] {
  if (supply.fuse === null) return null;
  const id = `FU-${supply.id}`;
  if (supply.fuse !== 'computed') return { id, amps: supply.fuse.amps, act: supply.fuse.act, given: true };
  const { amps } = sizeFuse({ worst, wire: null, limit: null });
  return { id, amps, act: 'quick', given: false };
}
