/**
 * The volts that a supply holds when it reaches its limit. A constant limit lets the volts fall until just its amps flow; one that
 * folds back or tries again and again is off past its amps. What is drawn grows with the volts, so one value answers: Illinois'
 * false position finds it in a few solves.
 */
import { solveDc } from '../circuit/index.ts';
import type { Ampere, Volt } from '../units/index.ts';
import { carrierLies } from './carrier-lies.ts';
import { partsOf } from './circuit-parts.ts';
import { type Fault, isOff, touches } from './faults.ts';
import { leverLoads } from './lever-loads.ts';
import { type Corner, NOMINAL, netlistOf, openVolts } from './netlist-of.ts';
import { statesOf } from './states.ts';
import { HELD_KEPT, LIMIT_CLOSENESS, LIMIT_FEW, LIMIT_STEPS } from './tolerances.ts';
import type { Position, WiredSupply, Wiring } from './types.ts';

/** What a supply's levers may draw at most, kept by wiring. */
const MOST = new WeakMap<Wiring, Map<string, Ampere>>();

/** The corner at which everything draws most. */
const HEAVIEST: Corner = { ...NOMINAL, supply: 'high', lamps: 'high', draw: 'high' };

/** Can this supply's limit be reached in some setting, at some corner of the bands? Then its levers feel each other. */
export function mayLimit(wiring: Wiring, supply: WiredSupply): boolean {
  if (supply.limit === 'none') return false;
  const known = MOST.get(wiring) ?? new Map<string, Ampere>();
  MOST.set(wiring, known);
  let most = known.get(supply.id);
  if (most === undefined) {
    most = 0;
    for (const circuit of wiring.circuits) {
      if (!circuit.supplies.includes(supply.id)) continue;
      const alone = new Set([circuit.id]);
      const loads = leverLoads(wiring);
      const draws = statesOf(wiring, circuit).map(({ levers, history }) => {
        if (loads.fits(supply, HEAVIEST))
          return loads.ampsAlone(supply, loads.at(circuit.id, levers, HEAVIEST), openVolts(supply, HEAVIEST));
        const lies = carrierLies(wiring, levers, history);
        const network = netlistOf(wiring, levers, { circuits: alone, corner: HEAVIEST, lies });
        return -(solveDc(network).amps.get(supply.id) ?? 0);
      });
      most += Math.max(0, ...draws);
    }
    known.set(supply.id, most);
  }
  return most > supply.amps;
}

/**
 * EMF in volts of every supply that its limit holds down in this setting; supplies that give all that is asked are not in it. Behind
 * a supply of many levers a single group does not tell: there all that draws stands at one edge.
 */
export function heldVolts(
  wiring: Wiring,
  levers: Readonly<Record<string, Position>>,
  corner: Corner,
  broken: readonly Fault[] = [],
): ReadonlyMap<string, Volt> {
  const held = new Map<string, Volt>();
  for (const supply of wiring.supplies) {
    const faults = broken.filter(({ circuits }) => touches(circuits, supply.circuits));
    // A fault may draw what the healthy panel never does, or take the supply away.
    if (isOff(faults, supply) || supply.limit === 'none') continue;
    if (faults.length === 0 && !mayLimit(wiring, supply)) continue;
    const few = supply.circuits.length <= LIMIT_FEW;
    const volts = heldAt(
      wiring,
      supply,
      levers,
      few ? corner : { ...corner, lamps: corner.draw, group: null, lamp: null },
      faults,
    );
    if (volts !== null) held.set(supply.id, volts);
  }
  return held;
}

/** The last answers by wiring: the groups of one setting ask the same again and again. */
const HELD = new WeakMap<Wiring, Map<string, Volt | null>>();

function heldAt(
  wiring: Wiring,
  supply: WiredSupply,
  levers: Readonly<Record<string, Position>>,
  corner: Corner,
  faults: readonly Fault[],
): Volt | null {
  const parts = partsOf(wiring);
  const lies = supply.circuits.flatMap(
    (id) => parts.circuits.get(id)?.circuit.levers.map((lever) => levers[lever] ?? 'normal') ?? [],
  );
  const key = JSON.stringify([supply.id, lies, corner, faults.map(({ code }) => code)]);
  const known = HELD.get(wiring) ?? new Map<string, Volt | null>();
  HELD.set(wiring, known);
  const before = known.get(key);
  if (before !== undefined) return before;
  const full = openVolts(supply, corner);
  const loads = leverLoads(wiring);
  if (faults.length === 0 && loads.fits(supply, corner)) return keep(loads.heldVolts(supply, levers, corner, full));
  const circuits = new Set(supply.circuits);
  const drawn = (volts: Volt): Ampere => {
    const network = netlistOf(wiring, levers, { circuits, corner, held: new Map([[supply.id, volts]]), faults });
    return -(solveDc(network).amps.get(supply.id) ?? 0);
  };
  const most = drawn(full);
  return keep(most <= supply.amps ? null : supply.limit === 'constant' ? voltsFor(supply.amps, drawn, full, most) : 0);

  function keep(volts: Volt | null): Volt | null {
    if (known.size >= HELD_KEPT) known.clear();
    known.set(key, volts);
    return volts;
  }
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

/** Volts at the terminals of a supply whose levers lie so, its limit heeded; null where its levers cannot be taken one by one. */
export function sharedVolts(
  wiring: Wiring,
  supply: WiredSupply,
  levers: Readonly<Record<string, Position>>,
  corner: Corner,
): Volt | null {
  const loads = leverLoads(wiring);
  if (!loads.fits(supply, corner)) return null;
  const held = heldVolts(wiring, levers, corner).get(supply.id);
  return loads.voltsOf(supply, levers, corner, held ?? openVolts(supply, corner));
}

/** Amps that one lever draws at so many volts; null where it cannot be taken alone. */
export function drawAt(wiring: Wiring, lever: string, position: Position, volts: Volt, corner: Corner): Ampere | null {
  const loads = leverLoads(wiring);
  const supply = partsOf(wiring).circuits.get(lever)?.supply;
  if (supply === undefined || !loads.fits(supply, corner)) return null;
  return loads.amps(loads.at(lever, { [lever]: position }, corner), volts);
}
