/**
 * The bus to its far end: its drop at the most that the booster gives, and whether a coin across the rails there is seen.
 * Ohms are those of copper, there and back: 2 x 0.017241 x metres / mm2 (`wireOhms`). Rails, joints and the booster's own ohms are not
 * counted: `COIN_MARGIN` stands for them. A length or a figure that is not given is asked for; nothing is judged by a guess. One thing
 * can be told early: what is known may be too much already.
 */
import type { PanelFile } from '../panel/index.ts';
import type { Catalogue } from '../parts/index.ts';
import {
  type Ampere,
  formatAmps,
  formatNumber,
  formatVolts,
  type Millimetre,
  type Ohm,
  type SquareMillimetre,
  wireOhms,
} from '../units/index.ts';
import { COIN_MARGIN } from './tolerances.ts';
import type { BusSum, SumStep, TrackQuestion } from './types.ts';

interface Run {
  readonly length: Millimetre | undefined;
  readonly gauge: SquareMillimetre | undefined;
}

export interface BusInput {
  readonly bus: Run;
  readonly droppers: Run;
  readonly booster: string | null;
  readonly volts: number | undefined;
  readonly tripAmps: Ampere | undefined;
}

/** One for each booster of the file; one without where it has none. */
export function sumBuses(panel: PanelFile, catalogue: Catalogue): readonly BusSum[] {
  const { track } = panel;
  const run = (of: { readonly length?: number | undefined; readonly gauge?: number | undefined } | undefined): Run => ({
    length: of?.length,
    gauge: of?.gauge,
  });
  const wires = { bus: run(track?.bus), droppers: run(track?.droppers) };
  const boosters = track?.boosters ?? [];
  const carries = wires.bus.gauge === undefined ? null : madeFor(catalogue, wires.bus.gauge);
  if (boosters.length === 0)
    return [sumBus({ ...wires, booster: null, volts: undefined, tripAmps: undefined }, carries)];
  return boosters.map(({ id, volts, tripAmps }) => sumBus({ ...wires, booster: id, volts, tripAmps }, carries));
}

/** What the thickest wire of the catalogue that is no thicker than this is made for. */
function madeFor(catalogue: Catalogue, gauge: SquareMillimetre): Ampere | null {
  const fit = catalogue.all('wire').filter((wire) => wire.gauge <= gauge);
  return fit.length === 0 ? null : Math.max(...fit.map(({ amps }) => amps));
}

/**
 * The sum for one booster.
 * @example sumBus({ bus: { length: 8000, gauge: 1.5 }, droppers: { length: 300, gauge: 0.5 }, booster: 'Z1', volts: 15, tripAmps: 3 }, 10).ohms // 0.2046
 */
export function sumBus(input: BusInput, wireAmps: Ampere | null): BusSum {
  const { booster, volts, tripAmps } = input;
  const steps: SumStep[] = [];
  const bus = there(input.bus, 'the bus, there and back', steps);
  const droppers = there(input.droppers, 'its droppers, one to each rail', steps);
  const ohms: Ohm | null = bus === null || droppers === null ? null : bus + droppers;
  if (ohms !== null)
    steps.push({
      what: 'together',
      sum: `${figure(bus ?? 0)} + ${figure(droppers ?? 0)} ohm`,
      value: ohms,
      unit: 'ohm',
    });
  const amps = tripAmps ?? null;
  const drop = ohms === null || amps === null ? null : ohms * amps;
  if (drop !== null && amps !== null && ohms !== null)
    steps.push({
      what: 'lost at the most that the booster gives',
      sum: `${formatAmps(amps)} x ${figure(ohms)} ohm`,
      value: drop,
      unit: 'V',
    });
  if (drop !== null && volts !== undefined)
    steps.push({
      what: 'left at the far end',
      sum: `${formatVolts(volts)} - ${formatVolts(drop)}`,
      value: volts - drop,
      unit: 'V',
    });
  const shortAmps = ohms === null || volts === undefined ? null : volts / ohms;
  if (shortAmps !== null && ohms !== null && volts !== undefined)
    steps.push({
      what: 'through a coin at the far end, were the booster to give it',
      sum: `${formatVolts(volts)} / ${figure(ohms)} ohm`,
      value: shortAmps,
      unit: 'A',
    });
  const neededAmps = amps === null ? null : amps * COIN_MARGIN;
  if (neededAmps !== null && amps !== null)
    steps.push({
      what: 'wanted for the trip to be sure',
      sum: `${COIN_MARGIN} x ${formatAmps(amps)}`,
      value: neededAmps,
      unit: 'A',
    });
  // What is known may be too much already, whatever the rest is.
  const known = (bus ?? 0) + (droppers ?? 0);
  const most = volts === undefined || known === 0 ? null : volts / known;
  const fails = most !== null && neededAmps !== null && most < neededAmps;
  return {
    booster,
    steps,
    ohms,
    amps,
    drop,
    dropShare: drop === null || volts === undefined ? null : drop / volts,
    shortAmps: fails ? most : shortAmps,
    neededAmps,
    verdict: fails ? 'does-not-trip' : shortAmps === null || neededAmps === null ? 'not-asked-for' : 'trips',
    wireAmps,
    questions: questionsOf(input),
  };
}

function there({ length, gauge }: Run, what: string, steps: SumStep[]): Ohm | null {
  if (length === undefined || gauge === undefined) return null;
  const value = 2 * wireOhms(length, gauge);
  steps.push({ what, sum: `2 x ${metres(length)} of ${plain(gauge)} mm2`, value, unit: 'ohm' });
  return value;
}

function figure(ohms: Ohm): string {
  return formatNumber(ohms, 3);
}

function plain(value: number): string {
  return String(Number(value.toPrecision(6)));
}

function metres(length: Millimetre): string {
  return `${plain(length / 1000)} m`;
}

function questionsOf({ bus, droppers, booster, volts, tripAmps }: BusInput): readonly TrackQuestion[] {
  const answer: TrackQuestion[] = [];
  const ask = (missing: boolean, key: string, text: string) => {
    if (missing) answer.push({ key, text });
  };
  const of = booster === null ? 'track.boosters' : `track.boosters.${booster}`;
  const which = booster === null ? 'the booster' : `booster ${booster}`;
  ask(bus.length === undefined, 'track.bus.length', 'How long is the bus to its far end, one way, in mm?');
  ask(bus.gauge === undefined, 'track.bus.gauge', 'What section has the wire of the bus, in mm2?');
  ask(droppers.length === undefined, 'track.droppers.length', 'How long is a dropper, from bus to rail, in mm?');
  ask(droppers.gauge === undefined, 'track.droppers.gauge', 'What section have the droppers, in mm2?');
  ask(volts === undefined, `${of}.volts`, `How many volts does ${which} give?`);
  ask(tripAmps === undefined, `${of}.tripAmps`, `At how many amps does ${which} trip?`);
  return answer;
}
