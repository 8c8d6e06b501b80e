/**
 * What a coil does when its contact opens while it carries current.
 *
 * With a diode across the coil the current runs on through it: L di/dt = -R i - V_d, so
 * i(t) = (i_0 + V_d / R) e^(-t R / L) - V_d / R, which dies at t = L / R ln(1 + i_0 R / V_d). Without one the coil charges
 * what stray capacitance there is, i_0 sqrt(L / C), until the contact arcs. Reference: any text on first order circuits; the
 * least volts at which air breaks down, 327 V, from Paschen's law.
 */
import {
  type Ampere,
  type Coulomb,
  type Farad,
  formatAmps,
  formatJoules,
  formatSeconds,
  formatVolts,
  type Henry,
  type Joule,
  type Ohm,
  type Second,
  type Volt,
} from '../units/index.ts';
import { ARC_VOLTS, NO_CURRENT, STRAY_FARADS } from './time-tolerances.ts';

export interface Flyback {
  /** Amps when the contact opens: the diode takes all of them at once. */
  readonly amps: Ampere;
  /** Until the current has died. */
  readonly seconds: Second;
  /** Until the coil lets go of `hold` amps: a relay drops out so much later than its contact opens. */
  readonly released: Second;
  /** Of the coil when the contact opens; what the diode takes of it, and what the winding takes. */
  readonly joules: Joule;
  readonly diodeJoules: Joule;
  readonly windingJoules: Joule;
  readonly charge: Coulomb;
  /** What the contact sees with the diode: the supply and the diode. */
  readonly contactVolts: Volt;
  /** What it would see without one, if nothing arced, and whether it arcs: a danger to the contact, never to be relied on. */
  readonly bareVolts: Volt;
  readonly arcs: boolean;
  /** Amps at any instant after the opening. */
  readonly ampsAt: (t: Second) => Ampere;
}

/** A coil as it stands when its contact opens. */
export interface OpenedCoil {
  readonly henries: Henry;
  /** Its winding, and what else is in the loop with the diode. */
  readonly ohms: Ohm;
  readonly amps: Ampere;
  /** Of the supply that the contact parts it from. */
  readonly volts: Volt;
  /** Of the diode across it, taken as constant. */
  readonly drop: Volt;
  /** Amps at which it lets go of what it holds; absent: 1 mA. */
  readonly hold?: Ampere;
  /** Across the contact without a diode; absent: 100 pF. */
  readonly stray?: Farad;
}

/** Current, energy and volts after a contact has opened. Henries, ohms and drop above 0, amps from 0: RangeError otherwise. */
export function flyback(coil: OpenedCoil): Flyback {
  const { henries, ohms, amps, volts, drop, hold = NO_CURRENT, stray = STRAY_FARADS } = coil;
  if (!(henries > 0 && ohms > 0 && drop > 0 && amps >= 0)) {
    throw new RangeError(`no flyback of ${amps} A from ${henries} H, ${ohms} ohm, diode ${drop} V`);
  }
  const pace = henries / ohms;
  const sink = drop / ohms;
  const seconds = pace * Math.log1p(amps / sink);
  // R i = -V_d - L di/dt, summed over the whole of it.
  const charge = (henries * amps - drop * seconds) / ohms;
  const joules = (henries * amps * amps) / 2;
  // For a current of next to nothing both are the same to the last digit, and the winding's share must not fall below 0.
  const diodeJoules = Math.min(joules, Math.max(0, drop * charge));
  const bareVolts = volts + amps * Math.sqrt(henries / stray);
  return {
    amps,
    seconds,
    released: amps <= hold ? 0 : pace * Math.log((amps + sink) / (hold + sink)),
    joules,
    diodeJoules,
    windingJoules: joules - diodeJoules,
    charge,
    contactVolts: volts + (amps > 0 ? drop : 0),
    bareVolts,
    arcs: amps > 0 && bareVolts >= ARC_VOLTS,
    ampsAt: (t) => (t >= seconds ? 0 : (amps + sink) * Math.exp(-t / pace) - sink),
  };
}

/** The arithmetic, line by line. */
export function tellFlyback(coil: OpenedCoil, kick: Flyback): readonly string[] {
  const lines = [
    `the coil holds ${formatJoules(kick.joules)} at ${formatAmps(kick.amps)}`,
    `with a diode: ${formatAmps(kick.amps)} at once, gone after ${formatSeconds(kick.seconds)}; the diode takes ${formatJoules(kick.diodeJoules)}, the winding ${formatJoules(kick.windingJoules)}; the contact sees ${formatVolts(coil.volts)} + ${formatVolts(coil.drop)} = ${formatVolts(kick.contactVolts)}`,
  ];
  if (kick.arcs) lines.push(`without one the volts rise until the contact arcs, at ${ARC_VOLTS} V or more`);
  return lines;
}
