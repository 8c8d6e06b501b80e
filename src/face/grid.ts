/**
 * Boxes sorted into square cells, so that what is near a box is found without looking at everything.
 * A box goes into every cell that it touches; one that would touch very many is kept aside and always looked at.
 * Cost: building n boxes and asking n times is near linear where boxes are small beside the face and do not pile up.
 */
import type { Millimetre } from '../units/index.ts';
import type { Box } from './shapes.ts';

/** About the size of a toggle behind the face: most boxes touch one to four cells. */
const CELL: Millimetre = 32;
/** A box over more cells than this is kept aside. */
const MOST_CELLS = 400;

export class BoxGrid {
  readonly #boxes: Box[] = [];
  readonly #cells = new Map<number, number[]>();
  readonly #large: number[] = [];

  /** Adds a box; answers its number, counted from 0. */
  add(box: Box): number {
    const number = this.#boxes.length;
    this.#boxes.push(box);
    const keys = keysOf(box);
    if (keys === null) this.#large.push(number);
    for (const key of keys ?? []) {
      const cell = this.#cells.get(key);
      if (cell === undefined) this.#cells.set(key, [number]);
      else cell.push(number);
    }
    return number;
  }

  /** Numbers of the boxes that touch a box, in order. */
  near(box: Box): readonly number[] {
    const keys = keysOf(box);
    if (keys === null)
      return this.#boxes.map((_, number) => number).filter((number) => touches(this.#boxes[number], box));
    const found = new Set<number>();
    const look = (numbers: readonly number[]) => {
      for (const number of numbers) if (touches(this.#boxes[number], box)) found.add(number);
    };
    look(this.#large);
    for (const key of keys) look(this.#cells.get(key) ?? NO_NUMBERS);
    return found.size < 2 ? [...found] : [...found].sort((a, b) => a - b);
  }
}

const NO_NUMBERS: readonly number[] = [];

/** Cells of a row in the table of all: more than any sheet has across. What shares a number by chance is told apart by its box. */
const ROW_CELLS = 65_536;

function touches(a: Box | undefined, b: Box): boolean {
  return a !== undefined && a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
}

/** Cells that a box touches; null: too many. */
function keysOf([left, top, right, bottom]: Box): number[] | null {
  const [x0, y0, x1, y1] = [cellOf(left), cellOf(top), cellOf(right), cellOf(bottom)];
  if (!((x1 - x0 + 1) * (y1 - y0 + 1) <= MOST_CELLS)) return null;
  const keys: number[] = [];
  for (let x = x0; x <= x1; x++) for (let y = y0; y <= y1; y++) keys.push(x * ROW_CELLS + y);
  return keys;
}

function cellOf(edge: Millimetre): number {
  return Math.floor(edge / CELL);
}
