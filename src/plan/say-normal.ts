/** What a record has to say so that the normal leg of a point stays the one it was. */

/**
 * The record's `normal`: as it was where that, or the reading by itself, leads to the wanted leg; else its strip, or `left` or `right`
 * where two legs are of one strip. `legs`: the strips of the legs from left to right. `byItself`: the leg that the reading takes where
 * nothing is said, null where that is not known.
 */
export function sayNormal(
  said: string | undefined,
  legs: readonly string[],
  wanted: number,
  byItself: number | null,
): string | undefined {
  const last = legs.length - 1;
  const meant = said === undefined ? (byItself ?? wanted) : legSaid(said, legs);
  if (meant === wanted) return said;
  const hand = wanted === 0 ? 'left' : wanted === last ? 'right' : undefined;
  const strip = legs[wanted];
  const plain = strip !== undefined && legSaid(strip, legs) === wanted ? strip : undefined;
  return isHand(said) ? (hand ?? plain) : (plain ?? hand);
}

/** The leg that a record's `normal` names, if it is one. */
function legSaid(said: string, legs: readonly string[]): number | undefined {
  if (isHand(said)) return said === 'left' ? 0 : legs.length - 1;
  const named = legs.flatMap((strip, i) => (strip === said ? [i] : []));
  return named.length === 1 ? named[0] : undefined;
}

function isHand(said: string | undefined): boolean {
  return said === 'left' || said === 'right';
}
