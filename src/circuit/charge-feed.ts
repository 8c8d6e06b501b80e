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
