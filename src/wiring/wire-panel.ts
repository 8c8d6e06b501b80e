/**
 * Synthesis: from plan, switches, drives, lamps and supplies to every wire, pin, contact, resistor and lamp, each with the name
 * that drawing, schedule, faults and SPICE share. One circuit a lever. The order of everything: by lever, then lie, then terminal.
 *
 * A reversing feed: plus comes to tag 1 and minus to tag 4; tags 1 and 6, 3 and 4 are linked; the commons, tags 2 and 5, go to the
 * drives and the lamps. Lever normal: tag 2 is plus.
 */
import type { LeverSwitch } from '../contacts/index.ts';
import { feedVolts, type LampGroup, type LampUse } from '../lamps/index.ts';
import {
  feedOf,
  type LeverRecord,
  newIds,
  type PanelFile,
  type Supply,
  suppliesOf,
  type WireRecord,
} from '../panel/index.ts';
import type { Catalogue, DiodePart } from '../parts/index.ts';
import type { Plan } from '../plan/index.ts';
import { wireOhms } from '../units/index.ts';
import { allotPins, type Pair } from './allot-pins.ts';
import { isTwoWire, wireDrives } from './drives.ts';
import { grouped } from './grouped.ts';
import { fuseOf, worstDraw } from './supply.ts';
import { NO_OHMS } from './tolerances.ts';
import type {
  Circuit,
  Position,
  Terminal,
  Wire,
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

/** A wire before it has a number. */
interface Join {
  readonly from: Terminal;
  readonly to: Terminal;
  readonly circuit: string;
  readonly net: Terminal;
  readonly side: 'panel' | 'layout';
  readonly ohms: number;
}

/** The guard diode that stands across a lamp. */
const GUARD_PART = 'diode-small';

/** The smallest usual diode of the catalogue. */
function guardPart(catalogue: Catalogue): DiodePart {
  const part = catalogue.find('diode', GUARD_PART);
  if (part === undefined) throw new RangeError(`the catalogue holds no ${GUARD_PART}`);
  return part;
}

/** Wire the panel. Total: what cannot be wired is left out and reported. */
export function wirePanel(input: WiringInput): Wiring {
  const { panel, catalogue, plan, groups } = input;
  const problems: WiringProblem[] = [];
  const supplies = suppliesOf(panel);
  const records = new Map<string, LeverRecord>((panel.levers ?? []).map((record) => [record.id, record]));
  const drives = wireDrives(panel, catalogue, plan, problems);
  const lampById = new Map(input.lamps.map((lamp) => [lamp.id, lamp]));

  const live = input.switches.flatMap((each) => {
    const supply = supplyOf(each);
    return supply === null ? [] : [{ lever: each.lever, switch: each, supply }];
  });
  const liveIds = new Set(live.map((each) => each.lever));
  const fedDrives = drives.filter((drive) => drive.circuit !== null && liveIds.has(drive.circuit) && isFed(drive));
  const drivesBy = grouped(fedDrives, (drive) => drive.circuit ?? '');
  const groupsBy = grouped(groups, (group) => group.lever);
  const drivesOf = (lever: string) => drivesBy.get(lever) ?? [];
  const groupsOf = (lever: string) => groupsBy.get(lever) ?? [];
  const pairs = live.flatMap(({ lever }) => drivesOf(lever).map((drive) => pairOf(lever, drive)));
  const { connectors, pinsOf } = allotPins(panel, catalogue, pairs, problems);

  const joins: Join[] = [];
  /** The last lever so far on each supply's chain. */
  const lastOn = new Map<string, string>();
  const lamps: WiredLamp[] = [];
  const resistors: WiredResistor[] = [];
  for (const { lever, supply } of live) {
    feedJoins(lever, supply);
    lampJoins(lever);
    driveJoins(lever);
  }
  const wires = numbered(joins);
  const wiresBy = grouped(wires, (wire) => wire.circuit);
  const lampsBy = grouped(lamps, (lamp) => lamp.circuit);
  const circuits = live.map(({ lever, switch: each, supply }): Circuit => {
    const mine = drivesOf(lever);
    return {
      id: lever,
      supply: supply.id,
      positions: positionsOf(each),
      points: plan.levers.find((l) => l.id === lever)?.works.map((worked) => worked.point) ?? [],
      drives: mine.map((drive) => drive.id),
      groups: groupsOf(lever).map((group) => group.id),
      lamps: (lampsBy.get(lever) ?? []).map((lamp) => lamp.id),
      wires: [...(wiresBy.get(supply.id) ?? []), ...(wiresBy.get(lever) ?? [])].map((wire) => wire.id),
    };
  });
  return {
    circuits,
    supplies: supplies.filter((supply) => live.some((each) => each.supply.id === supply.id)).map(wiredSupply),
    switches: live.map(({ switch: each }) => wiredSwitch(each)),
    lamps,
    lampOrder: input.lamps.map((lamp) => lamp.id),
    resistors,
    drives,
    connectors,
    wires,
    problems,
  };

  /** The supply that feeds a lever, or null (reported) where no reversing feed can be made. */
  function supplyOf(each: LeverSwitch): Supply | null {
    const feed = feedOf(panel, records.get(each.lever));
    if (feed.kind !== 'reversing') {
      problems.push({ code: 'feed-not-built', lever: each.lever, feed: feed.kind });
      return null;
    }
    const wanted = feed.supplies[0] ?? '';
    const supply = supplies.find((candidate) => candidate.id === wanted);
    if (supply === undefined) {
      problems.push({ code: 'supply-unknown', supply: wanted, by: each.lever });
      return null;
    }
    if (supply.kind !== 'dc' && supply.kind !== 'battery') {
      problems.push({ code: 'supply-kind-unfit', supply: supply.id, kind: supply.kind, feed: feed.kind });
      return null;
    }
    return each.used < 2 ? null : supply;
  }

  function isFed(drive: WiredDrive): boolean {
    if (isTwoWire(drive.part)) return true;
    problems.push({
      code: 'drive-kind-unfit',
      drive: drive.id,
      part: drive.part.id,
      feed: 'reversing',
      lever: drive.circuit ?? '',
    });
    return false;
  }

  function pairOf(lever: string, drive: WiredDrive): Pair {
    return {
      circuit: lever,
      drive: drive.id,
      to: drive.plusToA ? [drive.a, drive.b] : [drive.b, drive.a],
      net: [`${lever}.t2`, `${lever}.t5`],
    };
  }

  function join(from: Terminal, to: Terminal, circuit: string, net: Terminal): void {
    joins.push({ from, to, circuit, net, side: 'panel', ohms: NO_OHMS });
  }

  /** Plus and minus to this lever: from the supply to the first, from lever to lever after that; and the two links. */
  function feedJoins(lever: string, supply: Supply): void {
    const previous = lastOn.get(supply.id);
    lastOn.set(supply.id, lever);
    const fused = supply.fuse !== null;
    const plus = `${supply.id}.p`;
    const minus = `${supply.id}.m`;
    if (previous === undefined) {
      if (fused) join(plus, `FU-${supply.id}.1`, supply.id, plus);
      join(fused ? `FU-${supply.id}.2` : plus, `${lever}.t1`, supply.id, plus);
      join(minus, `${lever}.t4`, supply.id, minus);
    } else {
      join(`${previous}.t1`, `${lever}.t1`, supply.id, plus);
      join(`${previous}.t4`, `${lever}.t4`, supply.id, minus);
    }
    join(`${lever}.t1`, `${lever}.t6`, lever, plus);
    join(`${lever}.t4`, `${lever}.t3`, lever, minus);
  }

  /**
   * Lamps of a lever. One chain runs from tag 2 along the resistors, one from tag 5 along the far ends of the strings;
   * behind its resistor each group is a little net of its own.
   */
  function lampJoins(lever: string): void {
    let near: Terminal = `${lever}.t2`;
    let far: Terminal = `${lever}.t5`;
    const guard = guardPart(catalogue);
    const alongNear = (to: Terminal) => {
      join(near, to, lever, `${lever}.t2`);
      near = to;
    };
    const alongFar = (to: Terminal) => {
      join(far, to, lever, `${lever}.t5`);
      far = to;
    };
    for (const group of groupsOf(lever)) {
      if (group.arrange === 'own') {
        for (const lie of ['normal', 'reverse'] as const) {
          for (const id of group[lie]) {
            const middle = resistor(`R-${id}`, group, lever);
            string([id], lie, middle.end, middle.net, group, guard);
          }
        }
        continue;
      }
      const middle = resistor(`R-${group.id}`, group, lever);
      let end = middle.end;
      const strings = (side: readonly string[]) =>
        group.arrange === 'series' ? (side.length > 0 ? [side] : []) : side.map((id) => [id]);
      for (const lie of ['normal', 'reverse'] as const) {
        for (const ids of strings(group[lie])) end = string(ids, lie, end, middle.net, group, guard);
      }
    }

    function resistor(id: string, group: LampGroup, circuit: string): { end: Terminal; net: Terminal } {
      resistors.push({
        id,
        group: group.id,
        circuit,
        a: `${id}.1`,
        b: `${id}.2`,
        ohms: group.ohms,
        rating: group.rating,
        ohmsFrom: group.ohmsFrom,
      });
      alongNear(`${id}.1`);
      return { end: `${id}.2`, net: `${id}.2` };
    }

    /** Lamps one behind the other from `end` (behind the resistor) to the far chain; returns the new end of the middle net. */
    function string(
      ids: readonly string[],
      lie: 'normal' | 'reverse',
      end: Terminal,
      net: Terminal,
      group: LampGroup,
      part: DiodePart,
    ): Terminal {
      const [into, outOf] = lie === 'normal' ? ['a', 'k'] : ['k', 'a'];
      let at = end;
      let atNet = net;
      for (const [i, id] of ids.entries()) {
        const use = lampById.get(id);
        if (use === undefined) throw new RangeError(`lamp ${id} is in group ${group.id} and not among the lamps`);
        const guarded = group.guard === 'antiparallel';
        lamps.push({
          id,
          part: use.part,
          circuit: lever,
          group: group.id,
          lie,
          series: ids.length > 1 ? `${group.id}=${lie}` : null,
          anode: `${id}.a`,
          cathode: `${id}.k`,
          guard: guarded ? { id: `GD-${id}`, part } : null,
        });
        join(at, `${id}.${into}`, lever, atNet);
        const last = i === ids.length - 1;
        if (last) alongFar(`${id}.${outOf}`);
        if (guarded) {
          const [nearNet, farNet] = [atNet, last ? `${lever}.t5` : `${id}.${outOf}`];
          // The guard lies across the lamp, its cathode on the lamp's anode.
          join(`${id}.a`, `GD-${id}.k`, lever, lie === 'normal' ? nearNet : farNet);
          join(`${id}.k`, `GD-${id}.a`, lever, lie === 'normal' ? farNet : nearNet);
        }
        at = `${id}.${outOf}`;
        atNet = at;
      }
      const first = ids[0];
      return first === undefined ? end : `${first}.${into}`;
    }
  }

  /** From the commons to the pins, along the pins of one shell, and under the layout to the drives. */
  function driveJoins(lever: string): void {
    const lastIn = new Map<string, readonly [Terminal, Terminal]>();
    const layout: Join[] = [];
    for (const drive of drivesOf(lever)) {
      const pins = pinsOf.get(drive.id);
      if (pins === undefined) continue;
      const [plus, minus] = pins;
      const from = lastIn.get(plus.connector) ?? [`${lever}.t2`, `${lever}.t5`];
      join(from[0], plus.id, lever, `${lever}.t2`);
      join(from[1], minus.id, lever, `${lever}.t5`);
      lastIn.set(plus.connector, [plus.id, minus.id]);
      const ohms = wireOhms(drive.wire.length, drive.wire.gauge);
      for (const pin of pins)
        layout.push({ from: pin.id, to: pin.to, circuit: lever, net: pin.net, side: 'layout', ohms });
    }
    joins.push(...layout);
  }

  /** Numbers for the wires: what the file or the built panel calls by its ends keeps its number, the rest take the next free. */
  function numbered(all: readonly Join[]): readonly Wire[] {
    const ends = (from: string, to: string) => [from, to].sort().join(' ');
    const joined = new Set(all.map((each) => ends(each.from, each.to)));
    const fixed = new Map<string, WireRecord>();
    for (const [id, record] of Object.entries(panel.built?.wires ?? {}))
      fixed.set(ends(record.from, record.to), { ...record, id });
    for (const record of panel.wires ?? []) {
      if (record.from === undefined || record.to === undefined) continue;
      const key = ends(record.from, record.to);
      if (!fixed.has(key)) fixed.set(key, record);
      if (!joined.has(key)) {
        problems.push({ code: 'wire-joins-nothing', wire: record.id, from: record.from, to: record.to });
      }
    }
    const names = newIds(panel);
    return all.map((each): Wire => {
      const record = fixed.get(ends(each.from, each.to));
      const id = record?.id ?? names.next('W');
      return {
        ...each,
        id,
        colour: record?.colour ?? null,
        gauge: record?.gauge ?? null,
        length: record?.length ?? null,
      };
    });
  }

  function wiredSupply(supply: Supply): WiredSupply {
    const mine = live.filter((each) => each.supply.id === supply.id).map((each) => each.lever);
    const draw = worstDraw(
      supply,
      fedDrives.filter((drive) => drive.circuit !== null && mine.includes(drive.circuit)),
      groups.filter((group) => mine.includes(group.lever)),
    );
    const band = feedVolts(supply);
    return {
      id: supply.id,
      volts: supply.volts,
      low: band.low,
      high: band.high,
      ohms: supply.ohms,
      amps: supply.amps,
      limit: supply.limit,
      fuse: fuseOf(supply, draw.worst),
      circuits: mine,
      worstAmps: draw.worst,
      steadyAmps: draw.steady,
    };
  }
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
