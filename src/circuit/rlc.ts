/**
 * A capacitor through resistance into a coil, in closed form.
 *
 * Idea: two states, the coil's amps i and the capacitor's volts v, obey x' = M (x - x_rest) with
 * M = [[-R/L, 1/L], [-1/C, -g/C]], so x(t) = x_rest + e^(Mt) (x_0 - x_rest). With a = -trace/2 and D = a^2 - det,
 * e^(Mt) = e^(-at) [cosh(bt) + sinh(bt)/b (M + a)], b = sqrt(D), which is one entire function of D: over-, critically and
 * underdamped loops are the same formula, and it stays exact where D goes through nought. The exponentials are taken
 * together so that none overflows, and the slow one without a difference of near numbers.
 * Cost: some 0.1 us an instant. Reference: any text on second order circuits (Alexander and Sadiku, chapter 8); the matrix form
 * after Moler and Van Loan 1978; integrals of squares by the 2 x 2 Lyapunov equation.
 */
import type { Ampere, Coulomb, Farad, Henry, Joule, Ohm, Second, Siemens, Volt, Watt } from '../units/index.ts';
import { bracketedRoot } from './bracketed-root.ts';
import { MOST_EXTREMES } from './time-tolerances.ts';

/**
 * A capacitor whose current leaves through `ohms`, a coil of `henries` and a constant `drop` (a diode, or any opposing
 * volts), while `feed` brings current to it: `amps` less `siemens` times its volts. A source E behind R_c is amps E / R_c,
 * siemens 1 / R_c; no feed is 0 and 0.
 */
export interface Loop {
  readonly farads: Farad;
  readonly henries: Henry;
  readonly ohms: Ohm;
  readonly drop: Volt;
  readonly feed: { readonly amps: Ampere; readonly siemens: Siemens };
}

/** Amps in the coil, out of the capacitor's plus; volts of the capacitor. */
export interface LoopState {
  readonly amps: Ampere;
  readonly volts: Volt;
}

/** How a loop goes on from a state, t seconds after it; t from 0 up. Nothing here knows of a diode that stops the current. */
export interface Response {
  readonly at: (t: Second) => LoopState;
  readonly amps: (t: Second) => Ampere;
  readonly volts: (t: Second) => Volt;
  /** Where it would come to rest. */
  readonly rest: LoopState;
  /** Per second: the decay common to both exponentials, and its square less that of the ringing (below 0: it rings). */
  readonly decay: number;
  readonly discriminant: number;
  /** Instants after 0 and before `until` at which the amps stand still, rising; at most 1,000. */
  readonly extremes: (until: Second) => readonly Second[];
  /** The first instant after 0 at which the amps fall through 0; null where they never do. */
  readonly zero: () => Second | null;
  /** Coulombs through the coil from 0 to t. */
  readonly charge: (t: Second) => Coulomb;
  /** Joules turned to heat in `ohms` from 0 to t. */
  readonly heat: (t: Second) => Joule;
}

/** No feed: the capacitor stands alone. */
export const NO_FEED: Loop['feed'] = { amps: 0, siemens: 0 };

/** A source of `volts` behind `ohms` above 0, as a feed. */
export function feedFrom(volts: Volt, ohms: Ohm): Loop['feed'] {
  return { amps: volts / ohms, siemens: 1 / ohms };
}

/**
 * The response of a loop from `start`. Farads and henries above 0, ohms and siemens from 0, all finite: RangeError otherwise.
 * A loop with neither ohms nor siemens rings for ever.
 *
 * @example rlcResponse({ farads: 5e-6, henries: 2, ohms: 200, drop: 0, feed: NO_FEED }, { amps: 0, volts: 10 }).amps(0.005) // 12.47 mA
 */
export function rlcResponse(loop: Loop, start: LoopState): Response {
  const { farads, henries, ohms, drop, feed } = loop;
  if (!(farads > 0 && henries > 0 && ohms >= 0 && feed.siemens >= 0) || !finite(loop, start)) {
    throw new RangeError(
      `no loop of ${farads} F, ${henries} H, ${ohms} ohm, drop ${drop} V, feed ${feed.amps} A ${feed.siemens} S from ${start.amps} A, ${start.volts} V`,
    );
  }
  const m11 = -ohms / henries;
  const m12 = 1 / henries;
  const m21 = -1 / farads;
  const m22 = -feed.siemens / farads;
  const det = (ohms * feed.siemens + 1) / (henries * farads);
  const decay = -(m11 + m22) / 2;
  const delta = (m11 - m22) / 2;
  const discriminant = delta * delta + m12 * m21;
  const root = Math.sqrt(Math.abs(discriminant));
  const rings = discriminant < 0;
  const slow = rings ? 0 : -det / (decay + root);

  const restAmps = (feed.amps - feed.siemens * drop) / (1 + ohms * feed.siemens);
  const rest: LoopState = { amps: restAmps, volts: drop + ohms * restAmps };
  const i0 = start.amps - rest.amps;
  const v0 = start.volts - rest.volts;
  const iSlope = delta * i0 + m12 * v0;
  const vSlope = m21 * i0 - delta * v0;

  /** e^(-at) cosh(bt), or cos where it rings. */
  function even(t: number): number {
    if (rings) return Math.exp(-decay * t) * Math.cos(root * t);
    return (Math.exp(slow * t) * (1 + Math.exp(-2 * root * t))) / 2;
  }
  /** e^(-at) sinh(bt) / b, or sin / b where it rings; t e^(-at) in between. */
  function odd(t: number): number {
    if (root === 0) return t * Math.exp(-decay * t);
    if (rings) return (Math.exp(-decay * t) * Math.sin(root * t)) / root;
    return (Math.exp(slow * t) * -Math.expm1(-2 * root * t)) / (2 * root);
  }
  const amps = (t: Second): Ampere => rest.amps + even(t) * i0 + odd(t) * iSlope;
  const volts = (t: Second): Volt => rest.volts + even(t) * v0 + odd(t) * vSlope;

  /** First instant after 0 at which the amps stand still. */
  function firstExtreme(): Second | null {
    // i' = e^(-at) [n cosh(bt) - q sinh(bt)/b].
    const n = iSlope - decay * i0;
    const q = decay * iSlope - discriminant * i0;
    if (rings) {
      const angle = Math.atan2(root * n, q);
      return (angle > 0 ? angle : angle + Math.PI) / root;
    }
    if (root === 0) return n * q > 0 ? n / q : null;
    // atanh(b n / q) / b with q - b n = (a - b)(iSlope + b i0), so that nothing cancels.
    const share = (2 * root * n) / (-slow * (iSlope + root * i0));
    if (!(share > 0) || !Number.isFinite(share)) return null;
    return Math.log1p(share) / (2 * root);
  }

  function extremes(until: Second, most = MOST_EXTREMES): readonly Second[] {
    const found: Second[] = [];
    let t = firstExtreme();
    while (t !== null && t < until && found.length < most) {
      found.push(t);
      t = rings ? t + Math.PI / root : null;
    }
    return found;
  }

  function zero(): Second | null {
    let from = 0;
    let before = start.amps;
    // Swings about the rest grow smaller: if the first three keep their sign, all do.
    for (const to of extremes(Number.POSITIVE_INFINITY, 3)) {
      const after = amps(to);
      if (before > 0 && after <= 0) return bracketedRoot(amps, from, to);
      from = to;
      before = after;
    }
    if (rings || !(before > 0) || rest.amps >= 0) return null;
    // Falls for good to a rest below nought.
    let to = from + 1 / -slow;
    while (amps(to) > 0) to *= 2;
    return bracketedRoot(amps, from, to);
  }

  function swing(t: Second): readonly [number, number] {
    return [amps(t) - rest.amps, volts(t) - rest.volts];
  }
  function charge(t: Second): Coulomb {
    const [i, v] = swing(t);
    return rest.amps * t + (m22 * (i - i0) - m12 * (v - v0)) / det;
  }
  function heat(t: Second): Joule {
    if (ohms === 0) return 0;
    // X of M'X + XM = -Q with Q = diag(1, 0): then the integral of i^2 is x_0'X x_0 - x_t'X x_t.
    const scale = 4 * decay * det;
    const quadratic = (i: number, v: number): number =>
      ((det + m22 * m22) * i * i - 2 * m22 * m12 * i * v + m12 * m12 * v * v) / scale;
    const squares = quadratic(i0, v0) - quadratic(...swing(t));
    const swingCharge = charge(t) - rest.amps * t;
    return ohms * (rest.amps * rest.amps * t + 2 * rest.amps * swingCharge + squares);
  }

  return {
    at: (t) => ({ amps: amps(t), volts: volts(t) }),
    amps,
    volts,
    rest,
    decay,
    discriminant,
    extremes: (until) => extremes(until),
    zero,
    charge,
    heat,
  };
}

function finite(loop: Loop, start: LoopState): boolean {
  const all = [loop.farads, loop.henries, loop.ohms, loop.drop, loop.feed.amps, loop.feed.siemens];
  return [...all, start.amps, start.volts].every(Number.isFinite);
}

/** The resistance at and above which a capacitor and a coil in series no longer ring: 2 sqrt(L / C). */
export function criticalOhms(farads: Farad, henries: Henry): Ohm {
  return 2 * Math.sqrt(henries / farads);
}

/** Joules in a charged capacitor: C V^2 / 2. */
export function storedJoules(farads: Farad, volts: Volt): Joule {
  return (farads * volts * volts) / 2;
}

/** What a coil on a raw supply takes when it is held: amps, and watts in the coil alone. */
export interface HeldCoil {
  readonly amps: Ampere;
  readonly watts: Watt;
}

/** A coil of `ohms` held on `volts` through `more` ohms of wire. */
export function heldCoil(volts: Volt, ohms: Ohm, more: Ohm): HeldCoil {
  const amps = volts / (ohms + more);
  return { amps, watts: amps * amps * ohms };
}
