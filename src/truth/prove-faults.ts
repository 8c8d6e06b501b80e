/**
 * Every single fault, in every setting with every history: do the lamps then lie, fall silent, or say nothing of it? Rules 11 to 15.
 *
 * Idea: a fault alters the networks of few levers, so it is tried in the settings of those alone, and the answer holds for every
 * setting of the others. Blades that the fault keeps from moving are tried in both lies. Levers that a fault joins are tried in every
 * setting together while they are few; of many, the others stand once where they draw most and once where they draw least, which
 * bounds what they leave.
 * Cost: faults times the positions of their levers.
 */
import type { LampUse } from '../lamps/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import { faultWeight } from '../parts/index.ts';
import {
  difference,
  type Fault,
  type FaultedLamp,
  faultByCode,
  faultedLevers,
  faultsOf,
  islandsWith,
  otherLie,
  type Position,
  solveIsland,
  type WiredDrive,
  type Wiring,
} from '../wiring/index.ts';
import { drivesByPoint, leastToMove, liesOf } from './blades.ts';
import type { TruthInput } from './prove-healthy.ts';
import { FEW_LEVERS, FLOOR_HALVINGS } from './tolerances.ts';
import type { FaultClass, FaultTruth, WrongSide } from './types.ts';
import { holds, type Verdict, verdictOf } from './verdict.ts';

type Setting = Readonly<Record<string, Position>>;

/** Levers that are named, and the settings of their island that bound what the others do to them. */
interface Trial {
  readonly levers: Setting;
  readonly settings: readonly Setting[];
}

/** What a setting shows, with the fault and without. */
interface Shown {
  /** Volts at a drive's tags, a less b. */
  readonly volts: (drive: WiredDrive) => number;
  readonly verdicts: ReadonlyMap<string, Verdict>;
  /** Supplies that are shorted dead. */
  readonly lost: readonly string[];
  /** Lamps that are destroyed. */
  readonly burnt: ReadonlySet<string>;
}

/** Prove it. Faults stand in the order of the wiring. */
export function proveFaults(input: TruthInput): FaultTruth {
  const { wiring } = input;
  const panel = new FaultPanel(input);
  const outcomes: { fault: string; class: FaultClass }[] = [];
  const wrongSide: WrongSide[] = [];
  let weight = 0;
  let wrongWeight = 0;
  const count = { rightSide: 0, wrongSide: 0, latent: 0 };
  for (const fault of faultsOf(wiring)) {
    const { class: found, witness } = panel.judge(fault);
    outcomes.push({ fault: fault.code, class: found });
    if (witness !== null) wrongSide.push(witness);
    count[found] += 1;
    weight += faultWeight(fault.kind);
    if (found === 'wrongSide') wrongWeight += faultWeight(fault.kind);
  }
  const tried = outcomes.length;
  return {
    outcomes,
    faults: { tried, ...count },
    wrongSide,
    share: tried === 0 ? 0 : count.wrongSide / tried,
    weightedShare: weight === 0 ? 0 : wrongWeight / weight,
  };
}

/** The worst that a fault does, and where. */
interface Judged {
  readonly class: FaultClass;
  readonly witness: WrongSide | null;
}

/** The worst of several findings, as those of this fault; the first of them that lies is the witness. */
function worstOf(fault: Fault, found: readonly Judged[]): Judged {
  const wrong = found.find(({ witness }) => witness !== null)?.witness;
  if (wrong !== undefined && wrong !== null) return { class: 'wrongSide', witness: { ...wrong, fault: fault.code } };
  return { class: found.some((each) => each.class === 'rightSide') ? 'rightSide' : 'latent', witness: null };
}

/** A panel on which faults are tried one by one. */
class FaultPanel {
  private readonly wiring: Wiring;
  private readonly driveOf: ReadonlyMap<string, WiredDrive>;
  private readonly positions: ReadonlyMap<string, readonly Position[]>;
  private readonly supplyOf: ReadonlyMap<string, string>;
  /** Lamps by the lever that lights them. */
  private readonly lampsOf = new Map<string, LampUse[]>();

  constructor({ wiring, lamps }: TruthInput) {
    this.wiring = wiring;
    this.driveOf = drivesByPoint(wiring);
    this.positions = new Map(wiring.circuits.map((circuit) => [circuit.id, circuit.positions]));
    this.supplyOf = new Map(wiring.circuits.map((circuit) => [circuit.id, circuit.supply]));
    for (const lamp of lamps) {
      if (lamp.lever === null || lamp.claim.length === 0) continue;
      const known = this.lampsOf.get(lamp.lever);
      if (known === undefined) this.lampsOf.set(lamp.lever, [lamp]);
      else known.push(lamp);
    }
  }

  private readonly judged = new Map<string, Judged>();

  /** The worst that a fault does, and where; each is worked out once. */
  judge(fault: Fault): Judged {
    const known = this.judged.get(fault.code);
    if (known !== undefined) return known;
    const found = this.judgeNow(fault);
    this.judged.set(fault.code, found);
    return found;
  }

  private judgeNow(fault: Fault): Judged {
    const islands = islandsWith(this.wiring, [fault]);
    // Levers that are alone and cut off whole: each shows the same, whatever cut it off.
    if (faultedLevers(this.wiring).cutsOff(fault) && islands.every((island) => island.length === 1))
      return worstOf(
        fault,
        fault.circuits.map((lever) => this.cutOff(lever)),
      );
    let worst: FaultClass = 'latent';
    const lost = new Set<string>();
    const left = faultedLevers(this.wiring).voltsLeft(fault);
    const told: Judged[] = [];
    for (const island of islands) {
      const own: string[] = [];
      for (const lever of island) {
        if (!fault.circuits.includes(lever)) continue;
        // Volts that are surely enough change nothing, and volts that surely do nothing are none.
        if (left !== null && left.least >= this.marksOf(lever).enough) continue;
        if (left !== null && left.most <= this.marksOf(lever).nothing) told.push(this.cutOff(lever));
        else own.push(lever);
      }
      if (told.some(({ witness }) => witness !== null)) break;
      if (own.length === 0) continue;
      for (const trial of this.trialsOf(island, own)) {
        const found = this.tryIn(fault, island, trial);
        if (found.witness !== null) return { class: 'wrongSide', witness: found.witness };
        if (found.altered) worst = 'rightSide';
        for (const supply of found.lost) lost.add(supply);
      }
    }
    // A supply that is shorted dead is lost to levers that the fault does not touch.
    const off = [...lost].flatMap((supply) => faultByCode(this.wiring, `off:${supply}`) ?? []);
    return worstOf(fault, [
      { class: worst, witness: null },
      ...told,
      ...off.filter(({ code }) => code !== fault.code).map((each) => this.judge(each)),
    ]);
  }

  private readonly marks = new Map<string, { readonly enough: number; readonly nothing: number }>();

  /**
   * Of a lever, the volts from which on it shows and does in every position what it does when all is well, and the volts up to which
   * nothing is lit and nothing moves for sure. What lamps carry and drives get grows with the volts.
   */
  private marksOf(lever: string): { readonly enough: number; readonly nothing: number } {
    const known = this.marks.get(lever);
    if (known !== undefined) return known;
    const positions = this.positions.get(lever) ?? [];
    const supply = this.wiring.supplies.find(({ id }) => id === this.supplyOf.get(lever));
    const drives = this.wiring.drives.filter((drive) => drive.circuit === lever);
    const lamps = this.lampsOf.get(lever) ?? [];
    const moves = (drive: WiredDrive, at: number): boolean => Math.abs(at) >= leastToMove(drive) && at !== 0;
    const wells = positions.map((position) => ({ position, well: this.healthy(lever, position) }));
    // A lamp that is doubtful or destroyed, or a drive that its own feed does not move, may change either way.
    const plain = wells.every(
      ({ position, well }) =>
        lamps.every(({ id }) => well.verdicts.get(id) !== 'doubtful' && !well.burnt.has(id)) &&
        (position === 'centre' || drives.every((drive) => moves(drive, well.volts(drive)))),
    );
    const at = (position: Position, volts: number) =>
      faultedLevers(this.wiring).read([lever], { [lever]: position }, null, volts);
    const isAsWell = (volts: number): boolean =>
      wells.every(({ position, well }) => {
        const read = at(position, volts);
        if (read === null || read.shorted) return false;
        return (
          lamps.every((lamp) => verdictAt(lamp, read.lamps.get(lamp.id), []) === well.verdicts.get(lamp.id)) &&
          drives.every((drive) => moves(drive, read.volts(drive)) === moves(drive, well.volts(drive)))
        );
      });
    const isSomething = (volts: number): boolean =>
      wells.some(({ position }) => {
        const read = at(position, volts);
        return (
          read === null ||
          read.shorted ||
          lamps.some((lamp) => verdictAt(lamp, read.lamps.get(lamp.id), []) !== 'dark') ||
          drives.some((drive) => moves(drive, read.volts(drive)))
        );
      });
    const [, enough] = plain ? bisect(supply?.low ?? 0, isAsWell) : [0, Number.POSITIVE_INFINITY];
    const [nothing] = plain ? bisect(supply?.low ?? 0, isSomething) : [0];
    const found = { enough, nothing };
    this.marks.set(lever, found);
    return found;
  }

  private readonly dead = new Map<string, Judged>();

  /** A lever that nothing feeds. */
  private cutOff(lever: string): Judged {
    const known = this.dead.get(lever);
    if (known !== undefined) return known;
    const off = faultByCode(this.wiring, `off:${this.supplyOf.get(lever) ?? ''}`);
    if (off === null) throw new RangeError(`lever ${lever} has no supply that could be off`);
    let found: Judged = { class: 'latent', witness: null };
    for (const trial of this.trialsOf([lever], [lever])) {
      const { altered, witness } = this.tryIn(off, [lever], trial);
      if (witness !== null) found = { class: 'wrongSide', witness };
      else if (altered && found.class === 'latent') found = { class: 'rightSide', witness: null };
      if (witness !== null) break;
    }
    this.dead.set(lever, found);
    return found;
  }

  /** The settings in which a fault of these levers is tried, one by one: most faults are told by the first. */
  private *trialsOf(island: readonly string[], own: readonly string[]): Generator<Trial> {
    if (island.length <= FEW_LEVERS) {
      for (const levers of this.settingsOf(island)) yield { levers, settings: [levers] };
      return;
    }
    const ends = this.endsOf(island);
    const named = own.length <= 2 ? [own] : own.map((lever) => [lever]);
    for (const levers of named)
      for (const setting of this.settingsOf(levers))
        yield { levers: setting, settings: ends.map((end) => ({ ...end, ...setting })) };
  }

  private settingsOf(levers: readonly string[]): readonly Setting[] {
    return levers.reduce<readonly Setting[]>(
      (made, lever) =>
        made.flatMap((setting) =>
          (this.positions.get(lever) ?? []).map((position) => ({ ...setting, [lever]: position })),
        ),
      [{}],
    );
  }

  private readonly ends = new Map<string, readonly Setting[]>();

  /** Every lever where it draws most, and every lever where it draws least, each by itself. */
  private endsOf(island: readonly string[]): readonly Setting[] {
    const key = island.join(' ');
    const known = this.ends.get(key);
    if (known !== undefined) return known;
    const most: Record<string, Position> = {};
    const least: Record<string, Position> = {};
    for (const lever of island) {
      const drawn = (this.positions.get(lever) ?? []).map((position) => {
        const { nominal } = solveIsland(this.wiring, [lever], { [lever]: position });
        const supply = this.supplyOf.get(lever) ?? '';
        return { position, amps: -(nominal.amps.get(supply) ?? 0) };
      });
      const sorted = [...drawn].sort((a, b) => a.amps - b.amps);
      least[lever] = sorted[0]?.position ?? 'normal';
      most[lever] = sorted[sorted.length - 1]?.position ?? 'normal';
    }
    const ends = [most, least];
    this.ends.set(key, ends);
    return ends;
  }

  private tryIn(
    fault: Fault,
    island: readonly string[],
    { levers, settings }: Trial,
  ): { readonly altered: boolean; readonly witness: WrongSide | null; readonly lost: readonly string[] } {
    const broken = settings.map(
      (setting) => this.quick(island, setting, fault, levers) ?? this.solve(island, setting, [fault]),
    );
    const lost = broken.flatMap((each) => each.lost);
    let altered = false;
    for (const lever of Object.keys(levers)) {
      const position = levers[lever] ?? 'normal';
      const healthy = this.healthy(lever, position);
      for (const lamp of this.lampsOf.get(lever) ?? []) {
        const verdicts = new Set(broken.map(({ verdicts: now }) => now.get(lamp.id) ?? 'dark'));
        const verdict: Verdict = verdicts.size === 1 ? ([...verdicts][0] ?? 'dark') : 'doubtful';
        const was = healthy.verdicts.get(lamp.id) ?? 'dark';
        for (const { lies, history } of this.bladesIn(fault, lamp, levers, broken)) {
          const claim = lamp.claim.some((each) => holds(each, lies.now));
          const claimed = lamp.claim.some((each) => holds(each, lies.before));
          if (verdict === was && claim === claimed) continue;
          altered = true;
          const wrong = verdict === 'doubtful' || (verdict === 'lit' ? !claim : claim && lamp.speaksWhenDark);
          if (!wrong) continue;
          const shown = verdict === 'doubtful' ? (claim ? 'unlit' : 'lit') : verdict === 'lit' ? 'lit' : 'unlit';
          const mark =
            verdict === 'doubtful' ? 'doubtful' : this.showsItself(lamp, lever, broken) ? 'shows itself' : null;
          const should = claim ? 'lit' : 'unlit';
          return {
            altered,
            lost,
            witness: { fault: fault.code, levers, history, lamp: lamp.id, shown, should, mark },
          };
        }
      }
    }
    return { altered, lost, witness: null };
  }

  /** The lies that the points of a lamp's claim can have, now and in the healthy panel, with the histories that tell them apart. */
  private bladesIn(
    fault: Fault,
    lamp: LampUse,
    levers: Setting,
    broken: readonly Shown[],
  ): readonly { readonly lies: { readonly now: Lies; readonly before: Lies }; readonly history: Lies }[] {
    let made: { lies: { now: Record<string, Lie>; before: Record<string, Lie> }; history: Record<string, Lie> }[] = [
      { lies: { now: {}, before: {} }, history: {} },
    ];
    const points = [...new Set(lamp.claim.flatMap((lies) => Object.keys(lies)))].sort();
    for (const point of points) {
      const drive = this.driveOf.get(point);
      const can = new Set(broken.flatMap(({ volts }) => liesOf(point, drive, volts, fault)));
      const asked = this.askedOf(point, levers);
      made = made.flatMap(({ lies, history }) =>
        [...can].sort().map((now) => ({
          lies: {
            now: { ...lies.now, [point]: now },
            before: { ...lies.before, [point]: asked ?? now },
          },
          history: can.size > 1 ? { ...history, [point]: now } : history,
        })),
      );
    }
    return made;
  }

  /** The lie that is asked of a point, or null where nothing is. */
  private askedOf(point: string, levers: Setting): Lie | null {
    const drive = this.driveOf.get(point);
    const ask = drive?.asks.find((each) => each.point === point);
    const position = drive?.circuit == null ? undefined : levers[drive.circuit];
    if (ask?.whenNormal == null || position === undefined || position === 'centre') return null;
    return position === 'normal' ? ask.whenNormal : otherLie(ask.whenNormal);
  }

  /** Are lamps of both legs of one of its points lit together? */
  private showsItself(lamp: LampUse, lever: string, broken: readonly Shown[]): boolean {
    return (this.lampsOf.get(lever) ?? []).some(
      (other) =>
        lamp.claim.some((lies) =>
          other.claim.some((theirs) => Object.entries(lies).some(([point, lie]) => (theirs[point] ?? lie) !== lie)),
        ) && broken.every(({ verdicts }) => verdicts.get(other.id) === 'lit' && verdicts.get(lamp.id) === 'lit'),
    );
  }

  private readonly good = new Map<string, Shown>();

  private healthy(lever: string, position: Position): Shown {
    const key = `${lever}=${position}`;
    const known = this.good.get(key);
    if (known !== undefined) return known;
    const island = islandsWith(this.wiring, []).find((each) => each.includes(lever)) ?? [lever];
    const shown = this.solve(island, { [lever]: position }, []);
    this.good.set(key, shown);
    return shown;
  }

  /** One island in one setting, where its levers can be taken by themselves. */
  private quick(island: readonly string[], setting: Setting, fault: Fault, named: Setting): Shown | null {
    const faulted = faultedLevers(this.wiring);
    const levers = faulted.isOfChain(fault) ? Object.keys(named) : island;
    const read = faulted.read(levers, setting, fault);
    if (read === null) return null;
    const verdicts = new Map<string, Verdict>();
    for (const lever of levers)
      for (const lamp of this.lampsOf.get(lever) ?? [])
        verdicts.set(lamp.id, verdictAt(lamp, read.lamps.get(lamp.id), [fault]));
    const supply = this.supplyOf.get(levers[0] ?? '');
    const lost = read.shorted && supply !== undefined ? [supply] : [];
    return { volts: (drive) => read.volts(drive), verdicts, lost, burnt: NONE };
  }

  /** One island in one setting. A supply that is shorted dead is off. */
  private solve(island: readonly string[], setting: Setting, faults: readonly Fault[]): Shown {
    let reading = solveIsland(this.wiring, island, setting, island, faults);
    const lost = reading.nominal.problems.flatMap((each) => (each.code === 'source-shorted' ? [each.source] : []));
    const off = lost.flatMap((supply) => faultByCode(this.wiring, `off:${supply}`) ?? []);
    if (off.length > 0) reading = solveIsland(this.wiring, island, setting, island, [...faults, ...off]);
    const byId = new Map(reading.lamps.map((lamp) => [lamp.id, lamp]));
    const verdicts = new Map<string, Verdict>();
    for (const lever of island)
      for (const lamp of this.lampsOf.get(lever) ?? [])
        verdicts.set(lamp.id, verdictAt(lamp, byId.get(lamp.id), faults));
    const { volts } = reading.nominal;
    const burnt = new Set(
      island.flatMap((lever) =>
        (this.lampsOf.get(lever) ?? []).flatMap(({ id, part }) =>
          (byId.get(id)?.amps ?? 0) > 2 * part.max ? [id] : [],
        ),
      ),
    );
    return { volts: (drive) => difference(volts, drive.a, drive.b) ?? 0, verdicts, lost, burnt };
  }
}

const NONE: ReadonlySet<string> = new Set();

/** The last volts at which it does not hold and the first at which it does, a little apart; infinite where it holds nowhere. */
function bisect(most: number, holds: (volts: number) => boolean): readonly [low: number, high: number] {
  let [low, high] = [0, most];
  if (!holds(high)) return [high, Number.POSITIVE_INFINITY];
  for (let halving = 0; halving < FLOOR_HALVINGS; halving++) {
    const middle = (low + high) / 2;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return [low, high];
}

/** What a lamp shows; one that is shorted carries its current past the crystal. */
function verdictAt(lamp: LampUse, reading: FaultedLamp | undefined, faults: readonly Fault[]): Verdict {
  if (reading === undefined || faults.some(({ code }) => code === `short:${lamp.id}`)) return 'dark';
  return verdictOf(lamp, { low: reading.low, high: reading.high, least: reading.amps, most: reading.amps });
}
