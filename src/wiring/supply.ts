/** What a supply must give, and the fuse that guards it. */
import type { LampGroup } from '../lamps/index.ts';
import type { Supply } from '../panel/index.ts';
import { type Ampere, wireOhms } from '../units/index.ts';
import { type Draw, sizeFuse, worstOf } from './size-supply.ts';
import { CHARGE_OHMS, FUSE_MARGIN, SLOW_FUSE_HOLDS } from './tolerances.ts';
import type { Circuit, WiredDrive, WiredSupply } from './types.ts';

/** What a supply gives at its worst and at rest, and what its fuse must hold. */
export interface WorstDraw {
  readonly worst: Ampere;
  readonly steady: Ampere;
  /** The same as the worst, with pulses counted as a slow fuse feels them. */
  readonly holds: Ampere;
  /** What of that a slow fuse feels of pulses; above 0 the fuse is a slow one. */
  readonly felt: Ampere;
}

/**
 * Switching on is the worst: every drive that is not home moves at once, every capacitor charges, and lamps are lit. What is thrown by
 * pulses is thrown one after the other by hand; a unit that charges takes its volts through its resistor. A slow fuse holds four times
 * its rating for the tenth of a second that a pulse lasts, so that it feels a quarter of one.
 */
export function worstDraw(
  supply: Supply,
  circuits: readonly Circuit[],
  drives: readonly WiredDrive[],
  groups: readonly LampGroup[],
  supplies: readonly Supply[],
): WorstDraw {
  const { id, volts } = supply;
  const brief: Ampere[] = [];
  const fed = new Set(
    circuits.filter((circuit) => circuit.feed !== null && circuit.supplies.includes(id)).map((circuit) => circuit.id),
  );
  const byId = new Map(circuits.map((circuit) => [circuit.id, circuit]));
  const pulsed: Ampere[] = [];
  const draws: Draw[] = [];
  for (const drive of drives) {
    if (drive.circuit === null || drive.feed === null || !fed.has(drive.circuit)) continue;
    const circuit = byId.get(drive.circuit);
    const own = circuit?.feed === 'split' ? circuit.supplies.slice(0, 2).includes(id) : circuit?.supply === id;
    if (!own) continue;
    const loop = 2 * wireOhms(drive.wire.length, drive.wire.gauge) + (drive.part.coilOhms ?? 0);
    if (drive.feed === 'pulse') pulsed.push(loop > 0 ? volts / loop : 0);
    else if (drive.feed === 'charge') {
      const amps = loop > 0 ? volts / loop : 0;
      brief.push(amps);
      draws.push({ id: drive.id, moving: amps, resting: 0 });
    } else {
      const resting = drive.ohms === null ? (drive.part.inputAmps ?? 0) : volts / drive.ohms;
      draws.push({ id: drive.id, moving: Math.max(resting, drive.part.runAmps ?? 0), resting });
    }
  }
  for (const cdu of supplies)
    if (cdu.kind === 'cdu' && cdu.from === id)
      draws.push({ id: cdu.id, moving: cdu.volts / (cdu.chargeOhms ?? CHARGE_OHMS), resting: 0 });
  const most = supply.kind === 'cdu' ? 0 : Math.max(0, ...pulsed);
  if (most > 0) {
    brief.push(most);
    draws.push({ id: 'throw', moving: most, resting: 0 });
  }
  const lit = new Set(circuits.filter((circuit) => circuit.supplies.includes(id)).flatMap((circuit) => circuit.groups));
  for (const group of groups) {
    if (!lit.has(group.id)) continue;
    // The last figures of each sum are the amps of one lamp, one way and the other; the brighter way counts.
    const amps = group.sum.filter((step) => step.unit === 'A').map((step) => step.value);
    const strings = group.arrange === 'series' ? 1 : Math.max(group.normal.length, group.reverse.length);
    const all = Math.max(0, ...amps) * strings;
    draws.push({ id: group.id, moving: all, resting: all });
  }
  const { worst, steady } = worstOf(draws);
  const pulses = brief.reduce((sum, amps) => sum + amps, 0);
  const felt = pulses / SLOW_FUSE_HOLDS;
  return { worst, steady, holds: worst - pulses + felt, felt };
}

/**
 * The fuse in the file, the smallest standard one with a margin above what it must hold, or none where the file says none. What tires
 * a fuse is a draw that lasts: a pulse needs no margin.
 */
export function fuseOf(supply: Supply, { holds, felt }: Pick<WorstDraw, 'holds' | 'felt'>): WiredSupply['fuse'] {
  if (supply.fuse === null) return null;
  const id = `FU-${supply.id}`;
  if (supply.fuse !== 'computed') return { id, amps: supply.fuse.amps, act: supply.fuse.act, given: true };
  const { amps } = sizeFuse({ worst: holds - felt + felt / FUSE_MARGIN, wire: null, limit: null });
  return { id, amps, act: felt > 0 ? 'slow' : 'quick', given: false };
}
