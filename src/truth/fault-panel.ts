/**
 * A panel on which single faults are tried one by one. Rules 11 to 15.
 *
 * Idea: a fault alters the networks of few circuits, so it is tried in the states of those alone, and the answer holds for every setting
 * of the others. Drives that the fault keeps from moving are tried in both lies, and contacts that follow them with them: a lie counts
 * when what then stands at the drive's tags lets it lie so. Circuits that a fault joins are tried in every setting together while they
 * are few; of many, the others stand once where they draw most and once where they draw least, which bounds what they leave. Lamps of
 * other circuits that claim a point which may not have moved show what they show when all is well.
 * Cost: faults times the states of their circuits.
 */
import type { Carrier, LampUse } from '../lamps/index.ts';
import type { Lie, Lies } from '../panel/index.ts';
import {
  type Alive,
  askIn,
  bladesAt,
  type CarrierLies,
  type Circuit,
  carrierLies,
  carriersOf,
  couples,
  decidersOf,
  drawAt,
  drivesByPoint,
  type Fault,
  type Faulted,
  type FaultedLamp,
  faultByCode,
  faultedCircuits,
  isAsked,
  islandOf,
  islandsTouched,
  isPressed,
  isUnlinked,
  leastToMove,
  NOMINAL,
  otherLie,
  type Position,
  positionsOfLever,
  pressOf,
  pushIn,
  relayGoes,
  relayHolding,
  type State,
  sliderCan,
  solveIsland,
  statesOf,
  type WiredDrive,
  type Wiring,
} from '../wiring/index.ts';
import { type FoundThere, type Judged, KeptFaults, type Marks } from './kept-faults.ts';
import { pointsOf } from './points-of.ts';
import type { TruthInput } from './prove-healthy.ts';
import { FEW_LEVERS, FEW_SLIDERS, FLOOR_HALVINGS, STATES_TOGETHER } from './tolerances.ts';
import type { WrongSide } from './types.ts';
import { holds, type Verdict, verdictOf } from './verdict.ts';

type Setting = Readonly<Record<string, Position>>;

/** Levers and histories that are named, and the settings of their island that bound what the others do to them. */
interface Trial extends State {
  readonly settings: readonly Setting[];
}

/** What a setting shows, with the fault and without. */
interface Shown {
  /** What pushes a drive. */
  readonly push: (drive: WiredDrive) => number;
  readonly verdicts: ReadonlyMap<string, Verdict>;
  /** Supplies that are shorted dead. */
  readonly lost: readonly string[];
  /** Lamps that are destroyed. */
  readonly burnt: ReadonlySet<string>;
}

interface Tried {
  readonly altered: boolean;
  readonly witness: WrongSide | null;
  readonly lost: readonly string[];
}

/** One way in which the drives that a fault concerns can lie. */
interface Lying {
  /** Sliders by drive, as lies of its first point; a drive that may lie either way is not in it. */
  readonly sliders: ReadonlyMap<string, Lie>;
  readonly lies: CarrierLies;
  /** Blades that are off their link, by point, where contacts follow them. */
  readonly blades: ReadonlyMap<string, Lie>;
  /** How points lay before the throw, where a relay that it did not reach tells. */
  readonly before: ReadonlyMap<string, Lie>;
}

const CIRCUITS = new WeakMap<Fault, ReadonlySet<string>>();

/** Circuits that a fault concerns, as a set. */
function circuitsIn(fault: Fault): ReadonlySet<string> {
  const known = CIRCUITS.get(fault) ?? new Set(fault.circuits);
  CIRCUITS.set(fault, known);
  return known;
}

const UNTOUCHED: Tried = { altered: false, witness: null, lost: [] };
const EITHER: readonly Lie[] = ['normal', 'reverse'];
const NONE: ReadonlySet<string> = new Set();

/** The worst of several findings, as those of this fault; the first of them that lies is the witness. */
function worstOf(fault: Fault, found: readonly Judged[]): Judged {
  const wrong = found.find(({ witness }) => witness !== null)?.witness;
  if (wrong !== undefined && wrong !== null) return { class: 'wrongSide', witness: { ...wrong, fault: fault.code } };
  return { class: found.some((each) => each.class === 'rightSide') ? 'rightSide' : 'latent', witness: null };
}

export class FaultPanel {
  private readonly wiring: Wiring;
  private readonly driveOf: ReadonlyMap<string, WiredDrive>;
  private readonly drivesOf = new Map<string, WiredDrive[]>();
  private readonly circuits: ReadonlyMap<string, Circuit>;
  private readonly carriers: ReadonlyMap<string, Carrier>;
  /** Lamps by the circuit that lights them, and by the points that they claim. */
  private readonly lampsOf = new Map<string, LampUse[]>();
  private readonly claiming = new Map<string, LampUse[]>();

  constructor(
    { wiring, lamps }: TruthInput,
    /** What was found before an edit and still holds; what is found now is added. */
    private readonly kept: KeptFaults = new KeptFaults(),
  ) {
    this.wiring = wiring;
    this.driveOf = drivesByPoint(wiring);
    this.circuits = new Map(wiring.circuits.map((circuit) => [circuit.id, circuit]));
    this.carriers = carriersOf(wiring);
    for (const drive of wiring.drives) if (drive.circuit !== null) push(this.drivesOf, drive.circuit, drive);
    for (const lamp of lamps) {
      if (lamp.circuit === null || lamp.claim.length === 0) continue;
      push(this.lampsOf, lamp.circuit, lamp);
      for (const point of pointsOf(lamp)) push(this.claiming, point, lamp);
    }
  }

  private readonly judged = new Map<string, Judged>();

  /** The worst that a fault does, and where; each is worked out once. */
  judge(fault: Fault): Judged {
    let found = this.kept.find(fault);
    if (found === null) {
      found = this.findNow(fault);
      this.kept.keep(fault, found);
    }
    if (found.lost.length === 0 || found.witness !== null) return found;
    const known = this.judged.get(fault.code);
    if (known !== undefined) return known;
    // A supply that is shorted dead is lost to circuits that the fault does not touch.
    const off = found.lost.flatMap((supply) => faultByCode(this.wiring, `off:${supply}`) ?? []);
    const all = [found, ...off.filter(({ code }) => code !== fault.code).map((each) => this.judge(each))];
    const worst = worstOf(fault, all);
    this.judged.set(fault.code, worst);
    return worst;
  }

  /** The worst that a fault does to the circuits that it touches, and supplies that are shorted dead. */
  private findNow(fault: Fault): FoundThere {
    // Circuits that are alone and cut off whole: each shows the same, whatever cut it off.
    if (faultedCircuits(this.wiring).cutsOff(fault) && this.areAlone(fault))
      return { ...this.allCutOff(fault), lost: [] };
    const islands = islandsTouched(this.wiring, fault);
    const [only] = islands;
    if (islands.length === 1 && only !== undefined) return this.findIn(fault, only);
    const found: Judged[] = [];
    const lost = new Set<string>();
    const joints = this.jointsOf(fault, islands);
    const together = new Set(joints.flat());
    for (const island of islands) {
      if (island.every((id) => together.has(id))) continue;
      const each = this.kept.findIn(fault, island) ?? this.findIn(fault, island);
      this.kept.keepIn(fault, island, each);
      if (each.witness !== null) return each;
      found.push(each);
      for (const supply of each.lost) lost.add(supply);
    }
    for (const joint of joints) {
      const each = this.findIn(fault, joint);
      if (each.witness !== null) return each;
      found.push(each);
    }
    return { ...worstOf(fault, found), lost: [...lost] };
  }

  /**
   * Islands that a fault touches both and that claims join: lamps of the one speak of points that drives of the other move. What the
   * fault does to the lamps and to the drives is then tried together. What is wrong at a drive is told in each by itself.
   */
  private jointsOf(fault: Fault, islands: readonly (readonly string[])[]): readonly (readonly string[])[] {
    if (fault.points.length > 0) return [];
    const found = new Map<string, readonly string[]>();
    const islandBy = new Map(islands.flatMap((island) => island.map((id) => [id, island] as const)));
    for (const island of islands) {
      const points = island
        .filter((id) => circuitsIn(fault).has(id))
        .flatMap((id) => this.drivesOf.get(id)?.flatMap((drive) => drive.points) ?? []);
      for (const lamp of points.flatMap((point) => this.claiming.get(point) ?? [])) {
        const own = lamp.circuit ?? '';
        const other = islandBy.get(own);
        if (other === undefined || other === island || !circuitsIn(fault).has(own)) continue;
        const joint = this.wiring.circuits.flatMap(({ id }) => (island.includes(id) || other.includes(id) ? [id] : []));
        found.set(joint.join(' '), joint);
      }
    }
    // All of them as one while they are few.
    const all = new Set([...found.values()].flat());
    if (found.size < 2 || all.size > FEW_LEVERS) return [...found.values()];
    return [this.wiring.circuits.flatMap(({ id }) => (all.has(id) ? [id] : []))];
  }

  /** The same in one of the islands that it touches. */
  private findIn(fault: Fault, island: readonly string[]): FoundThere {
    const faulted = faultedCircuits(this.wiring);
    const left = faulted.voltsLeft(fault);
    const split = faulted.splitBy(fault);
    const concerned = circuitsIn(fault);
    const told: Judged[] = [];
    const own: string[] = [];
    for (const circuit of island) {
      if (!concerned.has(circuit)) continue;
      // Volts that are surely enough change nothing, and volts that surely do nothing are none.
      if (left?.isAtLeast(this.marksOf(circuit).enough) === true) continue;
      if (circuit !== split && left?.isAtMost(this.marksOf(circuit).nothing) === true) told.push(this.cutOff(circuit));
      else own.push(circuit);
    }
    const worst = worstOf(fault, told);
    if (worst.witness !== null || own.length === 0) return { ...worst, lost: [] };
    let altered = worst.class === 'rightSide';
    const lost = new Set<string>();
    for (const { of, trial } of this.trialsOf(fault, island, own)) {
      const found = this.tryIn(fault, island, of, trial);
      if (found.witness !== null)
        return { class: 'wrongSide', witness: { ...found.witness, fault: fault.code }, lost: [] };
      altered ||= found.altered;
      for (const supply of found.lost) lost.add(supply);
    }
    return { class: altered ? 'rightSide' : 'latent', witness: null, lost: [...lost] };
  }

  /**
   * Of a circuit, the volts from which on it shows and does in every state what it does when all is well, and the volts up to which
   * nothing is lit and nothing moves for sure. What lamps carry and drives get grows with the volts.
   */
  private marksOf(id: string): Marks {
    const known = this.kept.marks.get(id);
    if (known !== undefined) return known;
    const circuit = this.circuits.get(id);
    const supply = this.wiring.supplies.find((each) => each.id === circuit?.supply);
    const drives = this.drivesOf.get(id) ?? [];
    const lamps = this.lampsOf.get(id) ?? [];
    const moves = (drive: WiredDrive, at: number): boolean => Math.abs(at) >= leastToMove(drive) && at !== 0;
    const states = circuit === undefined ? [] : statesOf(this.wiring, circuit);
    const wells = states.map((state) => ({ state, well: this.healthy(id, state) }));
    // A lamp that is doubtful or destroyed, or a drive that its own feed does not move, may change either way.
    const plain = wells.every(
      ({ state, well }) =>
        lamps.every((lamp) => well.verdicts.get(lamp.id) !== 'doubtful' && !well.burnt.has(lamp.id)) &&
        (askIn(this.wiring, state.levers, id) === 'centre' || drives.every((drive) => moves(drive, well.push(drive)))),
    );
    const at = ({ levers, history }: State, held: number) =>
      faultedCircuits(this.wiring).read([id], levers, null, { held, lies: carrierLies(this.wiring, levers, history) });
    const isAsWell = (volts: number): boolean =>
      wells.every(({ state, well }) => {
        const read = at(state, volts);
        if (read === null || read.shorted) return false;
        return (
          lamps.every((lamp) => verdictAt(lamp, read.lamps.get(lamp.id), []) === well.verdicts.get(lamp.id)) &&
          drives.every((drive) => moves(drive, read.push(drive)) === moves(drive, well.push(drive)))
        );
      });
    const isSomething = (volts: number): boolean =>
      wells.some(({ state }) => {
        const read = at(state, volts);
        return (
          read === null ||
          read.shorted ||
          lamps.some((lamp) => verdictAt(lamp, read.lamps.get(lamp.id), []) !== 'dark') ||
          drives.some((drive) => moves(drive, read.push(drive)))
        );
      });
    const [, enough] = plain ? bisect(supply?.low ?? 0, isAsWell) : [0, Number.POSITIVE_INFINITY];
    const [nothing] = plain ? bisect(supply?.low ?? 0, isSomething) : [0];
    const found = { enough, nothing };
    this.kept.marks.set(id, found);
    return found;
  }

  private readonly alone = new Map<readonly string[], boolean>();

  /** Do the circuits that a fault touches feel none but themselves? */
  private areAlone(fault: Fault): boolean {
    if (couples(fault)) return islandsTouched(this.wiring, fault).every((island) => island.length === 1);
    const known = this.alone.get(fault.circuits);
    if (known !== undefined) return known;
    const answer = islandsTouched(this.wiring, fault).every((island) => island.length === 1);
    this.alone.set(fault.circuits, answer);
    return answer;
  }

  /** Circuits that nothing feeds, as this fault; one that it splits is without a part of its feed. */
  private allCutOff(fault: Fault): Judged {
    const split = faultedCircuits(this.wiring).splitBy(fault);
    let altered = false;
    for (const id of fault.circuits) {
      const found = id === split ? this.findIn(fault, [id]) : this.cutOff(id);
      if (found.witness !== null) return worstOf(fault, [found]);
      altered ||= found.class === 'rightSide';
    }
    return { class: altered ? 'rightSide' : 'latent', witness: null };
  }

  /** A circuit that nothing feeds. */
  private cutOff(id: string): Judged {
    const known = this.kept.dead.get(id);
    if (known !== undefined) return known;
    const off = faultByCode(this.wiring, `off:${this.circuits.get(id)?.supply ?? ''}`);
    if (off === null) throw new RangeError(`circuit ${id} has no supply that could be off`);
    let found: Judged = { class: 'latent', witness: null };
    for (const { of, trial } of this.trialsOf(off, [id], [id])) {
      const { altered, witness } = this.tryIn(off, [id], of, trial);
      if (witness !== null) {
        found = { class: 'wrongSide', witness };
        break;
      }
      if (altered) found = { class: 'rightSide', witness: null };
    }
    this.kept.dead.set(id, found);
    return found;
  }

  /** Trials of a circuit that nothing joins to others; the very same at each asking. */
  private readonly trialsAlone = new Map<
    string,
    readonly { readonly of: readonly string[]; readonly trial: Trial }[]
  >();

  /** The settings in which a fault is tried, with the circuits that are judged in each. */
  private trialsOf(
    fault: Fault,
    island: readonly string[],
    own: readonly string[],
  ): readonly { readonly of: readonly string[]; readonly trial: Trial }[] {
    const ownCircuits = own.flatMap((id) => this.circuits.get(id) ?? []);
    const [alone] = ownCircuits;
    if (alone !== undefined && own.length === 1 && island.length === 1) {
      const known = this.trialsAlone.get(alone.id);
      if (known !== undefined) return known;
      const states = statesOf(this.wiring, alone);
      const trials = states.map((state) => ({ of: own, trial: { ...state, settings: [state.levers] } }));
      this.trialsAlone.set(alone.id, trials);
      return trials;
    }
    const apart = faultedCircuits(this.wiring).isOfChain(fault) && island.length === 1;
    if (!apart && island.length <= FEW_LEVERS) {
      const together = this.together(island);
      if (together !== null)
        return together.map((state) => ({ of: own, trial: { ...state, settings: [state.levers] } }));
    }
    const splits = island.some((id) => isSplit(this.circuits.get(id)));
    return ownCircuits.flatMap((circuit) => this.trialsAmong(circuit, splits));
  }

  private readonly amongOthers = new Map<
    string,
    readonly { readonly of: readonly string[]; readonly trial: Trial }[]
  >();

  /** Trials of a circuit that many others are joined to, which stand at their ends; the very same at each asking. */
  private trialsAmong(
    circuit: Circuit,
    splits: boolean,
  ): readonly { readonly of: readonly string[]; readonly trial: Trial }[] {
    const key = `${circuit.id} ${splits}`;
    const known = this.amongOthers.get(key);
    if (known !== undefined) return known;
    const { alike, extreme } = this.endsOf();
    const ends = splits ? [...alike, ...extreme] : extreme;
    const trials = statesOf(this.wiring, circuit).map((state) => ({
      of: [circuit.id],
      trial: { ...state, settings: ends.map((end) => ({ ...end, ...state.levers })) },
    }));
    this.amongOthers.set(key, trials);
    return trials;
  }

  /** Every state of a few circuits together; null where there are too many. */
  private together(ids: readonly string[]): readonly State[] | null {
    const circuits = ids.flatMap((id) => this.circuits.get(id) ?? []);
    let states: State[] = [{ levers: {}, history: {} }];
    for (const circuit of circuits) {
      const own = statesOf(this.wiring, circuit);
      states = states.flatMap((state) =>
        own.flatMap(({ levers, history }) =>
          Object.entries(levers).every(([id, at]) => (state.levers[id] ?? at) === at)
            ? [{ levers: { ...state.levers, ...levers }, history: { ...state.history, ...history } }]
            : [],
        ),
      );
      if (states.length > STATES_TOGETHER) return null;
    }
    return states;
  }

  private ends: { readonly alike: readonly Setting[]; readonly extreme: readonly Setting[] } | null = null;

  /** All levers normal and all reverse; and every lever where its circuit draws most, and where it draws least. */
  private endsOf(): { readonly alike: readonly Setting[]; readonly extreme: readonly Setting[] } {
    if (this.ends !== null) return this.ends;
    const levers = [...new Set(this.wiring.circuits.flatMap((circuit) => decidersOf(this.wiring, circuit)))];
    const most: Record<string, Position> = {};
    const least: Record<string, Position> = {};
    for (const lever of levers) {
      const supply = this.circuits.get(lever)?.supply ?? '';
      const drawn = positionsOfLever(this.wiring, lever).map((position) => {
        const volts = this.wiring.supplies.find(({ id }) => id === supply)?.railVolts ?? 0;
        const amps =
          supply === ''
            ? 0
            : (drawAt(this.wiring, lever, position, volts, NOMINAL) ??
              -(solveIsland(this.wiring, [lever], { [lever]: position }).nominal.amps.get(supply) ?? 0));
        return { position, amps };
      });
      const sorted = [...drawn].sort((a, b) => a.amps - b.amps);
      least[lever] = sorted[0]?.position ?? 'normal';
      most[lever] = sorted[sorted.length - 1]?.position ?? 'normal';
    }
    const alike = EITHER.map((at): Setting => Object.fromEntries(levers.map((lever) => [lever, at])));
    this.ends = { alike, extreme: [most, least] };
    return this.ends;
  }

  /**
   * Does a fault touch only what carries nothing in this state, and cuts it or gives it other ohms, or only what stands at no volts? Then
   * nothing changes.
   */
  private leavesAlone(fault: Fault, id: string, { carrying, standing }: Alive): boolean {
    const faulted = faultedCircuits(this.wiring);
    return fault.edits.every((edit) => {
      switch (edit.do) {
        case 'cut':
        case 'ohms':
          return faulted.holds(id, edit.element) && !carrying.has(edit.element);
        case 'short':
        case 'turn':
        case 'close':
          return faulted.holds(id, edit.element) && !standing.has(edit.element);
        default:
          return false;
      }
    });
  }

  /** What carries anything in a trial of one circuit alone, where a fault in it is told by that. */
  private aliveIn(fault: Fault, own: readonly string[], trial: Trial): Alive | null {
    const [id] = own;
    if (id === undefined || own.length > 1 || fault.points.length > 0 || trial.settings.length > 1) return null;
    // A drive that has cut itself off, a coil and an input that is open carry nothing and are moved all the same.
    if (fault.edits.length === 0 || this.drivesOf.get(id)?.some(({ ohms }) => ohms === null) === true) return null;
    // So does the coil of a relay that holds the feed.
    if (relayHolding(this.wiring, id) !== null) return null;
    const lies = carrierLies(this.wiring, trial.levers, trial.history);
    return faultedCircuits(this.wiring).aliveIn(id, trial.levers, lies);
  }

  private readonly losses = new WeakMap<Trial, Map<string, Tried>>();

  private tryIn(fault: Fault, island: readonly string[], own: readonly string[], trial: Trial): Tried {
    const alive = this.aliveIn(fault, own, trial);
    if (alive === null) return this.tryNow(fault, island, own, trial);
    if (this.leavesAlone(fault, own[0] ?? '', alive)) return UNTOUCHED;
    // What takes away the same as a fault tried before does the same.
    const [edit] = fault.edits;
    const loss = edit === undefined || fault.edits.length > 1 || fault.circuits.length > 1 ? null : alive.loss(edit);
    if (loss === null) return this.tryNow(fault, island, own, trial);
    const losses = this.losses.get(trial) ?? new Map<string, Tried>();
    this.losses.set(trial, losses);
    const tried = losses.get(loss) ?? this.tryNow(fault, island, own, trial);
    losses.set(loss, tried);
    return tried;
  }

  private tryNow(fault: Fault, island: readonly string[], own: readonly string[], trial: Trial): Tried {
    const drives = this.concerned(fault, own);
    const lost: string[] = [];
    let altered = false;
    for (const told of this.withHistories(own, drives, trial)) {
      const found = this.tryHere(fault, island, own, drives, told);
      if (found.witness !== null) return found;
      altered ||= found.altered;
      lost.push(...found.lost);
    }
    return { altered, witness: null, lost };
  }

  /** A trial with every history of the drives of which nothing is asked and which contacts of these circuits follow, or buttons throw. */
  private withHistories(own: readonly string[], drives: readonly WiredDrive[], trial: Trial): readonly Trial[] {
    const followed = own
      .flatMap((id) => this.circuits.get(id)?.follows ?? [])
      .flatMap((id) => this.driveOf.get(this.carriers.get(id)?.points[0]?.point ?? '') ?? []);
    const free = [...new Set([...followed, ...drives.filter((drive) => isPressed(this.wiring, drive))])].filter(
      (drive) =>
        !Object.hasOwn(trial.history, drive.points[0] ?? '') &&
        (isPressed(this.wiring, drive) || !isAsked(this.wiring, trial.levers, drive)),
    );
    let found: readonly Trial[] = [trial];
    for (const drive of free.slice(0, FEW_SLIDERS))
      found = found.flatMap((each) =>
        EITHER.map((slider) => ({ ...each, history: { ...each.history, ...pressOf(drive, slider) } })),
      );
    return found;
  }

  private tryHere(
    fault: Fault,
    island: readonly string[],
    own: readonly string[],
    drives: readonly WiredDrive[],
    trial: Trial,
  ): Tried {
    const asked = carrierLies(this.wiring, trial.levers, trial.history);
    const lost: string[] = [];
    let altered = false;
    for (const lying of this.lyingsOf(fault, island, own, drives, trial, asked)) {
      const broken = trial.settings.flatMap(
        (setting) =>
          this.allQuick(island, own, setting, fault, lying.lies) ?? [this.solve(island, setting, [fault], lying.lies)],
      );
      const can = new Map(
        drives.map((drive) => {
          const pressed = isPressed(this.wiring, drive);
          // A drive of another circuit is pushed there.
          const away = drive.circuit !== null && !island.includes(drive.circuit) ? [drive.circuit] : null;
          const pushes =
            pressed || away !== null
              ? [
                  pushIn(
                    this.wiring,
                    away === null ? island : islandOf(this.wiring, away[0] ?? ''),
                    trial.levers,
                    lying.lies,
                    [fault],
                    drive,
                    pressed ? this.pressed(drive, trial) : {},
                  ),
                ]
              : broken.map(({ push: pushed }) => pushed(drive));
          return [drive.id, this.canLie(fault, drive, pushes, trial, lying)] as const;
        }),
      );
      // What the contacts were taken to follow must be where the drives can be.
      if ([...lying.sliders].some(([drive, lie]) => can.get(drive)?.has(lie) === false)) continue;
      lost.push(...broken.flatMap((each) => each.lost));
      const told = this.tellLamps(fault, own, drives, trial, lying, broken, can);
      if (told.witness !== null) return { altered: true, witness: told.witness, lost };
      altered ||= told.altered;
    }
    return { altered, witness: null, lost };
  }

  /** The press of buttons that a trial's history tells. */
  private pressed(drive: WiredDrive, { history }: Trial): Lies {
    return pressOf(drive, history[drive.points[0] ?? ''] ?? 'normal');
  }

  /** Where a drive can lie: where it is pushed; where nothing moves it for sure, as it lay, which a relay or its history may tell. */
  private canLie(
    fault: Fault,
    drive: WiredDrive,
    pushes: readonly number[],
    trial: Trial,
    lying: Lying,
  ): ReadonlySet<Lie> {
    const [first = ''] = drive.points;
    const lay = Object.hasOwn(trial.history, first) && !isAsked(this.wiring, trial.levers, drive);
    const before = lay ? trial.history[first] : lying.before.get(first);
    return new Set(
      pushes.flatMap((pushed) => {
        const lies = sliderCan(drive, pushed, fault);
        return lies.length > 1 && before !== undefined ? [before] : lies;
      }),
    );
  }

  /** Drives that a fault may keep from moving, or move otherwise. */
  private concerned(fault: Fault, own: readonly string[]): readonly WiredDrive[] {
    const named = fault.points.flatMap((point) => this.driveOf.get(point) ?? []);
    return [...new Set([...own.flatMap((id) => this.drivesOf.get(id) ?? []), ...named])];
  }

  /** The ways in which the drives concerned can lie, as far as contacts of these circuits follow them. */
  private lyingsOf(
    fault: Fault,
    island: readonly string[],
    own: readonly string[],
    drives: readonly WiredDrive[],
    trial: Trial,
    asked: CarrierLies,
  ): readonly Lying[] {
    const pulsed = this.wiring.relays.flatMap(({ id, circuit }) => (own.includes(circuit) ? [id] : []));
    const follows = new Set([...own.flatMap((id) => this.circuits.get(id)?.follows ?? []), ...pulsed]);
    const followed = [...follows].flatMap((id) => this.carriers.get(id) ?? []);
    const moving = drives.filter((drive) =>
      followed.some(({ kind, points }) => kind !== 'relay' && drive.points.includes(points[0]?.point ?? '')),
    );
    let found: readonly Lying[] = [{ sliders: new Map(), lies: asked, blades: new Map(), before: new Map() }];
    for (const drive of moving.slice(0, FEW_SLIDERS))
      found = found.flatMap((each) =>
        EITHER.map((lie) => ({ ...each, sliders: new Map(each.sliders).set(drive.id, lie) })),
      );
    for (const carrier of followed) {
      const [first] = carrier.points;
      if (first === undefined) continue;
      const { id } = carrier;
      const lieOf = (lie: Lie) => (lie === 'normal' ? first.whenNormal : otherLie(first.whenNormal));
      if (carrier.kind === 'relay') {
        found = this.relayLies(fault, island, own, trial, id, first.point, asked, found);
        continue;
      }
      const drive = drives.find(({ points }) => points.includes(first.point));
      if (drive === undefined) continue;
      const unlinked = carrier.kind === 'blades' && isUnlinked(fault, first.point);
      found = found.flatMap((each) => {
        const slider = each.sliders.get(drive.id);
        // Blades off their link lie either way, and their contacts with them.
        if (unlinked)
          return EITHER.map((lie) => ({
            ...each,
            lies: { ...each.lies, [id]: lieOf(lie) },
            blades: new Map(each.blades).set(first.point, lie),
          }));
        if (slider === undefined) return [each];
        return [{ ...each, lies: { ...each.lies, [id]: lieOf(bladesAt(drive, first.point, slider)) } }];
      });
    }
    return found;
  }

  /** The same with the lies of a relay: where the throw takes it; where it takes it nowhere, as it lay, and its point lay so too. */
  private relayLies(
    fault: Fault,
    island: readonly string[],
    own: readonly string[],
    trial: Trial,
    id: string,
    point: string,
    asked: CarrierLies,
    lyings: readonly Lying[],
  ): readonly Lying[] {
    const relay = this.wiring.relays.find((each) => each.id === id);
    const drive = this.driveOf.get(point);
    const at =
      (lie: Lie) =>
      (each: Lying): Lying => ({ ...each, lies: { ...each.lies, [id]: lie } });
    const kept = fault.edits.flatMap((edit) => (edit.do === 'keep' && edit.carrier === id ? [edit.at] : []))[0];
    if (kept !== undefined) return lyings.map(at(kept));
    const usual = asked[id] ?? 'normal';
    const works = relay !== undefined && drive !== undefined && drive.feed !== null;
    if (!works || !own.includes(relay.circuit)) return lyings.map(at(usual));
    const goes = relayGoes(
      this.wiring,
      island,
      trial.levers,
      asked,
      [fault],
      relay,
      isPressed(this.wiring, drive) ? this.pressed(drive, trial) : {},
    );
    if (goes !== null) return lyings.map(at(goes));
    if (!isAsked(this.wiring, trial.levers, drive)) return lyings.map(at(usual));
    // Relays that one throw does not reach lie as it lay, all of them.
    return lyings.flatMap((each) => {
      const lay = each.before.get(point);
      const can = lay === undefined ? EITHER : [lay];
      return can.map((lie) => ({ ...at(lie)(each), before: new Map(each.before).set(point, lie) }));
    });
  }

  private tellLamps(
    fault: Fault,
    own: readonly string[],
    drives: readonly WiredDrive[],
    trial: Trial,
    lying: Lying,
    broken: readonly Shown[],
    can: ReadonlyMap<string, ReadonlySet<Lie>>,
  ): { readonly altered: boolean; readonly witness: WrongSide | null } {
    let altered = false;
    // A drive that goes where it is asked to leaves what its points are told of as it is.
    const moved = drives.filter((drive) => !this.staysAsAsked(fault, own, drive, trial, lying, can));
    const points = new Set(moved.flatMap((drive) => drive.points));
    const inside = own.flatMap((id) => this.lampsOf.get(id) ?? []);
    const outside = [...points]
      .flatMap((point) => this.claiming.get(point) ?? [])
      // What the fault does to circuits that it touches is told there.
      .filter((lamp) => lamp.hang !== null && !fault.circuits.includes(lamp.circuit ?? ''))
      .filter((lamp) => !own.includes(lamp.circuit ?? ''));
    for (const lamp of [...inside, ...new Set(outside)]) {
      const isInside = own.includes(lamp.circuit ?? '');
      const shows = broken.map(({ verdicts: now }) => now.get(lamp.id) ?? 'dark');
      const changed: Verdict = shows.every((each) => each === shows[0]) ? (shows[0] ?? 'dark') : 'doubtful';
      const settled = points.size === 0 || pointsOf(lamp).every((point) => !points.has(point));
      const was = isInside ? (this.healthy(lamp.circuit ?? '', trial).verdicts.get(lamp.id) ?? 'dark') : null;
      // All its points lie as they are asked to, and it shows what it shows when all is well.
      if (settled && isInside && changed === was) continue;
      for (const { now, before, history } of this.bladesIn(fault, lamp, trial, lying, can)) {
        const here = isInside ? changed : this.shownOutside(lamp, trial, lying, now);
        const healthy = was ?? this.shownOutside(lamp, trial, null, before);
        const claim = lamp.claim.some((each) => holds(each, now));
        const claimed = lamp.claim.some((each) => holds(each, before));
        if (here === healthy && claim === claimed) continue;
        altered = true;
        const wrong = here === 'doubtful' || (here === 'lit' ? !claim : claim && lamp.speaksWhenDark);
        if (!wrong) continue;
        const shown = here === 'doubtful' ? (claim ? 'unlit' : 'lit') : here === 'lit' ? 'lit' : 'unlit';
        const mark = here === 'doubtful' ? 'doubtful' : this.showsItself(lamp, own, broken) ? 'shows itself' : null;
        const levers = { ...trial.levers, ...this.settles(lamp, trial) };
        return {
          altered,
          witness: {
            fault: fault.code,
            levers,
            history: { ...trial.history, ...history },
            lamp: lamp.id,
            shown,
            should: claim ? 'lit' : 'unlit',
            mark,
          },
        };
      }
    }
    return { altered, witness: null };
  }

  /** Does a drive go where it is asked to for sure, its blades and what follows them with it? */
  private staysAsAsked(
    fault: Fault,
    own: readonly string[],
    drive: WiredDrive,
    trial: Trial,
    { before, blades }: Lying,
    can: ReadonlyMap<string, ReadonlySet<Lie>>,
  ): boolean {
    const lies = can.get(drive.id);
    const [slider] = lies ?? [];
    if (slider === undefined || lies?.size !== 1 || isPressed(this.wiring, drive)) return false;
    if (this.wiring.relays.some(({ circuit }) => own.includes(circuit))) return false;
    return drive.points.every(
      (point) =>
        !Object.hasOwn(trial.history, point) &&
        !before.has(point) &&
        !blades.has(point) &&
        !isUnlinked(fault, point) &&
        this.askedOf(point, trial) === bladesAt(drive, point, slider),
    );
  }

  /** Levers that a trial does not name and that must lie so for a lamp of another circuit to be reached. */
  private settles(lamp: LampUse, trial: Trial): Setting {
    const found: Record<string, Position> = {};
    for (const [id, lie] of Object.entries(lamp.hang?.cube ?? {})) {
      const carrier = this.carriers.get(id);
      const lever = carrier === undefined ? id : carrier.lever;
      if (lever === null || lever in trial.levers) continue;
      found[lever] = carrier === undefined ? lie : carrier.whenNormal === lie ? 'normal' : 'reverse';
    }
    return found;
  }

  /** What a lamp of a circuit that the fault leaves alone shows: lit where its whole way is closed. */
  private shownOutside(lamp: LampUse, trial: Trial, lying: Lying | null, blades: Lies): Verdict {
    for (const [id, lie] of Object.entries(lamp.hang?.cube ?? {})) {
      const carrier = this.carriers.get(id);
      if (carrier === undefined) {
        if ((trial.levers[id] ?? lie) !== lie) return 'dark';
        continue;
      }
      const [first] = carrier.points;
      const drive = this.driveOf.get(first?.point ?? '');
      const slider = drive === undefined ? undefined : lying?.sliders.get(drive.id);
      if (first === undefined || drive === undefined) continue;
      const relay = carrier.kind === 'relay' ? lying?.lies[id] : undefined;
      const point = relay ?? (slider === undefined ? blades[first.point] : bladesAt(drive, first.point, slider));
      if (point === undefined) continue;
      if ((point === 'normal' ? first.whenNormal : otherLie(first.whenNormal)) !== lie) return 'dark';
    }
    return 'lit';
  }

  /** The lies that the points of a lamp's claim can have, now and in the healthy panel, with the histories that tell them apart. */
  private bladesIn(
    fault: Fault,
    lamp: LampUse,
    trial: Trial,
    lying: Lying,
    can: ReadonlyMap<string, ReadonlySet<Lie>>,
  ): readonly { readonly now: Lies; readonly before: Lies; readonly history: Lies }[] {
    let made: { now: Record<string, Lie>; before: Record<string, Lie>; history: Record<string, Lie> }[] = [
      { now: {}, before: {}, history: {} },
    ];
    for (const point of pointsOf(lamp)) {
      const drive = this.driveOf.get(point);
      const asked = this.askedOf(point, trial);
      let lies: readonly Lie[];
      const sliders = drive === undefined ? undefined : can.get(drive.id);
      if (drive === undefined || sliders === undefined) lies = asked === null ? EITHER : [asked];
      else if (isUnlinked(fault, point)) {
        const told = lying.blades.get(point) ?? lying.before.get(point);
        lies = told === undefined ? EITHER : [told];
      } else {
        const fixed = lying.sliders.get(drive.id);
        lies = [...new Set((fixed === undefined ? [...sliders] : [fixed]).map((at) => bladesAt(drive, point, at)))];
      }
      const told =
        isUnlinked(fault, point) || lying.before.has(point) || (drive !== undefined && isPressed(this.wiring, drive));
      const free = told || lies.length > 1 || (sliders !== undefined && sliders.size > 1);
      made = made.flatMap(({ now, before, history }) =>
        [...lies].sort().map((lie) => ({
          now: { ...now, [point]: lie },
          before: { ...before, [point]: asked ?? lie },
          history: free ? { ...history, [point]: this.toldOf(fault, point, lie, trial, lying) } : history,
        })),
      );
    }
    return made;
  }

  /** What a witness says of how a point lay: before the throw where something of it stayed; with buttons before the press that left it so. */
  private toldOf(fault: Fault, point: string, lie: Lie, { history }: Trial, { before, lies }: Lying): Lie {
    const drive = this.driveOf.get(point);
    const press = history[point];
    if (drive === undefined || press === undefined || !isPressed(this.wiring, drive)) return before.get(point) ?? lie;
    const relays = this.wiring.relays.filter((relay) => relay.point === point);
    const whole = lie === press && relays.every(({ id }) => (lies[id] ?? press) === press);
    if (isUnlinked(fault, point)) return lie;
    return whole ? press : otherLie(press);
  }

  /** The lie that is asked of a point, or null where nothing is; a lever that is not named lies as the lamp's way wants it. */
  private askedOf(point: string, { levers, history }: Trial): Lie | null {
    const drive = this.driveOf.get(point);
    const ask = drive?.asks.find((each) => each.point === point);
    const lever = drive?.circuit ?? null;
    const position = lever === null || !(lever in levers) ? undefined : askIn(this.wiring, levers, lever);
    if (Object.hasOwn(history, point)) return history[point] ?? null;
    if (ask?.whenNormal == null || position === undefined || position === 'centre') return null;
    return position === 'normal' ? ask.whenNormal : otherLie(ask.whenNormal);
  }

  /** Are lamps of both legs of one of its points lit together? */
  private showsItself(lamp: LampUse, own: readonly string[], broken: readonly Shown[]): boolean {
    return own
      .flatMap((id) => this.lampsOf.get(id) ?? [])
      .some(
        (other) =>
          lamp.claim.some((lies) =>
            other.claim.some((theirs) => Object.entries(lies).some(([point, lie]) => (theirs[point] ?? lie) !== lie)),
          ) && broken.every(({ verdicts }) => verdicts.get(other.id) === 'lit' && verdicts.get(lamp.id) === 'lit'),
      );
  }

  private readonly good = new Map<string, Shown>();
  private readonly goodIn = new WeakMap<State, Map<string, Shown>>();

  private healthy(id: string, state: State): Shown {
    const there = this.goodIn.get(state) ?? new Map<string, Shown>();
    const known = there.get(id);
    if (known !== undefined) return known;
    this.goodIn.set(state, there);
    const shown = this.healthyIn(id, state);
    there.set(id, shown);
    return shown;
  }

  private healthyIn(id: string, { levers, history }: State): Shown {
    const circuit = this.circuits.get(id);
    const deciders = circuit === undefined ? [] : decidersOf(this.wiring, circuit);
    const key = `${id} ${deciders.map((lever) => levers[lever] ?? '').join()} ${circuit?.follows.length === 0 ? '' : JSON.stringify(history)}`;
    const known = this.good.get(key);
    if (known !== undefined) return known;
    const island = islandOf(this.wiring, id);
    const lies = carrierLies(this.wiring, levers, history);
    const quick = island.length === 1 ? this.quick(island, island, levers, null, lies) : null;
    const shown = quick ?? this.solve(island, levers, [], lies);
    this.good.set(key, shown);
    return shown;
  }

  /** The same with a fault; behind ohms that stand within a circuit's own part of a chain, with all of it there and with none. */
  private allQuick(
    island: readonly string[],
    own: readonly string[],
    setting: Setting,
    fault: Fault,
    lies: CarrierLies,
  ): readonly Shown[] | null {
    const all = this.quick(island, own, setting, fault, lies);
    if (all === null) return null;
    if (faultedCircuits(this.wiring).splitBy(fault) === null) return [all];
    const none = this.quick(island, own, setting, fault, lies, 'none');
    return none === null ? null : [all, none];
  }

  /** Some circuits in one setting, where they can be taken by themselves. */
  private quick(
    island: readonly string[],
    own: readonly string[],
    setting: Setting,
    fault: Fault | null,
    lies: CarrierLies,
    part: 'all' | 'none' = 'all',
  ): Shown | null {
    const faulted = faultedCircuits(this.wiring);
    const circuits = fault !== null && faulted.isOfChain(fault) ? own : island;
    const [only] = circuits;
    const well = fault === null || only === undefined || circuits.length > 1 ? null : this.wellAt(only, setting, lies);
    const read = faulted.read(circuits, setting, fault, { lies, well, part });
    if (read === null) return null;
    const verdicts = new Map<string, Verdict>();
    const burnt = new Set<string>();
    for (const id of circuits)
      for (const lamp of this.lampsOf.get(id) ?? []) {
        const reading = read.lamps.get(lamp.id);
        verdicts.set(lamp.id, verdictAt(lamp, reading, fault === null ? [] : [fault]));
        if ((reading?.amps ?? 0) > 2 * lamp.part.max) burnt.add(lamp.id);
      }
    const supplies = read.shorted ? circuits.flatMap((id) => this.circuits.get(id)?.supplies ?? []) : [];
    return {
      push: (drive) => read.push(drive),
      verdicts,
      lost: [...new Set(supplies)],
      burnt: fault === null ? burnt : NONE,
    };
  }

  private readonly wells = new Map<string, Faulted | null>();

  /** A circuit without a fault, contacts lying so; each state is read once. */
  private wellAt(id: string, levers: Setting, lies: CarrierLies): Faulted | null {
    const circuit = this.circuits.get(id);
    if (circuit === undefined) return null;
    let key = id;
    for (const lever of circuit.levers) key += ` ${levers[lever] ?? ''}`;
    for (const carrier of circuit.follows) key += ` ${lies[carrier] ?? ''}`;
    const known = this.wells.get(key);
    if (known !== undefined) return known;
    const read = faultedCircuits(this.wiring).read([id], levers, null, { lies });
    this.wells.set(key, read);
    return read;
  }

  /** One island in one setting. A supply that is shorted dead is off. */
  private solve(island: readonly string[], setting: Setting, faults: readonly Fault[], lies: CarrierLies): Shown {
    let reading = solveIsland(this.wiring, island, setting, island, faults, lies);
    let now = faults;
    const lost = reading.nominal.problems.flatMap((each) => (each.code === 'source-shorted' ? [each.source] : []));
    const off = lost.flatMap((supply) => faultByCode(this.wiring, `off:${supply}`) ?? []);
    if (off.length > 0) {
      now = [...faults, ...off];
      reading = solveIsland(this.wiring, island, setting, island, now, lies);
    }
    const byId = new Map(reading.lamps.map((lamp) => [lamp.id, lamp]));
    const verdicts = new Map<string, Verdict>();
    const burnt = new Set<string>();
    for (const id of island)
      for (const lamp of this.lampsOf.get(id) ?? []) {
        verdicts.set(lamp.id, verdictAt(lamp, byId.get(lamp.id), faults));
        if ((byId.get(lamp.id)?.amps ?? 0) > 2 * lamp.part.max) burnt.add(lamp.id);
      }
    return { push: (drive) => pushIn(this.wiring, island, setting, lies, now, drive), verdicts, lost, burnt };
  }
}

/** Does a circuit hang between two rails that have a third between them? */
function isSplit(circuit: Circuit | undefined): boolean {
  return circuit?.feed === 'split' || circuit?.feed === 'half-wave';
}

function push<T>(lists: Map<string, T[]>, key: string, item: T): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [item]);
  else list.push(item);
}

/** The last volts at which it does not hold and the first at which it does, a little apart; infinite where it holds nowhere. */
function bisect(most: number, holdsAt: (volts: number) => boolean): readonly [low: number, high: number] {
  let [low, high] = [0, most];
  if (!holdsAt(high)) return [high, Number.POSITIVE_INFINITY];
  for (let halving = 0; halving < FLOOR_HALVINGS; halving++) {
    const middle = (low + high) / 2;
    if (holdsAt(middle)) high = middle;
    else low = middle;
  }
  return [low, high];
}

/** What a lamp shows; one that is shorted carries its current past the crystal. */
function verdictAt(lamp: LampUse, reading: FaultedLamp | undefined, faults: readonly Fault[]): Verdict {
  if (reading === undefined || faults.some(({ code }) => code === `short:${lamp.id}`)) return 'dark';
  return verdictOf(lamp, { low: reading.low, high: reading.high, least: reading.amps, most: reading.amps });
}
