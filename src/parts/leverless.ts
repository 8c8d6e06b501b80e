/** Drives that no lever works. */
import type { DrivePart } from './types.ts';

/** Does a hand, or a command on the bus, work a drive of this kind, and no lever? */
export function worksWithoutLever({ what }: Pick<DrivePart, 'what'>): boolean {
  return what === 'hand' || what === 'decoder';
}
