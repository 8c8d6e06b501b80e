import type { Ampere } from '../units/index.ts';

/** Dark means at most a twentieth of what is just seen: rule 6. */
export const DARK_SHARE = 1 / 20;

/** Cases of one lamp that are told one by one: ten levers' worth; a claim on more points than that is told in brief. */
export const CASES_MOST = 4096;

/** Two draws that differ by less are the same: far above the solver's own error, far below what any lamp shows. */
export const ALIKE_AMPS: Ampere = 1e-9;

/**
 * A drive moves for sure at half the least volts of its range; below that it may stay as it was. Motors creep from less: common
 * practice, no source.
 */
export const MOVES_FROM = 0.5;

/** Levers whose every setting is tried together when a fault joins them; beyond, the others stand where they draw most and least. */
export const FEW_LEVERS = 5;

/** Halvings of the feed's volts in the search for those down to which a lever is as it should be: a hundredth of a volt of 24. */
export const FLOOR_HALVINGS = 12;
