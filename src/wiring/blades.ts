/** How blades may lie once a fault has had its way: rules 1, 12 and 13. */
import type { Lie } from '../panel/index.ts';
import { hasCoils, otherLie } from './drives.ts';
import type { Fault } from './faults.ts';
import { MOVES_FROM } from './tolerances.ts';
import type { Terminal, WiredDrive, Wiring } from './types.ts';

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
 * Which way a drive is pushed, told by what stands at its tags: volts of tag a above tag b. Of two coils the one that carries enough to
 * throw it pushes for sure; of a driver board its input tells, while it has its volts.
 */
export interface AtTags {
  /** Volts of one node above another; 0 where either floats. */
  across(a: Terminal, b: Terminal): number;
  amps(element: string): number;
  /** Does a coil that carries so many amps throw its drive: has it turns, and do they last? */
  pulls(coil: string, amps: number): boolean;
}

/** Volts that push for sure. */
const FOR_SURE = Number.POSITIVE_INFINITY;

/** Does what stands at a drive's tags while its lever is held, not let go, decide where it goes? */
export function isThrown(drive: WiredDrive): boolean {
  return hasCoils(drive.part);
}

/** Volts that push a drive towards where tag a takes it (positive) or tag b; 0 where nothing does. */
export function pushOf(drive: WiredDrive, at: AtTags): number {
  const { part, id } = drive;
  if (drive.feed === null) return 0;
  if (hasCoils(part)) {
    const least = part.throwAmps ?? 0;
    // A coil pulls whichever way its current flows.
    const throws = (coil: string) => {
      const amps = Math.abs(at.amps(coil));
      return amps >= least && at.pulls(coil, amps);
    };
    const [a, b] = [throws(`${id}.n`), throws(`${id}.r`)];
    return a === b ? 0 : a ? FOR_SURE : -FOR_SURE;
  }
  if (drive.feed === 'contact') {
    const volts = at.across(drive.com ?? '', drive.b);
    if (!(volts >= leastToMove(drive))) return 0;
    const closed = at.amps(id) >= MOVES_FROM * (part.inputAmps ?? 0);
    // An open input asks for the lie of the lever's normal.
    return closed === drive.plusToA ? -FOR_SURE : FOR_SURE;
  }
  // A motor that stands stalled is a resistance: its amps tell its volts.
  return drive.ohms === null ? at.across(drive.a, drive.b) : at.amps(id) * drive.ohms;
}

/**
 * Lies that the slider of a drive can have, as lies of its first point: where the push takes it, or either where nothing moves it for sure
 * and it stays as it was.
 */
export function sliderCan(drive: WiredDrive, push: number, fault: Fault | null): readonly Lie[] {
  const [first] = drive.asks;
  if (first === undefined) return EITHER;
  const kind = fault?.points.some((point) => drive.points.includes(point)) === true ? fault.kind : null;
  if (kind === 'drive-open' || kind === 'drive-short') {
    // Of two coils one is left.
    if (!hasCoils(drive.part)) return EITHER;
  }
  const [stuck] =
    fault?.edits.flatMap((edit) => (edit.do === 'hold' && edit.drive === drive.id ? [edit.at] : [])) ?? [];
  if (stuck !== undefined) return [stuck];
  if (Math.abs(push) < leastToMove(drive) || push === 0) return EITHER;
  const asNormal = push > 0 === drive.plusToA;
  const goes = asNormal ? first.goes : otherLie(first.goes);
  return [kind === 'drive-crossed' ? otherLie(goes) : goes];
}

/** The lie of one of a drive's points when its slider is where the first of them lies so. */
export function bladesAt(drive: WiredDrive, point: string, slider: Lie): Lie {
  const [first] = drive.asks;
  const ask = drive.asks.find((each) => each.point === point);
  return first === undefined || ask === undefined || ask.goes === first.goes ? slider : otherLie(slider);
}

/** Is the link between a drive and the blades of a point off, so that the blades stay where they were? */
export function isUnlinked(fault: Fault | null, point: string): boolean {
  return fault?.kind === 'drive-linkage' && fault.points.includes(point);
}
