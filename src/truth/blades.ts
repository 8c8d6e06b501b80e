/** How blades may lie once a fault has had its way: rules 1, 12 and 13. */
import type { Lie } from '../panel/index.ts';
import { type Fault, otherLie, type WiredDrive, type Wiring } from '../wiring/index.ts';
import { MOVES_FROM } from './tolerances.ts';

const EITHER: readonly Lie[] = ['normal', 'reverse'];

/** Volts that move a drive for sure. */
export function leastToMove(drive: WiredDrive): number {
  return MOVES_FROM * (drive.part.volts?.low ?? 0);
}

/** The drive of each point. */
export function drivesByPoint(wiring: Wiring): ReadonlyMap<string, WiredDrive> {
  return new Map(wiring.drives.flatMap((drive) => drive.points.map((point) => [point, drive] as const)));
}

/**
 * Lies that the blades of a point can have: the one that its drive takes them to by the volts at its tags, or either where nothing
 * moves them for sure and they stay as they were.
 */
export function liesOf(
  point: string,
  drive: WiredDrive | undefined,
  voltsOf: (drive: WiredDrive) => number,
  fault: Fault,
): readonly Lie[] {
  const ask = drive?.asks.find((each) => each.point === point);
  if (drive === undefined || ask === undefined) return EITHER;
  const kind = fault.points.includes(point) ? fault.kind : null;
  if (kind === 'drive-linkage' || kind === 'drive-open' || kind === 'drive-short') return EITHER;
  const [stuck] = fault.edits.flatMap((edit) => (edit.do === 'hold' ? [edit.at] : []));
  // A drive is stuck in the lie of its first point; another may lie the other way on it.
  if (kind === 'drive-stuck' && stuck !== undefined)
    return [drive.asks[0]?.goes === ask.goes ? stuck : otherLie(stuck)];
  const volts = voltsOf(drive);
  if (Math.abs(volts) < leastToMove(drive) || volts === 0) return EITHER;
  const asNormal = volts > 0 === drive.plusToA;
  const goes = asNormal ? ask.goes : otherLie(ask.goes);
  return [kind === 'drive-crossed' ? otherLie(goes) : goes];
}
