/** What a list of routes may hold at most, so that a plan with more ways than anyone can use does not stop the program. */

/** Routes listed: loops in a row double their number each, a hundred points can have millions. */
export const MOST_ROUTES = 5_000;
/** Spans entered in the search for each route that may be listed: ways that lead nowhere wanted end it too. */
export const STEPS_A_ROUTE = 400;
/** Corners of a route's line nearer than a nanometre are one corner, millimetres. */
export const LENGTH_STEP = 1e-6;
/** Conflicts listed: all those of 2,000 routes; 5,000 that all foul each other have 12 million, more than a text can hold. */
export const MOST_CONFLICTS = 2_000_000;
/** Lost pairs listed, and lost meets: a grouping that puts a whole station on one lever loses millions, which are only counted. */
export const MOST_LOST = 200_000;
/** Ways looked into for one leg where the shortest walk is none: loops in a row that turn a train round would double them each. */
export const LEG_STEPS = 5_000;
/** Levers up to which every join of two is counted out; the sets for it grow as their square: 60 levers, 5,000 routes, 2 MB and seconds. */
export const MOST_LEVERS_JOINED = 60;
/** Spans entered in the search for hops from one stand: unnamed loops in a row double their number each, nine are looked into. */
export const HOP_STEPS = 2_500;
/** Directed passages up to which a proving run is searched exactly: five points. States grow twofold with each; six points can take a second. */
export const EXACT_PASSAGES = 20;
/** States of that search; beyond, the run found otherwise stands, and is not called the best. */
export const EXACT_STATES = 200_000;
/** Rearrangements tried on a proving run, counted in hops looked at: a second or so. */
export const IMPROVE_STEPS = 6_000_000;
/** Stands from which a run is tried hop by hop, spread over the plan, and how many of those runs are improved. */
export const GREEDY_STARTS = 24;
export const GREEDY_IMPROVED = 3;
/** States of the frontier kept while routes are counted; two yards of twelve roads have some hundred. Beyond, the number is a least one. */
export const COUNT_STATES = 30_000;
/** Choices looked at in one count before it narrows down, a second or two; and states kept from there on. */
export const COUNT_WORK = 3_000_000;
export const COUNT_STATES_LATE = 300;
