/**
 * Synthesis: from plan, switches, drives, lamps and supplies to every wire, pin, contact, resistor and lamp, each with the name
 * that drawing, schedule, faults and SPICE share. One circuit a lever. The order of everything: by lever, then lie, then terminal.
 */
import type { LeverSwitch } from '../contacts/index.ts';
import { feedVolts, type LampGroup, type LampUse } from '../lamps/index.ts';
import { type LeverRecord, lightingOf, type PanelFile, type Supply, suppliesOf } from '../panel/index.ts';
import type { Catalogue, DiodePart } from '../parts/index.ts';
import type { Plan } from '../plan/index.ts';
import { allotPins, type Bundle } from './allot-pins.ts';
import { isTwoWire, wireDrives } from './drives.ts';
import { grouped } from './grouped.ts';
import { hangLamps } from './hang-lamps.ts';
import type { Join } from './join.ts';
import { layFeed, supplyFor } from './lay-feed.ts';
import { numberWires } from './number-wires.ts';
import { runDrives } from './run-drives.ts';
import { fuseOf, worstDraw } from './supply.ts';
import type {
  Circuit,
  Position,
  WiredDrive,
  WiredLamp,
  WiredResistor,
  WiredSupply,
  WiredSwitch,
  Wiring,
  WiringProblem,
} from './types.ts';

export interface WiringInput {
  readonly panel: PanelFile;
  readonly catalogue: Catalogue;
  readonly plan: Plan;
  readonly switches: readonly LeverSwitch[];
  readonly lamps: readonly LampUse[];
  readonly groups: readonly LampGroup[];
}

/** The guard diode that stands across a lamp. */
const GUARD_PART = 'diode-small';

/** A lever that has a feed. */
interface Live {
  readonly lever: string;
  readonly switch: LeverSwitch;
  readonly supply: Supply;
}

/** Wire the panel. Total: what cannot be wired is left out and reported. */
export function wirePanel(input: WiringInput): Wiring {
  const { panel, catalogue, plan } = input;
  const problems: WiringProblem[] = [];
  const records = new Map<string, LeverRecord>((panel.levers ?? []).map((record) => [record.id, record]));
  const drives = wireDrives(panel, catalogue, plan, problems);
  const supplies = suppliesOf(panel);
  const live = input.switches.flatMap((each): Live[] => {
    const supply = supplyFor(panel, supplies, records.get(each.lever), each, problems);
    return supply === null ? [] : [{ lever: each.lever, switch: each, supply }];
  });

  const fed = fedDrives(drives, new Set(live.map((each) => each.lever)), problems);
  const drivesBy = grouped(fed, (drive) => drive.circuit ?? '');
  const groupsBy = grouped(input.groups, (group) => group.lever);
  const pairs = live.flatMap(({ lever }) => (drivesBy.get(lever) ?? []).map((drive) => pairOf(lever, drive)));
  const { connectors, pinsOf } = allotPins(panel, catalogue, pairs, problems);

  const uses = new Map(input.lamps.map((lamp) => [lamp.id, lamp]));
  const guard = guardPart(catalogue);
  const joins: Join[] = [];
  const lamps: WiredLamp[] = [];
  const resistors: WiredResistor[] = [];
  /** The last lever so far on each supply's chain. */
  const lastOn = new Map<string, string>();
  for (const { lever, supply } of live) {
    const hung = hangLamps(lever, groupsBy.get(lever) ?? [], uses, guard);
    joins.push(...layFeed(lever, supply, lastOn.get(supply.id)), ...hung.joins);
    joins.push(...runDrives(lever, drivesBy.get(lever) ?? [], pinsOf));
    lamps.push(...hung.lamps);
    resistors.push(...hung.resistors);
    lastOn.set(supply.id, lever);
  }
  const wires = numberWires(panel, joins, problems);

  const wiresBy = grouped(wires, (wire) => wire.circuit);
  const lampsBy = grouped(lamps, (lamp) => lamp.circuit);
  const levers = new Map(plan.levers.map((lever) => [lever.id, lever]));
  const circuits = live.map(
    ({ lever, switch: each, supply }): Circuit => ({
      id: lever,
      supply: supply.id,
      positions: positionsOf(each),
      // No dimmer gives more than it gets.
      dimmed: Math.min(1, lightingOf(panel, records.get(lever)).dimmerLeast ?? 1),
      points: levers.get(lever)?.works.map((worked) => worked.point) ?? [],
      drives: (drivesBy.get(lever) ?? []).map((drive) => drive.id),
      groups: (groupsBy.get(lever) ?? []).map((group) => group.id),
      lamps: (lampsBy.get(lever) ?? []).map((lamp) => lamp.id),
      wires: [...(wiresBy.get(supply.id) ?? []), ...(wiresBy.get(lever) ?? [])].map((wire) => wire.id),
    }),
  );
  const liveOn = grouped(live, (each) => each.supply.id);
  return {
    circuits,
    supplies: supplies.flatMap((supply) => {
      const mine = (liveOn.get(supply.id) ?? []).map((each) => each.lever);
      if (mine.length === 0) return [];
      const fedHere = mine.flatMap((lever) => drivesBy.get(lever) ?? []);
      return [
        wiredSupply(
          supply,
          mine,
          fedHere,
          mine.flatMap((lever) => groupsBy.get(lever) ?? []),
        ),
      ];
    }),
    switches: live.map(({ switch: each }) => wiredSwitch(each)),
    lamps,
    lampOrder: input.lamps.map((lamp) => lamp.id),
    resistors,
    drives,
    connectors,
    wires,
    problems,
  };
}

/** The drives that a live lever can move; those of another kind are reported. */
function fedDrives(
  drives: readonly WiredDrive[],
  live: ReadonlySet<string>,
  problems: WiringProblem[],
): readonly WiredDrive[] {
  return drives.filter((drive) => {
    const lever = drive.circuit;
    if (lever === null || !live.has(lever)) return false;
    if (isTwoWire(drive.part)) return true;
    problems.push({ code: 'drive-kind-unfit', drive: drive.id, part: drive.part.id, feed: 'reversing', lever });
    return false;
  });
}

/** The two tags of a drive: first the one that is plus with the lever normal. Crossed here, never in the connector. */
function pairOf(lever: string, drive: WiredDrive): Bundle {
  return {
    circuit: lever,
    names: drive.id,
    to: drive.plusToA ? [drive.a, drive.b] : [drive.b, drive.a],
    net: [`${lever}.t2`, `${lever}.t5`],
  };
}

function guardPart(catalogue: Catalogue): DiodePart {
  const part = catalogue.find('diode', GUARD_PART);
  if (part === undefined) throw new RangeError(`the catalogue holds no ${GUARD_PART}`);
  return part;
}

function wiredSupply(
  supply: Supply,
  levers: readonly string[],
  drives: readonly WiredDrive[],
  groups: readonly LampGroup[],
): WiredSupply {
  const { low, high } = feedVolts(supply);
  const { id, volts, ohms, amps, limit } = supply;
  const draw = worstDraw(supply, drives, groups);
  return {
    id,
    volts,
    low,
    high,
    ohms,
    amps,
    limit,
    fuse: fuseOf(supply, draw.worst),
    circuits: levers,
    worstAmps: draw.worst,
    steadyAmps: draw.steady,
  };
}

function positionsOf(each: LeverSwitch): readonly Position[] {
  return each.part.centreOff && !each.part.sprung ? ['normal', 'reverse', 'centre'] : ['normal', 'reverse'];
}

function wiredSwitch(each: LeverSwitch): WiredSwitch {
  return {
    id: each.lever,
    part: each.part,
    poles: each.poles.map((use, i) => ({
      id: `${each.lever}.${i + 1}`,
      normal: `${each.lever}.t${3 * i + 1}`,
      common: `${each.lever}.t${3 * i + 2}`,
      reverse: `${each.lever}.t${3 * i + 3}`,
      use,
    })),
  };
}
