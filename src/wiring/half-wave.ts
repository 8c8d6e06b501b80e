/**
 * Readings of what hangs on an alternating supply: means over a cycle that has settled.
 *
 * Steady rails stand in where many settings are tried (`netlistOf` without `swings`). A reading of one setting takes the supply as it is,
 * with its diodes and what smooths them: all circuits of the supply together, since they share the diodes. The bands of lamps are those
 * at the steady rails, moved with the mean.
 */
import { type CycleMeans, cycleMeans } from '../circuit/index.ts';
import type { Ampere } from '../units/index.ts';
import type { CarrierLies } from './carrier-lies.ts';
import { partsOf } from './circuit-parts.ts';
import { type Fault, touches } from './faults.ts';
import { heldVolts } from './limit.ts';
import { lookOf } from './look.ts';
import { NOMINAL, netlistOf } from './netlist-of.ts';
import { type Positions, positionIn } from './positions.ts';
import { type IslandReading, solveIsland } from './solve-island.ts';
import { LEAST_AMPS, SWUNG_KEPT } from './tolerances.ts';
import type { LampReading, Wiring } from './types.ts';

type Island = readonly string[];

/** Readings of groups of islands already taken, by wiring. */
const SWUNG = new WeakMap<Wiring, Map<string, ReadonlyMap<string, IslandReading> | null>>();

/** By island, the means of those that hang on alternating supplies; islands that are not named read as at rest. */
export function swungIslands(
  wiring: Wiring,
  islands: readonly Island[],
  levers: Positions,
  broken: readonly Fault[],
  lies: CarrierLies,
): ReadonlyMap<Island, IslandReading> {
  const found = new Map<Island, IslandReading>();
  for (const group of groupsOf(wiring, islands)) {
    const near = group.flat();
    const faults = broken.filter(({ circuits }) => touches(circuits, near));
    const { circuits } = partsOf(wiring);
    const own = near.map((id) => circuits.get(id)?.circuit);
    const at = [...new Set(own.flatMap((each) => each?.levers ?? []))].map((lever) => positionIn(levers, lever));
    const told = [...new Set(own.flatMap((each) => each?.follows ?? []))].map((carrier) => lies[carrier] ?? 'normal');
    const key = [near.join(), at.join(), told.join(), faults.map(({ code }) => code).join()].join(' ');
    const known = SWUNG.get(wiring) ?? new Map<string, ReadonlyMap<string, IslandReading> | null>();
    SWUNG.set(wiring, known);
    let readings = known.get(key);
    if (readings === undefined) {
      if (known.size >= SWUNG_KEPT) known.clear();
      readings = read(wiring, group, levers, faults, lies);
      known.set(key, readings);
    }
    for (const island of group) {
      const reading = readings?.get(island.join(' '));
      if (reading !== undefined) found.set(island, reading);
    }
  }
  return found;
}

/** Islands that share an alternating supply, each in one group. */
function groupsOf(wiring: Wiring, islands: readonly Island[]): readonly (readonly Island[])[] {
  let groups: (readonly Island[])[] = [];
  for (const { kind, circuits } of wiring.supplies) {
    if (kind !== 'ac') continue;
    const mine = islands.filter((island) => touches(circuits, island));
    const met = groups.filter((group) => group.some((island) => mine.includes(island)));
    const one = islands.filter((island) => mine.includes(island) || met.some((group) => group.includes(island)));
    groups = [...groups.filter((group) => !met.includes(group)), ...(one.length > 0 ? [one] : [])];
  }
  return groups;
}

/** The means of a group, by island; null where a source is shorted dead. */
function read(
  wiring: Wiring,
  group: readonly Island[],
  levers: Positions,
  faults: readonly Fault[],
  lies: CarrierLies,
): ReadonlyMap<string, IslandReading> | null {
  const circuits = new Set(group.flat());
  const held = heldVolts(wiring, levers, NOMINAL, faults);
  const means = cycleMeans(netlistOf(wiring, levers, { circuits, held, lies, faults, swings: true }));
  if (means === null) return null;
  return new Map(
    group.map((island) => {
      const still = solveIsland(wiring, island, levers, island, faults, lies);
      const delivered = island === group[0] ? deliveredOf(wiring, means) : new Map<string, Ampere>();
      return [island.join(' '), meant(wiring, still, means, delivered, faults)] as const;
    }),
  );
}

/** What each supply delivers: an alternating one the mean of its amps, whichever way they flow. */
function deliveredOf(wiring: Wiring, means: CycleMeans): ReadonlyMap<string, Ampere> {
  return new Map(wiring.supplies.map(({ id }) => [id, means.delivered.get(id) ?? -(means.amps.get(id) ?? 0)]));
}

function meant(
  wiring: Wiring,
  still: IslandReading,
  means: CycleMeans,
  delivered: ReadonlyMap<string, Ampere>,
  faults: readonly Fault[],
): IslandReading {
  const { nominal } = still;
  const volts = new Map(
    [...nominal.volts].map(([node, at]) => [node, means.volts.has(node) ? (means.volts.get(node) ?? null) : at]),
  );
  const shorted = new Set(faults.map(({ code }) => code));
  const parts = new Map(wiring.lamps.map(({ id, part }) => [id, part]));
  const lamps = still.lamps.map((lamp): LampReading => {
    const mean = means.amps.get(lamp.id) ?? 0;
    const amps = Math.abs(mean) < LEAST_AMPS ? 0 : mean;
    const part = parts.get(lamp.id);
    const share = lamp.amps === 0 ? 1 : amps / lamp.amps;
    return {
      ...lamp,
      amps,
      low: Math.min(amps, lamp.low * share),
      high: Math.max(amps, lamp.high * share),
      look: part === undefined || shorted.has(`short:${lamp.id}`) ? 'unlit' : lookOf(part, amps),
    };
  });
  return {
    nominal: { ...nominal, volts, amps: means.amps },
    lamps,
    delivered,
  };
}
