/**
 * The volts that a supply holds when it reaches its limit. A constant limit lets the volts fall until just its amps flow; one that
 * folds back or tries again and again is off past its amps. What is drawn grows with the volts, so one value answers: Illinois'
 * false position finds it in a few solves.
 */
import { solveDc } from '../circuit/index.ts';
import type { Ampere, Volt } from '../units/index.ts';
import { type Corner, netlistOf, openVolts } from './netlist-of.ts';
import { LIMIT_CLOSENESS, LIMIT_STEPS, LIMIT_WATCH } from './tolerances.ts';
import type { Position, WiredSupply, Wiring } from './types.ts';

/** May this supply's limit be reached in some setting, at some corner of the bands? Then its levers feel each other. */
export function mayLimit(supply: WiredSupply): boolean {
  return supply.limit !== 'none' && supply.steadyAmps * (supply.high / supply.volts) * LIMIT_WATCH > supply.amps;
}

/** EMF in volts of every supply that its limit holds down in this setting; supplies that give all that is asked are not in it. */
export function heldVolts(
  wiring: Wiring,
  levers: Readonly<Record<string, Position>>,
  corner: Corner,
): ReadonlyMap<string, Volt> {
  const held = new Map<string, Volt>();
  for (const supply of wiring.supplies) {
    if (!mayLimit(supply)) continue;
    const circuits = new Set(supply.circuits);
    const drawn = (volts: Volt): Ampere => {
      const network = netlistOf(wiring, levers, { circuits, corner, held: new Map([[supply.id, volts]]) });
      return -(solveDc(network).amps.get(supply.id) ?? 0);
    };
    const full = openVolts(supply, corner);
    const most = drawn(full);
    if (most <= supply.amps) continue;
    held.set(supply.id, supply.limit === 'constant' ? voltsFor(supply.amps, drawn, full, most) : 0);
  }
  return held;
}

/** The volts between 0 and `full` at which just `amps` are drawn. */
function voltsFor(amps: Ampere, drawn: (volts: Volt) => Ampere, full: Volt, most: Ampere): Volt {
  let [low, under] = [0, -amps];
  let [high, over] = [full, most - amps];
  let side = 0;
  for (let step = 0; step < LIMIT_STEPS; step++) {
    const volts = (low * over - high * under) / (over - under);
    const excess = drawn(volts) - amps;
    if (Math.abs(excess) <= LIMIT_CLOSENESS * amps) return volts;
    if (excess < 0) {
      [low, under] = [volts, excess];
      // The same end twice: halve the weight of the other, or it would never move.
      if (side === -1) over /= 2;
      side = -1;
    } else {
      [high, over] = [volts, excess];
      if (side === 1) under /= 2;
      side = 1;
    }
  }
  return (low + high) / 2;
}
