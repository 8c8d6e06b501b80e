/** Names that the panel file uses, as the style sheet's classes know them. */

const TAPES: Readonly<Record<string, string>> = { graphite: 'run', oxide: 'goods', slate: 'store' };
const LAMPS = new Set(['amber', 'red', 'yellow', 'green', 'pure-green', 'blue', 'white']);

/** The class of a tape; one that is not known is drawn as graphite. */
export const tapeClass = (tape: string): string => `tape-${TAPES[tape] ?? 'run'}`;

/** The colour class of a lamp; one that is not known is drawn as amber. */
export const lampColour = (colour: string): string => (LAMPS.has(colour) ? colour : 'amber');
