/**
 * How a capacitor fills: through a resistor, from a supply that limits its amps, or both, and a diode in the way.
 * Equations: C dv/dt = amps; through a resistor v = V - (V - v_0) e^(-t / R C) (any text; Kuphaldt, volume I, chapter 16).
 */
import type { Ampere, Farad, Ohm, Second, Volt } from '../units/index.ts';

/** What charges. With neither ohms nor a limit a capacitor is full at once. */
export interface Charger {
  /** Off load. */
  readonly volts: Volt;
  /** The charging resistor, or a lamp's hot resistance, with the supply's own. */
  readonly ohms: Ohm;
  /** What the supply limits its amps to; null: nothing. */
  readonly most: Ampere | null;
  /** Volts of a diode in the way, taken as constant; 0 without one. */
  readonly drop: Volt;
}

/** Where a capacitor ends when it has charged for ever. */
export function fullVolts(charger: Charger): Volt {
  return Math.max(0, charger.volts - charger.drop);
}

/** Volts up to which the supply's limit, and not the resistor, sets the amps. */
function limitedUpTo(charger: Charger): Volt {
  return charger.most === null ? Number.NEGATIVE_INFINITY : fullVolts(charger) - charger.most * charger.ohms;
}

/** Amps into a capacitor that stands at `volts`; 0 from full up. Infinite where nothing limits it. */
export function chargingAmps(charger: Charger, volts: Volt): Ampere {
  const spare = fullVolts(charger) - volts;
  if (spare <= 0) return 0;
  return Math.min(charger.most ?? Number.POSITIVE_INFINITY, spare / charger.ohms);
}

/**
 * Seconds from one voltage to another. 0 where it is there already, infinite where it never gets there: through a resistor
 * the last of it takes for ever, so ask for a share.
 */
export function chargingSeconds(charger: Charger, farads: Farad, from: Volt, to: Volt): Second {
  if (from >= to) return 0;
  const full = fullVolts(charger);
  const knee = limitedUpTo(charger);
  const limited = charger.most === null ? 0 : Math.max(0, Math.min(knee, to) - from);
  const first = limited === 0 || charger.most === null ? 0 : (farads * limited) / charger.most;
  if (to <= knee) return first;
  if (to > full) return Number.POSITIVE_INFINITY;
  // Without a resistor there is no slow end: 0 x infinity must not become NaN.
  if (charger.ohms === 0) return first;
  return first + charger.ohms * farads * Math.log((full - (from + limited)) / (full - to));
}

/** Volts of a capacitor that has charged for `seconds` from `from`; above full it stays where it is. */
export function voltsAfter(charger: Charger, farads: Farad, from: Volt, seconds: Second): Volt {
  const full = fullVolts(charger);
  if (from >= full) return from;
  let volts = from;
  let left = seconds;
  const knee = limitedUpTo(charger);
  if (charger.most !== null && volts < knee) {
    const whole = (farads * (knee - volts)) / charger.most;
    if (left <= whole) return volts + (charger.most * left) / farads;
    volts = knee;
    left -= whole;
  }
  if (charger.ohms === 0) return full;
  return full - (full - volts) * Math.exp(-left / (charger.ohms * farads));
}
