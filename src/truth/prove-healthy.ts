/**
 * The truth of the healthy panel, as rules 1 to 9 define it: in every setting, lit exactly when the claim holds.
 *
 * Idea: a lamp's current depends only on the levers of its own island, and its claim only on the levers and histories of the points
 * that it names. So each lamp is judged over those few alone, and the answer holds for every setting of the others.
 * Behind an ideal supply the island is one lever; behind a supply with ohms other levers are taken at their heaviest and their
 * lightest draw, which bound the lamp since a network of resistors, diodes and sources is monotone in its load.
 * Cost: the positions of each lever, times the lamps that it lights.
 */
import { type LampUse, leversOfPoints } from '../lamps/index.ts';
import type { Lie, Lies, PanelFile } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import { islandsOf, otherLie, type Position, solveIsland, type Wiring } from '../wiring/index.ts';
import { DARK_SHARE } from './tolerances.ts';
import type { HealthyTruth, Shown, TruthEntry, Untruth } from './types.ts';

export interface TruthInput {
  readonly panel: PanelFile;
  readonly plan: Plan;
  readonly lamps: readonly LampUse[];
  readonly wiring: Wiring;
}

/** What a lamp does in one position of its lever. */
interface Range {
  readonly low: number;
  readonly high: number;
  readonly amps: number;
}

type Verdict = 'lit' | 'dark' | 'doubtful';

/** A setting of the levers that matter to one lamp, with the lies that follow. */
interface Case {
  readonly levers: Readonly<Record<string, Position>>;
  readonly history: Lies;
  readonly lies: Lies;
  /** Is something asked of every point that the claim names? */
  readonly asked: boolean;
}

/** Prove it. Lists are sorted by lamp in the order of the file, then by setting. */
export function proveHealthy(input: TruthInput): HealthyTruth {
  const { plan, lamps, wiring } = input;
  const workedBy = leversOfPoints(plan);
  const positions = new Map<string, readonly Position[]>();
  const sprung = new Set(wiring.switches.filter((each) => each.part.sprung).map((each) => each.id));
  for (const lever of plan.levers) {
    positions.set(
      lever.id,
      wiring.circuits.find((circuit) => circuit.id === lever.id)?.positions ?? ['normal', 'reverse'],
    );
  }
  const ranges = rangesOf(wiring);
  const untruths: Untruth[] = [];
  const doubtful: (TruthEntry & { side: 'right' | 'wrong' })[] = [];
  const silent: TruthEntry[] = [];

  for (const lamp of lamps) {
    if (lamp.claim.length === 0) continue;
    for (const each of casesOf(lamp)) judge(lamp, each);
  }
  return {
    settings: countSettings(),
    lamps: lamps.map(({ id, claim, kind, basis }) => ({ id, claim, kind, basis })),
    untruths,
    doubtful,
    contradictions: contradictionsOf(),
    silent,
    leads: leadsOf(),
  };

  function judge(lamp: LampUse, each: Case): void {
    const range = rangeAt(lamp, each);
    const verdict = verdictOf(lamp, range);
    const should: Shown = lamp.claim.some((lies) => holds(lies, each.lies)) ? 'lit' : 'unlit';
    const entry: TruthEntry = { levers: each.levers, history: each.history, lamp: lamp.id };
    if (!each.asked && verdict === 'dark') {
      if (lamp.speaksWhenDark && should === 'lit') untruths.push({ ...entry, shown: 'unlit', should });
      else silent.push(entry);
      return;
    }
    const shownNominal: Shown = range.amps >= lamp.part.seen ? 'lit' : 'unlit';
    if (verdict === 'doubtful') {
      const right = shownNominal === should;
      doubtful.push({ ...entry, side: right ? 'right' : 'wrong' });
      if (!right) untruths.push({ ...entry, shown: shownNominal, should });
      return;
    }
    const shown: Shown = verdict === 'lit' ? 'lit' : 'unlit';
    if (shown !== should) untruths.push({ ...entry, shown, should });
  }

  function rangeAt(lamp: LampUse, each: Case): Range {
    const position = lamp.lever === null ? undefined : (each.levers[lamp.lever] ?? 'normal');
    return (position === undefined ? undefined : ranges.get(`${lamp.id} ${position}`)) ?? { low: 0, high: 0, amps: 0 };
  }

  /** Every position of the levers, and every history of the points not asked, that this lamp's claim depends on. */
  function casesOf(lamp: LampUse): readonly Case[] {
    const points = [...new Set(lamp.claim.flatMap((lies) => Object.keys(lies)))].sort();
    const levers = [
      ...new Set([
        ...points.flatMap((id) => workedBy.get(id)?.lever.id ?? []),
        ...(lamp.lever === null ? [] : [lamp.lever]),
      ]),
    ].sort();
    let settings: Record<string, Position>[] = [{}];
    for (const lever of levers) {
      settings = settings.flatMap((setting) =>
        (positions.get(lever) ?? ['normal']).map((position) => ({ ...setting, [lever]: position })),
      );
    }
    return settings.flatMap((setting) => {
      const lies: Record<string, Lie> = {};
      const free: string[] = [];
      for (const id of points) {
        const worked = workedBy.get(id);
        const position = worked === undefined ? 'centre' : (setting[worked.lever.id] ?? 'normal');
        if (worked === undefined || position === 'centre' || sprung.has(worked.lever.id)) free.push(id);
        else lies[id] = position === 'normal' ? worked.whenNormal : otherLie(worked.whenNormal);
      }
      let histories: Record<string, Lie>[] = [{}];
      for (const id of free)
        histories = histories.flatMap((history) =>
          (['normal', 'reverse'] as const).map((lie) => ({ ...history, [id]: lie })),
        );
      return histories.map((history) => ({
        levers: setting,
        history,
        lies: { ...lies, ...history },
        asked: free.length === 0,
      }));
    });
  }

  /** Lamps of both legs of one point lit together; each pair of lamps is named once, by the first. */
  function contradictionsOf(): readonly TruthEntry[] {
    const found: TruthEntry[] = [];
    for (const point of plan.points) {
      const claims = (lie: Lie) =>
        lamps.filter((lamp) => lamp.claim.length === 1 && lamp.claim[0]?.[point.id] === lie && lamp.lever !== null);
      for (const normal of claims('normal')) {
        for (const each of litSettings(normal)) {
          const other = claims('reverse').find((reverse) =>
            litSettings(reverse).some((theirs) => theirs.lever === each.lever && theirs.position === each.position),
          );
          if (other !== undefined)
            found.push({ levers: { [each.lever]: each.position }, history: {}, lamp: normal.id });
        }
      }
    }
    return found;
  }

  function litSettings(lamp: LampUse): readonly { readonly lever: string; readonly position: Position }[] {
    const lever = lamp.lever;
    if (lever === null) return [];
    return (positions.get(lever) ?? []).flatMap((position) => {
      const range = ranges.get(`${lamp.id} ${position}`);
      return range !== undefined && verdictOf(lamp, range) !== 'dark' ? [{ lever, position }] : [];
    });
  }

  /** A lamp that knows what was asked changes at once; the blades take their drive's time. */
  function leadsOf(): HealthyTruth['leads'] {
    return lamps.flatMap((lamp) => {
      if (lamp.lever === null) return [];
      const points = new Set(lamp.claim.flatMap((lies) => Object.keys(lies)));
      const seconds = wiring.drives
        .filter((drive) => drive.points.some((id) => points.has(id)))
        .map((drive) => drive.part.runSeconds ?? 0);
      const most = Math.max(0, ...seconds);
      return most > 0 ? [{ lamp: lamp.id, seconds: most }] : [];
    });
  }

  /** How many settings there are: each lever's positions, with the histories of what they do not ask. */
  function countSettings(): string {
    let settings = 1n;
    const worked = new Set<string>();
    for (const lever of plan.levers) {
      const fresh = lever.works.filter(
        (each) => !worked.has(each.point) && workedBy.get(each.point)?.lever.id === lever.id,
      );
      for (const each of fresh) worked.add(each.point);
      const histories = 1n << BigInt(fresh.length);
      if (sprung.has(lever.id)) settings *= histories;
      else if (positions.get(lever.id)?.includes('centre') === true) settings *= 2n + histories;
      else settings *= 2n;
    }
    for (const point of plan.points) if (!worked.has(point.id)) settings *= 2n;
    return settings.toString();
  }
}

function holds(claim: Lies, lies: Lies): boolean {
  return Object.entries(claim).every(([point, lie]) => lies[point] === lie);
}

/** Lit: least at or above seen. Dark: greatest at or below a twentieth of it. Destroyed lamps are dark. Else doubtful. */
function verdictOf(lamp: LampUse, range: Range): Verdict {
  if (range.amps > 2 * lamp.part.max) return 'dark';
  if (range.low >= lamp.part.seen) return 'lit';
  return range.high <= (lamp.part.dark ?? lamp.part.seen * DARK_SHARE) ? 'dark' : 'doubtful';
}

/** The range of every lamp in each position of its own lever, whatever the other levers of its island do. */
function rangesOf(wiring: Wiring): ReadonlyMap<string, Range> {
  const ranges = new Map<string, Range>();
  for (const island of islandsOf(wiring)) {
    const loads = island.length > 1 ? loadsOf(wiring, island) : null;
    for (const lever of island) {
      const positions = wiring.circuits.find((circuit) => circuit.id === lever)?.positions ?? [];
      for (const position of positions) {
        for (const others of loads ?? [{}]) {
          for (const lamp of solveIsland(wiring, island, { ...others, [lever]: position }, [lever]).lamps) {
            const key = `${lamp.id} ${position}`;
            const known = ranges.get(key);
            ranges.set(key, {
              amps: known?.amps ?? lamp.amps,
              low: Math.min(known?.low ?? lamp.low, lamp.low),
              high: Math.max(known?.high ?? lamp.high, lamp.high),
            });
          }
        }
      }
    }
  }
  return ranges;
}

/** Every lever at its heaviest draw and every lever at its lightest: with one lever set apart, these bound its volts. */
function loadsOf(wiring: Wiring, island: readonly string[]): readonly Readonly<Record<string, Position>>[] {
  const heaviest: Record<string, Position> = {};
  const lightest: Record<string, Position> = {};
  for (const lever of island) {
    const positions = wiring.circuits.find((circuit) => circuit.id === lever)?.positions ?? [];
    const draws = positions
      .map((position) => ({ position, amps: drawOf(wiring, lever, position) }))
      .sort((a, b) => a.amps - b.amps);
    lightest[lever] = draws[0]?.position ?? 'normal';
    heaviest[lever] = draws[draws.length - 1]?.position ?? 'normal';
  }
  return [heaviest, lightest];
}

function drawOf(wiring: Wiring, lever: string, position: Position): number {
  const supply = wiring.supplies.find((each) => each.circuits.includes(lever));
  const point = solveIsland(wiring, [lever], { [lever]: position }, []).nominal;
  return supply === undefined ? 0 : -(point.amps.get(supply.id) ?? 0);
}
