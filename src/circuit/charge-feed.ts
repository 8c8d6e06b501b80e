/**
 * A capacitor in series with two steering diodes: thrown one way it charges through one coil, thrown back it discharges
 * through the other. Each throw is a capacitor, wire, one diode and one coil in series: closed form until the current dies.
 *
 * While it charges, what drives the current is what the supply has above the capacitor: the same loop, counted from the supply.
 * Reference: rlc.ts; the pair of currents met in an outside solver.
 */
import type { Ampere, Farad, Joule, Ohm, Second, Volt } from '../units/index.ts';
import { timeAbove } from './bracketed-root.ts';
import type { Coil } from './discharge.ts';
import { integrate, type TimedEvent } from './integrate.ts';
import { NO_FEED, type Response, rlcResponse, storedJoules } from './rlc.ts';
import { PRESS } from './time-tolerances.ts';

export interface ChargeFeed {
  /** Of the supply, and its own resistance, which all feeds on it share. */
  readonly volts: Volt;
  readonly supplyOhms: Ohm;
  readonly farads: Farad;
  /** Of the feed's own wire, there and back. */
  readonly ohms: Ohm;
  /** Of one steering diode, taken as constant. */
  readonly drop: Volt;
}

export interface ChargeThrow {
  /** At its greatest, and when. */
  readonly amps: Ampere;
  readonly peakSeconds: Second;
  /** Above the coil's throwing current. */
  readonly seconds: Second;
  readonly moves: boolean;
  /** What the throw had to spend: C (volts that drive it)^2 / 2. */
  readonly joules: Joule;
  /** Of the capacitor when it has come to rest, and at the end of `waited`. */
  readonly restVolts: Volt;
  readonly endVolts: Volt;
}

/** Charging: the lever connects the capacitor to the supply. Discharging: to its return. */
export type ChargeWay = 'charging' | 'discharging';

/**
 * One throw of one feed with the capacitor at `from` volts. `waited` is how long the lever stays there before it is thrown
 * back: 0.1 s unless told otherwise. What a rail cannot drive above the diode gives 0 A.
 */
export function chargeThrow(
  feed: ChargeFeed,
  coil: Coil,
  way: ChargeWay,
  from: Volt,
  waited: Second = PRESS,
): ChargeThrow {
  const driving = (way === 'charging' ? feed.volts - from : from) - feed.drop;
  if (driving <= 0)
    return { amps: 0, peakSeconds: 0, seconds: 0, moves: false, joules: 0, restVolts: from, endVolts: from };
  const response = rlcResponse(
    {
      farads: feed.farads,
      henries: coil.henries,
      ohms: coil.ohms + coil.wireOhms + feed.ohms + feed.supplyOhms,
      drop: feed.drop,
      feed: NO_FEED,
    },
    { amps: 0, volts: driving + feed.drop },
  );
  const zero = response.zero();
  const seconds = timeOf(response, coil.throwAmps, zero, waited);
  const capacitor = (t: Second): Volt => (way === 'charging' ? feed.volts - response.volts(t) : response.volts(t));
  const rest = way === 'charging' ? feed.volts - feed.drop : feed.drop;
  const peakSeconds = Math.min(response.extremes(Number.POSITIVE_INFINITY)[0] ?? waited, waited);
  return {
    amps: response.amps(peakSeconds),
    peakSeconds,
    seconds,
    moves: seconds >= coil.throwSeconds,
    joules: storedJoules(feed.farads, driving),
    restVolts: zero === null ? rest : capacitor(zero),
    endVolts: capacitor(Math.min(waited, zero ?? waited)),
  };
}

function timeOf(response: Response, level: Ampere, zero: Second | null, waited: Second): Second {
  const end = Math.min(waited, zero ?? waited);
  return timeAbove(response.amps, [0, ...response.extremes(end), end], level);
}

/** Both ways of a feed as it lives: the first charge at power-up, then back and forth. */
export interface ChargeFeedThrows {
  /** Of an empty capacitor: the throw that power-up makes without being asked. */
  readonly first: ChargeThrow;
  readonly discharging: ChargeThrow;
  /** From what the discharge leaves. */
  readonly charging: ChargeThrow;
}

/** The throws of a feed whose lever rests for `waited` between them; `charged` and `discharged` are the coils of either way. */
export function chargeFeedThrows(
  feed: ChargeFeed,
  charged: Coil,
  discharged: Coil,
  waited: Second = PRESS,
): ChargeFeedThrows {
  const first = chargeThrow(feed, charged, 'charging', 0, waited);
  const discharging = chargeThrow(feed, discharged, 'discharging', first.endVolts, waited);
  return { first, discharging, charging: chargeThrow(feed, charged, 'charging', discharging.endVolts, waited) };
}

/** The trap at power-up: every capacitor whose lever stands at charging fills at once, through its coil. */
export interface ChargeRush {
  /** From the supply, at its greatest, and when. */
  readonly amps: Ampere;
  readonly peakSeconds: Second;
  /** Of each feed. */
  readonly each: ChargeThrow;
  /** More than the supply may give: it limits, folds or trips, and points are thrown by halves. */
  readonly beyond: boolean;
}

/** `count` equal feeds with empty capacitors on one supply that gives `most` amps. */
export function chargeRush(feed: ChargeFeed, coil: Coil, count: number, most: Ampere): ChargeRush {
  if (!(count >= 1) || !Number.isInteger(count)) throw new RangeError(`no rush of ${count} feeds`);
  // Side by side each sees the supply's resistance as many times.
  const each = chargeThrow({ ...feed, supplyOhms: feed.supplyOhms * count }, coil, 'charging', 0);
  const amps = each.amps * count;
  return { amps, peakSeconds: each.peakSeconds, each, beyond: amps > most };
}

/** One feed of several on a supply, with the coil through which it charges. */
export interface FeedAndCoil {
  readonly feed: Omit<ChargeFeed, 'volts' | 'supplyOhms'>;
  readonly coil: Coil;
}

export interface MixedRush {
  /** From the supply, at its greatest, and when. */
  readonly amps: Ampere;
  readonly peakSeconds: Second;
  /** By feed, in their order. */
  readonly each: readonly { readonly amps: Ampere; readonly seconds: Second; readonly moves: boolean }[];
  readonly beyond: boolean;
}

/**
 * The same rush of feeds that differ, on a supply of `volts` behind `supplyOhms` that gives `most` amps: followed step by step,
 * since through the supply's resistance each feels all others. All capacitors are empty at the start.
 */
export function chargeRushMixed(
  feeds: readonly FeedAndCoil[],
  volts: Volt,
  supplyOhms: Ohm,
  most: Ampere,
  waited: Second = PRESS,
): MixedRush {
  const n = feeds.length;
  const total = (state: Float64Array): Ampere => {
    let sum = 0;
    for (let k = 0; k < n; k++) sum += state[k] ?? 0;
    return sum;
  };
  /** Amps a second in the coil of feed `k`; its diode lets none turn back. */
  const rise = (state: Float64Array, k: number): number => {
    const one = feeds[k];
    if (one === undefined) return 0;
    const { feed, coil } = one;
    const amps = state[k] ?? 0;
    const ohms = feed.ohms + coil.ohms + coil.wireOhms;
    const across = volts - supplyOhms * total(state) - (state[n + k] ?? 0) - feed.drop - ohms * amps;
    return amps <= 0 && across < 0 ? 0 : across / coil.henries;
  };
  const events: TimedEvent[] = [
    ...feeds.flatMap(({ coil }, k): TimedEvent[] => [
      { value: (_, state) => rise(state, k), crossing: 'falling', ends: false },
      { value: (_, state) => (state[k] ?? 0) - coil.throwAmps, crossing: 'either', ends: false },
    ]),
    { value: (_, state) => feeds.reduce((sum, _one, k) => sum + rise(state, k), 0), crossing: 'falling', ends: false },
  ];
  const run = integrate(
    (_, state, into) => {
      for (let k = 0; k < n; k++) {
        into[k] = rise(state, k);
        into[n + k] = Math.max(0, state[k] ?? 0) / (feeds[k]?.feed.farads ?? 1);
      }
    },
    0,
    new Float64Array(2 * n),
    waited,
    { events },
  );
  const of = (event: number) => run.happened.filter((each) => each.event === event);
  // Still rising at the end, the end is the greatest.
  const peak = [...of(2 * n), run].reduce(
    (best, { seconds, state }) => (total(state) > best.amps ? { amps: total(state), seconds } : best),
    { amps: 0, seconds: 0 },
  );
  return {
    amps: peak.amps,
    peakSeconds: peak.seconds,
    each: feeds.map(({ coil }, k) => {
      const crossed = of(2 * k + 1).map((each) => each.seconds);
      let seconds = 0;
      for (let i = 0; i < crossed.length; i += 2) seconds += (crossed[i + 1] ?? run.seconds) - (crossed[i] ?? 0);
      const amps = [...of(2 * k), run].reduce((greatest, { state }) => Math.max(greatest, state[k] ?? 0), 0);
      return { amps, seconds, moves: seconds >= coil.throwSeconds };
    }),
    beyond: peak.amps > most,
  };
}
