/** What a list of routes may hold at most, so that a plan with more ways than anyone can use does not stop the program. */

/** Routes listed: loops in a row double their number each, a hundred points can have millions. */
export const MOST_ROUTES = 5_000;
/** Spans entered in the search for each route that may be listed: ways that lead nowhere wanted end it too. */
export const STEPS_A_ROUTE = 400;
/** Lengths are given to a nanometre: what sums of lengths round off never shows. */
export const LENGTH_STEP = 1e-6;
