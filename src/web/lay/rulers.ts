/** Ticks and figures of a ruler along one edge of the view: never closer than can be read, always on round millimetres or inches. */

import { plain } from '../words/figures.ts';

export interface Tick {
  /** px from the ruler's beginning. */
  readonly at: number;
  /** 0 the shortest, 2 the longest. */
  readonly rank: 0 | 1 | 2;
  /** The figure beside it; null where it has none. */
  readonly text: string | null;
}

/** Units that a ruler can show. */
export type RulerUnit = 'mm' | 'in';

/** px between two ticks at least, and between two figures. */
const LEAST_APART = 5;
const LEAST_BETWEEN_FIGURES = 44;

const MM_PER_INCH = 25.4;

/** Steps that are counted in: the shortest, the middle and the one with a figure, in units. */
const STEPS: Readonly<Record<RulerUnit, readonly (readonly [number, number, number])[]>> = {
  mm: [
    [0.1, 0.5, 1],
    [0.5, 1, 5],
    [1, 5, 10],
    [2, 10, 20],
    [5, 10, 50],
    [10, 50, 100],
    [20, 100, 200],
    [50, 100, 500],
    [100, 500, 1000],
  ],
  in: [
    [1 / 64, 1 / 16, 1 / 8],
    [1 / 32, 1 / 8, 1 / 4],
    [1 / 16, 1 / 4, 1 / 2],
    [1 / 8, 1 / 2, 1],
    [1 / 4, 1, 2],
    [1 / 2, 1, 5],
    [1, 5, 10],
    [5, 10, 50],
  ],
};

/** The ticks of `length` px that begin at `from` mm of the face. */
export function ticksOf(from: number, pxPerMm: number, length: number, unit: RulerUnit): readonly Tick[] {
  const perUnit = unit === 'mm' ? 1 : MM_PER_INCH;
  const px = pxPerMm * perUnit;
  const list = STEPS[unit];
  const fits = ([least, , figure]: readonly [number, number, number]): boolean =>
    least * px >= LEAST_APART && figure * px >= LEAST_BETWEEN_FIGURES;
  const [small, middle, large] = list.find(fits) ?? (list[list.length - 1] as readonly [number, number, number]);
  const start = from / perUnit;
  const ticks: Tick[] = [];
  const first = Math.ceil(start / small - 1e-9);
  for (let k = first; ; k++) {
    const value = k * small;
    const at = (value - start) * px;
    if (at > length) break;
    const isOn = (step: number): boolean => Math.abs(value / step - Math.round(value / step)) < 1e-6;
    const rank = isOn(large) ? 2 : isOn(middle) ? 1 : 0;
    ticks.push({ at, rank, text: rank === 2 ? plain(value) : null });
  }
  return ticks;
}
