/**
 * Ways of a connector closer than this are neighbours, in pitches of its kind. The row offset of a D-subminiature puts
 * the nearest pin of the next row at 1.14 pitches, the diagonal of a square grid is at 1.41: between the two.
 */
export const NEIGHBOUR_PITCHES = 1.2;

/**
 * A contact may make so many times what it carries, where the pulse has died before it opens, until it welds. No unit; from
 * memory, no source.
 */
export const MAKES_TIMES = 5;

/** Least amps that clear the film on a closed contact at the volts of a panel. Data sheets differ widely; from memory. */
export const WETS = { silver: 1e-3, gold: 1e-5 } as const;

/** Half width of the band of a lamp's forward volts where the part does not say, V. File format, what the circuits take. */
export const VF_TOLERANCE = 0.1;

/** Half width of the band of a stall current where the part does not say, as a share. File format, what the circuits take. */
export const STALL_TOLERANCE = 0.2;

/** A lamp counts as dark below this share of the current at which it is seen, where the part does not say. From memory. */
export const DARK_SHARE = 0.05;
