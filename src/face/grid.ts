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
  readonly #cells = new Map<string, number[]>();
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
    const found =
      keys === null
        ? this.#boxes.map((_, number) => number)
        : [...new Set([...this.#large, ...keys.flatMap((key) => this.#cells.get(key) ?? [])])];
    return found.filter((number) => touches(this.#boxes[number], box)).sort((a, b) => a - b);
  }
}

function touches(a: Box | undefined, b: Box): boolean {
  return a !== undefined && a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
}

/** Cells that a box touches; null: too many. */
function keysOf([left, top, right, bottom]: Box): string[] | null {
  const [x0, y0, x1, y1] = [left, top, right, bottom].map((edge) => Math.floor(edge / CELL));
  if (x0 === undefined || y0 === undefined || x1 === undefined || y1 === undefined) return null;
  if (!((x1 - x0 + 1) * (y1 - y0 + 1) <= MOST_CELLS)) return null;
  const keys: string[] = [];
  for (let x = x0; x <= x1; x++) for (let y = y0; y <= y1; y++) keys.push(`${x},${y}`);
  return keys;
}
