/** How far one press of an arrow key moves a thing, and which way. */
import type { Millimetre, Spot } from '../../units/index.ts';

/** One press, and with Shift: mm, as the look of the product has it. */
export const NUDGE: { readonly near: Millimetre; readonly far: Millimetre } = { near: 0.5, far: 5 };

const ARROWS: Readonly<Record<string, Spot>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** By how much a key moves what is picked, mm across and down; null where it is no arrow. */
export function nudgeOf(key: string, far: boolean): Spot | null {
  const way = ARROWS[key];
  const by = far ? NUDGE.far : NUDGE.near;
  return way === undefined ? null : [way[0] * by, way[1] * by];
}
