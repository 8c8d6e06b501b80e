/**
 * Switching on: histories are unknown, any point may lie either way and any latch stand either way (rule 3). Who moves at once, what that
 * draws, and what the lamps show before the first throw.
 *
 * A held feed takes every drive that is not home to where its lever asks; a driver board twitches and goes there; a pulse feed moves
 * nothing. In a charge feed the capacitors are empty: a lever that lies normal charges through coil N and throws it, one that lies reverse
 * does nothing, and a lamp on its pole says reverse whatever the blades do. A latching relay stands where it was left.
 */
import type { LampUse } from '../lamps/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import type { Ampere, Second } from '../units/index.ts';
import { otherLie, type Position, type WiredDrive, type Wiring } from '../wiring/index.ts';
import { liesOfCarriers, type TruthInput } from './prove-healthy.ts';

/** What a drive does when the supply comes on. */
export interface DriveAtPowerUp {
  readonly point: string;
  readonly drive: string;
  /** home: goes where its lever asks; charges: goes normal where its lever lies so; stays: nothing moves it. */
  readonly does: 'home' | 'charges' | 'stays';
  /** What it draws while it moves, and for how long at most. */
  readonly amps: Ampere;
  readonly seconds: Second;
}

/** A lamp that may say what is not so until the first throw. */
export interface LampAtPowerUp {
  readonly lamp: string;
  readonly levers: Readonly<Record<string, Position>>;
  /** How the points lie. */
  readonly history: Lies;
  /** Latching relays that stand so: set by the last throw to reverse, reset by the last to normal. */
  readonly latches: Readonly<Record<string, 'set' | 'reset'>>;
  readonly shown: 'lit' | 'unlit';
  readonly should: 'lit' | 'unlit';
}

export interface PowerUp {
  readonly drives: readonly DriveAtPowerUp[];
  /** By supply: what all that may move at once draws, and what is left when all have come home. */
  readonly supplies: readonly { readonly id: string; readonly amps: Ampere; readonly steady: Ampere }[];
  /** Lamps that are true as soon as every drive has come home, by the most seconds that takes. */
  readonly settles: readonly { readonly lamp: string; readonly seconds: Second }[];
  /** Lamps that may lie until someone throws: one witness for each. */
  readonly lies: readonly LampAtPowerUp[];
}

/** What happens at switching on. Lists in the order of the wiring and of the file. */
export function powerUp({ lamps, wiring }: TruthInput): PowerUp {
  const drives = wiring.drives.flatMap((drive) => drive.points.map((point) => driveAt(drive, point)));
  const byPoint = new Map(drives.map((each) => [each.point, each]));
  return {
    drives,
    supplies: wiring.supplies.map(({ id, worstAmps, steadyAmps }) => ({ id, amps: worstAmps, steady: steadyAmps })),
    settles: lamps.flatMap((lamp) => {
      if (lamp.circuit === null || lamp.basis !== 'asked' || mayLie(lamp)) return [];
      const seconds = Math.max(0, ...pointsOf(lamp).map((point) => byPoint.get(point)?.seconds ?? 0));
      return seconds > 0 ? [{ lamp: lamp.id, seconds }] : [];
    }),
    lies: lamps.flatMap((lamp) => (lamp.circuit !== null && mayLie(lamp) ? witness(lamp) : [])),
  };

  /** Is it lit by what was asked, of a point that nothing brings home? */
  function mayLie(lamp: LampUse): boolean {
    return lamp.basis === 'asked' && pointsOf(lamp).some((point) => byPoint.get(point)?.does !== 'home');
  }

  /** Lit by a lever or a latch that stands so, while a point of its claim lies the other way. */
  function witness(lamp: LampUse): readonly LampAtPowerUp[] {
    const claim = lamp.claim[0] ?? {};
    const strays = pointsOf(lamp).find((point) => byPoint.get(point)?.does !== 'home');
    if (strays === undefined) return [];
    const { levers, latches } = litBy(wiring, lamp, claim);
    // A lever that lies normal charges its capacitor through coil N: the point goes there by itself.
    const charged = byPoint.get(strays)?.does === 'charges';
    const drive = wiring.drives.find(({ points }) => points.includes(strays));
    if (charged && drive?.circuit != null && levers[drive.circuit] === 'normal') return [];
    const lies: Record<string, Lie> = { ...claim };
    lies[strays] = otherLie(claim[strays] ?? 'normal');
    return [{ lamp: lamp.id, levers, history: lies, latches, shown: 'lit', should: 'unlit' }];
  }
}

function driveAt(drive: WiredDrive, point: string): DriveAtPowerUp {
  const { part, feed, id } = drive;
  const moving = { amps: part.runAmps ?? 0, seconds: part.runSeconds ?? 0 };
  const common = { point, drive: id };
  switch (feed) {
    case 'reversing':
    case 'split':
    case 'half-wave':
    case 'contact':
      return { ...common, does: 'home', ...moving };
    case 'charge':
      return { ...common, does: 'charges', amps: part.throwAmps ?? 0, seconds: part.throwSeconds ?? 0 };
    default:
      return { ...common, does: 'stays', amps: 0, seconds: 0 };
  }
}

/** Levers and latches that light a lamp. */
function litBy(
  wiring: Wiring,
  lamp: LampUse,
  claim: Lies,
): { readonly levers: Readonly<Record<string, Position>>; readonly latches: LampAtPowerUp['latches'] } {
  const levers: Record<string, Position> = {};
  const latches: Record<string, 'set' | 'reset'> = {};
  const told = liesOfCarriers(wiring, claim);
  for (const [id, lie] of Object.entries(lamp.hang?.cube ?? {})) {
    if (id in told) latches[id] = lie === 'reverse' ? 'set' : 'reset';
    else levers[id] = lie;
  }
  if (lamp.hang === null && lamp.lever !== null && lamp.lie !== null) levers[lamp.lever] = lamp.lie;
  return { levers, latches };
}

function pointsOf(lamp: LampUse): readonly string[] {
  return [...new Set(lamp.claim.flatMap((lies) => Object.keys(lies)))];
}
