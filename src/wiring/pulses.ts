/** What one throw gives a coil: the peak of its current, what was stored when it began, and how long it is above what throws it. */
import { type ChargeFeed, type Coil, chargeThrow, coilOf, throwCoils } from '../circuit/index.ts';
import { forwardVolts } from '../parts/index.ts';
import { type Ohm, wireOhms } from '../units/index.ts';
import { partsOf } from './circuit-parts.ts';
import { hasCoils } from './drives.ts';
import type { Fault } from './faults.ts';
import { CHARGE_OHMS, HIGH_SUPPLY, LASTS_AS_WELL, LOW_SUPPLY, PULSE_SECONDS, STEERING_AMPS } from './tolerances.ts';
import type { PulseReading, WiredDrive, Wiring } from './types.ts';

const PULSES = new WeakMap<Wiring, Map<string, PulseReading | null>>();

/**
 * The throw of a drive by its own lever, all coils on that lever side by side, a capacitor unit full; null for what no pulse throws.
 * From a raw supply nothing is stored, and the coil carries what its ohms let through as long as it is pressed.
 */
export function pulseOf(wiring: Wiring, drive: WiredDrive): PulseReading | null {
  const known = PULSES.get(wiring) ?? new Map<string, PulseReading | null>();
  PULSES.set(wiring, known);
  const before = known.get(drive.id);
  if (before !== undefined) return before;
  const found = throwOf(wiring, drive);
  known.set(drive.id, found);
  return found;
}

/**
 * The same thrown from the other panel: all its coils' current goes out and back by the cable besides. Null where no switch stands beside
 * the lever there.
 */
export function pulseFromTwin(wiring: Wiring, drive: WiredDrive): PulseReading | null {
  const { twins } = partsOf(wiring);
  const twin = twins.get(drive.circuit ?? '');
  if (twin === undefined || drive.feed !== 'pulse') return null;
  const over = (tag: string) =>
    wiring.wires.reduce((ohms, { to, side, ohms: own }) => (side === 'layout' && to === tag ? ohms + own : ohms), 0);
  return throwOf(wiring, drive, over(`${twin}.t2`) + Math.max(over(`${twin}.t1`), over(`${twin}.t3`)));
}

/** `cable`: ohms that all coils share besides. */
function throwOf(wiring: Wiring, drive: WiredDrive, cable: Ohm = 0): PulseReading | null {
  const circuit = partsOf(wiring).circuits.get(drive.circuit ?? '');
  if (circuit === undefined || (drive.feed !== 'pulse' && drive.feed !== 'charge')) return null;
  const drives = circuit.drives.filter(({ part }) => hasCoils(part));
  // What all of them carry meets each as often as there are coils.
  const coils = drives.flatMap((each) => coil(each, cable * drives.length) ?? []);
  const at = drives.indexOf(drive);
  const own = coils[at];
  if (own === undefined) return null;
  const { supply } = circuit;
  if (drive.feed === 'charge') {
    const farads = circuit.capacitors[0]?.farads ?? 0;
    const diode = circuit.diodes.find(({ what }) => what === 'steering');
    // One diode carries what all coils do: its ohms stand with the wire's, the rest of its volts hardly changes.
    const { law } = diode?.part ?? { law: NO_DIODE };
    const carried = STEERING_AMPS * coils.length;
    const drop = diode === undefined ? 0 : forwardVolts(law, carried) - law.rs * carried;
    const shared: ChargeFeed = { volts: supply.railVolts, supplyOhms: supply.ohms, farads, ohms: law.rs, drop };
    const thrown = chargeThrow(shared, together(coils, own), 'charging', 0);
    const share = coils.length;
    // What the throw has to spend: the supply's volts less all that the diode takes.
    const volts = Math.max(0, supply.railVolts - (diode === undefined ? 0 : forwardVolts(law, STEERING_AMPS)));
    return { amps: thrown.amps / share, joules: 0.5 * farads * volts * volts, seconds: thrown.seconds };
  }
  if (supply.kind === 'cdu') {
    const source = wiring.supplies.find(({ id }) => id === supply.from);
    // Full it holds all the volts of what charges it: its diode then carries nothing. What flows through that while a throw lasts is
    // a few hundredths of the coil's amps, its diode's volts a few hundredths of those.
    const charger = {
      volts: source?.railVolts ?? supply.railVolts,
      ohms: (supply.chargeOhms ?? CHARGE_OHMS) + (source?.ohms ?? 0),
      most: null,
      drop: 0,
    };
    const unit = { farads: supply.farads ?? 0, charger, ohms: 0, steering: null };
    const thrown = throwCoils(unit, coils, { press: PULSE_SECONDS });
    const mine = thrown.coils[at];
    return {
      amps: mine?.amps ?? 0,
      joules: 0.5 * unit.farads * charger.volts * charger.volts,
      seconds: mine?.seconds ?? 0,
    };
  }
  // Held on a raw supply as long as it is pressed: i(t) = V / R (1 - e^(-t R / L)).
  // Coils side by side share the ohms of the supply, each as often as all of them together carry its own amps.
  const apart = own.ohms + own.wireOhms;
  const times = coils.reduce((sum, each) => sum + apart / (each.ohms + each.wireOhms), 0);
  const ohms = apart + times * supply.ohms;
  const amps = supply.railVolts / ohms;
  const peak = amps * -Math.expm1((-PULSE_SECONDS * ohms) / own.henries);
  const reaches = own.throwAmps < amps ? (-own.henries / ohms) * Math.log1p(-own.throwAmps / amps) : PULSE_SECONDS;
  return { amps: peak, joules: 0, seconds: Math.max(0, PULSE_SECONDS - reaches) };
}

const NO_DIODE = { is: 1e-9, n: 1.8, rs: 0 };

function coil(drive: WiredDrive, shared: Ohm): Coil | null {
  const { length, gauge } = drive.wire;
  return coilOf(drive.part, 2 * wireOhms(length, gauge) + shared);
}

/** Like coils side by side as one, that throws when each of them carries enough. */
function together(coils: readonly Coil[], own: Coil): Coil {
  const n = coils.length;
  return {
    ohms: own.ohms / n,
    henries: own.henries / n,
    wireOhms: own.wireOhms / n,
    throwAmps: own.throwAmps * n,
    throwSeconds: own.throwSeconds,
  };
}

/**
 * Does a coil that would carry so many amps for good throw its drive with these faults? One that is shorted has no turns that pull; one
 * that a capacitor feeds is above what throws it only while the charge lasts. A drive that its own healthy pulse hardly throws is taken
 * to be thrown by as long a one.
 */
export function pulls(
  wiring: Wiring,
  drive: WiredDrive,
  coil: string,
  amps: number,
  faults: readonly Fault[],
): boolean {
  if (faults.some(({ edits }) => edits.some((edit) => edit.do === 'short' && edit.element === coil))) return false;
  const { circuits } = partsOf(wiring);
  const circuit = circuits.get(drive.circuit ?? '');
  if (circuit === undefined || amps <= 0) return false;
  const { supply } = circuit;
  const own = circuit.capacitors[0];
  const holder = drive.feed === 'charge' ? own?.id : supply.kind === 'cdu' ? supply.id : undefined;
  let farads = drive.feed === 'charge' ? (own?.farads ?? 0) : (supply.farads ?? 0);
  if (holder === undefined || farads <= 0) return true;
  let volts = supply.railVolts;
  for (const { code, kind } of faults) {
    const [, of, figure] = code.split(/[:=]/);
    if (kind === 'capacitor-value' && of === holder) farads = Number(figure);
    // Shorted, it holds the coil on its supply.
    if (kind === 'capacitor-short' && of === holder) return true;
    if ((kind === 'supply-low' || kind === 'supply-high') && (of === supply.id || of === supply.from))
      volts *= kind === 'supply-low' ? LOW_SUPPLY : HIGH_SUPPLY;
  }
  const { part } = drive;
  const coils = circuit.drives.filter((each) => hasCoils(each.part)).length;
  const load: Coil = {
    ohms: volts / amps,
    henries: part.coilHenries ?? 0,
    wireOhms: 0,
    throwAmps: part.throwAmps ?? 0,
    throwSeconds: part.throwSeconds ?? 0,
  };
  const feed: ChargeFeed = { volts, supplyOhms: 0, farads: farads / coils, ohms: 0, drop: 0 };
  const { seconds } = chargeThrow(feed, load, 'charging', 0);
  return seconds >= Math.min(load.throwSeconds, LASTS_AS_WELL * (pulseOf(wiring, drive)?.seconds ?? 0));
}
