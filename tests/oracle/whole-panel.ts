/**
 * The truth of lamps by brute force, written from the rules alone: the whole panel as one network, in every setting of every lever, with
 * every history of every point, every single fault, judged lamp by lamp. It shares the electrical solver with the program and nothing of
 * its proof: how drives, blades and relays lie, what is lit, what is true and what class a fault has is worked out here.
 * Slow; for panels of a few points.
 *
 * How a setting is read. A lever asks its points to lie so; in its middle nothing is asked and they lie as they did (`meant`). A lever
 * that springs back, and a button, is at rest: its last throw is what it asked. A point that no lever and no button works lies as hands
 * left it. With a lever on another panel one before the other, what this lever asks is turned over where that lies reverse; of two side
 * by side that spring back one was thrown last, and the other stands in its middle. Whatever a fault keeps from moving lies as it did before the throw: `before`, tried both ways; drive, blades and relay of one
 * point lay alike then.
 */
import { type CircuitElement, type OperatingPoint, solveDc } from '../../src/circuit/index.ts';
import type { Derived } from '../../src/derive.ts';
import type { LampUse } from '../../src/lamps/index.ts';
import {
  type Corner,
  type Fault,
  heldVolts,
  netlistOf,
  type Position,
  type WiredDrive,
} from '../../src/wiring/index.ts';

type Lie = 'normal' | 'reverse';
type Lies = Readonly<Record<string, Lie>>;
export type Verdict = 'lit' | 'dark' | 'doubtful';
export type OracleClass = 'latent' | 'rightSide' | 'wrongSide';

/** One setting of the whole panel. */
export interface Setting {
  /** Every lever; of one that springs back its last throw. */
  readonly levers: Readonly<Record<string, Position>>;
  /** How every point lies while all is well. */
  readonly meant: Lies;
}

/** A lamp that lies, and where. */
export interface Lying {
  readonly setting: Setting;
  readonly blades: Lies;
  readonly lamp: string;
  readonly verdict: Verdict;
  readonly claim: boolean;
}

export interface FaultFound {
  readonly class: OracleClass;
  readonly lying: readonly Lying[];
}

/** Half the least volts of its range move a drive for sure, half its coil's volts a relay: common practice, no source. */
const SURE = 0.5;
const BOTH: readonly Lie[] = ['normal', 'reverse'];
/** A capacitor whose charge is gone is none: what a smoothed rail of one diode gives without it is the mean of half a sine, a pi-th of its peak. */
const MEAN_OF_HALF_SINE = 1 / Math.PI;

const other = (lie: Lie): Lie => (lie === 'normal' ? 'reverse' : 'normal');

function product<T>(lists: readonly (readonly T[])[]): T[][] {
  let made: T[][] = [[]];
  for (const list of lists) made = made.flatMap((one) => list.map((each) => [...one, each]));
  return made;
}

/** Where drives, blades and relays are. Sliders are lies of the drive's first point. */
interface Lain {
  readonly sliders: Lies;
  readonly blades: Lies;
  readonly relays: Lies;
}

/** The lies of contacts by what carries them, as the network wants them. */
type Carried = Readonly<Record<string, Lie>>;

export class WholePanel {
  private readonly worked = new Map<string, { readonly lever: string; readonly whenNormal: Lie }>();
  private readonly pressed = new Set<string>();
  private readonly drives = new Map<string, WiredDrive>();
  private readonly judged: readonly LampUse[];
  private readonly isSprung: (lever: string) => boolean;
  /** Levers with one on another panel: that stands before them, beside them, or beside them at a relay that remembers. */
  private readonly twins = new Map<string, 'before' | 'beside' | 'latch'>();

  constructor(private readonly panel: Derived) {
    const { plan, switches, wiring, lamps } = panel;
    for (const { id, works } of plan.levers)
      for (const { point, whenNormal } of works)
        if (!this.worked.has(point)) this.worked.set(point, { lever: id, whenNormal });
    for (const { poles } of wiring.buttons) for (const { point } of poles) this.pressed.add(point);
    for (const drive of wiring.drives) for (const point of drive.points) this.drives.set(point, drive);
    this.judged = lamps.filter(({ claim, circuit }) => claim.length > 0 && circuit !== null);
    for (const { id, twin, feed } of panel.panel.levers ?? []) {
      const kind = (feed ?? panel.panel.feed)?.kind ?? 'reversing';
      if (twin === undefined || kind === 'charge' || (kind === 'pulse' && twin.by === 'two-way')) continue;
      this.twins.set(id, twin.by === 'two-way' ? 'before' : kind === 'pulse' ? 'beside' : 'latch');
    }
    // A relay that remembers what was thrown last holds its drives as a lever that stays would.
    const sprung = new Set(
      switches.flatMap(({ lever, part }) => (part.sprung && this.twins.get(lever) !== 'latch' ? [lever] : [])),
    );
    this.isSprung = (lever) => sprung.has(lever);
  }

  /** What a lever asks in a setting, the lever on another panel with it. */
  private asks(lever: string, levers: Setting['levers']): Position {
    const [own = 'centre', there = 'centre'] = [levers[lever], levers[`${lever}.twin`]];
    const twin = this.twins.get(lever);
    if (twin === 'before') return own === 'centre' || there !== 'reverse' ? own : other(own);
    return twin !== undefined && own === 'centre' ? there : own;
  }

  /** What can be chosen of a lever, the lever on another panel with it. */
  private choices(lever: string): readonly Setting['levers'][] {
    const positions: readonly Position[] = this.hasCentre(lever) ? [...BOTH, 'centre'] : BOTH;
    const alone = positions.map((at) => ({ [lever]: at }));
    const twin = this.twins.get(lever);
    const name = `${lever}.twin`;
    if (twin === undefined) return alone;
    if (twin === 'before') return alone.flatMap((own) => BOTH.map((there) => ({ ...own, [name]: there })));
    const here = BOTH.map((at): Setting['levers'] => ({ [lever]: at, [name]: 'centre' }));
    return [...here, ...BOTH.map((at): Setting['levers'] => ({ [lever]: 'centre', [name]: at }))];
  }

  private hasCentre(lever: string): boolean {
    return this.panel.switches.some((each) => each.lever === lever && each.part.centreOff && !each.part.sprung);
  }

  private pointIds(): readonly string[] {
    return this.panel.plan.points.map(({ id }) => id);
  }

  /** Every setting, histories with them. `apart`: points of one sprung lever may have been thrown one by one. */
  settings(): readonly Setting[] {
    const levers = this.panel.plan.levers.map(({ id }) => id);
    return product(levers.map((id) => this.choices(id))).flatMap((chosen) => {
      const at: Record<string, Position> = Object.assign({}, ...chosen);
      const fixed: Record<string, Lie> = {};
      for (const point of this.pointIds()) {
        const worked = this.worked.get(point);
        const position = worked === undefined ? 'centre' : this.asks(worked.lever, at);
        if (worked === undefined || position === 'centre') continue;
        fixed[point] = position === 'normal' ? worked.whenNormal : other(worked.whenNormal);
      }
      const free = this.pointIds().filter((point) => fixed[point] === undefined);
      return product(free.map(() => BOTH)).map((lies) => ({
        levers: at,
        meant: { ...fixed, ...Object.fromEntries(free.map((point, i) => [point, lies[i] ?? 'normal'])) },
      }));
    });
  }

  /** How many settings there are by rule 2: with a sprung lever each of its points has a history of its own. */
  count(): number {
    let found = 1;
    const points = this.pointIds();
    const of = (lever: string) => points.filter((point) => this.worked.get(point)?.lever === lever).length;
    for (const { id } of this.panel.plan.levers)
      found *=
        (this.isSprung(id) ? 2 ** of(id) : this.hasCentre(id) ? 2 + 2 ** of(id) : 2) *
        (this.twins.get(id) === 'before' ? 2 : 1);
    return found * 2 ** points.filter((point) => !this.worked.has(point)).length;
  }

  /** Is something asked of a point at this very moment: a lever that holds it? */
  private isHeld(point: string, { levers }: Setting): boolean {
    const worked = this.worked.get(point);
    return worked !== undefined && !this.isSprung(worked.lever) && this.asks(worked.lever, levers) !== 'centre';
  }

  /** Was it thrown to where it is meant, by a lever that holds it, one that sprang back, or a button? */
  private isThrownThere(point: string, setting: Setting): boolean {
    const worked = this.worked.get(point);
    if (worked !== undefined) return this.asks(worked.lever, setting.levers) !== 'centre';
    return this.pressed.has(point);
  }

  says(lamp: LampUse, blades: Lies): boolean {
    return lamp.claim.some((each) => Object.entries(each).every(([point, lie]) => blades[point] === lie));
  }

  /** Where everything lies while all is well. */
  private wellLain(setting: Setting): Lain {
    const sliders = Object.fromEntries(
      this.panel.wiring.drives.map((drive) => [drive.id, setting.meant[drive.points[0] ?? ''] ?? 'normal']),
    );
    const relays = Object.fromEntries(
      this.panel.wiring.relays.map(({ id, point }) => [id, setting.meant[point] ?? 'normal']),
    );
    return { sliders, relays, blades: setting.meant };
  }

  /** A contact lies as what carries it does. A drive's own normal is that of its first point, or the other one's where they differ. */
  private carried({ sliders, blades, relays }: Lain): Carried {
    const found: Record<string, Lie> = {};
    for (const { carrier } of this.panel.wiring.contacts) {
      const [first] = carrier.points;
      if (first === undefined || carrier.kind === 'lever') continue;
      const drive = this.drives.get(first.point);
      const at =
        carrier.kind === 'relay'
          ? relays[carrier.id]
          : carrier.kind === 'blades'
            ? blades[first.point]
            : drive === undefined
              ? undefined
              : this.bladesOn(drive, first.point, sliders[drive.id] ?? 'normal');
      const lie = at ?? 'normal';
      found[carrier.id] = lie === 'normal' ? first.whenNormal : other(first.whenNormal);
    }
    return found;
  }

  /** How a point of a drive lies while its slider is where its first point lies so. */
  private bladesOn(drive: WiredDrive, point: string, slider: Lie): Lie {
    const goes = (id: string | undefined) => drive.asks.find((each) => each.point === id)?.goes;
    return goes(point) === goes(drive.points[0]) ? slider : other(slider);
  }

  // ---- electricity ----

  private readonly solved = new Map<string, OperatingPoint>();

  private key(setting: Setting, carried: Carried, fault: Fault | null): string {
    return `${fault?.code} ${Object.values(setting.levers).join()} ${Object.values(carried).join()}`;
  }

  private solve(
    setting: Setting,
    carried: Carried,
    fault: Fault | null,
    corner: Corner,
    press: ReadonlySet<string> | null = null,
  ): OperatingPoint {
    const { lamps, draw, supply, group, lamp } = corner;
    const key = `${this.key(setting, carried, fault)} ${lamps} ${draw} ${supply} ${group} ${lamp} ${press === null ? '' : `thrown ${[...press].join()}`}`;
    const known = this.solved.get(key);
    if (known !== undefined) return known;
    const { wiring } = this.panel;
    // What is broken before a rail is worked out here (`chainFaults`), and not taken from the fault's own edits.
    const faults = fault === null ? [] : [{ ...fault, edits: fault.edits.filter((edit) => edit.do !== 'rail') }];
    const limited = wiring.supplies.some(({ limit }) => limit !== 'none');
    const network = netlistOf(wiring, setting.levers, {
      circuits: null,
      corner,
      lies: carried,
      faults,
      thrown: press !== null,
      ...(limited ? { held: heldVolts(wiring, setting.levers, corner, faults) } : {}),
    });
    const closed = network.elements.map(
      (each): CircuitElement =>
        each.kind === 'contact' && press?.has(each.id) === true ? { ...each, closed: true } : each,
    );
    const elements = this.chainFaults(closed, fault);
    let point = solveDc({ ...network, elements });
    const shorted = new Set(point.problems.flatMap((each) => (each.code === 'source-shorted' ? [each.source] : [])));
    if (shorted.size > 0)
      point = solveDc({
        ...network,
        elements: elements.map((each): CircuitElement => (shorted.has(each.id) ? cut(each) : each)),
      });
    if (this.solved.size > 40_000) this.solved.clear();
    this.solved.set(key, point);
    return point;
  }

  /** What stands before a steady rail is not in its network: a unit that is not charged, and a rail that is not rectified. */
  private chainFaults(elements: readonly CircuitElement[], fault: Fault | null): readonly CircuitElement[] {
    const [verb = '', of = ''] = fault?.code.split(/[:=]/) ?? [];
    const { supplies } = this.panel.wiring;
    return elements.map((each): CircuitElement => {
      if (each.kind !== 'source') return each;
      const unit = supplies.find(({ id, kind }) => kind === 'cdu' && id === each.id);
      if (unit !== undefined) {
        const gone =
          (of === unit.id && (verb === 'open' || verb === 'short' || verb === 'off')) ||
          (of === `R-${unit.id}` && verb === 'open') ||
          (of === `SD-${unit.id}` && (verb === 'open' || verb === 'backwards'));
        const source = fault?.code === `off:${unit.from}` || fault?.code === `open:FU-${unit.from}`;
        if (gone || source || !this.isFed(unit.from ?? '', [unit.id], fault)) return cut(each);
        return each;
      }
      const mains = supplies.find(({ id, kind }) => kind === 'ac' && (id === each.id || `${id}-` === each.id));
      if (mains === undefined) return each;
      const rail = each.id === mains.id ? `${mains.id}p` : `${mains.id}m`;
      if (of === `SD-${rail}` || fault?.code === `open:FU-${mains.id}`) return cut(each);
      if (!this.isFed(mains.id, [`SD-${rail}`], fault)) return cut(each);
      if (
        this.panel.wiring.capacitors.some(({ id }) => id === `CAP-${rail}`) &&
        !this.isFed(mains.id, [`CAP-${rail}`], fault)
      )
        return { ...each, volts: each.volts * MEAN_OF_HALF_SINE };
      if (of === `CAP-${rail}` && verb === 'short') return cut(each);
      if (of === `CAP-${rail}` && verb === 'open') return { ...each, volts: each.volts * MEAN_OF_HALF_SINE };
      return each;
    });
  }

  /** Is every wire between a supply and what hangs on it whole, on the side that the supply is on? Only wires that can be open tell. */
  private isFed(from: string, to: readonly string[], fault: Fault | null): boolean {
    const [verb, of] = fault?.code.split(':') ?? [];
    const { wires } = this.panel.wiring;
    if (verb !== 'open' || !wires.some(({ id }) => id === of)) return true;
    const owner = (tag: string) => tag.replace(/\.[^.]*$/, '').replace(/^FU-/, '');
    // From the supply's own tags along whole wires, through fuses, resistors and the unit's diode, but not through a rectifier.
    const seen = new Set([`${from}.p`, `${from}.m`]);
    for (let grew = true; grew; ) {
      grew = false;
      for (const { id, from: a, to: b } of wires) {
        if (id === of || seen.has(a) === seen.has(b)) continue;
        seen.add(a).add(b);
        grew = true;
      }
      for (const tag of [...seen]) {
        const part = tag.replace(/\.[^.]*$/, '');
        if (!/^(FU-|R-)/.test(part) && !to.some((unit) => part === `SD-${unit}`)) continue;
        for (const end of ['1', '2', 'a', 'k'])
          if (!seen.has(`${part}.${end}`)) grew = seen.add(`${part}.${end}`).size > 0;
      }
    }
    return to.every((name) => {
      // A unit by both its tags, a rectifier by the one on the supply's side, a smoothing capacitor by the one on its minus.
      const tags = wires.flatMap((wire) => [wire.from, wire.to]).filter((tag) => owner(tag) === name);
      if (name.startsWith('SD-')) return seen.has(name.endsWith('p') ? `${name}.a` : `${name}.k`);
      if (name.startsWith('CAP-')) return seen.has(name.endsWith('p') ? `${name}.m` : `${name}.p`);
      return tags.every((tag) => seen.has(tag));
    });
  }

  /** Lamps of one side of a group that share its resistor. */
  private readonly sharing = new Map<string, number>();

  private shares(id: string): boolean {
    const { lamps, resistors } = this.panel.wiring;
    const lamp = lamps.find((each) => each.id === id);
    if (lamp === undefined || lamp.series !== null) return false;
    const key = `${lamp.group} ${lamp.lie}`;
    let count = this.sharing.get(key);
    if (count === undefined) {
      const own = new Set(resistors.map((each) => each.id));
      count = lamps.filter(
        (each) =>
          each.group === lamp.group && each.lie === lamp.lie && each.series === null && !own.has(`R-${each.id}`),
      ).length;
      this.sharing.set(key, count);
    }
    return count > 1;
  }

  /** Lit, dark or doubtful: each lamp over the corners of all bands. */
  verdicts(setting: Setting, carried: Carried, fault: Fault | null): ReadonlyMap<string, Verdict> {
    const { wiring } = this.panel;
    const amps = (id: string, corner: Corner): number => {
      const found = this.solve(setting, carried, fault, corner).amps.get(id) ?? 0;
      return Math.abs(found) < 1e-12 ? 0 : found;
    };
    const coupled =
      wiring.supplies.some(({ ohms }) => ohms > 0) ||
      (fault?.edits.some(({ do: what }) => what === 'ohms' || what === 'join' || what === 'move') ?? false) ||
      fault?.middle === true;
    const found = new Map<string, Verdict>();
    for (const lamp of this.judged) {
      const wired = wiring.lamps.find(({ id }) => id === lamp.id);
      if (wired === undefined) continue;
      const nominal = amps(lamp.id, at('nominal', 'nominal', 1, null, null));
      const range = [nominal];
      const dimmed = wiring.circuits.find(({ id }) => id === wired.circuit)?.dimmed ?? 1;
      for (const edge of ['low', 'high'] as const) {
        const draw = edge === 'low' ? 'high' : 'low';
        const dim = edge === 'low' ? dimmed : 1;
        const apart = this.shares(lamp.id) ? lamp.id : null;
        if (apart === null) range.push(amps(lamp.id, at(edge, draw, dim, null, null)));
        if (apart !== null || coupled) range.push(amps(lamp.id, at(edge, draw, dim, wired.group, apart)));
      }
      const { seen, max, dark } = lamp.part;
      if (fault?.code === `short:${lamp.id}` || nominal > 2 * max) found.set(lamp.id, 'dark');
      else if (Math.min(...range) >= seen) found.set(lamp.id, 'lit');
      else found.set(lamp.id, Math.max(...range) <= (dark ?? seen / 20) ? 'dark' : 'doubtful');
    }
    return found;
  }

  // ---- drives ----

  /** Where a drive is taken, as a lie of its first point; null where nothing moves it for sure. */
  private taken(drive: WiredDrive, setting: Setting, carried: Carried, fault: Fault | null): Lie | null {
    const [first] = drive.asks;
    if (first === undefined || drive.feed === null) return null;
    const [verb, of = ''] = fault?.code.split(/[:=]/) ?? [];
    const own = of === first.point;
    const coils = drive.part.what === 'twin-coil' || drive.part.what === 'twin-coil-end-off';
    if (!coils && own && (verb === 'open' || verb === 'short')) return null;
    const way = coils ? this.coilOf(drive, setting, carried, fault) : this.pushedAt(drive, setting, carried, fault);
    if (way === null) return null;
    // Tag a plus takes it where it was meant to go with its lever normal.
    const goes = (way === 'a') === drive.plusToA ? first.goes : other(first.goes);
    return own && verb === 'crossed' ? other(goes) : goes;
  }

  private pushedAt(drive: WiredDrive, setting: Setting, carried: Carried, fault: Fault | null): 'a' | 'b' | null {
    const point = this.solve(setting, carried, fault, at('nominal', 'nominal', 1, null, null));
    const volts = (a: string, b: string): number => {
      const [va, vb] = [point.volts.get(a), point.volts.get(b)];
      return va == null || vb == null ? 0 : va - vb;
    };
    const least = SURE * (drive.part.volts?.low ?? 0);
    if (drive.feed === 'contact') {
      if (volts(drive.com ?? '', drive.b) < least) return null;
      const closed = (point.amps.get(drive.id) ?? 0) >= SURE * (drive.part.inputAmps ?? 0);
      // An open input asks for what the lever's normal asks for.
      return closed === drive.plusToA ? 'b' : 'a';
    }
    const across = volts(drive.a, drive.b);
    if (across === 0 || Math.abs(across) < least) return null;
    return across > 0 ? 'a' : 'b';
  }

  /** The coil that a throw moves the slider with: enough amps for long enough, in that coil alone. */
  private coilOf(drive: WiredDrive, setting: Setting, carried: Carried, fault: Fault | null): 'a' | 'b' | null {
    const point = this.solve(setting, carried, fault, at('nominal', 'nominal', 1, null, null), this.pressesOf(setting));
    const [n, r] = (['n', 'r'] as const).map((coil) => {
      // A coil that is shorted has no turns left that pull.
      if (fault?.code === `short:${drive.points[0]}.${coil}` || fault?.code === `open:${drive.points[0]}.${coil}`)
        return false;
      const amps = Math.abs(point.amps.get(`${drive.id}.${coil}`) ?? 0);
      return this.throwsWith(drive, amps, setting, fault);
    });
    return n === r ? null : n ? 'a' : 'b';
  }

  /** Button poles that were pressed last: those that take points where they are meant to lie. */
  private pressesOf(setting: Setting): ReadonlySet<string> {
    const found = new Set<string>();
    for (const { poles } of this.panel.wiring.buttons)
      for (const { id, point, lie } of poles) {
        const drive = this.drives.get(point);
        const goes = drive?.asks.find((each) => each.point === point)?.goes ?? 'normal';
        // `lie` of a pole tells its coil: N takes the drive where a lever's normal would.
        const meant = setting.meant[point] === goes ? 'normal' : 'reverse';
        if (!this.worked.has(point) && lie === meant) found.add(`${id}=closed`);
      }
    return found;
  }

  /**
   * Does a coil that would carry so many amps for good carry enough for long enough? Straight from a supply it does if it does at all;
   * from a capacitor it is integrated: L di/dt = u - R i, C du/dt = -i, until the current turns.
   */
  private throwsWith(drive: WiredDrive, amps: number, setting: Setting, fault: Fault | null): boolean {
    const { throwAmps, throwSeconds, coilHenries } = drive.part;
    if (amps < (throwAmps ?? 0) || amps === 0) return false;
    const circuit = this.panel.wiring.circuits.find(({ id }) => id === drive.circuit);
    const supply = this.panel.wiring.supplies.find(({ id }) => id === circuit?.supply);
    const own = this.panel.wiring.capacitors.find((each) => each.circuit === circuit?.id);
    const name = own?.id ?? supply?.id ?? '';
    let farads = own?.farads ?? (supply?.kind === 'cdu' ? supply.farads : null);
    if (farads === null || supply === undefined) return true;
    const [verb, of, figure] = fault?.code.split(/[:=]/) ?? [];
    if (of === name) {
      if (verb === 'open') return false;
      // Shorted, it holds a coil on the supply for as long as that coil's side is plus, and has nothing to give the other way.
      if (verb === 'short') return own !== undefined && setting.levers[circuit?.id ?? ''] === 'normal';
      if (verb === 'value') farads = Number(figure);
    }
    const mates = this.panel.wiring.drives.filter((each) => each.circuit === drive.circuit).length;
    const share = farads / mates;
    const scale = of === supply.id || of === supply.from ? (verb === 'low' ? 0.8 : verb === 'high' ? 1.4 : 1) : 1;
    const start = supply.railVolts * scale;
    const ohms = start / amps;
    const step = 1e-5;
    let [volts, flow, seconds] = [start, 0, 0];
    for (let t = 0; t < 0.2; t += step) {
      flow += (step * (volts - ohms * flow)) / (coilHenries ?? 1);
      if (flow < 0) break;
      volts -= (step * flow) / share;
      if (flow >= (throwAmps ?? 0)) seconds += step;
    }
    return seconds >= (throwSeconds ?? 0);
  }

  /** Where a relay goes with the throw; null where it gets too little. */
  private relayTaken(id: string, setting: Setting, carried: Carried, fault: Fault | null): Lie | null {
    const relay = this.panel.wiring.relays.find((each) => each.id === id);
    if (relay === undefined) return null;
    const point = this.solve(setting, carried, fault, at('nominal', 'nominal', 1, null, null), this.pressesOf(setting));
    const [set, reset] = relay.coils.map((coil) => {
      const [a, b] = [point.volts.get(coil.a), point.volts.get(coil.b)];
      const amps = Math.abs(point.amps.get(coil.id) ?? 0);
      return a != null && b != null && amps >= (SURE * relay.part.coilVolts) / relay.part.coilOhms;
    });
    return set === reset ? null : set ? 'reverse' : 'normal';
  }

  /** Every way in which drives, blades and relays can lie with a fault in this setting. */
  lain(setting: Setting, fault: Fault): readonly Lain[] {
    const { wiring } = this.panel;
    const [verb, of = '', at_ = ''] = fault.code.split(/[:=]/);
    const points = this.pointIds().filter((point) => this.drives.has(point));
    // Of a drive only its first point's lie before counts: its other points lay with it. Blades off their link stayed by themselves.
    const seen = new Set<string>();
    const found: Lain[] = [];
    for (const lies of product(points.map(() => BOTH))) {
      const before: Lies = Object.fromEntries(points.map((point, i) => [point, lies[i] ?? 'normal']));
      const together = wiring.drives.every((drive) =>
        drive.points.every(
          (point) => before[point] === this.bladesOn(drive, point, before[drive.points[0] ?? ''] ?? 'normal'),
        ),
      );
      if (!together) continue;
      for (const chosen of product(wiring.drives.map(() => BOTH)))
        for (const relayed of product(wiring.relays.map(() => BOTH))) {
          const sliders: Lies = Object.fromEntries(wiring.drives.map(({ id }, i) => [id, chosen[i] ?? 'normal']));
          const relays: Lies = Object.fromEntries(wiring.relays.map(({ id }, i) => [id, relayed[i] ?? 'normal']));
          const blades: Record<string, Lie> = {};
          for (const point of this.pointIds()) {
            const drive = this.drives.get(point);
            if (drive === undefined) blades[point] = setting.meant[point] ?? 'normal';
            else if (verb === 'linkage' && of === point) blades[point] = before[point] ?? 'normal';
            else blades[point] = this.bladesOn(drive, point, sliders[drive.id] ?? 'normal');
          }
          const lain: Lain = { sliders, relays, blades };
          const told = JSON.stringify(lain);
          if (seen.has(told)) continue;
          const carried = this.carried(lain);
          const fits =
            wiring.drives.every((drive) => {
              const first = drive.points[0] ?? '';
              const own = of === first && verb === 'stuck' ? (at_ as Lie) : null;
              const rest = this.isThrownThere(first, setting) ? before[first] : setting.meant[first];
              const moved = drive.circuit === null ? null : this.taken(drive, setting, carried, fault);
              const held = this.isHeld(first, setting) || this.isThrownThere(first, setting) ? moved : moved;
              return sliders[drive.id] === (own ?? held ?? rest);
            }) &&
            wiring.relays.every(({ id, point }) => {
              const kept = verb === 'stuck' && of === id ? (at_ === 'set' ? 'reverse' : 'normal') : null;
              const rest = this.isThrownThere(point, setting) ? before[point] : setting.meant[point];
              const dead = verb === 'open' && of === id;
              return relays[id] === (kept ?? (dead ? null : this.relayTaken(id, setting, carried, fault)) ?? rest);
            });
          if (!fits) continue;
          seen.add(told);
          found.push(lain);
        }
    }
    return found;
  }

  /** Does every drive that is asked go where it is asked while all is well? Only then do the rules speak of it. */
  isSound(): boolean {
    const { drives } = this.panel.wiring;
    if (drives.some(({ feed, part }) => feed === null && part.what !== 'hand' && part.what !== 'decoder')) return false;
    return this.settings().every((setting) =>
      drives.every((drive) => {
        const first = drive.points[0] ?? '';
        if (!this.isThrownThere(first, setting)) return true;
        const carried = this.carried(this.wellLain(setting));
        return this.taken(drive, setting, carried, null) === setting.meant[first];
      }),
    );
  }

  private readonly well = new Map<string, ReadonlyMap<string, Verdict>>();

  wellVerdicts(setting: Setting): ReadonlyMap<string, Verdict> {
    const key = JSON.stringify(setting);
    const known = this.well.get(key) ?? this.verdicts(setting, this.carried(this.wellLain(setting)), null);
    this.well.set(key, known);
    return known;
  }

  /** The worst that a fault does, by rules 14 and 15, and every lamp that lies; `first`: stop at the first. */
  judge(fault: Fault, first = true): FaultFound {
    let worst: OracleClass = 'latent';
    const lying: Lying[] = [];
    for (const setting of this.settings()) {
      const before = this.wellVerdicts(setting);
      for (const lain of this.lain(setting, fault)) {
        const now = this.verdicts(setting, this.carried(lain), fault);
        for (const lamp of this.judged) {
          const [verdict, claim] = [now.get(lamp.id) ?? 'dark', this.says(lamp, lain.blades)];
          if (verdict === (before.get(lamp.id) ?? 'dark') && claim === this.says(lamp, setting.meant)) continue;
          const wrong =
            verdict === 'doubtful' ||
            (verdict === 'lit' && (!claim || this.isContradicted(lamp, now))) ||
            (verdict === 'dark' && claim && lamp.speaksWhenDark);
          if (wrong) lying.push({ setting, blades: lain.blades, lamp: lamp.id, verdict, claim });
          else if (worst === 'latent') worst = 'rightSide';
        }
        if (first && lying.length > 0) return { class: 'wrongSide', lying };
      }
    }
    return { class: lying.length > 0 ? 'wrongSide' : worst, lying };
  }

  /** Are lamps of both legs of one point lit together? */
  private isContradicted(lamp: LampUse, now: ReadonlyMap<string, Verdict>): boolean {
    return this.judged.some(
      (each) =>
        now.get(each.id) === 'lit' &&
        lamp.claim.every((mine) =>
          each.claim.every((theirs) => Object.entries(mine).some(([point, lie]) => (theirs[point] ?? lie) !== lie)),
        ),
    );
  }

  /** Rule 8: all lamps of the points of which nothing is asked are dark, as far as they tell of no point besides these. */
  private isSilent(named: ReadonlySet<string>, setting: Setting, now: ReadonlyMap<string, string>): boolean {
    return this.panel.lamps.every((lamp) => {
      const points = lamp.claim.flatMap((each) => Object.keys(each));
      const free = points.some((point) => named.has(point) && !this.isHeld(point, setting));
      if (!free || !points.every((point) => named.has(point))) return true;
      return (now.get(lamp.id) ?? 'dark') === 'dark';
    });
  }

  /** What the healthy panel says, in every setting: rules 7 and 8. Entries "lamp @ lies of all points, levers". */
  healthy(): {
    readonly untruths: readonly string[];
    readonly doubtful: readonly string[];
    readonly silent: readonly string[];
    readonly contradictions: readonly string[];
  } {
    const untruths: string[] = [];
    const doubtful: string[] = [];
    const silent: string[] = [];
    const contradictions: string[] = [];
    for (const setting of this.settings()) {
      const now = this.wellVerdicts(setting);
      const carried = this.carried(this.wellLain(setting));
      const nominal = this.solve(setting, carried, null, at('nominal', 'nominal', 1, null, null));
      for (const lamp of this.panel.lamps.filter(({ claim }) => claim.length > 0)) {
        const named = new Set(lamp.claim.flatMap((each) => Object.keys(each)));
        const held = [...named].every((point) => this.isHeld(point, setting));
        const [verdict, claim] = [now.get(lamp.id) ?? 'dark', this.says(lamp, setting.meant)];
        const name = spot(lamp.id, setting);
        if (verdict === 'lit' && now.size > 0 && this.isContradicted(lamp, now)) contradictions.push(name);
        if (!held && verdict === 'dark') {
          if (lamp.speaksWhenDark && claim) untruths.push(name);
          else if (this.isSilent(named, setting, now)) silent.push(name);
          else if (claim) untruths.push(name);
        } else if (verdict === 'doubtful') {
          doubtful.push(name);
          const seen = (nominal.amps.get(lamp.id) ?? 0) >= lamp.part.seen;
          if (seen !== claim) untruths.push(name);
        } else if ((verdict === 'lit') !== claim) untruths.push(name);
      }
    }
    return { untruths, doubtful, silent, contradictions };
  }
}

/** Names one lamp in one setting. */
export function spot(lamp: string, { levers, meant }: Setting): string {
  return `${lamp} ${JSON.stringify(levers)} ${JSON.stringify(meant)}`;
}

function at(
  edge: 'low' | 'nominal' | 'high',
  draw: typeof edge,
  dimmed: number,
  group: string | null,
  lamp: string | null,
): Corner {
  return { supply: edge, dimmed, lamps: edge, draw, group, lamp };
}

function cut(element: CircuitElement): CircuitElement {
  const { id, a, b } = element;
  return { kind: 'open', id, a, b };
}
