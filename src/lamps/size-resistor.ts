/**
 * The resistor of a lamp group: Ohm's law on what the feed leaves, then the next preferred value up.
 * R = (V - sum of forward volts) / I; P = I^2 R at the worst corner of the bands. Source: any textbook; checked against published
 * examples in tests/outside.
 */
import { forwardVolts, type LampPart, lampLaw } from '../parts/index.ts';
import {
  type Ampere,
  formatAmps,
  formatNumber,
  formatOhms,
  formatVolts,
  formatWatts,
  type Ohm,
  type PreferredSeries,
  preferred,
  preferredValues,
  type Volt,
  type Watt,
} from '../units/index.ts';
import { POWER_MARGIN, QUARTER, RATINGS, SURE_FIGURES } from './tolerances.ts';
import type { FeedVolts, SumStep } from './types.ts';

/** What one resistor feeds in one direction: lamps in series, and how many such strings side by side. */
export interface Load {
  readonly series: readonly LampPart[];
  readonly strings: number;
  /** Wanted through each lamp. */
  readonly current: Ampere;
}

/** Amps of one lamp of a load behind the chosen resistor: at nominal figures, and at the worst corners of all bands together. */
export interface LampCorners {
  readonly low: Ampere;
  readonly nominal: Ampere;
  readonly high: Ampere;
  /** What the weakest of its lamps stands for good. */
  readonly max: Ampere;
}

export interface SizedResistor {
  readonly ohms: Ohm;
  readonly watts: Watt;
  readonly rating: Watt;
  /** Figures with their words, nominal. */
  readonly sum: readonly SumStep[];
  /** By load, in order. */
  readonly corners: readonly LampCorners[];
  /** The least preferred value, no less than `ohms`, behind which no corner takes a lamp above what it stands. */
  readonly safe: Ohm;
  /** The whole arithmetic line by line: nominal, worst corners, power. */
  readonly steps: readonly string[];
}

export interface ResistorOptions {
  /** Absent: E12. */
  readonly series?: PreferredSeries;
  /** Half width of the resistor's own band, as a share; absent: 0.05. */
  readonly band?: number;
}

/** Forward volts may be 0.1 V off the typical figure, resistors 5 %: the bands of the file format. */
export const VF_BAND: Volt = 0.1;
export const RESISTOR_BAND = 0.05;

/**
 * The smallest preferred value at which no lamp carries more than is wanted at nominal volts; the value given when there is
 * one. Where the lamps leave nothing it is sized as if a quarter of the feed were left. Corners of strings side by side are
 * those of like strings; how unlike ones share is judged elsewhere.
 */
export function sizeResistor(
  feed: FeedVolts,
  loads: readonly Load[],
  given: Ohm | null,
  options: ResistorOptions = {},
): SizedResistor {
  const { series = 'E12', band = RESISTOR_BAND } = options;
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
      text: `${formatVolts(spare)} / ${formatAmps(total)} = ${formatNumber(Number(ohms.toPrecision(SURE_FIGURES)), 0)} ohm`,
      value: ohms,
      unit: 'ohm',
    });
    wanted = Math.max(wanted, ohms);
  }
  const ohms = given ?? preferred(series, wanted, 'up');
  sum.push({
    text: given === null ? `next in ${series}: ${formatOhms(ohms)}` : `yours: ${formatOhms(ohms)}`,
    value: ohms,
    unit: 'ohm',
  });
  const steps: string[] = [];
  const corners: LampCorners[] = [];
  const least = ohms * (1 - band);
  let watts = 0;
  for (const load of loads) {
    if (load.series.length === 0) continue;
    const each = cornersOf(feed, load, ohms, band);
    corners.push(each);
    sum.push({
      text: `${formatAmps(each.nominal)} a lamp at ${formatVolts(feed.nominal)}`,
      value: each.nominal,
      unit: 'A',
    });
    steps.push(
      `at most ${formatVolts(feed.high)}, ${shiftWords(load, '\u2212')}, ${formatOhms(least)}: ${formatAmps(each.high)}; at least ${formatVolts(feed.low)}, ${shiftWords(load, '+')}, ${formatOhms(ohms * (1 + band))}: ${formatAmps(each.low)}`,
    );
    const most = each.high * load.strings;
    watts = Math.max(watts, most * most * least);
  }
  const rating = RATINGS.find((each) => each >= watts * POWER_MARGIN) ?? RATINGS[RATINGS.length - 1] ?? watts;
  const safe = preferredValues(series).find(
    (value) => value >= ohms && loads.every((load) => highAmps(feed, load, value, band) <= maxAmps(load)),
  );
  if (corners.some(({ high, max }) => high > max) && safe !== undefined) {
    steps.push(
      `more than ${formatAmps(Math.min(...corners.map(({ max }) => max)))} at a corner: ${formatOhms(safe)} keeps within it`,
    );
  }
  steps.push(`${formatWatts(watts)} at worst, \u00d7 ${POWER_MARGIN}: ${formatWatts(rating)}`);
  return { ohms, watts, rating, sum, corners, safe: safe ?? ohms, steps: [...sum.map(({ text }) => text), ...steps] };
}

function maxAmps(load: Load): Ampere {
  return Math.min(...load.series.map((part) => part.max));
}

function highAmps(feed: FeedVolts, load: Load, ohms: Ohm, band: number): Ampere {
  return stringAmps(feed.high, load, ohms * (1 - band), -bandOf(load));
}

function cornersOf(feed: FeedVolts, load: Load, ohms: Ohm, band: number): LampCorners {
  const shift = bandOf(load);
  return {
    low: stringAmps(feed.low, load, ohms * (1 + band), shift),
    nominal: stringAmps(feed.nominal, load, ohms, 0),
    high: highAmps(feed, load, ohms, band),
    max: maxAmps(load),
  };
}

/** Volts by which all lamps of a string together may be off. */
function bandOf(load: Load): Volt {
  return load.series.reduce((volts, part) => volts + (part.vfTolerance ?? VF_BAND), 0);
}

function shiftWords(load: Load, sign: string): string {
  return `lamps ${sign} ${formatVolts(bandOf(load))}`;
}

function seriesVolts(load: Load, amps: Ampere): Volt {
  return load.series.reduce((volts, part) => volts + forwardVolts(lampLaw(part), amps), 0);
}

/** Amps of one string behind a shared resistor, by bisection: the volts across resistor and lamps rise with the amps. */
function stringAmps(volts: Volt, load: Load, ohms: Ohm, shift: Volt): Ampere {
  const laws = load.series.map(lampLaw);
  let low = 0;
  let high = Math.max(0, volts) / ohms / load.strings;
  // 60 halvings take any start below the last bit of a double.
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2;
    let drop = mid * load.strings * ohms + (mid > 0 ? shift : 0);
    for (const law of laws) drop += forwardVolts(law, mid);
    if (drop > volts) high = mid;
    else low = mid;
  }
  return (low + high) / 2;
}
