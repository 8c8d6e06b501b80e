/**
 * The resistor of a lamp group: Ohm's law on what the feed leaves, then the next preferred value up.
 * R = (V - sum of forward volts) / I; P = I^2 R at the worst corner of the bands. Source: any textbook; checked against published
 * examples in tests/outside.
 */
import { forwardVolts, type LampPart, lampLaw } from '../parts/index.ts';
import {
  type Ampere,
  formatAmps,
  formatOhms,
  formatVolts,
  type Ohm,
  preferred,
  type Volt,
  type Watt,
} from '../units/index.ts';
import { POWER_MARGIN, QUARTER, RATINGS } from './tolerances.ts';
import type { FeedVolts, SumStep } from './types.ts';

/** What one resistor feeds in one direction: lamps in series, and how many such strings side by side. */
export interface Load {
  readonly series: readonly LampPart[];
  readonly strings: number;
  /** Wanted through each lamp. */
  readonly current: Ampere;
}

export interface SizedResistor {
  readonly ohms: Ohm;
  readonly watts: Watt;
  readonly rating: Watt;
  readonly sum: readonly SumStep[];
}

/** Forward volts may be 0.1 V off the typical figure, resistors 5 %: the bands of the file format. */
export const VF_BAND: Volt = 0.1;
export const RESISTOR_BAND = 0.05;

/** The smallest preferred value at which no lamp carries more than is wanted at nominal volts; the value given when there is one. */
export function sizeResistor(feed: FeedVolts, loads: readonly Load[], given: Ohm | null): SizedResistor {
  const sum: SumStep[] = [];
  let wanted = 0;
  for (const load of loads) {
    const vf = seriesVolts(load, load.current);
    const left = feed.nominal - vf;
    const total = load.current * load.strings;
    const first = load.series[0];
    if (first === undefined) continue;
    const lampWords =
      load.series.length === 1
        ? formatVolts(vf)
        : `${load.series.length} \u00d7 ${formatVolts(vf / load.series.length)}`;
    sum.push({
      text: `${formatVolts(feed.nominal)} \u2212 ${lampWords} = ${formatVolts(left)}`,
      value: left,
      unit: 'V',
    });
    const spare = left > 0 ? left : QUARTER * feed.nominal;
    const ohms = spare / total;
    sum.push({
      text: `${formatVolts(spare)} / ${formatAmps(total)} = ${Math.round(ohms)} ohm`,
      value: ohms,
      unit: 'ohm',
    });
    wanted = Math.max(wanted, ohms);
  }
  const ohms = given ?? preferred('E12', wanted, 'up');
  sum.push({
    text: given === null ? `next in E12: ${formatOhms(ohms)}` : `yours: ${formatOhms(ohms)}`,
    value: ohms,
    unit: 'ohm',
  });
  let watts = 0;
  for (const load of loads) {
    if (load.series.length === 0) continue;
    const amps = stringAmps(feed.nominal, load, ohms, 0) * load.strings;
    sum.push({
      text: `${formatAmps(amps / load.strings)} a lamp at ${formatVolts(feed.nominal)}`,
      value: amps / load.strings,
      unit: 'A',
    });
    const least = ohms * (1 - RESISTOR_BAND);
    const most = stringAmps(feed.high, load, least, -VF_BAND) * load.strings;
    watts = Math.max(watts, most * most * least);
  }
  const rating = RATINGS.find((each) => each >= watts * POWER_MARGIN) ?? RATINGS[RATINGS.length - 1] ?? watts;
  return { ohms, watts, rating, sum };
}

function seriesVolts(load: Load, amps: Ampere): Volt {
  return load.series.reduce((volts, part) => volts + forwardVolts(lampLaw(part), amps), 0);
}

/** Amps of one string behind a shared resistor, by bisection: the volts across resistor and lamps rise with the amps. */
function stringAmps(volts: Volt, load: Load, ohms: Ohm, shift: Volt): Ampere {
  let low = 0;
  let high = volts / ohms / load.strings;
  // 60 halvings take any start below the last bit of a double.
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2;
    const drop = mid * load.strings * ohms + seriesVolts(load, mid) + (mid > 0 ? shift * load.series.length : 0);
    if (drop > volts) high = mid;
    else low = mid;
  }
  return (low + high) / 2;
}
