/**
 * The truth of the healthy panel, as rules 1 to 9 define it: in every setting, lit exactly when the claim holds.
 *
 * Idea: a lamp's current depends only on the levers of its own island, and its claim only on the levers and histories of the points
 * that it names. So each lamp is judged over those few alone, and the answer holds for every setting of the others. What the others
 * can do to it behind a weak supply is in its range (ranges.ts).
 * Cost: the positions of each lever, times the lamps that it lights.
 */
import type { LeverSwitch } from '../contacts/index.ts';
import type { LampUse } from '../lamps/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import type { Plan } from '../plan/index.ts';
import {
  type CarrierLies,
  carrierLies,
  carriersOf,
  type Faulted,
  faultedCircuits,
  islandOf,
  otherLie,
  type Position,
  positionIn,
  solveIsland,
  type Wiring,
} from '../wiring/index.ts';
import { type Case, settingsOf } from './cases.ts';
import { type Range, type Ranges, rangesOf } from './ranges.ts';
import { MID_STROKE } from './tolerances.ts';
import type { HealthyTruth, Shown, TruthEntry, Untruth } from './types.ts';
import { holds, verdictOf } from './verdict.ts';

/** What is kept of a healthy panel for the one after an edit, by circuit. */
export interface KeptHealthy {
  readonly ranges: Map<string, Ranges>;
}

export interface TruthInput {
  /** What of it the proof hangs on. */
  readonly plan: Pick<Plan, 'points' | 'levers'>;
  readonly switches: readonly LeverSwitch[];
  readonly lamps: readonly LampUse[];
  readonly wiring: Wiring;
}

type Setting = Readonly<Record<string, Position>>;

/** A lamp that is not wired. */
const NOTHING: Range = { low: 0, high: 0, least: 0, most: 0 };

/** Prove it. Lists are sorted by lamp in the order of the file, then by setting. `kept`: what was found before an edit and still holds. */
export function proveHealthy(input: TruthInput, kept?: KeptHealthy): HealthyTruth {
  const { plan, lamps, wiring } = input;
  const settings = settingsOf(plan, input.switches);
  const ranges = rangesOf(wiring, kept?.ranges, (circuit, found) => kept?.ranges.set(circuit, found));
  const twoWay = new Set(input.switches.flatMap(({ lever, twin }) => (twin === 'two-way' ? [lever] : [])));
  const reads = new Map<string, Faulted | null>();
  const untruths: Untruth[] = [];
  const doubtful: (TruthEntry & { side: 'right' | 'wrong' })[] = [];
  const silent: TruthEntry[] = [];
  /** Lamps by the points that they tell of. */
  const tellersOf = new Map<string, LampUse[]>();
  for (const lamp of lamps)
    for (const point of new Set(lamp.claim.flatMap((lies) => Object.keys(lies))))
      tellersOf.set(point, [...(tellersOf.get(point) ?? []), lamp]);
  for (const lamp of lamps) {
    if (lamp.claim.length === 0) continue;
    for (const each of settings.casesOf(lamp)) judge(lamp, each);
  }
  return {
    settings: settings.count,
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
      else if (isSilent(each)) silent.push(entry);
      else if (should === 'lit') untruths.push({ ...entry, shown: 'unlit', should });
      return;
    }
    if (verdict === 'doubtful') {
      // On the right side at nominal figures, whatever the other levers leave it?
      const right = should === 'lit' ? range.least >= lamp.part.seen : range.most < lamp.part.seen;
      doubtful.push({ ...entry, side: right ? 'right' : 'wrong' });
      if (!right) untruths.push({ ...entry, shown: should === 'lit' ? 'unlit' : 'lit', should });
      return;
    }
    const shown: Shown = verdict === 'lit' ? 'lit' : 'unlit';
    if (shown !== should) untruths.push({ ...entry, shown, should });
  }

  /** Are all lamps dark that tell of the points of which nothing is asked, and of none besides those of the case? */
  function isSilent(each: Case): boolean {
    const telling = new Set(Object.keys(each.history).flatMap((point) => tellersOf.get(point) ?? []));
    return [...telling].every((other) => {
      const beyond = other.claim.some((lies) => Object.keys(lies).some((id) => !Object.hasOwn(each.lies, id)));
      return beyond || verdictOf(other, rangeAt(other, each)) === 'dark';
    });
  }

  function rangeAt(lamp: LampUse, each: Case): Range {
    if (lamp.circuit === null) return NOTHING;
    if (lamp.hang !== null || isTwoWay(lamp.lever)) return hung(lamp, lamp.circuit, each);
    if (lamp.lever === null) return NOTHING;
    // A sprung lever has no position to name: it stands in the middle in all of them.
    return ranges.get(lamp.id)?.get(positionIn(each.levers, lamp.lever)) ?? NOTHING;
  }

  /**
   * What a lamp that contacts light carries: its current depends on the contacts on its own way alone, since what hangs on other throws is
   * cut off from its node. Behind a weak supply the others are tried all normal and all reverse.
   */
  function hung(lamp: LampUse, circuit: string, { levers, lies }: Case): Range {
    const island = islandOf(wiring, circuit);
    const others = island.length === 1 ? [{}] : restsOf(island);
    const reads = others.map((rest) => {
      const setting = { ...rest, ...levers };
      const told = { ...carrierLies(wiring, setting), ...liesOfCarriers(wiring, lies) };
      const quick = island.length === 1 ? wellOf(circuit, setting, told) : null;
      const read =
        quick?.lamps.get(lamp.id) ??
        solveIsland(wiring, island, setting, [circuit], [], told).lamps.find(({ id }) => id === lamp.id);
      return read ?? { amps: 0, low: 0, high: 0 };
    });
    return {
      low: Math.min(...reads.map(({ low }) => low)),
      high: Math.max(...reads.map(({ high }) => high)),
      least: Math.min(...reads.map(({ amps }) => amps)),
      most: Math.max(...reads.map(({ amps }) => amps)),
    };
  }

  /** A circuit alone in one state, read once. */
  function wellOf(circuit: string, setting: Readonly<Record<string, Position>>, told: CarrierLies): Faulted | null {
    const own = wiring.circuits.find(({ id }) => id === circuit);
    const at = own?.levers.map((lever) => setting[lever] ?? '') ?? [];
    const key = [circuit, ...at, ...(own?.follows.map((carrier) => told[carrier] ?? '') ?? [])].join(' ');
    const known = reads.get(key);
    if (known !== undefined) return known;
    const read = faultedCircuits(wiring).read([circuit], setting, null, { lies: told });
    reads.set(key, read);
    return read;
  }

  function restsOf(island: readonly string[]): readonly Readonly<Record<string, Position>>[] {
    const all = new Set(wiring.circuits.filter(({ id }) => island.includes(id)).flatMap((each) => each.levers));
    return (['normal', 'reverse'] as const).map((rest) => Object.fromEntries([...all].map((id) => [id, rest])));
  }

  /** Lamps of both legs of one point lit together; each pair of lamps is named once, by the first. */
  function contradictionsOf(): readonly TruthEntry[] {
    const found: TruthEntry[] = [];
    const claims = { normal: new Map<string, LampUse[]>(), reverse: new Map<string, LampUse[]>() };
    for (const lamp of lamps) {
      if (lamp.claim.length !== 1 || lamp.lever === null) continue;
      for (const [point, lie] of Object.entries(lamp.claim[0] ?? {}))
        claims[lie].set(point, [...(claims[lie].get(point) ?? []), lamp]);
    }
    for (const { id } of plan.points) {
      const reverses = claims.reverse.get(id) ?? [];
      if (reverses.length === 0) continue;
      for (const normal of claims.normal.get(id) ?? []) {
        for (const each of litSettings(normal)) {
          const other = reverses.find((reverse) =>
            litSettings(reverse).some((theirs) => theirs.lever === each.lever && theirs.position === each.position),
          );
          if (other !== undefined) found.push({ levers: each.levers, history: {}, lamp: normal.id });
        }
      }
    }
    return found;
  }

  /** Is a lever's twin one that stands before it, so that its own position does not say what is asked? */
  function isTwoWay(lever: string | null): boolean {
    return twoWay.has(lever ?? '');
  }

  function litSettings(
    lamp: LampUse,
  ): readonly { readonly lever: string; readonly position: string; readonly levers: Setting }[] {
    const lever = lamp.lever;
    if (lever === null) return [];
    if (isTwoWay(lever))
      return settings.casesOf(lamp).flatMap((each) => {
        const position = JSON.stringify([each.levers, each.history]);
        return verdictOf(lamp, rangeAt(lamp, each)) === 'dark' ? [] : [{ lever, position, levers: each.levers }];
      });
    return [...(ranges.get(lamp.id) ?? [])].flatMap(([position, range]) =>
      verdictOf(lamp, range) === 'dark' ? [] : [{ lever, position, levers: { [lever]: position } }],
    );
  }

  /** A lamp that knows what was asked changes at once, one on the drive's contact near mid-stroke; the blades take their drive's time. */
  function leadsOf(): HealthyTruth['leads'] {
    const runs = new Map<string, number>();
    for (const { points, part } of wiring.drives)
      for (const id of points) runs.set(id, Math.max(runs.get(id) ?? 0, part.runSeconds ?? 0));
    return lamps.flatMap((lamp) => {
      if (lamp.circuit === null || lamp.basis === 'blades') return [];
      const share = lamp.basis === 'drive' ? MID_STROKE : 1;
      const points = lamp.claim.flatMap((lies) => Object.keys(lies));
      const seconds = points.map((id) => share * (runs.get(id) ?? 0));
      const most = Math.max(0, ...seconds);
      return most > 0 ? [{ lamp: lamp.id, seconds: most }] : [];
    });
  }
}

/** How drives, blades and relays lie while all is well, by the lies of the points that are told. */
export function liesOfCarriers(wiring: Wiring, lies: Lies): Readonly<Record<string, Lie>> {
  const found: Record<string, Lie> = {};
  for (const { id, points } of carriersOf(wiring).values())
    for (const { point, whenNormal } of points) {
      const lie = Object.hasOwn(lies, point) ? lies[point] : undefined;
      if (lie === undefined) continue;
      found[id] = lie === 'normal' ? whenNormal : otherLie(whenNormal);
      break;
    }
  return found;
}
