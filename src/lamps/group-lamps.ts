/**
 * Lamps into groups behind resistors. The file's groups come first, as they are, then those that are built; the rest are made lever by
 * lever: opposed pairs behind one resistor, each guarding the other from reverse volts, and what has no partner alone with a guard
 * diode across it.
 */
import {
  DEFAULTS,
  feedOf,
  type LampGroupRecord,
  type LeverRecord,
  newIds,
  type PanelFile,
  type Supply,
  suppliesOf,
} from '../panel/index.ts';
import type { Catalogue } from '../parts/index.ts';
import type { Plan } from '../plan/index.ts';
import type { Ohm } from '../units/index.ts';
import { type Load, sizeResistor } from './size-resistor.ts';
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
  const ofLever = new Map<string, LampGroup[]>();

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
  for (const lever of plan.levers) {
    const left = lamps.filter((lamp) => lamp.lever === lever.id && !taken.has(lamp.id));
    const normal = left.filter((lamp) => lamp.lie === 'normal');
    const reverse = left.filter((lamp) => lamp.lie === 'reverse');
    const pairs = Math.min(normal.length, reverse.length);
    for (let i = 0; i < pairs; i++) push(made(lever.id, 'pair', normal.slice(i, i + 1), reverse.slice(i, i + 1)));
    for (const lamp of normal.slice(pairs)) push(made(lever.id, 'own', [lamp], []));
    for (const lamp of reverse.slice(pairs)) push(made(lever.id, 'own', [], [lamp]));
  }
  return { groups: plan.levers.flatMap((lever) => ofLever.get(lever.id) ?? []), problems };

  function push(group: LampGroup): void {
    const list = ofLever.get(group.lever);
    if (list === undefined) ofLever.set(group.lever, [group]);
    else list.push(group);
  }

  function made(lever: string, arrange: Arrange, normal: readonly LampUse[], reverse: readonly LampUse[]): LampGroup {
    const id = names.next('G');
    return sized(
      id,
      lever,
      arrange,
      arrange === 'own' ? 'antiparallel' : 'none',
      normal,
      reverse,
      null,
      'computed',
      false,
    );
  }

  /** A group that the tool made and that is soldered by now keeps its lamps, its number and its ohms. */
  function fromBuilt(id: string, soldered: readonly string[], ohms: Ohm | null): LampGroup | null {
    const there = soldered.flatMap((lamp) => (taken.has(lamp) ? [] : (byId.get(lamp) ?? [])));
    const lever = there.find((lamp) => lamp.lever !== null)?.lever ?? null;
    if (lever === null) return null;
    const mine = there.filter((lamp) => lamp.lever === lever);
    for (const lamp of mine) taken.set(lamp.id, id);
    const normal = mine.filter((lamp) => lamp.lie === 'normal');
    const reverse = mine.filter((lamp) => lamp.lie === 'reverse');
    const arrange = soldered.length === 1 ? 'own' : normal.length < 2 && reverse.length < 2 ? 'pair' : 'parallel';
    return sized(
      id,
      lever,
      arrange,
      arrange === 'own' ? 'antiparallel' : 'none',
      normal,
      reverse,
      ohms,
      ohms === null ? 'computed' : 'built',
      false,
    );
  }

  function fromRecord(record: LampGroupRecord): LampGroup | null {
    const members: LampUse[] = [];
    for (const id of record.lamps) {
      const lamp = byId.get(id);
      const other = taken.get(id);
      if (lamp === undefined) problems.push({ code: 'group-lamp-unknown', group: record.id, lamp: id });
      else if (other !== undefined) problems.push({ code: 'group-lamp-twice', lamp: id, groups: [other, record.id] });
      else {
        taken.set(id, record.id);
        if (lamp.lever !== null) members.push(lamp);
      }
    }
    const levers = [...new Set(members.map((lamp) => lamp.lever ?? ''))];
    const lever = levers[0];
    if (lever === undefined) return null;
    if (levers.length > 1) {
      problems.push({ code: 'group-two-levers', group: record.id, levers: levers.sort() });
      for (const lamp of members) if (lamp.lever !== lever) taken.delete(lamp.id);
    }
    const mine = members.filter((lamp) => lamp.lever === lever);
    const normal = mine.filter((lamp) => lamp.lie === 'normal');
    const reverse = mine.filter((lamp) => lamp.lie === 'reverse');
    const arrange = record.arrange ?? 'pair';
    if (arrange === 'pair' && (normal.length > 1 || reverse.length > 1)) {
      problems.push({ code: 'group-not-a-pair', group: record.id, normal: normal.length, reverse: reverse.length });
    }
    const built = panel.built?.groups?.[record.id]?.ohms;
    const ohms = built ?? record.ohms ?? null;
    const from = built !== undefined ? 'built' : record.ohms !== undefined ? 'file' : 'computed';
    return sized(record.id, lever, arrange, record.guard ?? 'none', normal, reverse, ohms, from, true);
  }

  function sized(
    id: string,
    lever: string,
    arrange: Arrange,
    guard: LampGroup['guard'],
    normal: readonly LampUse[],
    reverse: readonly LampUse[],
    ohms: Ohm | null,
    ohmsFrom: LampGroup['ohmsFrom'],
    recorded: boolean,
  ): LampGroup {
    const first = feedOf(panel, records.get(lever)).supplies[0];
    const supply = supplies.find((each) => each.id === first) ?? supplies[0] ?? NO_SUPPLY;
    const loads = [normal, reverse].flatMap((side) => loadsOf(arrange, side));
    const { ohms: value, watts, rating, sum, steps } = sizeResistor(feedVolts(supply), loads, ohms);
    return {
      id,
      lever,
      arrange,
      guard,
      normal: normal.map((lamp) => lamp.id),
      reverse: reverse.map((lamp) => lamp.id),
      ohms: value,
      watts,
      rating,
      ohmsFrom,
      recorded,
      sum,
      steps,
    };
  }
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
