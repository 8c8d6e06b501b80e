/**
 * The settings that matter to one lamp: positions of the levers that work the points of its claim, and histories of the points of which
 * nothing is asked. Each holds for every setting of all other levers.
 */
import { type LeverSwitch, twinId } from '../contacts/index.ts';
import { type LampUse, leversOfPoints } from '../lamps/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { otherLie, type Position, turnedBy } from '../wiring/index.ts';
import { CASES_MOST } from './tolerances.ts';

/** A setting of the levers that matter to one lamp, with the lies that follow. */
export interface Case {
  readonly levers: Readonly<Record<string, Position>>;
  readonly history: Lies;
  readonly lies: Lies;
  /** Is something asked of every point that the claim names? */
  readonly asked: boolean;
}

/** What levers and histories there are. */
export interface Settings {
  /** The product over all levers and all points that no lever works, as a decimal string. */
  readonly count: string;
  casesOf(lamp: LampUse): readonly Case[];
}

const LIES: readonly Lie[] = ['normal', 'reverse'];

/** The settings of a panel, wired or not: what a lever asks, it asks whether or not its circuit could be made. */
export function settingsOf(plan: Pick<Plan, 'points' | 'levers'>, switches: readonly LeverSwitch[]): Settings {
  const workedBy = leversOfPoints(plan);
  const parts = new Map(switches.map((each) => [each.lever, each.part]));
  const twins = new Map(switches.map((each) => [each.lever, each.twin]));
  const twoWay = (lever: string) => twins.get(lever) === 'two-way';
  // Where a relay remembers for two levers, it stays where the last throw took it.
  const isSprung = (lever: string) => parts.get(lever)?.sprung === true && twins.get(lever) !== 'latch';
  const hasCentre = (lever: string) => parts.get(lever)?.centreOff === true && !isSprung(lever);
  const positionsOf = (lever: string): readonly Position[] => (hasCentre(lever) ? [...LIES, 'centre'] : LIES);
  return { count: countSettings(), casesOf };

  /** A sprung lever is let go: its last throw is the history of its points, and it has no positions to name. */
  function casesOf(lamp: LampUse): readonly Case[] {
    const points = [...new Set(lamp.claim.flatMap((lies) => Object.keys(lies)))].sort();
    const working = points.flatMap((id) => workedBy.get(id)?.lever.id ?? []);
    const named = lamp.lever === null ? working : [...working, lamp.lever];
    const own = [...new Set(named)].filter((lever) => !isSprung(lever)).sort();
    const levers = own.flatMap((lever) => (twoWay(lever) ? [lever, twinId(lever)] : [lever]));
    // In a centre every point is free: no lamp has more cases than this.
    const most = levers.reduce((product, lever) => product * positionsOf(lever).length, 2 ** points.length);
    if (most > CASES_MOST) return fewCasesOf(lamp, levers, points);
    let settings: Record<string, Position>[] = [{}];
    for (const lever of levers)
      settings = settings.flatMap((setting) =>
        positionsOf(lever).map((position) => ({ ...setting, [lever]: position })),
      );
    return settings.flatMap((setting) => {
      const asks = askedBy(setting, points);
      let histories: Record<string, Lie>[] = [{}];
      for (const id of points)
        if (!Object.hasOwn(asks, id))
          histories = histories.flatMap((history) => LIES.map((lie) => ({ ...history, [id]: lie })));
      return histories.map((history) => caseOf(setting, history, asks));
    });
  }

  /**
   * Of a claim on so many points that its cases cannot all be told. Of one lever: each position, and in the middle one history in
   * which the claim holds and one in which it does not. Of several, which no lamp across a feed can say and which leave it dark: a
   * setting for each alternative, in which it should be lit, and each lever that rests in its middle.
   */
  function fewCasesOf(lamp: LampUse, levers: readonly string[], points: readonly string[]): readonly Case[] {
    const holding = lamp.claim.flatMap((lies): Case[] => {
      const setting: Record<string, Position> = {};
      const history: Record<string, Lie> = {};
      for (const [id, lie] of Object.entries(lies)) {
        const worked = workedBy.get(id);
        if (worked === undefined || isSprung(worked.lever.id)) {
          history[id] = lie;
          continue;
        }
        const position = worked.whenNormal === lie ? 'normal' : 'reverse';
        if (Object.hasOwn(setting, worked.lever.id) && setting[worked.lever.id] !== position) return [];
        setting[worked.lever.id] = position;
        if (twoWay(worked.lever.id)) setting[twinId(worked.lever.id)] = 'normal';
      }
      return [caseOf(setting, history, lies)];
    });
    const first = lamp.claim[0] ?? {};
    const against = Object.fromEntries(
      points.map((id) => [id, otherLie((Object.hasOwn(first, id) ? first[id] : undefined) ?? 'normal')]),
    );
    const middles = levers.filter(hasCentre);
    const [only] = levers;
    if (levers.length !== 1 || only === undefined) {
      const silent = middles.map((lever) => ({
        levers: { [lever]: 'centre' as const },
        history: {},
        lies: against,
        asked: false,
      }));
      return [...holding, ...silent];
    }
    return positionsOf(only).flatMap((position) => {
      const setting = { [only]: position };
      if (position !== 'centre') return [caseOf(setting, {}, { ...against, ...askedBy(setting, points) })];
      return [{ ...against, ...first }, against].map((history) => caseOf(setting, history, {}));
    });
  }

  function askedBy(setting: Readonly<Record<string, Position>>, points: readonly string[]): Lies {
    const asks: Record<string, Lie> = {};
    for (const id of points) {
      const worked = workedBy.get(id);
      if (worked === undefined || !Object.hasOwn(setting, worked.lever.id)) continue;
      const before = twoWay(worked.lever.id) ? (setting[twinId(worked.lever.id)] ?? 'normal') : 'normal';
      const position = turnedBy(setting[worked.lever.id] ?? 'normal', before);
      if (position === 'centre') continue;
      asks[id] = position === 'normal' ? worked.whenNormal : otherLie(worked.whenNormal);
    }
    return asks;
  }

  function caseOf(levers: Readonly<Record<string, Position>>, history: Lies, asks: Lies): Case {
    return { levers, history, lies: { ...asks, ...history }, asked: Object.keys(history).length === 0 };
  }

  /**
   * Two for a lever, two and its points' histories for one with a middle, the histories alone for a sprung one; twice as many for one whose
   * twin stands before it; a point counts once.
   */
  function countSettings(): string {
    let settings = 1n;
    let left = plan.points.length;
    for (const lever of plan.levers) {
      const points = new Set(lever.works.map(({ point }) => point));
      const own = [...points].filter((point) => workedBy.get(point)?.lever.id === lever.id).length;
      left -= own;
      const histories = 1n << BigInt(own);
      settings *= isSprung(lever.id) ? histories : hasCentre(lever.id) ? 2n + histories : 2n;
      if (twoWay(lever.id)) settings *= 2n;
    }
    return (settings << BigInt(left)).toString();
  }
}
