/**
 * Lamps into groups behind resistors. The file's groups come first, as they are, then those that are built; the rest are made lever by
 * lever: opposed pairs behind one resistor, each guarding the other from reverse volts, and what has no partner alone with a guard
 * diode across it.
 */
import {
  DEFAULTS,
  feedOf,
  isAlike,
  type LampGroupRecord,
  type LeverRecord,
  type Lie,
  newIds,
  type PanelFile,
  type Supply,
  suppliesOf,
} from '../panel/index.ts';
import type { Catalogue } from '../parts/index.ts';
import type { Plan } from '../plan/index.ts';
import type { Ohm } from '../units/index.ts';
import { type Load, type SizedResistor, sizeResistor } from './size-resistor.ts';
import { DIODE_DROP } from './tolerances.ts';
import type { FeedVolts, LampGroup, LampProblem, LampUse } from './types.ts';

type Arrange = LampGroup['arrange'];

/** What is asked of a supply to know its volts. */
type Volts = Pick<Supply, 'volts' | 'tolerance' | 'voltsOffLoad'>;

/** Stands in where the file has no supply at all: nothing is lit then, but a resistor has a size. */
const NO_SUPPLY: Volts = { ...DEFAULTS.supply, voltsOffLoad: null };

/** Volts that a supply's feed holds: its EMF, and the edges of its band. */
export function feedVolts(supply: Volts): FeedVolts {
  return {
    low: supply.volts * (1 - supply.tolerance),
    nominal: supply.volts,
    high: Math.max(supply.volts * (1 + supply.tolerance), supply.voltsOffLoad ?? 0),
  };
}

/**
 * Volts behind one diode of an alternating supply: smoothed, its crest less the diode; without a capacitor the mean of half a wave.
 * Sum: the crest is 1.414 times the effective volts, the mean of a half wave the crest / pi.
 */
export function rectifiedVolts(supply: Volts & Pick<Supply, 'farads'>): FeedVolts {
  const times = supply.farads === null ? Math.SQRT2 / Math.PI : Math.SQRT2;
  const { low, nominal, high } = feedVolts(supply);
  const behind = (volts: number) => Math.max(0, volts * times - (supply.farads === null ? 0.5 : 1) * DIODE_DROP);
  return { low: behind(low), nominal: behind(nominal), high: behind(high) };
}

/** Every group of wired lamps, by lever in the order of the plan: the file's groups, then what is built, then the tool's. */
export function groupLamps(
  panel: PanelFile,
  _catalogue: Catalogue,
  plan: Plan,
  lamps: readonly LampUse[],
): { readonly groups: readonly LampGroup[]; readonly problems: readonly LampProblem[] } {
  const problems: LampProblem[] = [];
  const byId = new Map(lamps.map((lamp) => [lamp.id, lamp]));
  const records = new Map<string, LeverRecord>((panel.levers ?? []).map((record) => [record.id, record]));
  const supplies = suppliesOf(panel);
  const taken = new Map<string, string>();
  /** Most groups are like one another. */
  const sizes: { volts: FeedVolts; loads: readonly Load[]; ohms: Ohm | null; size: SizedResistor }[] = [];
  const ofCircuit = new Map<string, LampGroup[]>();

  for (const record of panel.lampGroups ?? []) {
    const group = fromRecord(record);
    if (group !== null) push(group);
  }
  const names = newIds(panel);
  for (const [id, { lamps: soldered, ohms }] of Object.entries(panel.built?.groups ?? {})) {
    names.claim(id);
    const group = panel.lampGroups?.some((record) => record.id === id) ? null : fromBuilt(id, soldered, ohms ?? null);
    if (group !== null) push(group);
  }
  // Levers in the order of the plan, then what no single lever lights, in the order of the lamps.
  const circuits = [...new Set([...plan.levers.map(({ id }) => id), ...lamps.flatMap(({ circuit }) => circuit ?? [])])];
  const lampsOf = new Map<string, LampUse[]>();
  for (const lamp of lamps) {
    if (lamp.circuit === null) continue;
    const own = lampsOf.get(lamp.circuit);
    if (own === undefined) lampsOf.set(lamp.circuit, [lamp]);
    else own.push(lamp);
  }
  for (const circuit of circuits) {
    const left = (lampsOf.get(circuit) ?? []).filter((lamp) => !taken.has(lamp.id));
    for (const alike of likeHung(left)) {
      const normal = alike.filter((lamp) => sideOf(lamp) === 'normal');
      const reverse = alike.filter((lamp) => sideOf(lamp) === 'reverse');
      const pairs = Math.min(normal.length, reverse.length);
      for (let i = 0; i < pairs; i++) push(made(circuit, 'pair', normal.slice(i, i + 1), reverse.slice(i, i + 1)));
      for (const lamp of normal.slice(pairs)) push(made(circuit, 'own', [lamp], []));
      for (const lamp of reverse.slice(pairs)) push(made(circuit, 'own', [], [lamp]));
    }
  }
  return { groups: circuits.flatMap((circuit) => ofCircuit.get(circuit) ?? []), problems };

  function push(group: LampGroup): void {
    const list = ofCircuit.get(group.circuit);
    if (list === undefined) ofCircuit.set(group.circuit, [group]);
    else list.push(group);
  }

  function made(circuit: string, arrange: Arrange, normal: readonly LampUse[], reverse: readonly LampUse[]): LampGroup {
    const id = names.next('G');
    // Contacts leave a dark lamp without any feed: it needs no guard.
    const guard = arrange === 'own' && hungOf([...normal, ...reverse]) === null ? 'antiparallel' : 'none';
    return sized(id, circuit, arrange, guard, normal, reverse, null, 'computed', false);
  }

  /** A group that the tool made and that is soldered by now keeps its lamps, its number and its ohms. */
  function fromBuilt(id: string, soldered: readonly string[], ohms: Ohm | null): LampGroup | null {
    const there = soldered.flatMap((lamp) => (taken.has(lamp) ? [] : (byId.get(lamp) ?? [])));
    const mine = together(there);
    const circuit = mine[0]?.circuit ?? null;
    if (circuit === null) return null;
    for (const lamp of mine) taken.set(lamp.id, id);
    const normal = mine.filter((lamp) => sideOf(lamp) === 'normal');
    const reverse = mine.filter((lamp) => sideOf(lamp) === 'reverse');
    const arrange = soldered.length === 1 ? 'own' : normal.length < 2 && reverse.length < 2 ? 'pair' : 'parallel';
    const guard = arrange === 'own' && hungOf(mine) === null ? 'antiparallel' : 'none';
    return sized(id, circuit, arrange, guard, normal, reverse, ohms, ohms === null ? 'computed' : 'built', false);
  }

  function fromRecord(record: LampGroupRecord): LampGroup | null {
    const members: LampUse[] = [];
    for (const id of record.lamps) {
      const named = lamps.filter((lamp) => lamp.id === id || lamp.of === id);
      const other = taken.get(id);
      if (named.length === 0) problems.push({ code: 'group-lamp-unknown', group: record.id, lamp: id });
      else if (other !== undefined) problems.push({ code: 'group-lamp-twice', lamp: id, groups: [other, record.id] });
      else {
        taken.set(id, record.id);
        for (const lamp of named) {
          taken.set(lamp.id, record.id);
          if (lamp.circuit !== null) members.push(lamp);
        }
      }
    }
    const circuits = [...new Set(members.map((lamp) => lamp.circuit ?? ''))];
    const circuit = circuits[0];
    if (circuit === undefined) return null;
    const mine = together(members);
    const apart = members.filter((lamp) => !mine.includes(lamp));
    for (const lamp of apart) taken.delete(lamp.id);
    if (circuits.length > 1) problems.push({ code: 'group-two-levers', group: record.id, levers: circuits.sort() });
    else if (apart.length > 0)
      problems.push({ code: 'group-apart', group: record.id, lamps: apart.map(({ id }) => id) });
    const normal = mine.filter((lamp) => sideOf(lamp) === 'normal');
    const reverse = mine.filter((lamp) => sideOf(lamp) === 'reverse');
    const arrange = record.arrange ?? 'pair';
    if (arrange === 'pair' && (normal.length > 1 || reverse.length > 1)) {
      problems.push({ code: 'group-not-a-pair', group: record.id, normal: normal.length, reverse: reverse.length });
    }
    const built = panel.built?.groups?.[record.id]?.ohms;
    const ohms = built ?? record.ohms ?? null;
    const from = built !== undefined ? 'built' : record.ohms !== undefined ? 'file' : 'computed';
    return sized(record.id, circuit, arrange, record.guard ?? 'none', normal, reverse, ohms, from, true);
  }

  function sized(
    id: string,
    circuit: string,
    arrange: Arrange,
    guard: LampGroup['guard'],
    normal: readonly LampUse[],
    reverse: readonly LampUse[],
    ohms: Ohm | null,
    ohmsFrom: LampGroup['ohmsFrom'],
    recorded: boolean,
  ): LampGroup {
    const all = [...normal, ...reverse];
    const scheme = all[0]?.scheme ?? 'across-feed';
    const common = {
      id,
      circuit,
      scheme,
      nodes: nodesOf(normal, reverse),
      arrange,
      guard,
      normal: normal.map((lamp) => lamp.id),
      reverse: reverse.map((lamp) => lamp.id),
      ohmsFrom,
      recorded,
    };
    // In series with a drive its own resistance is the resistor.
    if (scheme === 'in-series' && ohms === null) return { ...common, ohms: 0, watts: 0, rating: 0, sum: [], steps: [] };
    const loads = [normal, reverse].flatMap((side) => loadsOf(arrange, side));
    const volts = voltsFor(all);
    const before = sizes.find((each) => each.ohms === ohms && isAlike(each.volts, volts) && isAlike(each.loads, loads));
    const size = before?.size ?? sizeResistor(volts, loads, ohms);
    if (before === undefined) sizes.push({ volts, loads, ohms, size });
    const { ohms: value, watts, rating, sum, steps } = size;
    return { ...common, ohms: value, watts, rating, sum, steps };
  }

  /** What the lamps are lit from. */
  function voltsFor(all: readonly LampUse[]): FeedVolts {
    const [first] = all;
    const fed = first?.hang === null ? feedOf(panel, records.get(first.circuit ?? '')) : null;
    const named = fed?.kind === 'split' ? fed.supplies.slice(0, 2) : [first?.supply ?? ''];
    const found = named.flatMap((id) => supplies.find((each) => each.id === id) ?? []);
    const from = found.length > 0 ? found : supplies.slice(0, 1);
    const volts =
      from.length === 0
        ? [feedVolts(NO_SUPPLY)]
        : from.map((supply) =>
            // What hangs on contacts has of an alternating supply the rail behind its diode.
            fed?.kind === 'half-wave' || (fed === null && supply.kind === 'ac')
              ? rectifiedVolts(supply)
              : feedVolts(supply),
          );
    return {
      low: Math.min(...volts.map(({ low }) => low)),
      nominal: Math.max(...volts.map(({ nominal }) => nominal)),
      high: Math.max(...volts.map(({ high }) => high)),
    };
  }
}

/** The throw of what lights a lamp. */
function sideOf(lamp: LampUse): Lie {
  return lamp.hang?.side ?? lamp.lie ?? 'normal';
}

/** Where lamps hang whose places decide what may share a resistor; null for those of a feed. */
function hungOf(lamps: readonly LampUse[]): LampUse['hang'] {
  return lamps[0]?.hang ?? null;
}

function nodesOf(normal: readonly LampUse[], reverse: readonly LampUse[]): LampGroup['nodes'] {
  const far = hungOf([...normal, ...reverse])?.minus;
  if (far === undefined) return null;
  return { normal: hungOf(normal)?.plus ?? null, reverse: hungOf(reverse)?.plus ?? null, far };
}

/** May these two stand behind one resistor: of one circuit and scheme, at one node, or at the two throws of one contact? */
function mayShare(one: LampUse, other: LampUse): boolean {
  if (one.circuit !== other.circuit || one.supply !== other.supply) return false;
  if ((one.scheme === 'in-series') !== (other.scheme === 'in-series')) return false;
  const [a, b] = [one.hang, other.hang];
  if (a === null || b === null) return a === b;
  if (a.minus !== b.minus) return false;
  return a.plus === b.plus ? a.side === b.side : a.contact === b.contact && a.side !== b.side;
}

/** Those that may share with the first, and with each other. */
function together(lamps: readonly LampUse[]): readonly LampUse[] {
  const kept: LampUse[] = [];
  for (const lamp of lamps) if (lamp.circuit !== null && kept.every((each) => mayShare(each, lamp))) kept.push(lamp);
  return kept;
}

/** Lamps by what may share: each list in order. */
function likeHung(lamps: readonly LampUse[]): readonly (readonly LampUse[])[] {
  const lists: LampUse[][] = [];
  for (const lamp of lamps) {
    const list = lists.find((each) =>
      each.every((other) => mayShare(other, lamp) && (lamp.element === null || other.of === lamp.of)),
    );
    if (list === undefined) lists.push([lamp]);
    else list.push(lamp);
  }
  return lists;
}

/** What a group's resistor feeds when its lamps of one side are lit. */
function loadsOf(arrange: Arrange, side: readonly LampUse[]): readonly Load[] {
  if (side.length === 0) return [];
  if (arrange === 'series') {
    const current = Math.min(...side.map((lamp) => lamp.current));
    return [{ series: side.map((lamp) => lamp.part), strings: 1, current }];
  }
  if (arrange === 'own') return side.map((lamp) => ({ series: [lamp.part], strings: 1, current: lamp.current }));
  // Side by side behind one resistor: the brightest of them is the one of least forward volts.
  const [first] = [...side].sort((a, b) => a.part.vf - b.part.vf);
  return first === undefined
    ? []
    : [{ series: [first.part], strings: side.length, current: Math.min(...side.map((l) => l.current)) }];
}
