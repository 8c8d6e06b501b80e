/**
 * Ways of a connector closer than this are neighbours, in pitches of its kind. The row offset of a D-subminiature puts
 * the nearest pin of the next row at 1.14 pitches, the diagonal of a square grid is at 1.41: between the two.
 */
export const NEIGHBOUR_PITCHES = 1.2;
