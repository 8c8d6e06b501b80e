/**
 * Wire for drop and for current: the thinnest that carries the amps and loses no more than a share of the volts, there and back.
 * U = I R with R of copper at 20 C, 0.017241 ohm mm2/m, both ways: what the file format says; stranded wire is some percent more.
 */
import type { WirePart } from '../parts/index.ts';
import {
  type Ampere,
  type Celsius,
  formatAmps,
  formatMillimetres,
  formatNumber,
  formatOhms,
  formatPercent,
  formatVolts,
  type Millimetre,
  type Ohm,
  type SquareMillimetre,
  type Volt,
  type Watt,
  wireOhms,
} from '../units/index.ts';
import { DROP_SHARE } from './tolerances.ts';

export interface WireRun {
  readonly amps: Ampere;
  /** One way. */
  readonly length: Millimetre;
  /** Of the supply. */
  readonly volts: Volt;
  /** Of the metal; absent: 20 C. */
  readonly celsius?: Celsius;
}

export interface WireDrop {
  /** There and back. */
  readonly ohms: Ohm;
  readonly drop: Volt;
  /** Of the supply's volts; above 1 where the wire would want more than there is. */
  readonly share: number;
  /** What is left at the far end. */
  readonly left: Volt;
  /** Heat in the wire, both ways. */
  readonly watts: Watt;
  readonly steps: readonly string[];
}

/** What a run of a gauge loses at its amps. Volts above 0, length and amps from 0: RangeError otherwise. */
export function wireDrop({ amps, length, volts, celsius }: WireRun, gauge: SquareMillimetre): WireDrop {
  if (!(volts > 0 && amps >= 0)) throw new RangeError(`no drop of ${amps} A from ${volts} V`);
  const oneWay = celsius === undefined ? wireOhms(length, gauge) : wireOhms(length, gauge, celsius);
  const ohms = 2 * oneWay;
  const drop = amps * ohms;
  return {
    ohms,
    drop,
    share: drop / volts,
    left: volts - drop,
    watts: amps * drop,
    steps: [
      `2 × ${formatMillimetres(length)} of ${gauge} mm²: ${formatOhms(ohms)}`,
      `${formatAmps(amps)} × ${formatOhms(ohms)} = ${formatVolts(drop)}, ${formatPercent(drop / volts)} of ${formatVolts(volts)}; ${formatVolts(volts - drop)} left`,
    ],
  };
}

export interface SizedWire {
  /** The thinnest of the list that serves; null where none does. */
  readonly part: WirePart | null;
  /** Of that wire, or of the thickest where none serves. */
  readonly found: WireDrop | null;
  /** The least gauge that loses no more than its share, whatever is on sale: 2 rho l I / U. */
  readonly least: SquareMillimetre;
  /** What settles it: the amps, or the drop. */
  readonly settles: 'amps' | 'drop';
  readonly steps: readonly string[];
}

/**
 * The wire for a run, of those on sale. `share` of the volts may be lost: a tenth unless told otherwise. `heating` are the amps that
 * the wire must carry for good where they are less than those that drop volts: a pulse of 50 ms does not warm it.
 */
export function sizeWire(
  run: WireRun,
  wires: readonly WirePart[],
  options: { readonly share?: number; readonly heating?: Ampere } = {},
): SizedWire {
  const { share = DROP_SHARE, heating = run.amps } = options;
  const rising = [...wires].sort((a, b) => a.gauge - b.gauge || (a.id < b.id ? -1 : 1));
  const least = wireDrop(run, 1).drop / (share * run.volts);
  const carries = rising.find((part) => part.amps >= heating) ?? null;
  const part = rising.find((each) => each.amps >= heating && each.gauge >= least) ?? null;
  const shown = part ?? rising.at(-1) ?? null;
  const found = shown === null ? null : wireDrop(run, shown.gauge);
  const settles = carries !== null && carries.gauge >= least ? 'amps' : 'drop';
  const steps = [
    `${formatPercent(share)} of ${formatVolts(run.volts)} is ${formatVolts(share * run.volts)}: ${formatNumber(least, 2)} mm² at least`,
    carries === null
      ? `no wire of the list carries ${formatAmps(heating)}`
      : `${formatAmps(heating)}: ${carries.gauge} mm² carries ${formatAmps(carries.amps)}`,
    ...(part === null
      ? ['none of the list serves: shorten the run, double the wire or raise the volts']
      : [`${part.gauge} mm²`]),
    ...(found === null ? [] : found.steps),
  ];
  return { part, found, least, settles, steps };
}

/** Watts a metre of a single wire, from its amps: 5 A in ribbon is 5 W a metre, and that melts it. */
export function heatPerMetre(amps: Ampere, gauge: SquareMillimetre): Watt {
  return amps * amps * wireOhms(1000, gauge);
}
