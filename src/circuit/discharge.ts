/**
 * A capacitor discharge unit through wire into the coils of point drives.
 *
 * Idea: between switching events (the contact closes, a limited supply is overtaken, the current dies, the contact opens)
 * everything is a linear loop, and equal coils side by side are one of R / n and L / n: closed form. Coils that differ have as
 * many currents and go through the integrator. The charger goes on feeding all the while.
 * Cost: some microseconds for equal coils, some hundreds for others. Reference: rlc.ts; peaks met in an outside solver.
 */
import type { DrivePart } from '../parts/index.ts';
import {
  type Ampere,
  type Farad,
  formatAmps,
  formatFarads,
  formatJoules,
  formatOhms,
  formatSeconds,
  formatVolts,
  type Henry,
  type Joule,
  type Ohm,
  type Second,
  type Volt,
} from '../units/index.ts';
import { bracketedRoot, timeAbove } from './bracketed-root.ts';
import { type Charger, chargingAmps, chargingSeconds, fullVolts, voltsAfter } from './charging.ts';
import { integrate, type RunOptions, type TimedEvent } from './integrate.ts';
import { feedFrom, type Loop, NO_FEED, type Response, rlcResponse, storedJoules } from './rlc.ts';
import { PRESS, READY_SHARE, WORKING } from './time-tolerances.ts';

export interface DischargeUnit {
  readonly farads: Farad;
  readonly charger: Charger;
  /** What all coils share: the capacitor's own resistance, contact, and wire there and back. */
  readonly ohms: Ohm;
  /** Volts of a diode on the way to the coils, which also keeps the current from turning; null without one. */
  readonly steering: Volt | null;
}

export interface Coil {
  readonly ohms: Ohm;
  readonly henries: Henry;
  /** Wire that it does not share, there and back. */
  readonly wireOhms: Ohm;
  /** It throws when it carries more than this for so long. */
  readonly throwAmps: Ampere;
  readonly throwSeconds: Second;
}

export interface CoilThrow {
  /** At its greatest, and when. */
  readonly amps: Ampere;
  readonly peakSeconds: Second;
  /** Above its throwing current. */
  readonly seconds: Second;
  readonly moves: boolean;
  /** Heat in its winding. */
  readonly joules: Joule;
  /** What it still carries when the contact opens. */
  readonly broken: Ampere;
}

/** One press of all coils. */
export interface Throw {
  /** Of all coils together, at their greatest. */
  readonly amps: Ampere;
  /** In the capacitor when the contact closes. */
  readonly joules: Joule;
  readonly coils: readonly CoilThrow[];
  /** Until the current died, or the contact opened. */
  readonly lasted: Second;
  /** Of the capacitor when the contact opens. */
  readonly left: Volt;
  /** How far below nought the capacitor was driven, which an electrolytic one does not stand; 0: not at all. */
  readonly reversed: Volt;
}

/** A throw as answers tell it: of one coil the peak and the seconds above its throwing current, and the joules stored at the start. */
export interface Pulse {
  readonly amps: Ampere;
  readonly joules: Joule;
  readonly seconds: Second;
}

/** The pulse of the coil at place `k` of a throw; 0 throughout where there is none. */
export function pulseOf(thrown: Throw, k: number): Pulse {
  const coil = thrown.coils[k];
  return { amps: coil?.amps ?? 0, joules: thrown.joules, seconds: coil?.seconds ?? 0 };
}

/** The coil of a drive behind `wireOhms` there and back, from its part's figures; null for a drive without coils. */
export function coilOf(part: DrivePart, wireOhms: Ohm): Coil | null {
  const { coilOhms, coilHenries, throwAmps, throwSeconds } = part;
  if (coilOhms === null || coilHenries === null || throwAmps === null || throwSeconds === null) return null;
  return { ohms: coilOhms, henries: coilHenries, wireOhms, throwAmps, throwSeconds };
}

export interface ThrowOptions {
  /** Volts of the capacitor when the contact closes; absent: full. One that was driven below nought throws nothing. */
  readonly volts?: Volt;
  /** How long the contact is closed; absent: 0.1 s. */
  readonly press?: Second;
}

/** What one press gives each of the coils, in their order; closed form where they are all alike. */
export function throwCoils(unit: DischargeUnit, coils: readonly Coil[], options: ThrowOptions = {}): Throw {
  const first = coils[0];
  const volts = options.volts ?? fullVolts(unit.charger);
  const press = options.press ?? PRESS;
  if (!(press > 0) || !Number.isFinite(volts)) throw new RangeError(`no throw of ${press} s from ${volts} V`);
  if (first === undefined || volts <= (unit.steering ?? 0)) return nothing(unit, coils, volts, press);
  const alike = coils.every(
    (coil) => coil.ohms + coil.wireOhms === first.ohms + first.wireOhms && coil.henries === first.henries,
  );
  return alike ? throwAlike(unit, first, coils, volts, press) : throwByIntegrator(unit, coils, { volts, press });
}

/** A stretch between two events: total amps, of which none turns except at `extremes`, and volts. */
interface Stretch {
  readonly seconds: Second;
  readonly amps: (t: Second) => Ampere;
  readonly volts: (t: Second) => Volt;
  readonly extremes: readonly Second[];
  /** Least volts of the capacitor. */
  readonly lowest: Volt;
  readonly heat: (t: Second) => Joule;
}

function throwAlike(unit: DischargeUnit, coil: Coil, coils: readonly Coil[], volts: Volt, press: Second): Throw {
  const n = coils.length;
  const each = coil.ohms + coil.wireOhms;
  const ohms = unit.ohms + each / n;
  const stretches = stretchesOf(unit, ohms, coil.henries / n, volts, press);

  let peak = 0;
  let peakSeconds = 0;
  let reversed = 0;
  let joules = 0;
  let lasted = 0;
  let end: { readonly amps: Ampere; readonly volts: Volt } = { amps: 0, volts };
  for (const { seconds, amps, volts: voltsAt, extremes, lowest, heat } of stretches) {
    for (const t of [...extremes, seconds]) {
      const here = amps(t);
      if (here > peak) {
        peak = here;
        peakSeconds = lasted + t;
      }
    }
    reversed = Math.max(reversed, -lowest);
    end = { amps: amps(seconds), volts: voltsAt(seconds) };
    joules += heat(seconds);
    lasted += seconds;
  }
  const died = lasted < press;
  const above = (level: Ampere): Second =>
    stretches.reduce(
      (sum, { seconds, amps, extremes }) => sum + timeAbove(amps, [0, ...extremes, seconds], level * n),
      0,
    );
  const broken = died ? 0 : Math.max(0, end.amps / n);
  const seconds = new Map(coils.map(({ throwAmps }) => [throwAmps, 0]));
  for (const level of seconds.keys()) seconds.set(level, above(level));
  return {
    amps: peak,
    joules: storedJoules(unit.farads, volts),
    coils: coils.map(({ ohms: winding, throwAmps, throwSeconds }) => ({
      amps: peak / n,
      peakSeconds,
      seconds: seconds.get(throwAmps) ?? 0,
      moves: (seconds.get(throwAmps) ?? 0) >= throwSeconds,
      // All ohms of the loop share the heat as they share the volts.
      joules: (joules * (each / n / ohms) * (winding / each)) / n,
      broken,
    })),
    lasted,
    left: died ? refilled(unit, ohms, end.volts, press - lasted) : end.volts,
    reversed,
  };
}

function stretchesOf(unit: DischargeUnit, ohms: Ohm, henries: Henry, volts: Volt, press: Second): readonly Stretch[] {
  const { charger, farads, steering } = unit;
  const drop = steering ?? 0;
  const stretches: Stretch[] = [];
  const limit = limitOf(charger);
  const full = fullVolts(charger);
  let start = { amps: 0, volts };
  let left = press;
  if (limit !== null && volts >= full) {
    // Until the coils draw more than the supply's limit it holds the capacitor full: a coil on constant volts.
    const most = (full - drop) / ohms;
    const pace = henries / ohms;
    const overtaken = limit < most ? -pace * Math.log1p(-limit / most) : Number.POSITIVE_INFINITY;
    const seconds = Math.min(left, overtaken);
    const share = (t: Second): number => -Math.expm1(-t / pace);
    stretches.push({
      seconds,
      amps: (t) => most * share(t),
      volts: () => volts,
      extremes: [],
      lowest: volts,
      heat: (t) => ohms * most * most * (t - 2 * pace * share(t) + (pace / 2) * -Math.expm1((-2 * t) / pace)),
    });
    if (seconds >= left) return stretches;
    left -= seconds;
    start = { amps: limit, volts };
  }
  const loop: Loop = {
    farads,
    henries,
    ohms,
    drop,
    feed: limit === null ? resistorFeed(charger, volts) : feedOf(limit),
  };
  const response = rlcResponse(loop, start);
  const zero = response.zero();
  const seconds = Math.min(left, steering === null ? left : (zero ?? left));
  const extremes = response.extremes(seconds);
  stretches.push({
    seconds,
    amps: response.amps,
    volts: response.volts,
    extremes,
    lowest: lowestVolts(response, loop.feed, extremes[0] ?? 0, zero, seconds),
    heat: response.heat,
  });
  return stretches;
}

/** Least volts of a stretch. They turn where the feed gives what the coils take, shortly before the current dies. */
function lowestVolts(response: Response, feed: Loop['feed'], peak: Second, zero: Second | null, seconds: Second): Volt {
  const end = response.volts(seconds);
  if (zero === null) return end;
  const drain = (t: Second): Ampere => response.amps(t) - feed.amps + feed.siemens * response.volts(t);
  const turns = drain(peak) > 0 && drain(zero) < 0 ? bracketedRoot(drain, peak, zero) : zero;
  return turns < seconds ? response.volts(turns) : end;
}

/** The amps to which the charger is held during a throw; null where its resistor alone sets them, infinite where nothing does. */
function limitOf(charger: Charger): Ampere | null {
  if (charger.ohms === 0) return charger.most ?? Number.POSITIVE_INFINITY;
  return charger.most !== null && charger.most * charger.ohms < fullVolts(charger) ? charger.most : null;
}

function feedOf(amps: Ampere): Loop['feed'] {
  return { amps, siemens: 0 };
}

/** No feed where the capacitor stands above what charges it: the charging diode blocks. */
function resistorFeed(charger: Charger, volts: Volt): Loop['feed'] {
  const full = fullVolts(charger);
  return charger.ohms > 0 && volts <= full ? feedFrom(full, charger.ohms) : NO_FEED;
}

/** After the current has died, with the contact still closed: the charger lifts the capacitor until the coils hold it. */
function refilled(unit: DischargeUnit, ohms: Ohm, volts: Volt, seconds: Second): Volt {
  const drop = unit.steering ?? 0;
  const amps = chargingAmps(unit.charger, 0);
  const full = fullVolts(unit.charger);
  const held = Number.isFinite(amps)
    ? drop + ohms * Math.min(amps, Math.max(0, full - drop) / (unit.charger.ohms + ohms))
    : full;
  return Math.min(voltsAfter(unit.charger, unit.farads, volts, seconds), Math.max(held, volts));
}

function nothing(unit: DischargeUnit, coils: readonly Coil[], volts: Volt, press: Second): Throw {
  return {
    amps: 0,
    joules: storedJoules(unit.farads, volts),
    coils: coils.map(() => ({ amps: 0, peakSeconds: 0, seconds: 0, moves: false, joules: 0, broken: 0 })),
    lasted: 0,
    left: coils.length === 0 ? voltsAfter(unit.charger, unit.farads, volts, press) : volts,
    reversed: 0,
  };
}

/**
 * The same press followed step by step: for coils that differ, and as the check of the closed form. `run` sets the error of
 * a step. Ends where the sum of the currents dies, though coils of different pace may still circulate a little among themselves.
 */
export function throwByIntegrator(
  unit: DischargeUnit,
  coils: readonly Coil[],
  options: ThrowOptions = {},
  run: Pick<RunOptions, 'relative' | 'absolute'> = WORKING,
): Throw {
  const volts = options.volts ?? fullVolts(unit.charger);
  const press = options.press ?? PRESS;
  const n = coils.length;
  const drop = unit.steering ?? 0;
  const full = fullVolts(unit.charger);
  const total = (state: Float64Array): Ampere => {
    let sum = 0;
    for (let k = 0; k < n; k++) sum += state[k] ?? 0;
    return sum;
  };
  const { ohms: chargerOhms, most: limit } = unit.charger;
  const feed = (at: Volt, out: Ampere): Ampere => {
    if (volts > full) return 0;
    // A supply without a resistor holds the capacitor full as long as its limit lets it.
    if (chargerOhms === 0 && (limit === null || at >= full)) return Math.min(out, limit ?? out);
    return chargingAmps(unit.charger, at);
  };
  // States: amps of each coil, volts, heat in each winding.
  const across = (state: Float64Array, k: number): Volt => {
    const coil = coils[k];
    if (coil === undefined) return 0;
    return (state[n] ?? 0) - drop - unit.ohms * total(state) - (coil.ohms + coil.wireOhms) * (state[k] ?? 0);
  };
  const steady: TimedEvent[] = coils.flatMap((coil, k): TimedEvent[] => [
    { value: (_, state) => across(state, k), crossing: 'falling', ends: false },
    { value: (_, state) => (state[k] ?? 0) - coil.throwAmps, crossing: 'either', ends: false },
  ]);
  const whole: TimedEvent = {
    value: (_, state) => coils.reduce((sum, coil, k) => sum + across(state, k) / coil.henries, 0),
    crossing: 'falling',
    ends: false,
  };
  const dies: TimedEvent = { value: (_, state) => total(state), crossing: 'falling', ends: true };
  const turns: TimedEvent = {
    value: (_, state) => feed(state[n] ?? 0, total(state)) - total(state),
    crossing: 'rising',
    ends: false,
  };
  const events = [...steady, whole, turns, ...(unit.steering === null ? [] : [dies])];
  const done = integrate(
    (_, state, into) => {
      const out = total(state);
      for (let k = 0; k < n; k++) {
        const coil = coils[k];
        if (coil === undefined) continue;
        into[k] = across(state, k) / coil.henries;
        into[n + 1 + k] = coil.ohms * (state[k] ?? 0) ** 2;
      }
      into[n] = (feed(state[n] ?? 0, out) - out) / unit.farads;
    },
    0,
    [...coils.map(() => 0), volts, ...coils.map(() => 0)],
    press,
    { ...run, events },
  );
  if (!done.done) throw new RangeError(`the throw of ${n} coils came to a stop at ${done.seconds} s`);
  const died = done.seconds < press;
  const of = (event: number) => done.happened.filter((each) => each.event === event);
  const best = (event: number, value: (state: Float64Array) => number) =>
    [...of(event), done].reduce((most, each) => Math.max(most, value(each.state)), 0);
  const parallel = coils.reduce((sum, coil) => sum + 1 / (coil.ohms + coil.wireOhms), 0);
  return {
    amps: best(2 * n, total),
    joules: storedJoules(unit.farads, volts),
    coils: coils.map((coil, k) => {
      const amps = best(2 * k, (state) => state[k] ?? 0);
      const peak = of(2 * k).find((each) => (each.state[k] ?? 0) === amps);
      let seconds = 0;
      let since: Second | null = null;
      for (const { seconds: at } of of(2 * k + 1)) {
        if (since === null) since = at;
        else {
          seconds += at - since;
          since = null;
        }
      }
      if (since !== null) seconds += done.seconds - since;
      return {
        amps,
        peakSeconds: peak?.seconds ?? done.seconds,
        seconds,
        moves: seconds >= coil.throwSeconds,
        joules: done.state[n + 1 + k] ?? 0,
        broken: died ? 0 : Math.max(0, done.state[k] ?? 0),
      };
    }),
    lasted: done.seconds,
    left: died
      ? refilled(unit, unit.ohms + 1 / parallel, done.state[n] ?? 0, press - done.seconds)
      : (done.state[n] ?? 0),
    reversed: best(2 * n + 1, (state) => -(state[n] ?? 0)),
  };
}

/** What 1 to `most` equal coils get when they are thrown at once, and the greatest number of which all move. */
export function throwsAtOnce(
  unit: DischargeUnit,
  coil: Coil,
  most: number,
  options: ThrowOptions = {},
): { readonly throws: readonly Throw[]; readonly allMove: number } {
  const throws = Array.from({ length: most }, (_, k) =>
    throwCoils(
      unit,
      Array.from({ length: k + 1 }, () => coil),
      options,
    ),
  );
  // More coils may never get what fewer do not: the count ends at the first that fails.
  const fails = throws.findIndex((each) => each.coils.some(({ moves }) => !moves));
  return { throws, allMove: fails === -1 ? most : fails };
}

/** A second throw so soon after the first. */
export interface SecondThrow {
  readonly first: Throw;
  /** Of the capacitor when the contact closes again. */
  readonly volts: Volt;
  readonly second: Throw;
  /** From the end of the first press until the second would get `share` of full. */
  readonly ready: Second;
}

/**
 * The same coils thrown again `after` seconds from the start of the first press (no sooner than its end, since one contact
 * closes twice), from full. `share` of full volts counts as ready: 0.95 unless told otherwise.
 */
export function secondThrow(
  unit: DischargeUnit,
  coils: readonly Coil[],
  after: Second,
  options: { readonly press?: Second; readonly share?: number } = {},
): SecondThrow {
  const { press = PRESS, share = READY_SHARE } = options;
  const first = throwCoils(unit, coils, { press });
  const volts = voltsAfter(unit.charger, unit.farads, first.left, Math.max(0, after - press));
  return {
    first,
    volts,
    second: throwCoils(unit, coils, { press, volts }),
    ready: chargingSeconds(unit.charger, unit.farads, first.left, share * fullVolts(unit.charger)),
  };
}

/** The least volts at which every coil still moves, between the diode's and full; null where full is not enough. */
export function leastVolts(unit: DischargeUnit, coils: readonly Coil[], press: Second = PRESS): Volt | null {
  const full = fullVolts(unit.charger);
  // How far above what it needs the worst coil is, in its own seconds; below nought it does not move.
  const spare = (volts: Volt): number =>
    Math.min(
      ...throwCoils(unit, coils, { volts, press }).coils.map((each, k) => each.seconds - (coils[k]?.throwSeconds ?? 0)),
    );
  if (!(spare(full) >= 0)) return null;
  const dead = unit.steering ?? 0;
  return spare(dead) >= 0 ? dead : bracketedRoot(spare, dead, full);
}

/** The arithmetic of a throw, line by line, for the screen and the book. */
export function tellThrow(unit: DischargeUnit, coils: readonly Coil[], thrown: Throw, volts?: Volt): readonly string[] {
  const start = volts ?? fullVolts(unit.charger);
  const lines = [`½ × ${formatFarads(unit.farads)} × (${formatVolts(start)})² = ${formatJoules(thrown.joules)} stored`];
  if (coils.length === 0) return lines;
  const parallel = coils.reduce((sum, coil) => sum + 1 / (coil.ohms + coil.wireOhms), 0);
  lines.push(
    `${coils.length === 1 ? 'one coil' : `${coils.length} coils side by side`}: ${formatOhms(1 / parallel)} + ${formatOhms(unit.ohms)} in common = ${formatOhms(1 / parallel + unit.ohms)}`,
    `greatest ${formatAmps(thrown.amps)} together; ${formatVolts(thrown.left)} left when the contact opens`,
  );
  thrown.coils.forEach((each, k) => {
    const coil = coils[k];
    if (coil === undefined) return;
    const text = `${formatAmps(each.amps)} after ${formatSeconds(each.peakSeconds)}, above ${formatAmps(coil.throwAmps)} for ${formatSeconds(each.seconds)} of the ${formatSeconds(coil.throwSeconds)} wanted: ${each.moves ? 'moves' : 'does not move'}`;
    if (!lines.includes(text)) lines.push(text);
  });
  return lines;
}
