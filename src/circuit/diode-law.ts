/**
 * The diode: i = is (exp((v - i rs) / (n Vt)) - 1), Vt at 27 C.
 *
 * Idea: for rs = 0 the law is explicit. Otherwise y = ln(1 + i / is) is found, for which
 * v / (n Vt) = y + (is rs / n Vt) (e^y - 1): the right side is convex and rises at least as fast as y, so Newton from
 * a point on the high side falls to the answer without ever overshooting.
 * Source of the law: Shockley 1949, with the bulk resistance in series as in every SPICE program.
 */
import { type DiodeLaw, THERMAL_VOLTAGE } from '../parts/index.ts';
import type { Ampere, Ohm, Volt } from '../units/index.ts';
import { LAST_DIGITS, MOST_EXPONENT } from './tolerances.ts';

/** e^x, run on as its tangent beyond the greatest exponent, so that it is finite for every finite x and still rises. */
export function boundedExp(x: number): number {
  if (x <= MOST_EXPONENT) return Math.exp(x);
  return Math.exp(MOST_EXPONENT) * (1 + (x - MOST_EXPONENT));
}

/** e^x - 1 to full digits near 0, bounded in the same way. */
export function boundedExpm1(x: number): number {
  if (x <= 1) return Math.expm1(x);
  return boundedExp(x) - 1;
}

/** Never reached: about 10 falls suffice, more only where the start is hundreds of exponents high. */
const SERIES_STEPS = 1000;

/**
 * Amps that a diode carries at `volts` across its outer terminals (anode less cathode), positive from anode to cathode.
 * Total over finite volts; never below -is.
 */
export function diodeCurrent(law: DiodeLaw, volts: Volt): Ampere {
  return law.is * boundedExpm1(junctionOf(law.is, law.n * THERMAL_VOLTAGE, law.rs, volts));
}

/** Volts across the junction alone, in nVt, when `volts` stand across the outer terminals. Total over finite volts. */
export function junctionOf(is: Ampere, nvt: Volt, rs: Ohm, volts: Volt): number {
  const u = volts / nvt;
  return rs === 0 ? u : junctionExponent((is * rs) / nvt, u);
}

/** Volts across a diode that carries `amps`; where that is no more than the leakage of a dark one, its junction counts as 0 V. */
export function forwardDrop(is: Ampere, nvt: Volt, rs: Ohm, amps: Ampere): Volt {
  return (amps > 0 ? nvt * Math.log1p(amps / is) : 0) + rs * amps;
}

/** Siemens of the whole diode, series resistance included, when it carries `amps`: the slope of its law. */
export function diodeSlope(law: DiodeLaw, amps: Ampere): number {
  const junction = Math.max(0, amps + law.is) / (law.n * THERMAL_VOLTAGE);
  return junction / (1 + junction * law.rs);
}

/** y with u = y + k (e^y - 1), k = is rs / nVt. */
function junctionExponent(k: number, u: number): number {
  if (u <= 0) {
    // Neither 0 nor u + k is below the answer, so the lesser of the two is on the high side.
    return fall(k, u, Math.min(0, u + k));
  }
  // Both y <= u and y <= ln(1 + u / k) hold; the lesser of the two is still on the high side.
  return fall(k, u, Math.min(u, Math.log1p(u / k)));
}

function fall(k: number, u: number, start: number): number {
  let y = start;
  for (let step = 0; step < SERIES_STEPS; step++) {
    const e = boundedExp(y);
    const change = (y + k * boundedExpm1(y) - u) / (1 + k * e);
    const next = y - change;
    if (Math.abs(change) <= LAST_DIGITS * Math.max(1, Math.abs(next))) return next;
    y = next;
  }
  return y;
}
