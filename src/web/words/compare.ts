/** Words of comparing the panel with the same panel made otherwise. */
import type { Measure } from '../../options/index.ts';
import type { ViewOption } from '../worker/options.ts';
import { count, fixed, list, percent } from './figures.ts';

export const compareWords = {
  title: 'The same panel, built otherwise',
  how: 'One row a way. Press a head to rank by it; what you pressed before comes next. What is taken over is one step, and undoes.',
  close: 'Close',
  name: 'Way',
  measures: {
    knows: 'Lamps know',
    wrongSideShare: 'Faults that lie',
    parts: 'Parts',
    wires: 'Wires',
    pins: 'Pins',
    joints: 'Joints',
    amps: 'Amps at start',
    cost: 'Cost',
  } satisfies Record<Measure, string>,
  ranked: (order: readonly Measure[]): string =>
    order.length === 0
      ? 'In the order of drives, feeds and lamps'
      : `Ranked by ${order.map((each) => compareWords.measures[each].toLowerCase()).join(', then ')}; what cannot be built comes last`,
  weighing: (done: number): string => `${count(done, 'way')} weighed, more to come`,
  weighed: (done: number): string => `${count(done, 'way')} weighed`,
  stopped: (done: number): string => `Stopped after ${count(done, 'way')}`,
  stop: 'Stop',
  again: 'Weigh them again',
  failed: 'The ways could not be weighed. The panel is as it was.',
  take: 'Take it over',
  takeOf: (name: string): string => `Take it over: ${name}`,
  takenOver: (name: string): string => `${name}: taken over. Undo brings back what was.`,
  now: 'What stands on the desk.',
  cannot: 'Cannot be built',
  /** What the lamps of a way know: the best of it first. */
  knows: ({ lever, drive, blades }: ViewOption['figures']['lampsKnow']): string => {
    const said = [
      [blades, 'the blades'],
      [drive, 'the drive'],
      [lever, 'the lever'],
    ] as const;
    const known = said.filter(([n]) => n > 0);
    if (known.length === 0) return 'nothing';
    return known.length === 1 ? (known[0]?.[1] ?? '') : list(known.map(([n, what]) => `${n} ${what}`));
  },
  share: (share: number, tried: number): string => `${percent(share)} of ${tried}`,
  untried: 'not tried',
  tryAll: 'Try them',
  tryAllOf: (name: string): string => `Try them: every single fault of ${name}`,
  trying: 'trying',
  amps: (amps: number): string => `${fixed(amps, 2)} A`,
  cost: (cost: number | null): string => (cost === null ? 'no price' : fixed(cost, 2)),
  unpriced: (n: number): string => `and ${n} without a price`,
  /** How much more or less than as it is. */
  more: (by: number, places: number): string => (by > 0 ? `+${fixed(by, places)}` : fixed(by, places)),
  same: 'the same',
  foot: 'Costs are in the money of your prices, of the lines that have a price, yours or typical; those without come on top. A share of faults counts every single fault alike. The data sheet comes first.',
} as const;
