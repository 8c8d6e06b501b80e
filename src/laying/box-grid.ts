/**
 * Things on the sheet in a grid of square cells, to find those near a spot. A long straight line fills the cells that it passes, not those of
 * the oblong around it. Finds at least what is near, never less: callers measure for themselves.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import type { Box } from './geometry.ts';
import { CELL, MOST_CELLS } from './tolerances.ts';

export interface BoxGrid {
  /** Indices of what may lie within `reach` of a spot, rising, each once. */
  near(spot: Spot, reach: Millimetre): readonly number[];
}

/** What is held: an oblong, or a straight line from one spot to another. */
export type Held = Box | { readonly a: Spot; readonly b: Spot };

export function gridOf(things: readonly Held[]): BoxGrid {
  const cells = new Map<number, number[]>();
  // Too long or too wide for the grid: looked at each time.
  const wide: number[] = [];
  const cellOf = (x: number) => Math.floor(x / CELL);
  // Columns and rows as one number: a sheet within a kilometre has 200,000 of each.
  const key = (column: number, row: number) => column * 1_048_576 + row;
  const put = (column: number, row: number, index: number) => {
    const at = key(column, row);
    const held = cells.get(at);
    if (held === undefined) cells.set(at, [index]);
    else if (held[held.length - 1] !== index) held.push(index);
  };

  things.forEach((thing, index) => {
    const box = 'a' in thing ? boxOfLine(thing.a, thing.b) : thing;
    const [left, right] = [cellOf(box.left), cellOf(box.right)];
    const [top, bottom] = [cellOf(box.top), cellOf(box.bottom)];
    const fills = 'a' in thing ? right - left + bottom - top : (right - left + 1) * (bottom - top + 1);
    if (!(fills <= MOST_CELLS)) {
      wide.push(index);
      return;
    }
    for (let column = left; column <= right; column++) {
      const [from, to] = 'a' in thing ? rowsOf(thing.a, thing.b, column * CELL) : [box.top, box.bottom];
      const last = cellOf(to);
      for (let row = cellOf(from); row <= last; row++) put(column, row, index);
    }
  });

  const seen = new Int32Array(things.length).fill(-1);
  let stamp = 0;
  return {
    near(spot, reach) {
      stamp += 1;
      const found: number[] = [...wide];
      const [left, right] = [cellOf(spot[0] - reach), cellOf(spot[0] + reach)];
      const [top, bottom] = [cellOf(spot[1] - reach), cellOf(spot[1] + reach)];
      // A reach as wide as the sheet has more cells than things.
      if (!((right - left + 1) * (bottom - top + 1) <= cells.size + MOST_CELLS)) return things.map((_, i) => i);
      for (let column = left; column <= right; column++) {
        for (let row = top; row <= bottom; row++) {
          for (const index of cells.get(key(column, row)) ?? []) {
            if (seen[index] === stamp) continue;
            seen[index] = stamp;
            found.push(index);
          }
        }
      }
      return found.sort((a, b) => a - b);
    },
  };
}

function boxOfLine(a: Spot, b: Spot): Box {
  return {
    left: Math.min(a[0], b[0]),
    top: Math.min(a[1], b[1]),
    right: Math.max(a[0], b[0]),
    bottom: Math.max(a[1], b[1]),
  };
}

/** How far up and down a line reaches within a column of cells that begins at x. */
function rowsOf(a: Spot, b: Spot, x: number): readonly [number, number] {
  const { top, bottom } = boxOfLine(a, b);
  const across = b[0] - a[0];
  if (Math.abs(across) < CELL) return [top, bottom];
  const y = (at: number) => a[1] + ((b[1] - a[1]) * (at - a[0])) / across;
  const [one, two] = [y(x), y(x + CELL)];
  // A hair wider than the sums, so that a line on the edge of a cell is in both.
  return [Math.max(top, Math.min(one, two) - 1e-6), Math.min(bottom, Math.max(one, two) + 1e-6)];
}
