/** Which ink a conductor wears by its volts: blue at the supply's, black at none, between them in steps. */

/** Closer to an edge than this share of the supply counts as the edge: what wires and meters cannot tell apart. */
const EDGE = 0.02;

export type Level = 'floats' | 'v0' | 'v1' | 'v2' | 'v3' | 'v4' | 'minus';

/** The level of volts below `top`, the most that its supplies give. Undefined: nothing is known of it. */
export function levelOf(volts: number | null | undefined, top: number): Level {
  if (volts === null || volts === undefined) return 'floats';
  if (top <= 0) return 'v0';
  const share = volts / top;
  if (share < -EDGE) return 'minus';
  if (share <= EDGE) return 'v0';
  if (share >= 1 - EDGE) return 'v4';
  return share < 1 / 3 ? 'v1' : share < 2 / 3 ? 'v2' : 'v3';
}
