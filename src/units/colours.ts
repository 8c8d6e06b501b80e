/** A colour of IEC 60757: its two letters and its word. */
export interface LetteredColour {
  readonly letters: string;
  readonly word: string;
}

/** The single colours of IEC 60757, in the order of the standard's table. Light blue counts as blue. */
export const LETTERED_COLOURS: readonly LetteredColour[] = [
  { letters: 'BK', word: 'black' },
  { letters: 'BN', word: 'brown' },
  { letters: 'RD', word: 'red' },
  { letters: 'OG', word: 'orange' },
  { letters: 'YE', word: 'yellow' },
  { letters: 'GN', word: 'green' },
  { letters: 'BU', word: 'blue' },
  { letters: 'VT', word: 'violet' },
  { letters: 'GY', word: 'grey' },
  { letters: 'WH', word: 'white' },
  { letters: 'PK', word: 'pink' },
  { letters: 'GD', word: 'gold' },
  { letters: 'TQ', word: 'turquoise' },
  { letters: 'SR', word: 'silver' },
];

const WORDS: ReadonlyMap<string, string> = new Map(LETTERED_COLOURS.map(({ letters, word }) => [letters, word]));

/** The words of a code of one colour or of two different ones joined; null where it is no such code. */
function wordsOf(code: string): readonly string[] | null {
  const upper = code === code.toLowerCase() ? code.toUpperCase() : code;
  if (upper.length !== 2 && upper.length !== 4) return null;
  const first = WORDS.get(upper.slice(0, 2));
  if (first === undefined) return null;
  if (upper.length === 2) return [first];
  const second = WORDS.get(upper.slice(2));
  return second === undefined || second === first ? null : [first, second];
}

/**
 * Is this the colour of one wire in the letters of IEC 60757: one colour (BN), or two different ones joined (BNWH)?
 * Capitals or small letters, not a mixture. Codes joined by + stand for several wires and are none.
 */
export function isWireColour(code: string): boolean {
  return wordsOf(code) !== null;
}

/** The colour of a wire in words: "brown", "brown and white"; null where the code is none. */
export function wireColourName(code: string): string | null {
  return wordsOf(code)?.join(' and ') ?? null;
}

/** Green with yellow, in either order: kept for protective earth, and never used on a panel. */
export function isProtectiveEarth(code: string): boolean {
  const words = wordsOf(code);
  return words?.length === 2 && words.includes('green') && words.includes('yellow');
}
