/** Where the search over standings gives up. */

/** Standings looked at: four trains on fifteen places have some 50,000; a million a hundred bytes each fit in memory and take seconds. */
export const MOST_STANDINGS = 300_000;
/** Ways of lying of the levers looked at on the plans of fewest moves, in all: a second or so. */
export const MOST_LABELS = 300_000;
/** How much the hurried search that follows trusts its guess: it finds a plan soon, not the best. */
export const HURRY = 4;
