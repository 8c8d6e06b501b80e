/** The bar of 100 mm that templates carry, as it is measured on a print. */
import type { Millimetre } from '../../units/index.ts';

/** What it may measure. The book's own range: here again, so that the window needs nothing of the book, which its worker has. */
export const MEASURED: readonly [Millimetre, Millimetre] = [95, 105];

/** What was typed, mm, with a decimal point or comma; null where it is no length, or one that no printer makes of it. */
export function readBar(typed: string): Millimetre | null {
  const mm = /\d/.test(typed) ? Number(typed.trim().replace(',', '.')) : Number.NaN;
  return mm >= MEASURED[0] && mm <= MEASURED[1] ? mm : null;
}
