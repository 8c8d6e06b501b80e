/** Do the levers stand in one row, so that a row of cards can stand under them? */
import type { Millimetre, Spot } from '../../units/index.ts';

/** Levers nearer to one height than this stand in one row. */
const ONE_ROW: Millimetre = 4;
/** A card wants this many times the size of the text. */
const CARD_EMS = 3.5;

export interface Row {
  /** From the sheet's left edge, in px, by lever in the order given. */
  readonly middles: readonly number[];
  readonly width: number;
}

/** Where the cards stand and how wide they are; null where the levers are scattered, too close for words, or none. */
export function rowOf(levers: readonly { readonly at: Spot }[], pxPerMm: number, em: number): Row | null {
  const ys = levers.map(({ at }) => at[1]);
  if (levers.length === 0 || Math.max(...ys) - Math.min(...ys) > ONE_ROW) return null;
  const xs = levers.map(({ at }) => at[0]).sort((a, b) => a - b);
  const pitch = xs.reduce((least, x, i) => {
    const before = xs[i - 1];
    return before === undefined ? least : Math.min(least, x - before);
  }, Number.POSITIVE_INFINITY);
  const width = Math.min(pitch * pxPerMm - 6, 120);
  if (width < CARD_EMS * em) return null;
  return { middles: levers.map(({ at }) => at[0] * pxPerMm), width };
}
