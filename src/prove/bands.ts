/** Bands of readings: what a sound panel may show on the meter in hand, and what a fault would. */
import type { Ampere, Ohm, Volt } from '../units/index.ts';
import { wireOhms } from '../units/index.ts';
import {
  type LampReading,
  METER_BAND,
  METER_DIGITS,
  type Reading,
  STALL_BAND,
  type WiredCapacitor,
  type WiredDrive,
  type WiredSupply,
} from '../wiring/index.ts';
import { CUT_OFF, DIODE_HIGH, LEAK, OHM_DIGITS, VOLT_DIGITS } from './tolerances.ts';

export interface Band {
  readonly low: number;
  readonly high: number;
}

/** What a meter may show of a true value within a band: its share and its digits, either way. */
export function onMeter({ low, high }: Band, digits: number): Band {
  const edge = (value: number, by: 1 | -1): number => value + by * (Math.abs(value) * METER_BAND + digits);
  return { low: edge(low, -1), high: edge(high, 1) };
}

/** Amps on a meter; never below nought. */
export function ampsOnMeter(band: Band): Band {
  const { low, high } = onMeter(band, METER_DIGITS);
  return { low: Math.max(0, low), high };
}

export function voltsOnMeter(band: Band): Band {
  return onMeter(band, VOLT_DIGITS);
}

/** Ohms on a meter; never below nought. */
export function ohmsOnMeter(band: Band): Band {
  const { low, high } = onMeter(band, OHM_DIGITS);
  return { low: Math.max(0, low), high };
}

/** Do two bands share a reading? Then that reading cannot tell which of the two it is. */
export function bandsOverlap(a: Band, b: Band): boolean {
  return a.low <= b.high && b.low <= a.high;
}

/** Resistance of a stalled motor: its stall current is within its band, or its measured amps within the meter's. */
export function driveOhms(drive: WiredDrive): Band | null {
  if (drive.ohms === null) return null;
  return { low: drive.ohms / (1 + drive.ampsBand), high: drive.ohms / Math.max(1 - drive.ampsBand, Number.EPSILON) };
}

/** Both wires to a drive under the layout. */
export function loopOhms(drive: WiredDrive): Ohm {
  return 2 * wireOhms(drive.wire.length, drive.wire.gauge);
}

/** Amps through a drive and its wires from so many volts, with `extra` ohms in the way; a limit-switched one has cut itself off. */
export function driveAmps(drive: WiredDrive, volts: Band, extra: Ohm = 0): Band {
  const ohms = driveOhms(drive);
  if (ohms === null) return { low: 0, high: CUT_OFF };
  const wires = loopOhms(drive) + extra;
  return { low: volts.low / (ohms.high + wires), high: volts.high / (ohms.low + wires) };
}

/** Volts at the panel's terminals: the supply's band, less what it loses in itself at what it gives. */
export function panelVolts(supply: WiredSupply, reading: Reading): Band {
  const now = reading.supplies.find((each) => each.id === supply.id)?.volts ?? supply.volts;
  const lost: Volt = Math.max(0, supply.volts - now);
  return { low: Math.max(0, supply.low - lost * (1 + STALL_BAND)), high: supply.high - lost * (1 - STALL_BAND) };
}

/** Amps that a reading's lit lamps of a circuit draw: of lamps one behind the other, once. */
export function lampAmps(
  lamps: readonly { readonly id: string; readonly series: string | null }[],
  reading: Reading,
): Band {
  const counted = new Set<string>();
  let low: Ampere = 0;
  let high: Ampere = 0;
  const readings = lampsById(reading);
  for (const { id, series } of lamps) {
    const lamp = readings.get(id);
    if (lamp === undefined || counted.has(series ?? id)) continue;
    counted.add(series ?? id);
    low += Math.max(0, lamp.low);
    high += Math.max(0, lamp.high);
  }
  return { low, high };
}

const LAMPS = new WeakMap<Reading, ReadonlyMap<string, LampReading>>();

/** The lamps of a reading by id, gathered once for each reading: every circuit of the panel asks. */
function lampsById(reading: Reading): ReadonlyMap<string, LampReading> {
  const known = LAMPS.get(reading);
  if (known !== undefined) return known;
  const lamps = new Map(reading.lamps.map((lamp) => [lamp.id, lamp]));
  LAMPS.set(reading, lamps);
  return lamps;
}

export function sumBands(bands: readonly Band[]): Band {
  return bands.reduce((sum, band) => ({ low: sum.low + band.low, high: sum.high + band.high }), { low: 0, high: 0 });
}

/** What a charged capacitor unit shows on the meter: its supply's band, less its diode and what its leak loses in the charging resistor. */
export function unitVolts({ low, high, farads, chargeOhms }: WiredSupply): Band {
  const leak = low * LEAK * (farads ?? 0) * (chargeOhms ?? 0);
  return voltsOnMeter({ low: Math.max(0, low - DIODE_HIGH - leak), high });
}

/** The most that so many farads may leak at these volts. */
export function leakAmps(capacitors: readonly WiredCapacitor[], volts: Volt): Ampere {
  return capacitors.reduce((sum, { farads }) => sum + LEAK * farads * volts, 0);
}
